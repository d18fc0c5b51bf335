"""The bound with joint offsets: the best prices for the cheapest way along chains of stretches.

The first prices are those of one linear program with all starters on a coarse grid in it (see
:mod:`plankwright.optimize.offset_program`). Then they are bettered step by step:
Prices are a weight for every length t, all weights together at most 1. For given weights the
cheapest way along the chains is a lower bound; each way found is a cut for a small linear program
that proposes the next weights (Kelley's cutting planes, kept near the best weights so far). Stops
when the bound reaches the target or the linear program shows that it cannot.
"""

from collections.abc import Callable, Sequence

import highspy
import numpy as np

from plankwright.optimize.bounds import Bound
from plankwright.optimize.chains import Chains
from plankwright.optimize.highs import QuietHighs
from plankwright.optimize.instance import TICKS_PER_MM, Instance
from plankwright.optimize.ledger import Floats, Ints
from plankwright.optimize.offset_program import offset_prices
from plankwright.optimize.options import Options
from plankwright.optimize.prices import BILLION, Prices, repaired, whole_boards, worth
from plankwright.optimize.spans import Offcut

FIRST_STEPS = (10 * TICKS_PER_MM,)  # of the linear program that has all starters in it
STEPS = (5 * TICKS_PER_MM, 10 * TICKS_PER_MM, 20 * TICKS_PER_MM)
FEW = 120  # prices that rise at more lengths are made coarse first
ROUNDS = 50
MOST_WORK = 12_000_000  # pairs of segments in one round: about a tenth of a second
TRUST = 0.3  # how far each proposal moves from the best weights


def chain_bound(
    instance: Instance,
    options: Sequence[Options],
    start: Bound,
    target: int,
    stop: Callable[[], bool],
    rounds: int = ROUNDS,
    shelf: Sequence[Offcut] = (),
) -> Bound:
    """The best bound found; ``start`` itself if it cannot be bettered.

    Parameters
    ----------
    instance, options : the stretches, their choices and contacts; needs rounded for a bound.
    start : a bound by prices, to begin with.
    target : boards of a plan in hand: a bound of so many proves it best.
    rounds : work limit.
    shelf : offcuts at hand, as in :func:`plankwright.optimize.bounds.circulation_bound`.
    """
    if start.prices is None:
        return start
    best = start
    for step in FIRST_STEPS:
        if best.boards < target and not stop():
            best = max(best, _by_program(instance, options, start, step, stop, shelf), key=_value)
    if best.boards >= target or stop():
        return best
    for step in STEPS:
        prices = start.prices if len(start.prices.lengths) <= FEW else _coarse(start.prices, step)
        lengths = np.array(prices.lengths[1:], dtype=np.int64)
        chains = Chains(instance, options, lengths, step)
        if chains.work() <= MOST_WORK:
            break
    else:
        return best
    marks = np.arange(step, instance.board + 1, step, dtype=np.int64)
    points = np.unique(np.concatenate([marks, lengths, [instance.board]]))
    program = _Program(points)
    trusted_value = -1
    saved = _saved(shelf, instance, points)
    trusted = _weights(prices, points)
    for turn in range(rounds):
        total, chosen = chains.cheapest(prices)
        total -= _worth(prices, instance, options, shelf)
        if total > trusted_value:
            trusted, trusted_value = _weights(prices, points), total
        if total > best.value * BILLION:
            best = Bound(whole_boards(total), total / BILLION, "offsets", prices, start.counted)
        if best.boards >= target or stop():
            break
        boards, balance = _cut(chains, chosen, points)
        program.add(boards - saved[0], balance - saved[1])
        limit, proposed = program.solve()
        if limit <= target - 1 + 1e-6:
            break
        trust = TRUST if turn < rounds // 2 else 1.0 - TRUST
        prices = repaired([0, *points], np.concatenate(
            [[0.0], np.cumsum(trust * proposed + (1.0 - trust) * trusted)]
        ))  # fmt: skip
    return best


def _value(bound: Bound) -> float:
    return bound.value


