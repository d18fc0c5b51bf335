"""The rip table of a row: how wide every piece is at both of its ends, and where it bends.

Pieces of a tapered row are ripped at a slant; a line through two marks is all the saw needs. A
wall that is bowed or has a jog gives further marks in between.
"""

from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from plankwright.geometry.frame import Frame
from plankwright.geometry.slabs import Trapezoid, slabs
from plankwright.model.plan import Piece, Plan

STRAIGHT_MM = 0.2  # a corner that lies this near to the line through its neighbors is none
HAIR_MM = 0.05


@dataclass(frozen=True, slots=True)
class Mark:
    """How wide a piece is at a place: ``from_near_mm`` along it from its near end [mm]."""

    from_near_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True)
class RipLine:
    """One piece of a ripped row.

    Parameters
    ----------
    piece : its number, ``"12.1.3"``.
    from_near_mm : where it begins, from the near end of its stretch.
    keeps : the long side that stays the factory's, from which widths are measured; neither where
        both are sawn.
    marks : widths from the near end to the far end; the first and the last are the two ends.
    """

    piece: str
    from_near_mm: float
    keeps: str
    marks: tuple[Mark, ...]

    @property
    def near_mm(self) -> float:
        """Width at the near end [mm]."""
        return self.marks[0].width_mm

    @property
    def far_mm(self) -> float:
        """Width at the far end [mm]."""
        return self.marks[-1].width_mm

    @property
    def taper_mm(self) -> float:
        """How much wider the far end is than the near one; negative where it is narrower."""
        return self.far_mm - self.near_mm


def ripped_rows(plan: Plan) -> tuple[int, ...]:
    """The rows in which at least one piece is ripped."""
    return tuple(sorted({piece.row for piece in plan.pieces if _is_ripped(piece)}))


def rip_table(plan: Plan, row: int) -> tuple[RipLine, ...]:
    """Every piece of a row, from the near end; none for a row that is not there."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    shapes = [(p, frame.to_plan_grid(p.outline)) for p in plan.pieces if p.row == row]
    begins: dict[int, float] = {}
    for piece, shape in shapes:
        begins[piece.stretch] = min(begins.get(piece.stretch, shape.bounds[0]), shape.bounds[0])
    return tuple(
        RipLine(
            piece.id,
            round(shape.bounds[0] - begins[piece.stretch], 3) + 0.0,
            _keeps(piece),
            _marks(shape),
        )
        for piece, shape in sorted(shapes, key=lambda one: (one[0].stretch, one[1].bounds[0]))
    )


def _is_ripped(piece: Piece) -> bool:
    return "cut" in (piece.wall_side, piece.room_side)


def _keeps(piece: Piece) -> str:
    sides = {"wall side": piece.wall_side, "room side": piece.room_side}
    kept = [side for side, edge in sides.items() if edge == "factory"]
    return {0: "neither", 1: kept[0] if kept else "", 2: "both"}[len(kept)]


def _marks(shape: Polygon) -> tuple[Mark, ...]:
    """Widths over all at every corner, corners on a straight line left out."""
    cut = [slab for slab in slabs(shape) if slab and slab[0].u1 - slab[0].u0 > HAIR_MM]
    begin = cut[0][0].u0
    marks: list[Mark] = []
    for slab in cut:
        for u, width in ((slab[0].u0, _over_all(slab, 0)), (slab[0].u1, _over_all(slab, 1))):
            mark = Mark(round(u - begin, 3) + 0.0, round(width, 3))
            if not marks or mark != marks[-1]:
                marks.append(mark)
    return tuple(_straightened(marks))


def _over_all(slab: list[Trapezoid], end: int) -> float:
    if end == 0:
        return max(t.high0 for t in slab) - min(t.low0 for t in slab)
    return max(t.high1 for t in slab) - min(t.low1 for t in slab)


def _straightened(marks: list[Mark]) -> list[Mark]:
    """The marks less those that lie on the line between the ones before and after them."""
    kept = marks[:1]
    for mark, after in pairwise(marks[1:]):
        before = kept[-1]
        share = (mark.from_near_mm - before.from_near_mm) / max(
            after.from_near_mm - before.from_near_mm, HAIR_MM
        )
        on_line = before.width_mm + share * (after.width_mm - before.width_mm)
        if abs(on_line - mark.width_mm) > STRAIGHT_MM:
            kept.append(mark)
    return [*kept, marks[-1]]
