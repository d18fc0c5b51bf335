"""The plan: every piece, where it lies on the floor and in which board it is cut.

This is the plan file (the *certificate* of the design) as a value: complete, so that everything
printed can be derived from it. All lengths in millimeters, outlines in room coordinates.

Plan axes: u along the rows from near to far, v across them away from the start wall. Row i covers
v from ``start_line_mm + (i - 1) * width`` to ``start_line_mm + i * width``.
"""

from dataclasses import dataclass
from typing import Literal

from shapely import MultiPolygon, Polygon

from plankwright.model.board import Board, Laid
from plankwright.model.findings import Finding
from plankwright.model.rules import Rules

SCRAP_MM2 = 100.0
SCRAP_MM = 1.0
"""A connected part of one row with less floor than 1 cm², or nowhere 1 mm wide across the row, is a
scrap: nobody saws a piece so small, and what lies at a wall is under the trim. A plan may leave it
open, and says so."""

Cut = Literal["factory", "cut"]
Status = Literal["optimal", "feasible", "infeasible", "unknown", "invalid"]
EvidenceKind = Literal["prices", "area", "search"]


@dataclass(frozen=True, slots=True)
class Laying:
    """Row direction, start wall and start line.

    Parameters
    ----------
    row_angle_deg : direction of u in room coordinates, anticlockwise from x.
    laid : left to right: v is u turned by -90 degrees; right to left: by +90 degrees.
    start_wall : the wall row 1 lies along, ``"A-B"``.
    start_line_mm : v of row 1's wall side as if row 1 were a full board.
    """

    row_angle_deg: float
    laid: Laid
    start_wall: str
    start_line_mm: float


@dataclass(frozen=True, slots=True)
class PlanFixed:
    """A fixed thing as the plan saw it: kind, outline and the gap that was kept round it."""

    kind: str
    outline: Polygon
    gap_mm: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Recess:
    """What is added to the floor beyond the inset outline: a doorway, the place under a jamb."""

    kind: str
    outline: Polygon


@dataclass(frozen=True, slots=True)
class Overhang:
    """What hangs over the floor, which runs under it: an undercut jamb, a toe-kick, a radiator.

    ``clearance_mm`` is the free height above what the boards lie on; None: just enough for a
    board, as a jamb is undercut.
    """

    kind: str
    outline: Polygon
    clearance_mm: float | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class StockBoard:
    """A board that is not whole and new: an offcut on the shelf or a board of another length.

    ``ends`` says which factory ends it still has: both, near, far or none. ``width_mm`` is that of
    a ripped strip, ``side`` the factory long side a strip still has.
    """

    id: int
    length_mm: float
    ends: Literal["both", "near", "far", "none"] = "both"
    width_mm: float | None = None
    label: str = ""
    side: Literal["wall", "room", "none"] = "none"


@dataclass(frozen=True, slots=True)
class RowKind:
    """A row that is not the ordinary kind: turned end for end, or joined on its room side.

    ``stretches`` names the stretches that are meant, where it is not the whole row.
    """

    row: int
    turned: bool = False
    joined: Literal["wall-side", "room-side"] = "wall-side"
    stretches: tuple[int, ...] = ()

    def covers(self, stretch: int) -> bool:
        """Whether a stretch of the row is of this kind."""
        return not self.stretches or stretch in self.stretches


@dataclass(frozen=True, slots=True)
class Piece:
    """A board or part of one, as it lies on the floor.

    Parameters
    ----------
    id : ``"row.stretch.seat"``, with a letter where a fixed thing parts a seat in several pieces.
    row, stretch, seat : counted from 1; stretches and seats from the near end.
    outline : its shape in room coordinates.
    board : number of the board it is cut from; every board has its own number.
    length_mm, width_mm : its bounding rectangle along u and v.
    from_near_mm, from_wall_side_mm : where that rectangle lies in its board.
    near_end, far_end, wall_side, room_side : factory edge or cut edge.
    lay_order : when it is laid; cut_order : when it is sawn, None for a whole board.
    label : of the offcut it is taken from, or None when it comes from a new board.
    """

    id: str
    row: int
    stretch: int
    seat: int
    outline: Polygon
    board: int
    length_mm: float
    width_mm: float
    from_near_mm: float
    from_wall_side_mm: float
    near_end: Cut
    far_end: Cut
    wall_side: Cut
    room_side: Cut
    lay_order: int
    cut_order: int | None = None
    label: str | None = None


@dataclass(frozen=True, slots=True)
class Evidence:
    """What proves the bound.

    *prices*: a step function, pairs of a length [mm] and its price, that anyone can re-add;
    *area*: floor area over board area; *search*: a search was exhausted (not re-checked).
    With ``joint_offsets`` the prices are added up along chains of stretches of neighboring rows
    that keep their joint offsets, which proves more. ``second`` are the prices for the rows of the
    second batch, where there is one: both parts are proven by themselves. ``line_mm`` and
    ``second_line_mm`` are the lines along the boards whose chords are priced: the distance from the
    boards' wall sides, and the reach to both sides of it.
    """

    kind: EvidenceKind
    prices: tuple[tuple[float, float], ...] = ()
    joint_offsets: bool = False
    second: tuple[tuple[float, float], ...] = ()
    line_mm: tuple[float, float] | None = None
    second_line_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class BoardCount:
    """Boards used, the least number any plan of this floor with these rows needs, and the proof."""

    used: int
    bound: int
    status: Status
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Plan:
    """A complete plan; see the module's text for axes and units.

    ``laid`` are the ids of pieces that lay already when it was made: the count of boards is then
    proven for plans that keep them, with the boards of ``stock`` at hand. Nothing but them is cut
    from their boards; what those have left stands in the stock. From ``second_batch_row`` on the
    rows that are still open are cut from new boards of a second batch, and no others are.
    """

    board: Board
    rules: Rules
    laying: Laying
    room: Polygon
    floor: MultiPolygon
    pieces: tuple[Piece, ...]
    boards: BoardCount
    packs: int
    edges: tuple[tuple[str, float], ...] = ()
    fixed: tuple[PlanFixed, ...] = ()
    recesses: tuple[Recess, ...] = ()
    stock: tuple[StockBoard, ...] = ()
    rows: tuple[RowKind, ...] = ()
    findings: tuple[Finding, ...] = ()
    name: str = "room"
    unit: str = "mm"
    laid: tuple[str, ...] = ()
    second_batch_row: int | None = None
    overhangs: tuple[Overhang, ...] = ()

    def is_turned(self, piece: Piece) -> bool:
        """Whether a piece lies in a row that is turned end for end."""
        return any(
            row.turned and row.row == piece.row and row.covers(piece.stretch) for row in self.rows
        )
