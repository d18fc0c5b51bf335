"""The saw list: each cut piece in saw order, what it is cut from and what is left of that.

A board's own frame: u from its near end, v from its wall side, as the board lies when it is not
turned. What is left of a board after a cut is a rectangle in that frame; it keeps the letter of
the piece that will be taken from it, or none when it is waste.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from plankwright.model.board import Profile
from plankwright.model.plan import Piece, Plan
from plankwright.units import Unit, format_length

NEAR_MM = 0.01  # closer than this to an edge is on it
SQUARE_MM = 0.5  # an end that slants by less is cut square
SAWDUST_MM = 1.0  # what is thinner is sawdust, not an offcut

KeepEnd = Literal["near", "far", "cut", "either", "middle"]
KeepSide = Literal["wall", "room", "middle"]


@dataclass(frozen=True, slots=True)
class Blank:
    """A rectangle of a board [mm], in the board's own frame."""

    u0: float
    v0: float
    u1: float
    v1: float

    @property
    def length_mm(self) -> float:
        """Along the board."""
        return self.u1 - self.u0

    @property
    def width_mm(self) -> float:
        """Across the board."""
        return self.v1 - self.v0

    def holds(self, other: "Blank") -> bool:
        """Whether another rectangle lies inside this one."""
        return (
            self.u0 - NEAR_MM <= other.u0
            and self.v0 - NEAR_MM <= other.v0
            and other.u1 <= self.u1 + NEAR_MM
            and other.v1 <= self.v1 + NEAR_MM
        )


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left of a cut; ``label`` is the letter it goes on the shelf under, "" for waste."""

    blank: Blank
    label: str


@dataclass(frozen=True, slots=True)
class SawCut:
    """One piece to be cut.

    Parameters
    ----------
    number : in saw order.
    piece : what is wanted.
    source : what it is cut from: a whole board or what is left of one.
    label : letter of the offcut it is cut from, None for a new board.
    end : the part of the source that is kept when it is crosscut: its *near* or *far* factory
        end, its *cut* end (so that the factory end stays on the offcut), *either* (no factory end
        left), the *middle* (cut at both ends); None when it is not crosscut.
    side : the long side that is kept when it is ripped; None when it is not ripped.
    end_profile, side_profile : tongue or groove there; None where there is none to name.
    factory_ends : whether the near and the far end of the source are the factory's.
    lengths_mm : along the wall side and along the room side; they differ where an end is angled.
    widths_mm : at the near end and at the far end; they differ where a rip tapers.
    slanted_end : the end that is not square, where only one is.
    shaped : a notch or more angles than these four tell; mark it from the drawing.
    offcuts : what is left, the useful ones first.
    """

    number: int
    piece: Piece
    source: Blank
    label: str | None
    end: KeepEnd | None
    side: KeepSide | None
    end_profile: Profile | None
    side_profile: Profile | None
    factory_ends: tuple[bool, bool]
    lengths_mm: tuple[float, float]
    widths_mm: tuple[float, float]
    slanted_end: Literal["near", "far"] | None
    shaped: bool
    offcuts: tuple[Offcut, ...]

    @property
    def angled(self) -> bool:
        """Whether an end is not square."""
        return abs(self.lengths_mm[0] - self.lengths_mm[1]) > SQUARE_MM

    @property
    def tapered(self) -> bool:
        """Whether its long sides are not parallel."""
        return abs(self.widths_mm[0] - self.widths_mm[1]) > SQUARE_MM


def saw_cuts(plan: Plan) -> tuple[SawCut, ...]:
    """Every cut of a plan in saw order."""
    sawn = sorted(
        (piece for piece in plan.pieces if piece.cut_order is not None),
        key=lambda piece: (piece.cut_order or 0, piece.lay_order),
    )
    left = {piece.board: [_whole(plan, piece.board)] for piece in sawn}
    found: list[SawCut] = []
    for index, piece in enumerate(sawn):
        waiting = [later for later in sawn[index + 1 :] if later.board == piece.board]
        source, offcuts = _take(left[piece.board], piece, waiting, plan)
        found.append(_cut(plan, piece, source, offcuts))
    return tuple(found)


def piece_figure(size_mm: float, unit: Unit, *, with_unit: bool = True) -> str:
    """A size of a piece as it is marked on the board: rounded down, so that the piece fits.

    Outlines are kept to 0.001 mm, which must not cost a sixteenth of an inch.

    >>> piece_figure(406.399, "in"), piece_figure(406.3, "in")
    ('16"', '15 15/16"')
    """
    return format_length(size_mm + NEAR_MM, unit, rounding="down", with_unit=with_unit)


def blank_of(piece: Piece) -> Blank:
    """Where a piece's rectangle lies in its board."""
    u, v = piece.from_near_mm, piece.from_wall_side_mm
    return Blank(u, v, u + piece.length_mm, v + piece.width_mm)


