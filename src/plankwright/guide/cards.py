"""The cards: for each piece what to take, what to cut, what to keep and where it goes.

A card has everything the hands need and nothing else; all cards together are complete: whoever
has only them cuts and lays the plan. They come in laying order. A card is a value without words;
:mod:`plankwright.guide.card_words` says it, :mod:`plankwright.drawing.board_picture` draws its cut.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

import numpy as np
import shapely
from shapely import Polygon

from plankwright.geometry.frame import Frame
from plankwright.guide.events import Ends
from plankwright.model.plan import Piece, Plan, RowKind
from plankwright.plan.saw_cuts import NEAR_MM, Offcut, SawCut, saw_cuts
from plankwright.plan.wall_trims import EdgeName, wall_trims

TakeKind = Literal["new board", "offcut", "shelf"]
Fate = Literal["shelf", "spare", "waste"]
StripSide = Literal["wall", "room", "none"]
Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Take:
    """What is taken in the hand.

    Parameters
    ----------
    kind : a new board; an offcut that an earlier card put on the shelf; or something that was on
        the shelf before the plan was made.
    label : the letter on it; "" for a new board.
    length_mm, width_mm : its size, to know it again.
    board : number of the board in the plan.
    """

    kind: TakeKind
    label: str
    length_mm: float
    width_mm: float
    board: int


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of a cut: for the shelf, a spare to keep until the floor is done, or waste.

    ``label`` is the plan's letter; ``mark`` is what is written on it: the letter, or on a spare
    an S and the piece it is left of. ``ends`` are its factory ends, ``side`` the factory long
    side of a strip.
    """

    label: str
    length_mm: float
    width_mm: float
    fate: Fate
    mark: str = ""
    ends: Ends = "none"
    side: StripSide = "none"


@dataclass(frozen=True, slots=True)
class Card:
    """One piece, from the stack or the shelf to its place.

    Parameters
    ----------
    number : in laying order, from 1.
    piece : its id, ``"row.stretch.seat"``.
    row, stretch, seat, of : its place; ``of`` is the number of the last seat of its stretch.
    take : what it is cut from.
    cut : the cut with its picture data; None for a whole board.
    lengths_mm : along the wall side and along the room side.
    widths_mm : at the near end and at the far end.
    slanted_side : the long side that tapers, where the widths differ.
    shape : rings of its outline, along from its near end and across from its wall side [mm], when
        lengths and widths do not tell it (notches, several angles); else empty.
    along_mm : its near end, from the end of the floor where rows begin, along the rows.
    across_mm : its wall side, from its row's wall side.
    trims : factory edges whose tongue or lip is trimmed off, because they lie at a wall.
    left : what remains, useful parts first.
    ends : the factory ends that the piece has.
    joins : id of the piece laid before it in its stretch, which its near end joins; "" at a wall.
    turned : it lies turned end for end (beyond a spline): its board's near end at the far end of
        its place. Ends, sides and shape are those of the board.
    backwards : it joins on its room side: the row is laid backwards.
    spline : the first piece of rows that are turned: the spline is set before it.
    """

    number: int
    piece: str
    row: int
    stretch: int
    seat: int
    of: int
    take: Take
    cut: SawCut | None
    lengths_mm: tuple[float, float]
    widths_mm: tuple[float, float]
    slanted_side: Literal["wall", "room"] | None
    shape: tuple[Ring, ...]
    along_mm: float
    across_mm: float
    trims: tuple[EdgeName, ...] = ()
    left: tuple[Left, ...] = ()
    ends: Ends = "none"
    joins: str = ""
    turned: bool = False
    backwards: bool = False
    spline: bool = False

    @property
    def length_mm(self) -> float:
        """Along its longer side."""
        return max(self.lengths_mm)

    @property
    def is_new_and_whole(self) -> bool:
        """Whether it is a whole board out of its pack."""
        return self.cut is None and self.take.kind == "new board"

    @property
    def needs_saw(self) -> bool:
        """Whether it goes to the saw: cut, or trimmed at a wall."""
        return self.cut is not None or bool(self.trims)


@dataclass(frozen=True, slots=True)
class StretchCard:
    """A stretch: its cards from near to far, and what they measure together [mm]."""

    row: int
    stretch: int
    of: int  # stretches in its row
    cards: tuple[Card, ...]
    length_mm: float


@dataclass(frozen=True, slots=True)
class Walk:
    """One walk to the saw: what is cut on it, in saw order, and the rows it serves."""

    number: int
    rows: tuple[int, ...]
    cards: tuple[Card, ...]


