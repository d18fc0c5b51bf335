"""The picture of a board at the saw: what is kept clear, the rest crossed out.

The board is drawn as it lies at the saw: the long side away from you on top, face up or face
down. A board turned over is mirrored, which is why the picture is made from the tongue and the
groove and not from left and right. The picture is not to scale; its figures hold.
"""

import math
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.board_format import FULL, SHEET_MM, BoardFormat, card_format
from plankwright.drawing.lettering import carpenter_figure, centered, text_width_mm
from plankwright.drawing.scene import (
    Area,
    Dimension,
    Group,
    Item,
    Point,
    Polyline,
    Ring,
    Scene,
    Text,
)
from plankwright.drawing.style import CARD_MM, LENGTH_MM
from plankwright.model.board import Board, Laid, Profile
from plankwright.plan.saw_cuts import Blank, SawCut, blank_of, piece_figure
from plankwright.plan.saw_view import SawView
from plankwright.units import Unit

LOCK_MM = 3.0  # how far a tongue sticks out and a groove goes in, on paper
OVER_MM = 5.0  # the saw line runs on beyond the board
LEAST_SLANT_MM = 2.5  # a slant is drawn no smaller
LEAST_CROSS_MM = 1.0  # what is smaller bears no X

Rings = tuple[Ring, ...]


@dataclass(frozen=True, slots=True)
class _Lying:
    """What is cut, as it lies: from the board's frame to the picture."""

    form: BoardFormat
    cut: SawCut
    near_left: bool
    wall_top: bool
    angled: bool  # by figures that differ on the tape
    tapered: bool

    def at(self, u: float, v: float) -> Point:
        source = self.cut.source
        along = (u - source.u0) / source.length_mm
        across = (v - source.v0) / source.width_mm
        x = along if self.near_left else 1.0 - along
        y = across if self.wall_top else 1.0 - across
        return self.form.left + x * self.form.board[0], self.form.top + y * self.form.board[1]

    def ring(self, blank: Blank) -> Ring:
        return (
            self.at(blank.u0, blank.v0),
            self.at(blank.u1, blank.v0),
            self.at(blank.u1, blank.v1),
            self.at(blank.u0, blank.v1),
        )


def compose_board(
    board: Board,
    laid: Laid,
    cut: SawCut,
    unit: Unit,
    view: SawView | None = None,
    *,
    small: bool = False,
    shape: Rings = (),
) -> Scene:
    """The picture of one cut.

    Parameters
    ----------
    board, laid : profiles and laying direction decide which end is where.
    cut : what is cut, from :func:`plankwright.plan.saw_cuts.saw_cuts`.
    unit : of the figures.
    view : how the board lies at the saw; face up with the start side away where None.
    small : of the size that stands beside the words of a card on paper.
    shape : rings of a piece that is no plain rectangle, along from its near end and across from
        its wall side [mm].
    """
    view = view or SawView()
    angled = cut.angled and _figure(cut.lengths_mm[0], unit) != _figure(cut.lengths_mm[1], unit)
    tapered = cut.tapered and _figure(cut.widths_mm[0], unit) != _figure(cut.widths_mm[1], unit)
    crosscut = angled or cut.end is not None
    form = card_format(angled=angled, ripped=cut.side is not None, cut=crosscut) if small else FULL
    lying = _Lying(form, cut, view.near_is_left(laid), view.start_side_away, angled, tapered)
    kept = _kept_ring(lying)
    items: tuple[Item, ...] = (
        Group(_waste(lying), layer="waste", title="Not this part"),
        Group(_kept(lying, kept, shape), layer="kept", title="Keep this part"),
        Group(_locks(board, laid, lying), layer="locks"),
        Group(_saw_lines(lying, kept), layer="saw", title="Saw here"),
        Group(_side_words(form, board, view), layer="words"),
        Group(_figures(lying, kept, unit), layer="figures"),
    )
    title = f"Cut {cut.number}: piece {cut.piece.id}"
    return Scene(*form.sheet, items, title, describe_board(board, laid, cut, unit, view))


