"""Cutting patterns: which pieces come from one bar, and the most valuable of them.

A pattern is a number of copies of each length. The best one for given values is a knapsack; it is
solved by keeping, piece by piece, only the fillings that no shorter one matches in value.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from plankwright.errors import PlankwrightError

Ints = npt.NDArray[np.int64]

Pattern = tuple[int, ...]
"""Copies of each length, in the order of :attr:`Pieces.lengths`."""


@dataclass(frozen=True, slots=True)
class Pieces:
    """Distinct lengths, longest first, each with how many pieces of it are wanted."""

    lengths: tuple[int, ...]
    wanted: tuple[int, ...]

    def __post_init__(self) -> None:
        if len(self.lengths) != len(self.wanted):
            raise PlankwrightError("every length needs a number of pieces")
        if list(self.lengths) != sorted(set(self.lengths), reverse=True):
            raise PlankwrightError("lengths must fall")
        if any(length <= 0 for length in self.lengths) or any(n < 0 for n in self.wanted):
            raise PlankwrightError("lengths must be above 0 and numbers of pieces at least 0")

    def size(self, pattern: Pattern) -> int:
        """Length that a pattern fills."""
        return sum(length * n for length, n in zip(self.lengths, pattern, strict=True))


@dataclass(frozen=True, slots=True)
class _Fillings:
    """Fillings that no shorter one matches in value: by rising length and rising value."""

    sizes: Ints
    values: Ints
    parents: Ints  # index of the filling before the last piece was looked at
    took: npt.NDArray[np.bool_]  # whether it was taken


def best_patterns(
    pieces: Pieces, values: Sequence[int], capacity: int, most: int = 1
) -> list[tuple[int, Pattern]]:
    """The most valuable pattern, and up to ``most`` in all, each with its value; best first.

    Parameters
    ----------
    values : what a piece of each length is worth, at least 0.
    """
    singles = [i for i, n in enumerate(pieces.wanted) if values[i] > 0 for _ in range(n)]
    zero = np.zeros(1, dtype=np.int64)
    stages = [_Fillings(zero, zero, zero, np.zeros(1, dtype=np.bool_))]
    for i in singles:
        stages.append(_with_piece(stages[-1], pieces.lengths[i], values[i], capacity))
    last = stages[-1]
    found = []
    for end in range(len(last.sizes) - 1, max(-1, len(last.sizes) - 1 - most), -1):
        pattern = _read_back(stages, singles, end, len(pieces.lengths))
        found.append((int(last.values[end]), pattern))
    return found


def _with_piece(before: _Fillings, length: int, value: int, capacity: int) -> _Fillings:
    fits = int(np.searchsorted(before.sizes, capacity - length, side="right"))
    sizes = np.concatenate([before.sizes, before.sizes[:fits] + length])
    values = np.concatenate([before.values, before.values[:fits] + value])
    order = np.lexsort((-values, sizes))
    best_so_far = np.maximum.accumulate(values[order])
    better = np.concatenate([[True], values[order][1:] > best_so_far[:-1]])
    kept = order[better]
    count = len(before.sizes)
    took = kept >= count
    return _Fillings(sizes[kept], values[kept], np.where(took, kept - count, kept), took)


def _read_back(stages: list[_Fillings], singles: list[int], end: int, lengths: int) -> Pattern:
    copies = [0] * lengths
    for stage, piece in zip(reversed(stages[1:]), reversed(singles), strict=True):
        copies[piece] += bool(stage.took[end])
        end = int(stage.parents[end])
    return tuple(copies)


def patterns_worth(
    pieces: Pieces, values: Sequence[int], capacity: int, least: int, most: int
) -> list[Pattern] | None:
    """Every pattern worth at least ``least``, or None if there are more than ``most``.

    Patterns into which a further wanted piece would fit are left out: the fuller one does as well
    wherever too many pieces do no harm.
    """
    found: list[Pattern] = []
    for pattern in _worth(_Reach(pieces, values, capacity), least):
        if len(found) == most:
            return None
        found.append(pattern)
    return found


class _Reach:
    """The most that the lengths from some index on can still add to a bar, by the length left."""

    def __init__(self, pieces: Pieces, values: Sequence[int], capacity: int) -> None:
        self.pieces, self.values, self.capacity = pieces, values, capacity
        zero = np.zeros(1, dtype=np.int64)
        table = [_Fillings(zero, zero, zero, np.zeros(1, dtype=np.bool_))]
        for length, value, wanted in reversed(
            list(zip(pieces.lengths, values, pieces.wanted, strict=True))
        ):
            best = table[-1]
            for _ in range(wanted if value > 0 else 0):
                best = _with_piece(best, length, value, capacity)
            table.append(best)
        self._table = [(t.sizes.tolist(), t.values.tolist()) for t in reversed(table)]

    def most(self, first: int, left: int) -> int:
        """Most value from lengths ``first`` on within ``left``."""
        sizes, values = self._table[first]
        return int(values[int(np.searchsorted(sizes, left, side="right")) - 1])


def _worth(reach: _Reach, least: int) -> Iterator[Pattern]:
    lengths, wanted = reach.pieces.lengths, reach.pieces.wanted
    copies = [0] * len(lengths)

    def extend(i: int, left: int, missing: int) -> Iterator[Pattern]:
        if reach.most(i, left) < missing:
            return
        if i == len(lengths):
            spare = (
                n < w and size <= left for n, w, size in zip(copies, wanted, lengths, strict=True)
            )
            if not any(spare):
                yield tuple(copies)
            return
        for n in range(min(wanted[i], left // lengths[i]), -1, -1):
            copies[i] = n
            yield from extend(i + 1, left - n * lengths[i], missing - n * reach.values[i])
        copies[i] = 0

    yield from extend(0, reach.capacity, least)