def cards_of(plan: Plan) -> tuple[Card, ...]:
    """The cards of a plan in laying order."""
    cuts = {cut.piece.id: cut for cut in saw_cuts(plan)}
    trims = wall_trims(plan)
    laid = sorted(plan.pieces, key=lambda piece: (piece.lay_order, piece.id))
    places = _places(plan, laid)
    seats: dict[tuple[int, int], int] = defaultdict(int)
    for piece in laid:
        key = piece.row, piece.stretch
        seats[key] = max(seats[key], piece.seat)
    before = _laid_before(plan, laid, places)
    splines = {
        piece.id
        for earlier, piece in zip((None, *laid), laid, strict=False)
        if plan.is_turned(piece) and not (earlier and plan.is_turned(earlier))
    }
    return tuple(
        _card(
            plan,
            piece,
            number,
            of=seats[piece.row, piece.stretch],
            cut=cuts.get(piece.id),
            outline=places[piece.id],
            joins=before.get(piece.id, ""),
            trims=trims.get(piece.id, ()),
            turned=any(kind.turned for kind in _kinds(plan, piece)),
            backwards=any(kind.joined == "room-side" for kind in _kinds(plan, piece)),
            spline=piece.id in splines,
        )
        for number, piece in enumerate(laid, start=1)
    )


def _kinds(plan: Plan, piece: Piece) -> list[RowKind]:
    return [k for k in plan.rows if k.row == piece.row and k.covers(piece.stretch)]


def next_card(cards: Iterable[Card], laid: Iterable[str]) -> Card | None:
    """The first card whose piece does not lie yet; None when the floor is done.

    Parameters
    ----------
    laid : ids of the pieces that lie.
    """
    done = frozenset(laid)
    return next((card for card in cards if card.piece not in done), None)


def stretch_cards(cards: Sequence[Card]) -> tuple[StretchCard, ...]:
    """The same cards, a stretch at a time."""
    in_row: dict[int, set[int]] = defaultdict(set)
    for card in cards:
        in_row[card.row].add(card.stretch)
    groups = (list(group) for _, group in groupby(cards, lambda card: (card.row, card.stretch)))
    return tuple(
        StretchCard(
            group[0].row,
            group[0].stretch,
            len(in_row[group[0].row]),
            tuple(group),
            max(card.along_mm + card.length_mm for card in group)
            - min(card.along_mm for card in group),
        )
        for group in groups
    )