def describe_board(board: Board, laid: Laid, cut: SawCut, unit: Unit, view: SawView) -> str:
    """The picture in words, left and right as at the saw."""
    face = "face up" if view.face_up else "face down"
    lies = f"The board lies {face}, {view.side_name(board, away=True)} away from you."
    length = piece_figure(cut.piece.length_mm, unit)
    if cut.end is None:
        return f"{lies} It is not crosscut."
    if cut.end == "middle":
        return f"{lies} Keep {length} of the middle; both ends are crossed out."
    wanted, source = blank_of(cut.piece), cut.source
    keeps_near = wanted.u0 - source.u0 < source.u1 - wanted.u1
    left = keeps_near == view.near_is_left(laid)
    side, other = ("left", "right") if left else ("right", "left")
    end = f", with the {cut.end_profile} end" if cut.end_profile else ""
    return f"{lies} Keep {length} on the {side}{end}; the {other} part is crossed out."


def _kept(lying: _Lying, ring: Ring, shape: Rings) -> tuple[Item, ...]:
    """The kept part; where it has a shape of its own, what is sawn out of it stays crossed."""
    if not shape:
        return (Area(ring, "kept"),)
    origin = blank_of(lying.cut.piece)
    outline, *holes = (
        tuple(lying.at(origin.u0 + along, origin.v0 + across) for along, across in one)
        for one in shape
    )
    cut_out = shapely.Polygon(ring).difference(shapely.Polygon(outline, holes))
    crosses = tuple(cross for part in shapely.get_parts(cut_out) for cross in _cross(part))
    return (*crosses, Area(outline, "kept", tuple(holes)))


def _cross(part: BaseGeometry) -> tuple[Polyline, ...]:
    """An X over a part that is sawn out; what is kept is drawn over its ends."""
    x0, y0, x1, y1 = part.bounds
    if min(x1 - x0, y1 - y0) < LEAST_CROSS_MM:
        return ()
    return Polyline(((x0, y0), (x1, y1)), "crossed"), Polyline(((x0, y1), (x1, y0)), "crossed")


# --- board, waste and saw lines --------------------------------------------------------------


def _kept_ring(lying: _Lying) -> Ring:
    """What is kept, its slanted end or side drawn plainly enough to be seen."""
    cut, blank = lying.cut, blank_of(lying.cut.piece)
    corners = [
        list(point) for point in lying.ring(blank)
    ]  # near wall, far wall, far room, near room
    if lying.angled and cut.slanted_end:
        short = 0 if cut.lengths_mm[0] < cut.lengths_mm[1] else 1
        index = {("near", 0): 0, ("far", 0): 1, ("far", 1): 2, ("near", 1): 3}[
            cut.slanted_end, short
        ]
        inward = 1.0 if (cut.slanted_end == "near") == lying.near_left else -1.0
        share = abs(cut.lengths_mm[0] - cut.lengths_mm[1]) / cut.source.length_mm
        corners[index][0] += inward * max(share * lying.form.board[0], LEAST_SLANT_MM)
    if lying.tapered:
        near_short = cut.widths_mm[0] < cut.widths_mm[1]
        cut_wall = cut.side == "room"
        index = (0 if near_short else 1) if cut_wall else (3 if near_short else 2)
        inward = 1.0 if cut_wall == lying.wall_top else -1.0
        share = abs(cut.widths_mm[0] - cut.widths_mm[1]) / cut.source.width_mm
        corners[index][1] += inward * max(share * lying.form.board[1], LEAST_SLANT_MM)
    return tuple((x, y) for x, y in corners)


def _waste(lying: _Lying) -> tuple[Item, ...]:
    """The whole blank as waste; what is kept is drawn over it. Crosses and letters on the rest."""
    cut = lying.cut
    items: list[Item] = [Area(lying.ring(cut.source), "waste")]
    wanted = blank_of(cut.piece)
    for offcut in cut.offcuts:
        if offcut.blank.holds(wanted):
            continue
        ring = lying.ring(offcut.blank)
        items += [Polyline((ring[0], ring[2]), "crossed"), Polyline((ring[1], ring[3]), "crossed")]
        items += _offcut_words(ring, offcut.label)
    return tuple(items)


