"""What has to be filled along one line of the boards: the ground for the sum of prices.

Draw a line along every board at the same distance y from its wall side. On the floor it lies at
v = (row's wall side) + y in every piece whose place across its board is fixed: pieces of full
width, and pieces joined on a long side. Along that line the pieces lie one after another, in the
floor as in the boards, with kerf and allowance between two pieces of one board, whatever their
outlines: nesting by true shape changes nothing. So the boards needed are at least those for the
chords that the line cuts from the stretches, for every y. This takes care of rips (a line near
the wall side meets no row that needs only its room side), of jogs, posts and slanted ends.

A line may reach to both sides of itself, less than a kerf in all: a *band*. Two pieces of one
board that both meet it do not lie side by side, for a rip takes a kerf. If their rectangles lie a
cut apart along the board, so do their chords; if they are nested by true shape, the nearest points
of their chords are a cut apart, and no more than the band's width of it is across. So along the
row at least the root of (cut² - width²) lies between them, see :func:`cut_along`.

A piece's place is fixed where it is joined on a long side. Where a stretch has no neighbor for at
least the shortest piece, a piece may lie loose in that part: it is left out. A chord's first piece
reaches from the stretch's near end or later, so that where the stretch begins before its chord,
the piece is shorter along the chord than the shortest piece. Two chords of one stretch may belong
to one piece; they are shortened until a cut lies between them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely

from plankwright.checker.edges import Meetings
from plankwright.checker.prices import TICKS_PER_MM, Need, ticks_down
from plankwright.checker.view import ROUNDING_MM, TOLERANCE_MM, Floats, Ints, Shapes, View

MOST_LINES = 24


@dataclass(frozen=True, slots=True)
class Lanes:
    """Stretches with the lines y (from ``low`` to ``high``) at which each is met.

    ``zones`` are the parts along each in which every piece is joined on a long side. ``middle`` is
    met by every piece, wherever it lies across its board. ``open_from`` is the u from which a
    stretch is still to be laid, minus infinity for all of it.
    """

    boxes: Floats
    low: Floats
    high: Floats
    middle: Floats
    zones: list[list[tuple[float, float]]]
    split: Ints
    shortest: Floats
    open_from: Floats


@dataclass(frozen=True, slots=True)
class Chord:
    """A part of a line inside the floor: its stretch, where it begins [mm] and what it needs.

    ``jointed`` when its stretch is longer than a board and lies nowhere yet where the chord begins:
    then the end joints on the chord follow from its starter.
    """

    stretch: int
    u0: float
    need: Need
    jointed: bool


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
        yield y, _chords(view, lanes, y, 0.0)


def chords_of_band(
    view: View, meetings: Meetings, open_from: Floats, y: float, reach: float
) -> list[Chord]:
    """The chords of one line, or of a band that reaches to both sides of it."""
    return _chords(view, _lanes(view, meetings, open_from), y, reach)


def cut_along(cut_mm: float, reach: float) -> float:
    """Least distance along the row between two pieces of one board that meet a band [mm]."""
    return math.sqrt(max(cut_mm**2 - (2.0 * reach) ** 2, 0.0))


def _joined(chords: list[Chord], board: float) -> list[Chord]:
    """The same chords, those of a begun stretch as one where they belong to one piece.

    Its end joints are settled: they lie whole boards from where it is laid to. Between two chords
    with no joint between them nothing but a wall-to-wall piece could be cut, and there is none.
    """
    begun = {chord.stretch for chord in chords if chord.need.begun}
    if any(chord.need.whole and chord.stretch not in begun for chord in chords):
        return chords
    found: list[Chord] = []
    for chord in chords:
        first = found[-1] if found else chord
        if first is not chord and first.stretch == chord.stretch and first.need.begun:
            reached = first.need.length / TICKS_PER_MM
            again = chord.u0 - first.u0
            if math.floor(reached / board) == math.floor(again / board):
                length = ticks_down(again) + chord.need.length
                found[-1] = replace(first, need=replace(first.need, length=length))
                continue
        found.append(chord)
    return found


def _lanes(view: View, meetings: Meetings, open_from: Floats) -> Lanes:
    width = view.plan.board.width_mm
    boxes = shapely.bounds(view.stretches).reshape(-1, 4)
    base = view.lines(view.stretch_rows)
    low, high = boxes[:, 1] - base, boxes[:, 3] - base
    lengths, widths = boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1]
    rectangle = lengths * widths - shapely.area(view.stretches) < ROUNDING_MM * lengths
    # A loose rectangle may lie anywhere across its board, but always over the board's middle.
    middle = np.stack([np.where(rectangle, width - widths, width), widths], axis=1)
    middle[rectangle & (widths >= width - ROUNDING_MM)] = (0.0, width)
    middle[~rectangle] = (width, 0.0)
    laid = open_from >= boxes[:, 2]
    high[laid] = -np.inf
    middle[laid] = (width, 0.0)
    zones = _zones(view, meetings, boxes)
    splits, shortest = _splits(view, meetings), _shortest(view, len(boxes))
    return Lanes(boxes, low, high, middle, zones, splits, shortest, open_from)


def _zones(view: View, meetings: Meetings, boxes: Floats) -> list[list[tuple[float, float]]]:
    """For each stretch the parts, from u to u, in which every piece is joined on a long side.

    A loose piece needs a part without contacts as long as the shortest piece, or as the stretch.
    Threads of floor that hold no piece are left out: a stretch reaches from its first piece to its
    last.
    """
    contacts, shortest = meetings.contacts, view.plan.rules.shortest_piece_mm
    first, last = _extents(view)
    touched: list[list[tuple[float, float]]] = [[] for _ in boxes]
    stretch = view.stretch_of[np.concatenate([contacts.wall_side, contacts.room_side])]
    u0, u1 = np.tile(contacts.u0, 2), np.tile(contacts.u1, 2)
    order = np.lexsort((u0, stretch))
    for s, a, b in zip(stretch[order], u0[order], u1[order], strict=True):
        if s >= 0:
            touched[s].append((float(a), float(b)))
    found = []
    for runs, box, begin, end in zip(touched, boxes, first, last, strict=True):
        least = max(min(shortest, end - begin), 2.0 * TOLERANCE_MM)
        zones = _held(runs, float(begin), float(end), least)
        if zones and zones[0][0] == begin:
            zones[0] = (float(box[0]), zones[0][1])
        if zones and zones[-1][1] == end:
            zones[-1] = (zones[-1][0], float(box[2]))
        found.append(zones)
    return found


def _held(
    runs: list[tuple[float, float]], begin: float, end: float, least: float
) -> list[tuple[float, float]]:
    """What lies from ``begin`` to ``end`` but for gaps between the runs of at least a length."""
    zones = []
    start = reached = begin
    for a, b in [*runs, (end, end)]:
        if a - reached >= least:
            if reached > start:
                zones.append((start, reached - TOLERANCE_MM))
            start = a + TOLERANCE_MM
        reached = max(reached, b)
    if end > start:
        zones.append((start, end))
    return [zone for zone in zones if zone[1] > zone[0]]


def _extents(view: View) -> tuple[Floats, Floats]:
    """Where the first piece of each stretch begins and the last one ends."""
    held = view.stretch_of >= 0
    first = np.full(len(view.stretches), np.inf)
    last = np.full(len(view.stretches), -np.inf)
    np.minimum.at(first, view.stretch_of[held], view.boxes[held, 0])
    np.maximum.at(last, view.stretch_of[held], view.boxes[held, 2])
    return first, last


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
    middle = lanes.middle[lanes.middle[:, 0] < lanes.middle[:, 1]].ravel()
    ends = np.concatenate([[0.0, width], lanes.low[inside], lanes.high[inside], middle])
    ends = np.unique(np.round(np.clip(ends, 0.0, width), 1))
    starts, gaps = ends[:-1], np.diff(ends)
    starts, gaps = starts[gaps > 0.15], gaps[gaps > 0.15]
    lines = np.concatenate([starts + part * gaps for part in (0.5, 0.02, 0.98)])
    lengths = lanes.boxes[:, 2] - lanes.boxes[:, 0]
    held = np.array([sum(b - a for a, b in zones) for zones in lanes.zones])
    y = lines[:, None]
    always = (lanes.middle[:, 0] < y) & (y < lanes.middle[:, 1])
    promise = np.where(always, lengths, ((lanes.low < y) & (y < lanes.high)) * held).sum(axis=1)
    return [float(y) for y in lines[np.argsort(-np.round(promise), kind="stable")][:MOST_LINES]]


def _chords(view: View, lanes: Lanes, y: float, reach: float) -> list[Chord]:
    boxes, cut = lanes.boxes, cut_along(view.plan.rules.cut_mm, reach)
    always = (lanes.middle[:, 0] < y) & (y < lanes.middle[:, 1])
    low, high = lanes.low - reach, lanes.high + reach
    met = np.flatnonzero(~always & (low < y) & (y < high))
    v = view.lines(view.stretch_rows[met]) + y
    parts, of = shapely.get_parts(
        shapely.intersection(view.stretches[met], _bands(boxes[met], v, reach)), return_index=True
    )
    spans = shapely.bounds(parts).reshape(-1, 4)
    cuts: list[list[tuple[float, float]]] = [[] for _ in boxes]
    for a, b, k in zip(spans[:, 0].tolist(), spans[:, 2].tolist(), of, strict=True):
        cuts[met[k]].append((a, b))
    for k in np.flatnonzero(always):
        cuts[k] = [(float(boxes[k, 0]), float(boxes[k, 2]))]
    found = []
    for k, shares in enumerate(cuts):
        zones = [(-math.inf, math.inf)] if always[k] else lanes.zones[k]
        found += [
            _chord(view, lanes, k, a, b)
            for a, b in _shortened(_within(shares, zones), cut)
            if b - max(a, lanes.open_from[k]) > TOLERANCE_MM
        ]
    return _joined(found, view.plan.board.length_mm)


def _bands(boxes: Floats, v: Floats, reach: float) -> Shapes:
    """A line along the rows for each box, or a rectangle that reaches to both sides of it."""
    u0, u1 = boxes[:, 0] - 1.0, boxes[:, 2] + 1.0
    if reach > 0.0:
        return np.asarray(shapely.box(u0, v - reach, u1, v + reach), dtype=np.object_)
    ends = np.stack([np.stack([u0, v], 1), np.stack([u1, v], 1)], 1)
    return np.asarray(shapely.linestrings(ends), dtype=np.object_)


def _within(
    shares: list[tuple[float, float]], zones: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    """What lies in the zones of shares, which are joined where they overlap."""
    whole: list[tuple[float, float]] = []
    for a, b in sorted(shares):
        if whole and a <= whole[-1][1]:
            whole[-1] = (whole[-1][0], max(whole[-1][1], b))
        else:
            whole.append((a, b))
    parts = [(max(a, c), min(b, d)) for a, b in whole for c, d in zones]
    return sorted(part for part in parts if part[1] - part[0] > TOLERANCE_MM)


def _shortened(parts: list[tuple[float, float]], cut: float) -> list[tuple[float, float]]:
    """Parts of one stretch, with a cut between them at least."""
    ends = [(b, min(b, c - cut)) for (_, b), (c, _) in pairwise(parts)]
    ends += [(b, b) for _, b in parts[-1:]]
    found = [(a, end) for (a, _), (_, end) in zip(parts, ends, strict=True)]
    return [(a, b) for a, b in found if b - a > TOLERANCE_MM]


def _chord(view: View, lanes: Lanes, stretch: int, first: float, last: float) -> Chord:
    u0, _, u1, _ = lanes.boxes[stretch]
    laid_to = float(lanes.open_from[stretch])
    if first <= laid_to:
        rest = ticks_down(last - laid_to)
        need = Need(rest, 0, 0, whole=False, split=False, begun=True)
        return Chord(stretch, laid_to, need, jointed=False)
    jointed = bool(u1 - u0 > view.plan.board.length_mm + ROUNDING_MM)
    return Chord(stretch, first, _need(view, lanes, stretch, first, last), jointed)


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
