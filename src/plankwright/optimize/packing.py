"""One-dimensional cutting stock: pieces from the fewest or the cheapest bars, proven.

A quick fit first; then the relaxation over patterns gives the bound, and rounding, the columns in
whole numbers and at last every pattern that a better answer could use close the gap.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import PlankwrightError
from plankwright.optimize.pattern_program import Bar, Column, PatternProgram
from plankwright.optimize.patterns import Pattern, Pieces, patterns_worth
from plankwright.optimize.prices import BILLION, whole_boards

NODES = 100  # work limit of each branch and bound
PATTERNS = 4_000  # work limit of the last step: patterns looked at


@dataclass(frozen=True, slots=True)
class Cut:
    """One bar and the pieces cut from it, longest first."""

    bar: Bar
    pieces: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Packing:
    """All pieces cut from bars.

    Parameters
    ----------
    cuts : one for each bar used.
    bound : no packing costs less.
    evidence : ``values`` to be added up again, or ``search``, not re-checked.
    values : what a piece of each length is worth [billionths of the unit of cost]; no bar can hold
        pieces worth more than its cost.
    """

    cuts: tuple[Cut, ...]
    bound: int
    evidence: Literal["values", "search"]
    values: tuple[tuple[int, int], ...]

    @property
    def cost(self) -> int:
        """Cost of all bars used; their number when each costs 1."""
        return sum(cut.bar.cost for cut in self.cuts)

    @property
    def is_optimal(self) -> bool:
        """Whether the bound is met."""
        return self.cost == self.bound


def pack(pieces: Sequence[int], bars: Sequence[Bar], kerf: int = 0) -> Packing:
    """Cut pieces from bars at the least cost.

    Parameters
    ----------
    pieces : lengths, in the unit of the bars' lengths; any order.
    bars : kinds of bar, as many of each as needed.
    kerf : lies between two pieces of a bar.

    Raises
    ------
    PlankwrightError : a piece is longer than every bar.

    >>> pack([5, 5, 4, 3, 3], [Bar(10)]).cost
    2
    """
    longest = max((bar.length for bar in bars), default=0)
    if any(piece <= 0 or piece > longest for piece in pieces):
        raise PlankwrightError("every piece must be above 0 and no longer than the longest bar")
    if not pieces:
        return Packing((), 0, "values", ())
    wanted = Counter(piece + kerf for piece in pieces)
    lengths = tuple(sorted(wanted, reverse=True))
    grown = Pieces(lengths, tuple(wanted[length] for length in lengths))
    unit = math.gcd(*(bar.cost for bar in bars))  # every cost is a multiple of it
    search = _Search(grown, tuple(Bar(bar.length + kerf, bar.cost // unit) for bar in bars))
    search.run()
    return search.packing(bars, kerf, unit)


class _Search:
    """Bound and best packing so far; pieces and bars have the kerf in them."""

    def __init__(self, pieces: Pieces, bars: tuple[Bar, ...]) -> None:
        self.pieces, self.bars = pieces, bars
        self.best = best_fit(pieces, bars)
        self.bound = 0
        self.evidence: Literal["values", "search"] = "values"
        self.values = [0] * len(pieces.lengths)

    def run(self) -> None:
        """Bound first, then one step after the other until it is met."""
        program = PatternProgram(self.pieces, self.bars, list(dict.fromkeys(self.best)))
        _, worth = program.solve()
        self.values = program.safe_values(worth)
        self.bound = whole_boards(self._worth_of_all())
        for step in (self._round, self._whole_columns, self._every_pattern):
            if self._cost(self.best) <= self.bound:
                return
            step(program)

    def packing(self, bars: Sequence[Bar], kerf: int, unit: int) -> Packing:
        """The best packing with the kerf and the unit of cost taken out again."""
        cuts = []
        for column in _trimmed(self.best, self.pieces):
            copies = zip(self.pieces.lengths, column.pattern, strict=True)
            cut = tuple(length - kerf for length, n in copies for _ in range(n))
            cuts.append(Cut(bars[column.bar], cut))
        values = tuple(
            (length - kerf, value * unit)
            for length, value in zip(self.pieces.lengths, self.values, strict=True)
        )
        return Packing(tuple(cuts), self.bound * unit, self.evidence, values)

    def _worth_of_all(self) -> int:
        return sum(value * n for value, n in zip(self.values, self.pieces.wanted, strict=True))

    def _cost(self, columns: Sequence[Column]) -> int:
        return sum(self.bars[column.bar].cost for column in columns)

    def _keep_better(self, columns: list[Column]) -> None:
        if self._cost(columns) < self._cost(self.best):
            self.best = columns

    def _round(self, program: PatternProgram) -> None:
        """Use the most used pattern, solve again for what is left, and so on."""
        left = self.pieces
        taken: list[Column] = []
        while any(left.wanted):
            rest = PatternProgram(left, self.bars, _fitting(program.columns, left))
            used, _ = rest.solve()
            whole = [(int(use + 1e-6), i) for i, use in enumerate(used) if use >= 1 - 1e-6]
            chosen = whole or [(1, max(range(len(used)), key=lambda i: (used[i], -i)))]
            for times, i in chosen:
                taken += [rest.columns[i]] * times
            known = set(program.columns)
            program.columns += [c for c in rest.columns if c not in known]
            left = _less(
                left, [rest.columns[i].pattern for times, i in chosen for _ in range(times)]
            )
        self._keep_better(taken)

    def _whole_columns(self, program: PatternProgram) -> None:
        """The patterns found so far, in whole numbers."""
        self._use(program, program.integer(self._cost(self.best), NODES)[0])

    def _every_pattern(self, _program: PatternProgram) -> None:
        """Every pattern that a better packing could use, in whole numbers.

        The patterns of a packing fall short of what their bars cost by as much, in all, as the
        packing's cost exceeds the values of all pieces; so a pattern that alone falls short by
        more is in no better packing.
        """
        target = self._cost(self.best) - 1
        slack = target * BILLION - self._worth_of_all()
        columns = []
        for i, bar in enumerate(self.bars):
            least = bar.cost * BILLION - slack
            found = patterns_worth(self.pieces, self.values, bar.length, least, PATTERNS)
            if found is None:
                return
            columns += [Column(i, pattern) for pattern in found]
        full = PatternProgram(self.pieces, self.bars, columns)
        counts, settled = full.integer(target + 1, NODES)
        self._use(full, counts)
        if settled and self._cost(self.best) > self.bound:
            self.bound, self.evidence = self._cost(self.best), "search"

    def _use(self, program: PatternProgram, counts: list[int] | None) -> None:
        if counts is not None:
            numbered = zip(program.columns, counts, strict=True)
            self._keep_better([column for column, n in numbered for _ in range(n)])


def best_fit(pieces: Pieces, bars: Sequence[Bar]) -> list[Column]:
    """Longest piece first, each into the fullest bar that holds it; a new bar is the longest."""
    new = max(range(len(bars)), key=lambda i: (bars[i].length, -bars[i].cost))
    rooms: list[int] = []
    contents: list[list[int]] = []
    for i, (length, wanted) in enumerate(zip(pieces.lengths, pieces.wanted, strict=True)):
        for _ in range(wanted):
            fits = [(room, place) for place, room in enumerate(rooms) if room >= length]
            if not fits:
                rooms.append(bars[new].length)
                contents.append([0] * len(pieces.lengths))
            place = min(fits)[1] if fits else len(rooms) - 1
            rooms[place] -= length
            contents[place][i] += 1
    return [Column(_cheapest(pieces, bars, tuple(content)), tuple(content)) for content in contents]


def _cheapest(pieces: Pieces, bars: Sequence[Bar], pattern: Pattern) -> int:
    size = pieces.size(pattern)
    return min((i for i, b in enumerate(bars) if b.length >= size), key=lambda i: (bars[i].cost, i))


def _fitting(columns: Sequence[Column], left: Pieces) -> list[Column]:
    """The columns cut down to what is still wanted."""
    cut = (Column(c.bar, tuple(map(min, c.pattern, left.wanted))) for c in columns)
    return [column for column in dict.fromkeys(cut) if any(column.pattern)]


def _less(pieces: Pieces, patterns: Sequence[Pattern]) -> Pieces:
    wanted = list(pieces.wanted)
    for pattern in patterns:
        wanted = [max(0, want - n) for want, n in zip(wanted, pattern, strict=True)]
    return Pieces(pieces.lengths, tuple(wanted))


def _trimmed(columns: Sequence[Column], pieces: Pieces) -> list[Column]:
    """Each piece cut once: patterns may hold more than is wanted."""
    left = list(pieces.wanted)
    result = []
    for column in columns:
        pattern = tuple(map(min, column.pattern, left))
        left = [want - n for want, n in zip(left, pattern, strict=True)]
        result.append(Column(column.bar, pattern))
    return [column for column in result if any(column.pattern)]