def offcut_letters(plan: Plan) -> dict[str, str]:
    """For each piece whose cut leaves an offcut that is used: its letters, by piece id."""
    letters = {
        cut.piece.id: ", ".join(offcut.label for offcut in cut.offcuts if offcut.label)
        for cut in saw_cuts(plan)
    }
    return {piece: told for piece, told in letters.items() if told}


def _whole(plan: Plan, number: int) -> Blank:
    stock = next((board for board in plan.stock if board.id == number), None)
    if stock is None:
        return Blank(0.0, 0.0, plan.board.length_mm, plan.board.width_mm)
    return Blank(0.0, 0.0, stock.length_mm, stock.width_mm or plan.board.width_mm)


def _take(
    left: list[Blank], piece: Piece, waiting: list[Piece], plan: Plan
) -> tuple[Blank, tuple[Offcut, ...]]:
    """Cut a piece out of what is left of its board; ``left`` is brought up to date."""
    wanted = blank_of(piece)
    holding = [blank for blank in left if blank.holds(wanted)]
    source = holding[0] if holding else _whole(plan, piece.board)
    if holding:
        left.remove(source)
    inside = [later for later in waiting if source.holds(blank_of(later))]
    remains = _remains(source, wanted, [blank_of(later) for later in inside], plan.rules.kerf_mm)
    left.extend(remains)
    offcuts = [Offcut(blank, _letter(blank, inside)) for blank in remains]
    return source, tuple(sorted(offcuts, key=lambda offcut: (not offcut.label, offcut.label)))


def _letter(blank: Blank, waiting: list[Piece]) -> str:
    """The letter of the first piece that will be cut from a blank."""
    for piece in waiting:
        if blank.holds(blank_of(piece)):
            return piece.label or ""
    return ""


def _remains(source: Blank, wanted: Blank, waiting: list[Blank], kerf_mm: float) -> list[Blank]:
    """What is left when a piece is cut out: crosscut first, unless a later piece needs a rip first.

    Pieces nested by true shape fit neither way: then the source stays, to be marked from the
    drawing.
    """
    for split in (_crosscut_first, _rip_first):
        remains = split(source, wanted, kerf_mm)
        if all(any(blank.holds(later) for blank in remains) for later in waiting):
            return remains
    return [source]


def _crosscut_first(source: Blank, wanted: Blank, kerf_mm: float) -> list[Blank]:
    return _real(
        Blank(source.u0, source.v0, wanted.u0 - kerf_mm, source.v1),
        Blank(wanted.u1 + kerf_mm, source.v0, source.u1, source.v1),
        Blank(wanted.u0, source.v0, wanted.u1, wanted.v0 - kerf_mm),
        Blank(wanted.u0, wanted.v1 + kerf_mm, wanted.u1, source.v1),
    )


def _rip_first(source: Blank, wanted: Blank, kerf_mm: float) -> list[Blank]:
    return _real(
        Blank(source.u0, source.v0, source.u1, wanted.v0 - kerf_mm),
        Blank(source.u0, wanted.v1 + kerf_mm, source.u1, source.v1),
        Blank(source.u0, wanted.v0, wanted.u0 - kerf_mm, wanted.v1),
        Blank(wanted.u1 + kerf_mm, wanted.v0, source.u1, wanted.v1),
    )


def _real(*blanks: Blank) -> list[Blank]:
    """Those that are more than sawdust."""
    return [blank for blank in blanks if min(blank.length_mm, blank.width_mm) >= SAWDUST_MM]


def _cut(plan: Plan, piece: Piece, source: Blank, offcuts: tuple[Offcut, ...]) -> SawCut:
    end, side = _kept_end(plan, piece, source), _kept_side(piece, source)
    sides = _sides(plan, piece)
    rectangle = ((piece.length_mm,) * 2, (piece.width_mm,) * 2, None)
    lengths, widths, slanted = sides or rectangle
    return SawCut(
        number=piece.cut_order or 0,
        piece=piece,
        source=source,
        label=piece.label,
        end=end,
        side=side,
        end_profile=_end_profile(plan, end),
        side_profile=_side_profile(plan, side),
        factory_ends=_factory_ends(plan, piece.board, source),
        lengths_mm=lengths,
        widths_mm=widths,
        slanted_end=slanted,
        shaped=sides is None,
        offcuts=offcuts,
    )


