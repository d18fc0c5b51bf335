"""Chords: what a line along the rows cuts from the stretches.

Draw a line along every board at the same distance y from its wall side. On the floor it lies at
(row's wall line) + y in every piece whose place across its board is fixed: pieces as wide as a
board, and pieces joined on a long side. Along it the pieces lie one after another, on the floor as
in the boards, whatever their outlines. So the boards needed for the chords alone are a lower
bound for the floor, for every y, rips, jogs and slanted ends included.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString

from plankwright.geometry.rows import Contact, Stretch

ROUNDING_MM = 0.05
SHORTEST_CHORD_MM = 0.5


@dataclass(frozen=True, slots=True)
class Chord:
    """Part of a stretch on a line, from ``u0`` to ``u1`` [mm]; ``stretch`` is its index."""

    stretch: int
    u0: float
    u1: float


@dataclass(frozen=True, slots=True)
class Lanes:
    """For every stretch the lines y (``low`` to ``high``) at which each must meet it.

    An empty lane (``high`` not above ``low``) is never met: nothing is known about its boards.
    """

    low: tuple[float, ...]
    high: tuple[float, ...]

    def without(self, stretches: Iterable[int]) -> "Lanes":
        """The same lanes, those of some stretches empty."""
        left_out = set(stretches)
        low = [0.0 if i in left_out else y for i, y in enumerate(self.low)]
        high = [-1.0 if i in left_out else y for i, y in enumerate(self.high)]
        return Lanes(tuple(low), tuple(high))


def lanes(
    stretches: Sequence[Stretch], contacts: Sequence[Contact], width: float, shortest: float
) -> Lanes:
    """Where each stretch lies across its boards.

    A stretch joined on a long side along its whole extent (but for less than the shortest piece)
    lies in its natural place. A loose rectangle may lie anywhere, but covers the board's middle
    when it is wider than half of it.
    """
    pinned = _pinned(stretches, contacts, shortest)
    low: list[float] = []
    high: list[float] = []
    for stretch, held in zip(stretches, pinned, strict=True):
        _, v0, _, v1 = stretch.polygon.bounds
        full = v1 - v0 >= width - ROUNDING_MM and stretch.is_rectangle
        if held or full:
            low.append(v0 - stretch.wall_line)
            high.append(v1 - stretch.wall_line)
        elif stretch.is_rectangle:
            low.append(width - (v1 - v0))
            high.append(v1 - v0)
        else:
            low.append(0.0)
            high.append(-1.0)
    return Lanes(tuple(low), tuple(high))


def _pinned(
    stretches: Sequence[Stretch], contacts: Sequence[Contact], shortest: float
) -> list[bool]:
    """Which stretches have no part as long as the shortest piece without a neighbor."""
    runs: list[list[tuple[float, float]]] = [[] for _ in stretches]
    for contact in contacts:
        runs[contact.wall_side].append((contact.u0, contact.u1))
        runs[contact.room_side].append((contact.u0, contact.u1))
    found: list[bool] = []
    for stretch, touched in zip(stretches, runs, strict=True):
        reached, widest = stretch.u0, 0.0
        for u0, u1 in sorted(touched):
            widest = max(widest, u0 - reached)
            reached = max(reached, u1)
        found.append(max(widest, stretch.u1 - reached) < max(shortest, 1.0))
    return found


def lines(met: Lanes, stretches: Sequence[Stretch], width: float, most: int) -> list[float]:
    """Lines worth trying, the one that meets the greatest length first."""
    low, high = np.array(met.low), np.array(met.high)
    inside = (low < width) & (high > 0.0) & (low < high)
    ends = np.concatenate([[0.0, width], low[inside], high[inside]])
    ends = np.unique(np.round(np.clip(ends, 0.0, width), 1))
    starts, gaps = ends[:-1], np.diff(ends)
    starts, gaps = starts[gaps > 0.15], gaps[gaps > 0.15]
    tried = np.concatenate([starts + part * gaps for part in (0.5, 0.02, 0.98)])
    lengths = np.array([stretch.length for stretch in stretches])
    promise = np.round(((low < tried[:, None]) & (tried[:, None] < high)) @ lengths)
    return [float(y) for y in tried[np.argsort(-promise, kind="stable")][:most]]


def chords(stretches: Sequence[Stretch], met: Lanes, y: float) -> list[Chord]:
    """What the line at ``y`` cuts from the stretches that it must meet."""
    found: list[Chord] = []
    for index, stretch in enumerate(stretches):
        if not met.low[index] < y < met.high[index]:
            continue
        u0, v0, u1, v1 = stretch.polygon.bounds
        v = stretch.wall_line + y
        if stretch.is_rectangle:
            found.append(Chord(index, u0, u1))
        elif v0 < v < v1:
            found.extend(Chord(index, a, b) for a, b in _cut(stretch, v))
    return found


def _cut(stretch: Stretch, v: float) -> list[tuple[float, float]]:
    u0, _, u1, _ = stretch.polygon.bounds
    line = LineString([(u0 - 1.0, v), (u1 + 1.0, v)])
    parts = shapely.get_parts(stretch.polygon.intersection(line))
    extents = [part.bounds for part in parts]
    return sorted((b[0], b[2]) for b in extents if b[2] - b[0] > SHORTEST_CHORD_MM)
