"""The program over cutting patterns: bars as few or as cheap as can be.

Its linear relaxation (P. C. Gilmore and R. E. Gomory, A linear programming approach to the
cutting-stock problem, Operations Research 9, 1961) is solved by adding patterns as long as one is
worth more than its bar. The values of the lengths that it ends with are the evidence for the
bound: no pattern is worth more than its bar, so the pieces together need bars worth their sum.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import highspy
import numpy as np

from plankwright.errors import PlankwrightError
from plankwright.optimize.highs import QuietHighs
from plankwright.optimize.patterns import Pattern, Pieces, best_patterns
from plankwright.optimize.prices import BILLION

AT_A_TIME = 6  # patterns added in one round
NOISE = 1e-7  # of a bar: what a pattern must be worth beyond its bar


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar that can be bought or is there: ``length`` and ``cost``, both above 0."""

    length: int
    cost: int = 1

    def __post_init__(self) -> None:
        if self.length <= 0 or self.cost <= 0:
            raise PlankwrightError("a bar needs a length and a cost above 0")


@dataclass(frozen=True, slots=True)
class Column:
    """A pattern cut from a bar (by its index)."""

    bar: int
    pattern: Pattern


@dataclass(slots=True)
class PatternProgram:
    """Columns found so far for some pieces, which :meth:`solve` adds to.

    Parameters
    ----------
    pieces, bars : kerf already added to both.
    columns : at least enough to cover the pieces.
    """

    pieces: Pieces
    bars: tuple[Bar, ...]
    columns: list[Column] = field(default_factory=list)

    def solve(self) -> tuple[list[float], list[float]]:
        """How often each column is used in the relaxation, and what each length is worth."""
        solver = self._relaxation()
        known = set(self.columns)
        while True:
            solver.run()
            solution = solver.getSolution()
            worth = [max(0.0, value) for value in solution.row_dual]
            fresh = [c for c in self._worth_more(worth) if c not in known]
            if not fresh:
                return list(solution.col_value), worth
            for column in fresh:
                known.add(column)
                self.columns.append(column)
                self._add(solver, column)

    def safe_values(self, worth: Sequence[float]) -> list[int]:
        """Values [billionths of a unit of cost] by which no pattern is worth more than its bar."""
        values = [int(value * BILLION) for value in worth]
        for bar in self.bars:
            most = best_patterns(self.pieces, values, bar.length)[0][0]
            allowed = bar.cost * BILLION
            if most > allowed:
                values = [value * allowed // most for value in values]
        return values

    def integer(self, upper: int, nodes: int) -> tuple[list[int] | None, bool]:
        """How often to use each column at the least cost below ``upper``.

        Parameters
        ----------
        nodes : work limit of the branch and bound.

        Returns
        -------
        counts, settled : None if none were found; settled when nothing cheaper exists for these
            columns.
        """
        solver = self._relaxation(integer=True)
        solver.addRow(
            -highspy.kHighsInf,
            upper - 1,
            len(self.columns),
            np.arange(len(self.columns)),
            np.array([self.bars[column.bar].cost for column in self.columns], dtype=np.float64),
        )
        solver.setOptionValue("mip_max_nodes", nodes)
        solver.setOptionValue("mip_abs_gap", 1 - 1e-3)
        solver.setOptionValue("presolve", "on")
        solver.run()
        status = solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None, True
        if solver.getInfo().primal_solution_status != highspy.kSolutionStatusFeasible:
            return None, False
        settled = status == highspy.HighsModelStatus.kOptimal
        return [round(value) for value in solver.getSolution().col_value], settled

    def _worth_more(self, worth: Sequence[float]) -> list[Column]:
        values = [int(value * BILLION) for value in worth]
        return [
            Column(i, pattern)
            for i, bar in enumerate(self.bars)
            for value, pattern in best_patterns(self.pieces, values, bar.length, AT_A_TIME)
            if value > (bar.cost + NOISE) * BILLION
        ]

    def _relaxation(self, *, integer: bool = False) -> QuietHighs:
        solver = QuietHighs(presolve="off")
        for wanted in self.pieces.wanted:
            solver.addRow(wanted, highspy.kHighsInf, 0, np.empty(0, np.int32), np.empty(0))
        for column in self.columns:
            self._add(solver, column)
        if integer:
            for i in range(len(self.columns)):
                solver.changeColIntegrality(i, highspy.HighsVarType.kInteger)
        return solver

    def _add(self, solver: QuietHighs, column: Column) -> None:
        used = [i for i, n in enumerate(column.pattern) if n]
        copies = np.array([column.pattern[i] for i in used], dtype=np.float64)
        cost = self.bars[column.bar].cost
        rows = np.array(used, dtype=np.int32)
        solver.addCol(cost, 0.0, highspy.kHighsInf, len(used), rows, copies)
