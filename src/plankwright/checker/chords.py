"""What has to be filled along one line of the boards: the ground for the sum of prices.

Draw a line along every board at the same distance y from its wall side. On the floor it lies at
v = (row's wall side) + y in every piece whose place across its board is fixed: pieces of full
width, and pieces joined on a long side. Along that line the pieces lie one after another, in the
floor as in the boards, with kerf and allowance between two pieces of one board, whatever their
outlines: nesting by true shape changes nothing. So the boards needed are at least those for the
chords that the line cuts from the stretches, for every y. This takes care of rips (a line near
the wall side meets no row that needs only its room side), of jogs, posts and slanted ends.

A chord's first piece reaches from the stretch's near end or later, so that where the stretch
begins before its chord, the piece is shorter along the chord than the shortest piece.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely

from plankwright.checker.edges import Flags, Meetings
from plankwright.checker.prices import TICKS_PER_MM, Need, ticks_down
from plankwright.checker.view import ROUNDING_MM, TOLERANCE_MM, Floats, Ints, View

MOST_LINES = 24


@dataclass(frozen=True, slots=True)
class Lanes:
    """Stretches with the lines y (from ``low`` to ``high``) at which each must be met.

    ``open_from``: the u from which a stretch is still to be laid, minus infinity for all of it.
    """

    boxes: Floats
    low: Floats
    high: Floats
    split: Ints
    shortest: Floats
    open_from: Floats


@dataclass(frozen=True, slots=True)
class Chord:
    """A part of a line inside the floor: its stretch, where it begins [mm] and what it needs.

    ``through`` when it runs through its stretch from end to end, none of which lies already.
    """

    stretch: int
    u0: float
    need: Need
    through: bool


def chords_of_lines(view: View, meetings: Meetings) -> Iterator[list[Chord]]:
    """For one line y after another, the most promising first, its chords."""
    for _, chords in lines_with_chords(view, meetings, np.full(len(view.stretches), -math.inf)):
        yield chords


def lines_with_chords(
    view: View, meetings: Meetings, open_from: Floats
) -> Iterator[tuple[float, list[Chord]]]:
    """For one line y after another, the most promising first: y, and its chords where the
    stretches are still open.
    """
    lanes = _lanes(view, meetings, open_from)
    for y in _lines(lanes, view.plan.board.width_mm):
        met = np.flatnonzero((lanes.low < y) & (y < lanes.high))
        yield y, _joined(_chords(view, lanes, met, y))


def _joined(chords: list[Chord]) -> list[Chord]:
    """The same chords, those of a begun stretch as one.

    Its end joints are settled: all its boards but the last have both their ends in it, so nothing
    but a wall-to-wall piece could be cut from between two of its chords, and there is none.
    """
    begun = {chord.stretch: chord for chord in chords if chord.need.begun}
    if any(chord.need.whole and chord.stretch not in begun for chord in chords):
        return chords
    found = [chord for chord in chords if chord.stretch not in begun]
    for stretch, first in begun.items():
        end = max(c.u0 + c.need.length / TICKS_PER_MM for c in chords if c.stretch == stretch)
        length = ticks_down(end - first.u0)
        found.append(replace(first, need=replace(first.need, length=length)))
    return found


def _lanes(view: View, meetings: Meetings, open_from: Floats) -> Lanes:
    width = view.plan.board.width_mm
    boxes = shapely.bounds(view.stretches).reshape(-1, 4)
    base = view.lines(view.stretch_rows)
    low, high = boxes[:, 1] - base, boxes[:, 3] - base
    lengths, widths = boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1]
    rectangle = lengths * widths - shapely.area(view.stretches) < ROUNDING_MM * lengths
    free = ~_pinned(view, meetings) & ~(rectangle & (widths >= width - ROUNDING_MM))
    # A loose rectangle may lie anywhere across its board, but always over the board's middle.
    low[free], high[free] = width - widths[free], widths[free]
    high[(free & ~rectangle) | (open_from >= boxes[:, 2])] = -1.0
    splits, shortest = _splits(view, meetings), _shortest(view, len(boxes))
    return Lanes(boxes, low, high, splits, shortest, open_from)


def _pinned(view: View, meetings: Meetings) -> Flags:
    """Stretches whose every piece is joined on a long side.

    That is so when no gap between contacts is as long as the shortest piece. Threads of floor
    that hold no piece are left out: a stretch reaches from its first piece to its last.
    """
    contacts = meetings.contacts
    least = max(view.plan.rules.shortest_piece_mm, 2.0 * TOLERANCE_MM)
    held = view.stretch_of >= 0
    first = np.full(len(view.stretches), np.inf)
    last = np.full(len(view.stretches), -np.inf)
    np.minimum.at(first, view.stretch_of[held], view.boxes[held, 0])
    np.maximum.at(last, view.stretch_of[held], view.boxes[held, 2])
    stretch = view.stretch_of[np.concatenate([contacts.wall_side, contacts.room_side])]
    u0, u1 = np.tile(contacts.u0, 2), np.tile(contacts.u1, 2)
    order = np.lexsort((u0, stretch))
    order = order[stretch[order] >= 0]
    widest = np.zeros(len(first))
    reached = first.copy()
    for s, a, b in zip(stretch[order], u0[order], u1[order], strict=True):
        widest[s] = max(widest[s], a - reached[s])
        reached[s] = max(reached[s], b)
    pinned: Flags = np.maximum(widest, last - reached) < least
    return pinned


def _splits(view: View, meetings: Meetings) -> Ints:
    """Which stretches have end joints in this plan."""
    split = np.zeros(len(view.stretches), np.int64)
    of = view.stretch_of[meetings.joints.before]
    split[of[of >= 0]] = 1
    return split


def _shortest(view: View, count: int) -> Floats:
    """The shortest piece for each stretch; 0 where the plan itself excuses a shorter one."""
    shortest = np.full(count, view.plan.rules.shortest_piece_mm)
    lengths = view.boxes[:, 2] - view.boxes[:, 0]
    short = (lengths < view.plan.rules.shortest_piece_mm - ROUNDING_MM) & (view.stretch_of >= 0)
    shortest[view.stretch_of[short]] = 0.0
    return shortest


def _lines(lanes: Lanes, width: float) -> list[float]:
    """Lines worth trying: three in every interval in which the same stretches are met."""
    inside = (lanes.low < width) & (lanes.high > 0.0) & (lanes.low < lanes.high)
    ends = np.concatenate([[0.0, width], lanes.low[inside], lanes.high[inside]])
    ends = np.unique(np.round(np.clip(ends, 0.0, width), 1))
    starts, gaps = ends[:-1], np.diff(ends)
    starts, gaps = starts[gaps > 0.15], gaps[gaps > 0.15]
    lines = np.concatenate([starts + part * gaps for part in (0.5, 0.02, 0.98)])
    lengths = lanes.boxes[:, 2] - lanes.boxes[:, 0]
    met = (lanes.low < lines[:, None]) & (lines[:, None] < lanes.high)
    promise = np.round(met @ lengths)
    return [float(y) for y in lines[np.argsort(-promise, kind="stable")][:MOST_LINES]]


def _chords(view: View, lanes: Lanes, met: Ints, y: float) -> list[Chord]:
    if len(met) == 0:
        return []
    boxes = lanes.boxes[met]
    v = view.lines(view.stretch_rows[met]) + y
    free = (v <= boxes[:, 1]) | (v >= boxes[:, 3])
    v = np.where(free, (boxes[:, 1] + boxes[:, 3]) / 2.0, v)
    ends = np.stack([np.stack([boxes[:, 0] - 1.0, v], 1), np.stack([boxes[:, 2] + 1.0, v], 1)], 1)
    cut = shapely.intersection(view.stretches[met], shapely.linestrings(ends))
    parts, of = shapely.get_parts(cut, return_index=True)
    spans = shapely.bounds(parts).reshape(-1, 4)
    return [
        _chord(view, lanes, int(met[k]), float(first), float(last))
        for first, last, k in zip(spans[:, 0], spans[:, 2], of, strict=True)
        if last - max(first, lanes.open_from[met[k]]) > TOLERANCE_MM
    ]


def _chord(view: View, lanes: Lanes, stretch: int, first: float, last: float) -> Chord:
    u0, _, u1, _ = lanes.boxes[stretch]
    laid_to = float(lanes.open_from[stretch])
    if first <= laid_to:
        rest = ticks_down(last - laid_to)
        need = Need(rest, 0, 0, whole=False, split=False, begun=True)
        return Chord(stretch, laid_to, need, through=False)
    through = bool(first - u0 <= ROUNDING_MM and u1 - last <= ROUNDING_MM)
    return Chord(stretch, first, _need(view, lanes, stretch, first, last), through)


def _need(view: View, lanes: Lanes, stretch: int, first: float, last: float) -> Need:
    u0, _, u1, _ = lanes.boxes[stretch]
    shortest = lanes.shortest[stretch]
    board = view.plan.board.length_mm
    fits = u1 - u0 <= board + ROUNDING_MM
    return Need(
        min(ticks_down(last - first), round(board * TICKS_PER_MM)) if fits
        else ticks_down(last - first),
        max(ticks_down(shortest - (first - u0)), 0),
        max(ticks_down(shortest - (u1 - last)), 0),
        whole=bool(last - first <= board),
        split=bool(not fits or lanes.split[stretch]),
    )  # fmt: skip
