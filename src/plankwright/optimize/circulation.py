"""The circulation of lengths as a linear program: the best prices on a grid of lengths.

Every span is one arc from the length it takes to the length it leaves; a fresh board is an arc
from 0 to a whole board and costs one; length may be thrown away. The least cost of a circulation
that holds an arc for each span bounds the boards. Its dual, solved here, asks for the prices:

    maximize   sum over spans of y
    subject to y <= boards + p(a) - p(c)   for each arc of the span,
               0 = p(0) <= p(t1) <= ... <= p(board) <= 1.

Prices may rise at grid points only, which weakens the bound a little and never spoils it. Few of
the arcs matter: those near the best by the prices of the area (p in proportion to length) go in
first, then whatever the solution breaks.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import highspy
import numpy as np
import numpy.typing as npt

from plankwright.errors import PlankwrightError
from plankwright.optimize.highs import QuietHighs
from plankwright.optimize.prices import Ints, Prices, repaired
from plankwright.optimize.spans import Offcut, Span, arcs_of

Floats = npt.NDArray[np.float64]

NEAR = 0.02  # boards: how near the best by area an arc must be to go in first
BROKEN = 1e-7  # boards: by how much an arc must be broken to be added
ROUNDS = 60


@dataclass(frozen=True, slots=True)
class _Arcs:
    """Candidate arcs between grid points, as columns of equal length."""

    kind: Ints  # which kind of span
    boards: Ints
    taken: Ints  # index of the grid point at or below the length taken
    left: Ints  # the same for the length left

    def __len__(self) -> int:
        return len(self.kind)

    def costs(self, prices: Floats) -> Floats:
        found: Floats = self.boards + prices[self.taken] - prices[self.left]
        return found


def best_prices(
    spans: Sequence[Span],
    board: int,
    cut: int,
    grid: int,
    shelf: Sequence[Offcut] = (),
    stop: Callable[[], bool] | None = None,
) -> Prices:
    """Prices that rise at multiples of ``grid`` and give the best bound there.

    Parameters
    ----------
    spans : at least one.
    board, cut, grid : board length, kerf with allowance, and step of the grid, in one unit.
    shelf : offcuts at hand, whose worth counts against the bound.
    stop : asked now and then; once it says True the best prices until then are taken.

    Raises
    ------
    PlankwrightError : the solver failed, which is a defect of ours.
    """
    points = np.unique(np.append(np.arange(0, board, grid, dtype=np.int64), board))
    kinds = Counter(pooled(span, board, cut, grid) for span in spans)
    arcs = _candidates(list(kinds), points, board, cut)
    counts = np.array(list(kinds.values()), dtype=np.float64)
    credit = _credit(shelf, points, board, cut)
    return repaired(points.tolist(), _solve(arcs, counts, credit, points / board, stop).tolist())


def pooled(span: Span, board: int, cut: int, grid: int) -> Span:
    """A span shortened until its rest beyond whole boards and a cut fill whole grid steps.

    >>> pooled(Span(4008, shortest=300), board=1285, cut=3, grid=5).length  # 3 boards and 152
    4007
    """
    wholes, rest = divmod(span.length, board)
    length = wholes * board + max(0, rest - (rest + cut) % grid)
    return Span(max(1, length), span.shortest, span.split, begun=span.begun)


def arc_count(spans: Sequence[Span], board: int, cut: int, grid: int) -> int:
    """About how many arcs the linear program will look at: the measure of its work."""
    kinds = {pooled(span, board, cut, grid) for span in spans}
    return 2 * len(kinds) * (board // grid + 1)


def _candidates(kinds: list[Span], points: Ints, board: int, cut: int) -> _Arcs:
    """Arcs of which one is the best, whatever the prices: see :func:`prices.least_cost`."""
    parts = []
    for kind, span in enumerate(kinds):
        for arc in arcs_of(span, board, cut):
            taken = np.append(points - arc.shift, arc.low)
            taken = taken[(taken >= arc.low) & (taken <= arc.high)]
            left = np.maximum(taken + arc.shift, 0)
            ends = (np.searchsorted(points, ends, side="right") - 1 for ends in (taken, left))
            same = (np.full(len(taken), value, dtype=np.int64) for value in (kind, arc.boards))
            parts.append(np.stack([*same, *ends]))
    return _Arcs(*np.unique(np.concatenate(parts, axis=1), axis=1))


def _credit(shelf: Sequence[Offcut], points: Ints, board: int, cut: int) -> Floats:
    """What a price at each point adds to the worth of the shelf: see :func:`prices.worth`."""
    credit = np.zeros(len(points))
    for offcut in shelf:
        if offcut.end in ("both", "none"):
            continue  # worth the same whatever the prices, or hardly anything
        is_far = offcut.end == "far"
        length = min(offcut.length, board) if is_far else max(0, board - cut - offcut.length)
        credit[np.searchsorted(points, length, side="right") - 1] += 1.0 if is_far else -1.0
    return credit


def _solve(
    arcs: _Arcs,
    counts: Floats,
    credit: Floats,
    area_prices: Floats,
    stop: Callable[[], bool] | None,
) -> Floats:
    """Prices at the grid points, by rounds of adding arcs that the last solution breaks."""
    solver = _solver(counts, credit)
    if stop is not None:
        solver.stop_when(stop)
    prices = area_prices
    costs = arcs.costs(prices)
    wanted = costs <= _least(arcs, costs, len(counts))[arcs.kind] + NEAR
    used = np.zeros(len(arcs), dtype=np.bool_)
    for _ in range(ROUNDS):
        _add_arcs(solver, arcs, np.flatnonzero(wanted), len(prices))
        used |= wanted
        solved = _run(solver, len(prices))
        if solved is None:
            break
        prices, worth = solved
        wanted = (worth[arcs.kind] > arcs.costs(prices) + BROKEN) & ~used
        if not wanted.any():
            break
    return prices


def _least(arcs: _Arcs, costs: Floats, kinds: int) -> Floats:
    least = np.full(kinds, np.inf)
    np.minimum.at(least, arcs.kind, costs)
    return least


def _solver(counts: Floats, credit: Floats) -> QuietHighs:
    """HiGHS with a column for each price and each kind's y, and rows that keep prices rising."""
    points = len(credit)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = points + len(counts), points - 1
    model.col_cost_ = np.concatenate([credit, -counts])
    top = np.concatenate([[0.0], np.ones(points - 1)])
    free = np.full(len(counts), highspy.kHighsInf)
    model.col_lower_ = np.concatenate([np.zeros(points), -free])
    model.col_upper_ = np.concatenate([top, free])
    model.row_lower_ = np.zeros(points - 1)
    model.row_upper_ = np.full(points - 1, highspy.kHighsInf)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.arange(0, 2 * points, 2)
    model.a_matrix_.index_ = np.arange(2 * points - 2) // 2 + np.arange(2 * points - 2) % 2
    model.a_matrix_.value_ = np.tile([-1.0, 1.0], points - 1)
    # Rows are added round by round, each starting from the last basis: presolve would lose it.
    solver = QuietHighs(solver="simplex", presolve="off")
    solver.passModel(model)
    return solver


def _add_arcs(solver: QuietHighs, arcs: _Arcs, chosen: Ints, points: int) -> None:
    """Rows ``y - p(a) + p(c) <= boards``; an arc from a point to itself has no price in it."""
    level = arcs.taken[chosen] == arcs.left[chosen]
    sign = np.where(level, 0.0, 1.0)
    other = np.where(level, (arcs.left[chosen] + 1) % points, arcs.left[chosen])
    index = np.stack([points + arcs.kind[chosen], arcs.taken[chosen], other], axis=1)
    value = np.stack([np.ones(len(chosen)), -sign, sign], axis=1)
    solver.addRows(
        len(chosen),
        np.full(len(chosen), -highspy.kHighsInf),
        arcs.boards[chosen].astype(np.float64),
        3 * len(chosen),
        np.arange(0, 3 * len(chosen), 3),
        index.ravel(),
        value.ravel(),
    )


def _run(solver: QuietHighs, points: int) -> tuple[Floats, Floats] | None:
    """Prices at the grid points and what each kind is worth; None when it was stopped."""
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInterrupt:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        raise PlankwrightError("the linear program for the prices was not solved")
    values = np.array(solver.getSolution().col_value)
    return values[:points], values[points:]