def walks(cards: Sequence[Card], rows_a_walk: int | None = 1) -> tuple[Walk, ...]:
    """What is cut on each walk to the saw; rows without a cut need none.

    Parameters
    ----------
    rows_a_walk : how many rows are cut at once; None cuts everything on one walk. The more at
        once, the fewer walks, and the more a wall that is not where it was planned spoils.
    """
    groups: dict[int, list[Card]] = defaultdict(list)
    rows = sorted({card.row for card in cards})
    for card in cards:
        if card.needs_saw:
            groups[0 if rows_a_walk is None else rows.index(card.row) // rows_a_walk].append(card)
    return tuple(
        Walk(number, tuple(sorted({card.row for card in group})), tuple(_saw_order(group)))
        for number, (_, group) in enumerate(sorted(groups.items()), start=1)
    )


def _saw_order(cards: Sequence[Card]) -> list[Card]:
    """Cuts in saw order; what is only trimmed goes where it is laid."""
    order, last = [], 0
    for card in cards:
        last = card.cut.number if card.cut else last
        order.append((last, card.number, card))
    return [card for *_, card in sorted(order, key=lambda entry: entry[:2])]


def _places(plan: Plan, pieces: Sequence[Piece]) -> dict[str, Polygon]:
    """Outlines in plan axes, along from the end of the floor where rows begin."""
    if not pieces:
        return {}
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    outlines = {piece.id: axes.to_plan(piece.outline) for piece in pieces}
    least = min(outline.bounds[0] for outline in outlines.values())
    shift = (-least, -plan.laying.start_line_mm)
    return {
        name: shapely.transform(shape, lambda uv: uv + shift) for name, shape in outlines.items()
    }


def _laid_before(plan: Plan, pieces: Sequence[Piece], places: dict[str, Polygon]) -> dict[str, str]:
    """For each piece the one before it in its stretch; the nearest of a seat that is parted."""
    stretches: dict[tuple[int, int], list[Piece]] = defaultdict(list)
    for piece in pieces:
        stretches[piece.row, piece.stretch].append(piece)
    found = {}
    for members in stretches.values():
        for piece in members:
            step = -1 if plan.is_turned(piece) else 1
            earlier = [other for other in members if other.seat == piece.seat - step]
            if earlier:
                place = places[piece.id]
                nearest = min(earlier, key=lambda other: round(places[other.id].distance(place)))
                found[piece.id] = nearest.id
    return found


def _card(
    plan: Plan,
    piece: Piece,
    number: int,
    *,
    of: int,
    cut: SawCut | None,
    outline: Polygon,
    joins: str,
    trims: tuple[EdgeName, ...],
    turned: bool,
    backwards: bool,
    spline: bool,
) -> Card:
    u0, v0, *_ = outline.bounds
    row_line = (piece.row - 1) * plan.board.width_mm
    near, far = piece.near_end == "factory", piece.far_end == "factory"
    as_cut = shapely.transform(outline, np.negative) if turned else outline  # as in its board
    return Card(
        number=number,
        piece=piece.id,
        row=piece.row,
        stretch=piece.stretch,
        seat=piece.seat,
        of=of,
        take=_take(plan, piece, cut),
        cut=cut,
        lengths_mm=cut.lengths_mm if cut else (piece.length_mm,) * 2,
        widths_mm=cut.widths_mm if cut else (piece.width_mm,) * 2,
        slanted_side=_slanted_side(as_cut) if cut and cut.tapered else None,
        shape=_rings(as_cut, *as_cut.bounds[:2]) if cut and cut.shaped else (),
        along_mm=_tidy(u0),
        across_mm=_tidy(v0 - row_line),
        trims=trims,
        left=_lefts(plan, cut) if cut else (),
        ends=ends_named(near=far, far=near) if turned else ends_named(near=near, far=far),
        joins=joins,
        turned=turned,
        backwards=backwards,
        spline=spline,
    )


def _take(plan: Plan, piece: Piece, cut: SawCut | None) -> Take:
    stock = next((board for board in plan.stock if board.id == piece.board), None)
    if cut is None:
        size = piece.length_mm, piece.width_mm
    else:
        size = cut.source.length_mm, cut.source.width_mm
    if stock is not None and piece.label in (None, stock.label):
        return Take("shelf", stock.label or str(stock.id), *size, piece.board)
    if piece.label:
        return Take("offcut", piece.label, *size, piece.board)
    return Take("new board", "", *size, piece.board)


def _lefts(plan: Plan, cut: SawCut) -> tuple[Left, ...]:
    found: list[Left] = []
    for offcut in cut.offcuts:
        fate = offcut_fate(plan, offcut)
        spares = sum(left.fate == "spare" for left in found)
        spare = f"S{cut.piece.id}" + (f"-{spares + 1}" if spares else "")
        found.append(
            Left(
                offcut.label,
                offcut.blank.length_mm,
                offcut.blank.width_mm,
                fate,
                mark={"shelf": offcut.label, "spare": spare, "waste": ""}[fate],
                ends=_ends_of(cut, offcut),
                side=_side_of(plan, offcut),
            )
        )
    return tuple(found)


def _ends_of(cut: SawCut, offcut: Offcut) -> Ends:
    """The factory ends of what it was cut from that are still on an offcut."""
    near, far = cut.factory_ends
    near = near and offcut.blank.u0 <= cut.source.u0 + NEAR_MM
    far = far and offcut.blank.u1 >= cut.source.u1 - NEAR_MM
    return ends_named(near=near, far=far)


def _side_of(plan: Plan, offcut: Offcut) -> StripSide:
    """The factory long side that a strip still has; a part of full width is no strip."""
    at_wall = offcut.blank.v0 <= NEAR_MM
    at_room = offcut.blank.v1 >= plan.board.width_mm - NEAR_MM
    if at_wall == at_room:
        return "none"
    return "wall" if at_wall else "room"


def ends_named(*, near: bool, far: bool) -> Ends:
    """What a part with these factory ends is called."""
    if near and far:
        return "both"
    return "near" if near else "far" if far else "none"


def offcut_fate(plan: Plan, offcut: Offcut) -> Fate:
    """What is to be done with an offcut: long ones of full width are kept as spares."""
    if offcut.label:
        return "shelf"
    long_enough = offcut.blank.length_mm >= plan.rules.shortest_piece_mm
    full_width = offcut.blank.width_mm >= plan.board.width_mm - NEAR_MM
    return "spare" if long_enough and full_width else "waste"


def _slanted_side(outline: Polygon) -> Literal["wall", "room"]:
    """The long side whose two corners lie farther apart across the row."""
    corners = np.asarray(outline.exterior.coords[:-1])
    across = corners[:, 1]
    room = across > (across.min() + across.max()) / 2.0
    return "room" if np.ptp(across[room]) > np.ptp(across[~room]) else "wall"


def _rings(outline: Polygon, u0: float, v0: float) -> tuple[Ring, ...]:
    return tuple(
        tuple((_tidy(u - u0), _tidy(v - v0)) for u, v, *_ in ring.coords[:-1])
        for ring in (outline.exterior, *outline.interiors)
    )


def _tidy(value: float) -> float:
    """To the plan file's 0.001 mm."""
    return round(float(value), 3) + 0.0
