"""Chains: stretches of neighboring rows, one after another, with the joint offset between them.

For given prices of lengths, every plan needs at least the sum over the stretches of the price of
what each takes and leaves (see :mod:`plankwright.optimize.prices`). With joint offsets kept, the
sum along a chain of stretches is at least that of the cheapest way from its first stretch to its
last in which neighbors do not conflict. Offsets between stretches that are not next to each other
in a chain are left aside, which can only lower the bound.

A stretch's starters are cut into *segments* in which its price is constant: at every length where
the prices rise, at every length that leaves such a one, and at every multiple of a step. Two
segments conflict only if every starter of the one conflicts with every starter of the other.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from plankwright.optimize.instance import TICKS_PER_MM, Instance
from plankwright.optimize.ledger import Ints
from plankwright.optimize.options import Options
from plankwright.optimize.prices import BILLION, Prices

CONFLICT = 1000 * BILLION  # dearer than any plan

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Segments:
    """Segments of a stretch's starters: from ``low`` to ``high``, both included [ticks]."""

    low: Ints
    high: Ints
    boards: Ints
    leaves: Ints

    def costs(self, prices: Prices) -> Ints:
        """Price of each segment [billionths of a board]."""
        worth: Ints = self.boards * BILLION + prices.of(self.low) - prices.of(self.leaves)
        return worth


def segments_of(options: Options, lengths: Ints, step: int) -> Segments:
    """The segments of a stretch for prices that rise only at ``lengths`` or multiples of a step."""
    parts: list[tuple[Ints, Ints, Ints, Ints]] = []
    for arc in options.ranges:
        reach = arc.high + max(arc.shift, 0)  # the longest length taken or left
        marks = np.arange(0, reach + step, step, dtype=np.int64)
        cuts = np.concatenate(
            [[arc.low, arc.high + 1], lengths, lengths - arc.shift, marks, marks - arc.shift]
        )
        cuts = np.unique(cuts[(cuts >= arc.low) & (cuts <= arc.high + 1)])
        low, high = cuts[:-1], cuts[1:] - 1
        boards = np.full(len(low), arc.boards, dtype=np.int64)
        parts.append((low, high, boards, np.maximum(low + arc.shift, 0)))
    low, high, boards, leaves = (np.concatenate(column) for column in zip(*parts, strict=True))
    return Segments(low, high, boards, leaves)


class Chains:
    """The chains of an instance, ready for many prices."""

    def __init__(
        self, instance: Instance, options: Sequence[Options], lengths: Ints, step: int
    ) -> None:
        self._instance = instance
        self._contacts = _contacts(instance, options)
        kinds: dict[Options, Segments] = {}
        for option in options:
            if option not in kinds:
                kinds[option] = segments_of(option, lengths, step)
        self._options = options
        self.segments = [kinds[option] for option in options]
        self._paths = _paths(self._contacts, len(options))
        self._tables: dict[object, Bools] = {}

    def work(self) -> int:
        """Pairs of segments looked at for each set of prices."""
        sizes = [len(segments.low) for segments in self.segments]
        return sum(sizes[i] * sizes[j] for path in self._paths for i, j in pairwise(path))

    def neighbors(self) -> Iterator[tuple[int, int, Bools]]:
        """Pairs of neighbors in a chain, and which of their segments conflict."""
        for path in self._paths:
            for one, other in pairwise(path):
                yield one, other, self._conflicting(one, other)

    def cheapest(self, prices: Prices) -> tuple[int, list[int]]:
        """The least total [billionths], and the segment that each stretch has in it."""
        costs = {id(segments): segments.costs(prices) for segments in self.segments}
        total = 0
        chosen = [0] * len(self.segments)
        for path in self._paths:
            total += self._along(path, [costs[id(self.segments[i])] for i in path], chosen)
        return total, chosen

    def _along(self, path: list[int], costs: list[Ints], chosen: list[int]) -> int:
        """Dynamic program along one chain; fills ``chosen`` and returns its total."""
        reach = costs[0]
        came_from: list[Ints] = []
        for before, stretch, cost in zip(path[:-1], path[1:], costs[1:], strict=True):
            apart = np.where(self._conflicting(before, stretch), CONFLICT, 0)
            ways = reach[:, None] + apart
            best = ways.argmin(axis=0)
            came_from.append(best)
            reach = ways[best, np.arange(len(cost))] + cost
        at = int(reach.argmin())
        total = int(reach[at])
        for stretch, best in zip(reversed(path), [*reversed(came_from), None], strict=True):
            chosen[stretch] = at
            if best is not None:
                at = int(best[at])
        return total

    def _conflicting(self, one: int, other: int) -> Bools:
        """Which segments of two neighboring stretches cannot go together."""
        instance = self._instance
        start, beside = instance.stretches[one].start, instance.stretches[other].start
        shared = tuple((a - start, b - start) for a, b in self._contacts[one, other])
        key = (self._options[one], self._options[other], beside - start, shared)
        if key not in self._tables:
            self._tables[key] = _table(
                self.segments[one], self.segments[other], beside - start, shared, instance
            )
        return self._tables[key]


def _table(
    one: Segments,
    other: Segments,
    shift: int,
    shared: Sequence[tuple[int, int]],
    instance: Instance,
) -> Bools:
    """Conflicts of all pairs of segments; positions counted from the near end of ``one``."""
    board, offset = instance.board, instance.offset
    conflict = np.zeros((len(one.low), len(other.low)), dtype=np.bool_)
    for k in range(int(one.boards.max())):
        low, high = one.low + k * board, one.high + k * board
        for m in range(int(other.boards.max())):
            low2, high2 = other.low + shift + m * board, other.high + shift + m * board
            if low.min() - high2.max() >= offset or low2.min() - high.max() >= offset:
                continue
            near = (high[:, None] - low2[None, :] < offset) & (
                high2[None, :] - low[:, None] < offset
            )
            for first, last in shared:
                on = (low >= first) & (high <= last) & (k < one.boards)
                on2 = (low2 >= first) & (high2 <= last) & (m < other.boards)
                conflict |= near & on[:, None] & on2[None, :]
    return conflict


def _contacts(
    instance: Instance, options: Sequence[Options]
) -> dict[tuple[int, int], list[tuple[int, int]]]:
    """For pairs of stretches of neighboring rows with joints, the parts of row line they share."""
    found: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for contact in instance.contacts:
        pair = (contact.wall_side, contact.room_side)
        if all(any(arc.boards for arc in options[i].ranges) for i in pair):
            found.setdefault(pair, []).append((contact.low, contact.high))
    return found


def _paths(contacts: dict[tuple[int, int], list[tuple[int, int]]], count: int) -> list[list[int]]:
    """Chains through all stretches, each stretch in one, along the longest contacts."""
    after: dict[int, int] = {}
    has_before: set[int] = set()
    length = {
        pair: round(sum(high - low for low, high in parts) / TICKS_PER_MM)
        for pair, parts in contacts.items()
    }
    by_length = sorted(contacts, key=lambda pair: (-length[pair], pair))
    for one, other in by_length:
        if one not in after and other not in has_before:
            after[one] = other
            has_before.add(other)
    paths: list[list[int]] = []
    for first in range(count):
        if first not in has_before:
            path = [first]
            while path[-1] in after:
                path.append(after[path[-1]])
            paths.append(path)
    return paths
