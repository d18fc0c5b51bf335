"""The sum of prices along chains of stretches that keep their joint offsets, added anew.

The plain sum (:mod:`plankwright.checker.prices`) lets every stretch have its cheapest starter.
Where a stretch is longer than a board its end joints lie at u0 + a + k L, k = 0 to f, for the
starter a. Two joints of neighboring rows that lie on one unbroken part of row line may not be
closer than the joint offset. So in a *chain* of stretches, each beside the next, the cheapest
starters that keep the offset from link to link cost at least as much as the plain sum, and no
plan that keeps its joint offsets costs less. Offsets between other neighbors are left aside.

The cheapest way along a chain is found from its first stretch on: for every segment of starters
the cheapest way that ends in it. Two segments conflict only where every starter of the one
conflicts with every starter of the other, so that the least can only come out too low.
Which segments of the stretch before conflict with one of this stretch: those that lie between
two bounds, for each pair of joints. What remains are gaps, and the least in a gap is looked up.
"""

import math
from dataclasses import dataclass
from itertools import product

import numpy as np

from plankwright.checker.chords import Chord
from plankwright.checker.offsets import Runs
from plankwright.checker.prices import (
    TICKS_PER_MM,
    Floats,
    Need,
    Prices,
    Ticks,
    price_sum,
    starter_ranges,
    ticks_down,
)
from plankwright.checker.segments import Part, Segments, segments_of
from plankwright.checker.view import ROUNDING_MM

# Joints this much too near are still apart. More than ROUNDING_MM, by which the offset itself is
# judged: no plan without a fault may cost less than the least found here.
MARGIN_MM = 0.08

Shared = tuple[tuple[int, int], ...]
"""Parts of row line that two stretches share: first and last place of a joint on it [ticks]."""


@dataclass(frozen=True, slots=True)
class Gaps:
    """For each segment of a stretch (columns) the segments of the one before that go with it.

    They lie from ``first`` to ``last``, not included; a gap is empty where ``last <= first``.
    """

    first: Ticks
    last: Ticks


class ChainSum:
    """Sums along chains for the prices, the board and the rules of one plan, lengths in ticks."""

    def __init__(self, prices: Prices, runs: Runs, board: int, cut: int, offset_mm: float) -> None:
        self._prices, self._runs = prices, runs
        self._board, self._cut = board, cut
        self._offset = max(ticks_down(offset_mm - MARGIN_MM), 0)
        self._segments: dict[Need, Segments] = {}
        self._gaps: dict[tuple[Need, Need, int, Shared], Gaps] = {}

    def least(self, chords: list[Chord]) -> float:
        """The least sum over a line's chords; infinite when no choice keeps the offsets."""
        chains, alone = self._chains(chords)
        sums = [self._along(chain) for chain in chains]
        needs = [chord.need for chord in alone]
        return math.fsum([*sums, price_sum(self._prices, needs, self._board, self._cut)])

    def _chains(self, chords: list[Chord]) -> tuple[list[list[tuple[Chord, Shared]]], list[Chord]]:
        """Chains with what each chord shares with the one before, and the chords in none."""
        before = _matched(self._shared_by(chords))
        after = {one: other for other, (one, _) in before.items()}
        chains = []
        for first in sorted(set(after) - set(before)):
            at = first
            chain: list[tuple[Chord, Shared]] = [(chords[at], ())]
            while at in after:
                at = after[at]
                chain.append((chords[at], before[at][1]))
            chains.append(chain)
        linked = set(after) | set(before)
        return chains, [chord for at, chord in enumerate(chords) if at not in linked]

    def _is_coupled(self, chord: Chord) -> bool:
        """Whether the end joints on a chord follow from its starter."""
        need = chord.need
        may_be_cut = need.split or not need.whole or need.length > self._board
        return chord.jointed and may_be_cut and any(starter_ranges(need, self._board, self._cut))

    def _shared_by(self, chords: list[Chord]) -> dict[tuple[int, int], list[tuple[int, int]]]:
        """What pairs of chords share, by index, counted from the start of the first.

        The end joints on a chord are end joints of its stretch, so the offset holds between them.
        """
        of_stretch: dict[int, list[int]] = {}
        for at, chord in enumerate(chords):
            if self._is_coupled(chord):
                of_stretch.setdefault(chord.stretch, []).append(at)
        found: dict[tuple[int, int], list[tuple[int, int]]] = {}
        runs = self._runs
        rows = zip(runs.wall_side.tolist(), runs.room_side.tolist(), runs.u0, runs.u1, strict=True)
        for wall_side, room_side, u0, u1 in rows if self._offset > 0 else ():
            pairs = product(of_stretch.get(wall_side, ()), of_stretch.get(room_side, ()))
            for one, other in pairs:
                if _on(chords[one], u0, u1) and _on(chords[other], u0, u1):
                    start = chords[one].u0
                    first = math.ceil((u0 + ROUNDING_MM - start) * TICKS_PER_MM)
                    last = math.floor((u1 - ROUNDING_MM - start) * TICKS_PER_MM)
                    found.setdefault((one, other), []).append((first, last))
        return found

    def _along(self, chain: list[tuple[Chord, Shared]]) -> float:
        """The cheapest way along a chain."""
        before = chain[0][0]
        ways = self._segments_of(before.need).cost
        for chord, shared in chain[1:]:
            gaps = self._gaps_of(before, chord, shared)
            ways = _least_in(gaps, ways) + self._segments_of(chord.need).cost
            before = chord
        return float(ways.min(initial=math.inf))

    def _segments_of(self, need: Need) -> Segments:
        if need not in self._segments:
            self._segments[need] = segments_of(self._prices, need, self._board, self._cut)
        return self._segments[need]

    def _gaps_of(self, one: Chord, other: Chord, shared: Shared) -> Gaps:
        shift = round((other.u0 - one.u0) * TICKS_PER_MM)
        key = (one.need, other.need, shift, shared)
        if key not in self._gaps:
            pair = _Pair(self._segments_of(one.need), self._segments_of(other.need), shift)
            self._gaps[key] = pair.gaps(shared, self._board, self._offset)
        return self._gaps[key]


