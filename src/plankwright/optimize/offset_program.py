"""Prices for joint offsets: the circulation of lengths with cliques of starters that conflict.

Every stretch chooses among its segments of starters (see :mod:`plankwright.optimize.chains`), in
parts that come to one. Segments flow from the length they take to the length they leave, a fresh
board costs one, and of segments of two neighbors that all conflict with each other at most one is
chosen. The prices of lengths in the best solution are good ones for the cheapest way along chains,
which gives the bound: nothing is believed of the solution itself.
"""

from collections.abc import Callable, Iterator, Sequence

import highspy
import numpy as np

from plankwright.optimize.chains import Bools, Chains, Segments
from plankwright.optimize.highs import QuietHighs
from plankwright.optimize.ledger import Floats, Ints
from plankwright.optimize.prices import Prices, repaired

MOST_SEGMENTS = 12_000  # work limit: about a second


def offset_prices(
    chains: Chains, board: int, step: int, stop: Callable[[], bool] | None = None
) -> Prices | None:
    """Prices that rise at multiples of ``step``; None when stopped or when there is too much.

    Parameters
    ----------
    chains : of the stretches, their segments cut at multiples of ``step``.
    board, step : length of a board and of a step [ticks].
    stop : asked now and then.
    """
    if sum(len(segments.low) for segments in chains.segments) > MOST_SEGMENTS:
        return None
    points = np.unique(np.append(np.arange(0, board, step, dtype=np.int64), board))
    rows = _Rows(chains.segments, points)
    for one, other, conflict in chains.neighbors():
        for here, there in cliques(conflict):
            rows.add_clique(one, here, other, there)
    solver = QuietHighs()
    if stop is not None:
        solver.stop_when(stop)
    solver.passModel(rows.program())
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    worth = np.array(solver.getSolution().row_dual)[rows.balances]
    return repaired(points.tolist(), np.concatenate([[0.0], worth]).tolist())


def cliques(conflict: Bools) -> Iterator[tuple[Ints, Ints]]:
    """Segments of two neighbors that all conflict with each other, as large as can be.

    For every segment of the first all that it conflicts with, and all of the first's that conflict
    with each of these.
    """
    seen: set[tuple[bytes, bytes]] = set()
    for row in np.unique(conflict, axis=0):
        there = np.flatnonzero(row)
        if len(there) == 0:
            continue
        here = np.flatnonzero(conflict[:, there].all(axis=1))
        key = (here.tobytes(), there.tobytes())
        if key not in seen:
            seen.add(key)
            yield here, there


class _Rows:
    """The linear program being built: a column for each segment, for waste, and fresh boards.

    Rows: one for each stretch, one for the balance of each length above 0, one for each clique.
    """

    def __init__(self, segments: Sequence[Segments], points: Ints) -> None:
        self._stretches = len(segments)
        self._points = len(points) - 1  # above 0
        sizes = [len(part.low) for part in segments]
        self._begin = np.concatenate([[0], np.cumsum(sizes)])
        self._boards = np.concatenate([part.boards for part in segments]).astype(np.float64)
        count = int(self._begin[-1])
        self._columns = count + self._points + 1
        self._entries: list[tuple[Ints, Ints, Floats]] = []
        self._next = self._stretches + self._points
        columns = np.arange(count)
        self._enter(np.repeat(np.arange(self._stretches), sizes), columns, 1.0)
        takes = np.concatenate([part.low for part in segments])
        leaves = np.concatenate([part.leaves for part in segments])
        at, left = (np.searchsorted(points, ends, side="right") - 1 for ends in (takes, leaves))
        for lengths, sign in ((at, -1.0), (left, 1.0)):
            used = (at != left) & (lengths > 0)
            self._enter(self._stretches + lengths[used] - 1, columns[used], sign)
        waste = np.arange(self._points)  # from each length to the next shorter one
        self._enter(self._stretches + waste, count + waste, -1.0)
        self._enter(self._stretches + waste[:-1], count + waste[1:], 1.0)
        self._enter(np.array([self._next - 1]), np.array([self._columns - 1]), 1.0)

    @property
    def balances(self) -> slice:
        """The rows of the lengths above 0."""
        return slice(self._stretches, self._stretches + self._points)

    def add_clique(self, one: int, here: Ints, other: int, there: Ints) -> None:
        """At most one of some segments of two stretches."""
        columns = np.concatenate([self._begin[one] + here, self._begin[other] + there])
        self._enter(np.full(len(columns), self._next), columns, 1.0)
        self._next += 1

    def _enter(self, rows: Ints, columns: Ints, value: float) -> None:
        self._entries.append((rows, columns, np.full(len(rows), value)))

    def program(self) -> highspy.HighsLp:
        """The program as HiGHS takes it."""
        rows, columns, values = (np.concatenate(part) for part in zip(*self._entries, strict=True))
        order = np.argsort(rows, kind="stable")
        fixed = np.concatenate([np.ones(self._stretches), np.zeros(self._points)])
        more = self._next - len(fixed)
        program = highspy.HighsLp()
        program.num_col_, program.num_row_ = self._columns, self._next
        program.col_cost_ = np.concatenate([self._boards, np.zeros(self._points), [1.0]])
        program.col_lower_ = np.zeros(self._columns)
        program.col_upper_ = np.full(self._columns, highspy.kHighsInf)
        program.row_lower_ = np.concatenate([fixed, np.full(more, -highspy.kHighsInf)])
        program.row_upper_ = np.concatenate([fixed, np.ones(more)])
        program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        program.a_matrix_.start_ = np.searchsorted(rows[order], np.arange(self._next + 1))
        program.a_matrix_.index_ = columns[order].astype(np.int32)
        program.a_matrix_.value_ = values[order]
        return program