def _offcut_words(ring: Ring, label: str) -> list[Item]:
    """The letter under which an offcut goes on the shelf, where it fits."""
    wide, high = abs(ring[2][0] - ring[0][0]), abs(ring[2][1] - ring[0][1])
    middle = ((ring[0][0] + ring[2][0]) / 2.0, (ring[0][1] + ring[2][1]) / 2.0)
    for words, size in ((f"shelf: {label}", CARD_MM), (label, LENGTH_MM), (label, CARD_MM)):
        fits = text_width_mm(words, size) + 3.0 <= wide and size + 1.0 <= high
        if label and fits:
            return [centered(middle, words, size, style="strong", clear=True)]
    return []


def _saw_lines(lying: _Lying, kept: Ring) -> tuple[Item, ...]:
    """Along every edge of the kept part that the saw makes, run on beyond the board."""
    wanted, source = blank_of(lying.cut.piece), lying.cut.source
    near_wall, far_wall, far_room, near_room = kept
    slanted = lying.cut.slanted_end if lying.angled else None
    sawn = (
        (wanted.u0 - source.u0 > 0.5 or slanted == "near", near_wall, near_room),
        (source.u1 - wanted.u1 > 0.5 or slanted == "far", far_wall, far_room),
        (wanted.v0 - source.v0 > 0.5, near_wall, far_wall),
        (source.v1 - wanted.v1 > 0.5, near_room, far_room),
    )
    over = OVER_MM / 2.0 if lying.form.small else OVER_MM
    return tuple(Polyline(_longer(a, b, over), "saw") for is_sawn, a, b in sawn if is_sawn)


def _longer(start: Point, end: Point, over_mm: float) -> tuple[Point, Point]:
    length = math.dist(start, end)
    dx, dy = ((end[i] - start[i]) / length * over_mm for i in (0, 1))
    return (start[0] - dx, start[1] - dy), (end[0] + dx, end[1] + dy)


# --- tongue and groove -----------------------------------------------------------------------


def _locks(board: Board, laid: Laid, lying: _Lying) -> tuple[Item, ...]:
    """A tab for each tongue, a notch for each groove, words at both ends."""
    near = board.near_end(laid)
    items: list[Item] = []
    for is_near, factory in zip((True, False), lying.cut.factory_ends, strict=True):
        is_left = is_near == lying.near_left
        profile = None if near is None else near if is_near else _other(near)
        if factory and profile:
            items.append(_end_lock(lying.form, profile, is_left=is_left))
        words = f"{profile} end" if factory and profile else "" if factory else "cut end"
        if words:
            form = lying.form
            x = form.left - form.end_words if is_left else form.right + form.end_words
            spot = (x, form.middle[1])
            told = words.removesuffix(" end") if form.small else words
            items.append(centered(spot, told, CARD_MM, 90.0, style="strong"))
    if not board.reversible:
        items += _side_locks(board, lying)
    return tuple(items)


def _end_lock(form: BoardFormat, profile: Profile, *, is_left: bool) -> Area:
    x = form.left if is_left else form.right
    out = -LOCK_MM if is_left else LOCK_MM
    reach = x + out if profile == "tongue" else x - out
    low, high = form.top + form.board[1] * 0.3, form.top + form.board[1] * 0.7
    return Area(((x, low), (reach, low), (reach, high), (x, high)), _lock_style(profile))


def _side_locks(board: Board, lying: _Lying) -> list[Item]:
    form, source, items = lying.form, lying.cut.source, list[Item]()
    sides = (
        (board.start_side, source.v0 <= 0.01, lying.wall_top),
        (_other(board.start_side), source.v1 >= board.width_mm - 0.01, not lying.wall_top),
    )
    for profile, factory, is_top in sides:
        if factory:
            y = form.top if is_top else form.bottom
            out = -LOCK_MM * 0.6 if is_top else LOCK_MM * 0.6
            reach = y + out if profile == "tongue" else y - out
            left, right = (form.left + form.board[0] * share for share in (0.12, 0.88))
            ring = ((left, y), (right, y), (right, reach), (left, reach))
            items.append(Area(ring, _lock_style(profile)))
    return items