def _on(chord: Chord, u0: float, u1: float) -> bool:
    """Whether a chord has places on a part of row line."""
    return bool(chord.u0 < u1 and chord.u0 + chord.need.length / TICKS_PER_MM > u0)


def _matched(
    shared: dict[tuple[int, int], list[tuple[int, int]]],
) -> dict[int, tuple[int, Shared]]:
    """For a chord the one before it in its chain: pairs are linked by what they share most."""
    length = {
        pair: round(sum(last - first for first, last in parts) / TICKS_PER_MM)
        for pair, parts in shared.items()
    }
    before: dict[int, tuple[int, Shared]] = {}
    taken: set[int] = set()
    for one, other in sorted(shared, key=lambda pair: (-length[pair], pair)):
        if one not in taken and other not in before:
            taken.add(one)
            before[other] = (one, tuple(shared[one, other]))
    return before


@dataclass(frozen=True, slots=True)
class _Pair:
    """Segments of two neighboring stretches, the second ``shift`` farther along u [ticks]."""

    one: Segments
    other: Segments
    shift: int

    def gaps(self, shared: Shared, board: int, offset: int) -> Gaps:
        """What the intervals of conflicting segments leave between them."""
        intervals = self._intervals(shared, board, offset)
        count, columns = len(self.one.low), len(self.other.low)
        first = np.array([first for first, _ in intervals], np.int64).reshape(-1, columns)
        last = np.array([last for _, last in intervals], np.int64).reshape(-1, columns)
        order = np.argsort(first, axis=0, kind="stable")
        first = np.take_along_axis(first, order, axis=0)
        last = np.maximum.accumulate(np.take_along_axis(last, order, axis=0), axis=0)
        begin = np.concatenate([np.zeros((1, columns), np.int64), last])
        end = np.concatenate([first, np.full((1, columns), count, np.int64)])
        used = (end > begin).any(axis=1)
        return Gaps(begin[used], end[used])

    def _intervals(self, shared: Shared, board: int, offset: int) -> list[tuple[Ticks, Ticks]]:
        """For pairs of joints the segments (first, last not included) that conflict."""
        found: dict[tuple[bytes, bytes], tuple[Ticks, Ticks]] = {}
        for part in self.one.parts:
            for k in range(part.joints):
                for m in self._near(part, k, board, offset):
                    low = self.other.low + self.shift + m * board
                    high = self.other.high + self.shift + m * board
                    for places in shared:
                        on = (low >= places[0]) & (high <= places[1]) & (self.other.joints > m)
                        first, last = self._conflicts(part, k * board, low, high, offset, places)
                        real = on & (first < last)
                        if real.any():
                            ends = np.where(real, first, 0), np.where(real, last, 0)
                            found[ends[0].tobytes(), ends[1].tobytes()] = ends
        return list(found.values())

    def _near(self, part: Part, joint: int, board: int, offset: int) -> range:
        """Numbers of the second stretch's joints that may come near one of the first's."""
        least = int(self.one.low[part.first]) + joint * board - offset - self.shift
        most = int(self.one.high[part.last - 1]) + joint * board + offset - self.shift
        first = -((int(self.other.high.max()) - least) // board)
        last = (most - int(self.other.low.min())) // board
        return range(max(first, 0), min(last + 1, int(self.other.joints.max())))

    def _conflicts(
        self,
        part: Part,
        joint: int,
        low: Ticks,
        high: Ticks,
        offset: int,
        places: tuple[int, int],
    ) -> tuple[Ticks, Ticks]:
        """Segments whose joints all lie nearer than the offset to all from ``low`` to ``high``."""
        lows = self.one.low[part.first : part.last] + joint
        highs = self.one.high[part.first : part.last] + joint
        first = np.searchsorted(lows, np.maximum(high - offset + 1, places[0]), side="left")
        last = np.searchsorted(highs, np.minimum(low + offset - 1, places[1]), side="right")
        return first + part.first, last + part.first


def _least_in(gaps: Gaps, ways: Floats) -> Floats:
    """The cheapest of ``ways`` in the gaps of each column; infinite where there is none.

    Least values over windows of 1, 2, 4, ... are laid up; two windows cover any gap.
    """
    tables = [ways]
    while 2 ** len(tables) <= len(ways):
        half = 2 ** (len(tables) - 1)
        shorter = tables[-1]
        longer = np.full(len(ways), math.inf)
        longer[: len(shorter) - half] = np.minimum(shorter[:-half], shorter[half:])
        tables.append(longer)
    table = np.stack(tables)
    length = gaps.last - gaps.first
    empty = length <= 0
    _, exponent = np.frexp(np.where(empty, 1, length).astype(np.float64))
    level = exponent - 1
    begin = np.where(empty, 0, gaps.first)
    second = np.where(empty, 0, gaps.last - 2**level)
    least = np.minimum(table[level, begin], table[level, second])
    least[empty] = math.inf
    return np.asarray(least.min(axis=0, initial=math.inf), np.float64)
