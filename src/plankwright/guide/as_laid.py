"""The state of a floor while it is laid: what lies, what is on the shelf, what was measured.

This is what planning again starts from. Lengths in millimeters.
"""

import math
from dataclasses import dataclass

from plankwright.errors import InputError
from plankwright.model.plan import StockBoard

FARTHEST_SHIFT_MM = 1_000.0


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece of the plan that lies on the floor.

    ``length_mm`` is its true length where it differs from the plan's; the pieces after it in its
    row move by as much. A piece that ends at a wall was cut to it: its length follows from there.
    """

    id: str
    length_mm: float | None = None

    def __post_init__(self) -> None:
        if self.length_mm is not None and not (
            math.isfinite(self.length_mm) and self.length_mm > 0.0
        ):
            raise InputError(
                "a laid piece needs a length above 0",
                where=self.id,
                value=self.length_mm,
                remedy="Measure it from face edge to face edge.",
            )


@dataclass(frozen=True, slots=True)
class WallShift:
    """A wall that is not where the plan has it: ``nearer_mm`` into the room, below 0 out of it."""

    wall: str
    nearer_mm: float

    def __post_init__(self) -> None:
        if not abs(self.nearer_mm) <= FARTHEST_SHIFT_MM:
            raise InputError(
                "a wall can be off by at most a meter (39 in)",
                where=self.wall,
                value=self.nearer_mm,
                remedy="Measure the room again and plan it afresh.",
            )


@dataclass(frozen=True, slots=True)
class FloorState:
    """Everything known about a floor that is being laid, beside its plan.

    Parameters
    ----------
    laid : the pieces that lie, in any order; a row is laid from its near end.
    cut : pieces cut as the plan says that are not laid yet.
    shelf : the offcuts at hand, by their true lengths and ends; None: those that the plan leaves.
    boards_left : whole boards at hand; None when nobody counted.
    row_width_mm : what a row really covers, measured over several rows; None: as planned.
    walls : walls that were measured elsewhere than planned.
    lifted_rows : rows whose pieces come up; whole ones go back to the shelf.
    spoiled : pieces of lifted rows, or cut ones, that cannot be used again; what a cut at the wrong
        end left is on the shelf as ``3.1.4/1`` and ``3.1.4/2``.
    second_batch_row : from this row on only boards of the second batch are used; None: one batch.
    second_batch_left : whole boards of the second batch; None when nobody counted.
    """

    laid: tuple[LaidPiece, ...] = ()
    cut: tuple[str, ...] = ()
    shelf: tuple[StockBoard, ...] | None = None
    boards_left: int | None = None
    row_width_mm: float | None = None
    walls: tuple[WallShift, ...] = ()
    lifted_rows: tuple[int, ...] = ()
    spoiled: tuple[str, ...] = ()
    second_batch_row: int | None = None
    second_batch_left: int | None = None

    def __post_init__(self) -> None:
        for field, count in (
            ("boards left", self.boards_left),
            ("boards of the second batch", self.second_batch_left),
        ):
            if count is not None and count < 0:
                raise InputError("there cannot be fewer than no boards", where=field, value=count)
        width = self.row_width_mm
        if width is not None and not (math.isfinite(width) and width > 0.0):
            raise InputError("a row needs a width above 0", where="row width", value=width)

    @property
    def laid_ids(self) -> frozenset[str]:
        """Ids of the pieces that lie and stay."""
        return frozenset(piece.id for piece in self.laid if _row(piece.id) not in self.lifted_rows)

    @property
    def lifted_ids(self) -> frozenset[str]:
        """Ids of the pieces that lay and come up."""
        return frozenset(piece.id for piece in self.laid) - self.laid_ids


def _row(piece_id: str) -> int:
    head = piece_id.partition(".")[0]
    return int(head) if head.isdigit() else 0
