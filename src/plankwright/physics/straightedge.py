"""Every way a straightedge can rest on sections of a slab, as arrays evaluated at once.

An edge of length L on a section rests on two high points; below it, at a third point, is the
gap. With heights linear between readings the largest gap lies at a reading, and the edge's
contacts are either two readings at most L apart (*resting*), or the edge's two ends, exactly L
apart, of which the gap is a parabola on every piece where both ends stay between the same
readings (*sliding*). Both families are enumerated, so the worst gap is exact, not sampled.

Which gaps are possible depends on where the readings lie; only their size depends on the heights.
So the enumeration is made once and evaluated for many heights while a patch is being sought.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np

from plankwright.physics.arrays import Floats, Ints
from plankwright.physics.flatness_rules import FlatnessRule
from plankwright.physics.surface import Section

_NOISE_MM = 1e-6
_NO_FLOATS: Floats = np.zeros(0)
_NO_INTS: Ints = np.zeros(0, dtype=np.int64)
Numbers = TypeVar("Numbers", Floats, Ints)


@dataclass(frozen=True, slots=True, eq=False)
class Rests:
    """Gaps found, one entry for each way of resting.

    Parameters
    ----------
    excess : gap less what is allowed there [mm]; above 0 fails.
    gap, allowed : [mm].
    low : index of the point (of all sections) under which the gap is.
    left, right : places of the contacts along their section [mm].
    """

    excess: Floats
    gap: Floats
    allowed: Floats
    low: Ints
    left: Floats
    right: Floats


class Placements:
    """All ways a straightedge can rest on some sections."""

    def __init__(self, sections: Sequence[Section], rule: FlatnessRule) -> None:
        self.rule = rule
        self._places = _joined([s.places for s in sections], _NO_FLOATS)
        self._first = _joined([s.first for s in sections], _NO_INTS)
        self._second = _joined([s.second for s in sections], _NO_INTS)
        self._share = _joined([s.share for s in sections], _NO_FLOATS)
        sizes = [len(s.places) for s in sections]
        starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]) if sizes else np.zeros(0, int)
        self._section_of = np.repeat(np.arange(len(sizes)), sizes)
        resting = [_resting(s.places, rule) + k for s, k in zip(sections, starts, strict=True)]
        sliding = [_sliding(s.places, rule) for s in sections]
        self._resting = _stacked(resting, 3)
        self._sliding = _stacked([i + k for (i, _), k in zip(sliding, starts, strict=True)], 3)
        self._ends = _joined([ends for _, ends in sliding], _NO_FLOATS.reshape(0, 2))
        left, _, right = self._places[self._resting]
        self._rest_allowed = rule.allowed_many_mm(right - left)
        self._lever = (right - self._places[self._resting[1]]) / (right - left)

    def __len__(self) -> int:
        return int(self._resting.shape[1] + self._sliding.shape[1])

    def section_of(self, low: int) -> int:
        """Number of the section a point belongs to."""
        return int(self._section_of[low])

    def place_of(self, low: int) -> float:
        """Place of a point along its section [mm]."""
        return float(self._places[low])

    def evaluate(self, node_heights: Floats) -> Rests:
        """The gap of every way of resting, for some heights of the surface's nodes [mm]."""
        h = (1.0 - self._share) * node_heights[self._first]
        h += self._share * node_heights[self._second]
        a, b, c = self._resting
        gap = self._lever * h[a] + (1.0 - self._lever) * h[c] - h[b]
        slid_gap, slid_left = self._slide(h)
        length = self.rule.edge_mm
        allowed = np.full(len(slid_gap), float(self.rule.allowed_many_mm(np.array([length]))[0]))
        gaps = np.concatenate([gap, slid_gap])
        limits = np.concatenate([self._rest_allowed, allowed])
        return Rests(
            excess=gaps - limits,
            gap=gaps,
            allowed=limits,
            low=np.concatenate([b, self._sliding[1]]),
            left=np.concatenate([self._places[a], slid_left]),
            right=np.concatenate([self._places[c], slid_left + length]),
        )

    def _slide(self, h: Floats) -> tuple[Floats, Floats]:
        """Best gap and left end of each sliding piece; the gap is a parabola in the left end."""
        a, b, c = self._sliding
        t, length = self._places, self.rule.edge_mm
        slope_a = (h[a + 1] - h[a]) / (t[a + 1] - t[a])
        slope_c = (h[c + 1] - h[c]) / (t[c + 1] - t[c])
        base_a = h[a] - slope_a * t[a]
        base_c = h[c] + slope_c * (length - t[c])

        def gap_at(left: Floats) -> Floats:
            reach = left + length - t[b]
            on_a, on_c = base_a + slope_a * left, base_c + slope_c * left
            gap: Floats = (reach * on_a + (length - reach) * on_c) / length - h[b]
            return gap

        bend = 2.0 * (slope_a - slope_c)
        rise = base_c - base_a - (length - t[b]) * slope_a - t[b] * slope_c
        # Where the parabola is all but straight its top lies beyond either end: clipped below.
        with np.errstate(over="ignore"):
            top = rise / np.where(bend == 0.0, np.inf, bend)
        low_end, high_end = self._ends.T
        lefts = np.stack([low_end, high_end, np.clip(top, low_end, high_end)])
        gaps = np.stack([gap_at(left) for left in lefts])
        best = np.argmax(gaps, axis=0)
        pick = np.arange(gaps.shape[1])
        return gaps[best, pick], lefts[best, pick]

    def weights(self, number: int, left: float) -> dict[int, float]:
        """The gap of one way of resting as a sum over node heights: node -> factor.

        Parameters
        ----------
        number : index into the arrays of :meth:`evaluate`.
        left : its left contact, as evaluated [mm].
        """
        resting = self._resting.shape[1]
        if number < resting:
            a, b, c = (int(k) for k in self._resting[:, number])
            lever = float(self._lever[number])
            parts = [(a, lever), (c, 1.0 - lever), (b, -1.0)]
        else:
            a, b, c = (int(k) for k in self._sliding[:, number - resting])
            right = left + self.rule.edge_mm
            lever = (right - float(self._places[b])) / self.rule.edge_mm
            parts = [
                *self._between(a, left, lever),
                *self._between(c, right, 1.0 - lever),
                (b, -1.0),
            ]
        return self._on_nodes(parts)

    def _between(self, point: int, place: float, factor: float) -> list[tuple[int, float]]:
        low, high = float(self._places[point]), float(self._places[point + 1])
        share = (place - low) / (high - low)
        return [(point, factor * (1.0 - share)), (point + 1, factor * share)]

    def _on_nodes(self, parts: list[tuple[int, float]]) -> dict[int, float]:
        total: dict[int, float] = {}
        for point, factor in parts:
            share = float(self._share[point])
            for node, part in ((self._first[point], 1.0 - share), (self._second[point], share)):
                total[int(node)] = total.get(int(node), 0.0) + factor * part
        return {node: factor for node, factor in total.items() if abs(factor) > 1e-12}