def _kept_end(plan: Plan, piece: Piece, source: Blank) -> KeepEnd | None:
    wanted = blank_of(piece)
    near_factory, far_factory = _factory_ends(plan, piece.board, source)
    # beside an earlier cut the allowance may lie between; it is no second cut
    slack = {True: NEAR_MM, False: plan.rules.allowance_mm + NEAR_MM}
    at_near = wanted.u0 - source.u0 <= slack[near_factory]
    at_far = source.u1 - wanted.u1 <= slack[far_factory]
    if at_near and at_far:
        return None
    if not at_near and not at_far:
        return "middle"
    if at_near and near_factory:
        return "near"
    if at_far and far_factory:
        return "far"
    return "cut" if near_factory or far_factory else "either"


def _factory_ends(plan: Plan, number: int, source: Blank) -> tuple[bool, bool]:
    """Whether the near and the far end of what is left of a board are the factory's."""
    stock = next((board for board in plan.stock if board.id == number), None)
    ends = stock.ends if stock else "both"
    whole = _whole(plan, number)
    return (
        source.u0 <= NEAR_MM and ends in ("both", "near"),
        source.u1 >= whole.u1 - NEAR_MM and ends in ("both", "far"),
    )


def _kept_side(piece: Piece, source: Blank) -> KeepSide | None:
    wanted = blank_of(piece)
    at_wall = wanted.v0 - source.v0 <= NEAR_MM
    at_room = source.v1 - wanted.v1 <= NEAR_MM
    if at_wall and at_room:
        return None
    return "wall" if at_wall else "room" if at_room else "middle"


def _end_profile(plan: Plan, end: KeepEnd | None) -> Profile | None:
    near = plan.board.near_end(plan.laying.laid)
    if near is None or end not in ("near", "far"):
        return None
    return near if end == "near" else _other(near)


def _side_profile(plan: Plan, side: KeepSide | None) -> Profile | None:
    if plan.board.reversible or side not in ("wall", "room"):
        return None
    return plan.board.start_side if side == "wall" else _other(plan.board.start_side)


def _other(profile: Profile) -> Profile:
    return "groove" if profile == "tongue" else "tongue"


Pair = tuple[float, float]
Slanted = Literal["near", "far"] | None


def _sides(plan: Plan, piece: Piece) -> tuple[Pair, Pair, Slanted] | None:
    """Lengths along both sides and widths at both ends of a piece with four corners.

    None when that does not tell its shape: other corners, or nothing left to mark from because
    both ends or both sides slant.
    """
    outline = piece.outline.simplify(SQUARE_MM / 5.0)
    corners = np.asarray(outline.exterior.coords[:-1])[:, :2]
    if len(corners) != 4 or outline.interiors:
        return None
    angle = np.radians(plan.laying.row_angle_deg)
    side = 1.0 if plan.laying.laid == "right-to-left" else -1.0
    way = -1.0 if plan.is_turned(piece) else 1.0
    u = corners @ np.array([np.cos(angle), np.sin(angle)]) * way
    v = corners @ np.array([-np.sin(angle), np.cos(angle)]) * side * way
    far, room = u > (u.min() + u.max()) / 2.0, v > (v.min() + v.max()) / 2.0
    quarters = [np.flatnonzero((far == f) & (room == r)) for f in (0, 1) for r in (0, 1)]
    if any(len(quarter) != 1 for quarter in quarters):
        return None
    near_wall, near_room, far_wall, far_room = (int(quarter[0]) for quarter in quarters)
    slant_of_ends = abs(u[near_wall] - u[near_room]), abs(u[far_wall] - u[far_room])
    slant_of_sides = abs(v[near_wall] - v[far_wall]), abs(v[near_room] - v[far_room])
    if min(slant_of_ends) > SQUARE_MM or min(slant_of_sides) > SQUARE_MM:
        return None
    lengths = float(u[far_wall] - u[near_wall]), float(u[far_room] - u[near_room])
    widths = float(v[near_room] - v[near_wall]), float(v[far_room] - v[far_wall])
    slanted: Slanted = "near" if slant_of_ends[0] > slant_of_ends[1] else "far"
    return lengths, widths, slanted if max(slant_of_ends) > SQUARE_MM else None