def _lock_style(profile: Profile) -> str:
    return "lock" if profile == "tongue" else "slot"


# --- words and figures -----------------------------------------------------------------------


def _side_words(form: BoardFormat, board: Board, view: SawView) -> tuple[Item, ...]:
    face = "face up" if view.face_up else "face down"
    away = f"{view.side_name(board, away=True)} away"
    toward = f"{view.side_name(board, away=False)} toward you"
    below = centered((form.middle[0], form.bottom + form.toward_words), toward, CARD_MM)
    if form.small:
        level = form.top - form.away_words
        out = 4.0 if form.left > 13.0 else 11.0  # the widths stand beside a ripped board
        over = Text((form.right + out, level), away, CARD_MM, "label", "end", "middle")
        return Text((form.left - out, level), face, CARD_MM, "title", level="middle"), over, below
    above = centered((form.middle[0], form.top - form.away_words), f"{away} from you", CARD_MM)
    return Text((form.left, 9.0), face, CARD_MM, "title"), above, below


def _figures(lying: _Lying, kept: Ring, unit: Unit) -> tuple[Item, ...]:
    """The length under the board, over it too where the end is angled; the width at the side."""
    cut = lying.cut
    near_wall, far_wall, far_room, near_room = kept
    wall, room = (near_wall, far_wall), (near_room, far_room)
    below, above = (room, wall) if lying.wall_top else (wall, room)
    low, high = cut.lengths_mm[::-1] if lying.wall_top else cut.lengths_mm
    if not lying.angled:
        low = max(cut.lengths_mm)  # as the card says it
    items: list[Item] = []
    if lying.angled or cut.end is not None:
        items.append(_length(lying.form, below, low, unit, top=False))
    if lying.angled:
        items.append(_length(lying.form, above, high, unit, top=True))
    if cut.side is not None:
        items += _widths(lying, kept, unit)
    return tuple(items)


def _length(
    form: BoardFormat, ends: tuple[Point, Point], length_mm: float, unit: Unit, *, top: bool
) -> Dimension:
    left, right = sorted(ends)
    level = form.top if top else form.bottom
    off = form.over + (left[1] - level) if top else -(form.under + level - left[1])
    flat = (left[0], left[1]), (right[0], left[1])
    clear = abs(off) - (2.0 if form.small else 4.0)
    return Dimension(*flat, _figure(length_mm, unit), off, LENGTH_MM, clear_mm=clear)


def _widths(lying: _Lying, kept: Ring, unit: Unit) -> list[Item]:
    """The width beside each end where they differ, else once, at the end that is kept."""
    near_wall, far_wall, far_room, near_room = kept
    near = (near_wall, near_room), lying.cut.widths_mm[0]
    far = (far_wall, far_room), lying.cut.widths_mm[1]
    left, right = (near, far) if lying.near_left else (far, near)
    if lying.tapered:
        return [
            _width(lying.form, *left, unit, is_left=True),
            _width(lying.form, *right, unit, is_left=False),
        ]
    touches_left = min(x for x, _ in kept) - lying.form.left < 1.0
    corners, _ = left if touches_left else right
    return [_width(lying.form, corners, max(near[1], far[1]), unit, is_left=touches_left)]


def _width(
    form: BoardFormat, corners: tuple[Point, Point], width_mm: float, unit: Unit, *, is_left: bool
) -> Dimension:
    """A width outside the words at a board's end, read from the right."""
    (x, high), (_, low) = sorted(corners, key=lambda corner: -corner[1])
    edge = form.left if is_left else form.right
    off = (x - edge) + form.wide_left if is_left else (x - edge) - form.wide_right
    words = _figure(width_mm, unit)
    return Dimension((x, high), (x, low), words, off, CARD_MM, clear_mm=abs(off) - 4.0)


def _figure(size_mm: float, unit: Unit) -> str:
    return carpenter_figure(piece_figure(size_mm, unit))


def _other(profile: Profile) -> Profile:
    return "groove" if profile == "tongue" else "tongue"


__all__ = ["SHEET_MM", "SawView", "compose_board", "describe_board"]