@lru_cache(maxsize=256)
def _pairs(n: int) -> tuple[Ints, Ints]:
    """All pairs of ``n`` readings with one or more between them; made once, asked often."""
    a, c = np.triu_indices(n, 2)
    return a, c


def _resting(t: Floats, rule: FlatnessRule) -> Ints:
    """(3, k) indices of readings a < b < c whose outer two the edge can rest on."""
    n = len(t)
    a, c = _pairs(n)
    span = t[c] - t[a]
    kept = (span <= rule.edge_mm + _NOISE_MM) & (span >= rule.shortest_mm)
    a, c = a[kept], c[kept]
    between = c - a - 1
    total = int(between.sum())
    first = np.repeat(np.cumsum(between) - between, between)
    b = np.repeat(a + 1, between) + np.arange(total) - first
    return np.stack([np.repeat(a, between), b, np.repeat(c, between)]).astype(np.int64)


def _sliding(t: Floats, rule: FlatnessRule) -> tuple[Ints, Floats]:
    """Pieces on which both ends of the edge stay between the same readings.

    Gives (3, k) indices: reading left of the left end, reading under the gap, reading left of the
    right end; and (k, 2) the least and greatest place of the left end.
    """
    length = rule.edge_mm
    latest = t[-1] - length
    if latest <= t[0] + _NOISE_MM:
        return np.zeros((3, 0), dtype=np.int64), np.zeros((0, 2))
    stops = np.concatenate([t, t - length])
    stops = np.sort(stops[(stops >= t[0]) & (stops <= latest)])
    stops = np.concatenate([stops[:1], stops[1:][stops[1:] - stops[:-1] > _NOISE_MM]])
    low, high = stops[:-1], stops[1:]
    middle = (low + high) / 2.0
    left, right = (np.searchsorted(t, x) - 1 for x in (middle, middle + length))
    piece = np.repeat(np.arange(len(middle)), right - left)
    first = np.repeat(np.cumsum(right - left) - (right - left), right - left)
    under = left[piece] + 1 + np.arange(len(piece)) - first
    index = np.stack([left[piece], under, right[piece]]).astype(np.int64)
    return index, np.stack([low[piece], high[piece]], axis=1)


def _joined(parts: Sequence[Numbers], empty: Numbers) -> Numbers:
    return np.concatenate(parts) if parts else empty


def _stacked(parts: Sequence[Ints], rows: int) -> Ints:
    return np.concatenate(parts, axis=1) if parts else np.zeros((rows, 0), dtype=np.int64)