def _by_program(
    instance: Instance,
    options: Sequence[Options],
    start: Bound,
    step: int,
    stop: Callable[[], bool],
    shelf: Sequence[Offcut],
) -> Bound:
    """The bound that the prices of one linear program prove along the chains."""
    rough = Chains(instance, options, np.array([instance.board], dtype=np.int64), step)
    prices = offset_prices(rough, instance.board, step, stop)
    if prices is None:
        return start
    lengths = np.array(prices.lengths[1:], dtype=np.int64)
    chains = Chains(instance, options, lengths, step)
    if chains.work() > MOST_WORK:
        return start
    total, _ = chains.cheapest(prices)
    total -= _worth(prices, instance, options, shelf)
    return Bound(whole_boards(total), total / BILLION, "offsets", prices, start.counted)


def _worth(
    prices: Prices, instance: Instance, options: Sequence[Options], shelf: Sequence[Offcut]
) -> int:
    """The most that the shelf can save by these prices [billionths]."""
    short = any(not option.is_long for option in options)
    return sum(worth(prices, o, instance.board, instance.cut, short=short) for o in shelf)


def _coarse(prices: Prices, step: int) -> Prices:
    """The same prices, rising at multiples of a step only: lower, so still prices."""
    marks = np.arange(0, prices.lengths[-1] + step, step, dtype=np.int64)
    return repaired(marks.tolist(), (prices.of(marks - marks % step) / BILLION).tolist())


def _weights(prices: Prices, points: Ints) -> Floats:
    """How much the price rises at each point [boards]."""
    at = prices.of(points) / BILLION
    weights: Floats = np.diff(at, prepend=0.0)
    return weights


def _cut(chains: Chains, chosen: Sequence[int], points: Ints) -> tuple[float, Floats]:
    """Boards opened in a way along the chains, and its balance D at every point."""
    boards = 0
    balance = np.zeros(len(points) + 1)
    for segments, at in zip(chains.segments, chosen, strict=True):
        boards += int(segments.boards[at])
        balance[: np.searchsorted(points, segments.low[at], side="right")] += 1.0
        balance[: np.searchsorted(points, segments.leaves[at], side="right")] -= 1.0
    return float(boards), balance[:-1]


def _saved(shelf: Sequence[Offcut], instance: Instance, points: Ints) -> tuple[float, Floats]:
    """Boards that the shelf saves, and what it gives to the balance, at the most."""
    boards, balance = 0, np.zeros(len(points) + 1)
    for offcut in shelf:
        boards += offcut.end in ("near", "both")
        if offcut.end == "far":
            balance[: np.searchsorted(points, offcut.length, side="right")] += 1.0
        elif offcut.end == "near":
            kept = max(0, instance.board - instance.cut - offcut.length)
            balance[: np.searchsorted(points, kept, side="right")] -= 1.0
    return float(boards), balance[:-1]


class _Program:
    """Greatest z with z <= boards + weights · balance for every cut; weights at most 1 in all."""

    def __init__(self, points: Ints) -> None:
        self._solver = QuietHighs(output_flag=False)
        self._count = len(points)
        infinity = highspy.kHighsInf
        self._solver.addVar(-infinity, 1e9)
        for _ in range(self._count):
            self._solver.addVar(0.0, 1.0)
        self._solver.changeColCost(0, -1.0)
        columns = np.arange(1, self._count + 1, dtype=np.int32)
        self._solver.addRow(-infinity, 1.0, self._count, columns, np.ones(self._count))

    def add(self, boards: float, balance: Floats) -> None:
        """Add a cut."""
        columns = np.flatnonzero(balance)
        self._solver.addRow(
            -highspy.kHighsInf,
            boards,
            1 + len(columns),
            np.concatenate([[0], columns + 1]).astype(np.int32),
            np.concatenate([[1.0], -balance[columns]]),
        )

    def solve(self) -> tuple[float, Floats]:
        """The greatest z, and the weights."""
        self._solver.run()
        solution = np.array(self._solver.getSolution().col_value)
        return float(solution[0]), np.maximum(solution[1:], 0.0)
