"""The least material that makes a slab pass: troweled patch and grinding as a linear program.

Unknowns are the fill and the grinding at every reading, between readings interpolated like the
heights. Each way a straightedge can rest gives one linear condition: the mended gap is at most
what is allowed. There are very many; only those that are broken are added, until a search over
the mended surface finds none. Every plane passes, so filling to the best plane is one of the
choices and patch never takes more.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Literal

import highspy
import numpy as np

from plankwright.errors import InputError
from plankwright.physics.arrays import Floats
from plankwright.physics.flatness import Gap, StraightedgeSearch
from plankwright.physics.flatness_rules import FlatnessRule
from plankwright.physics.solver import QuietSolver
from plankwright.physics.straightedge import Placements
from plankwright.physics.surface import Surface

Way = Literal["fill", "grind", "both"]

# The program aims a little below the limit, so that lines it has not seen keep it too: far less
# than a trowel can do, and it saves many rounds.
AIM_MM = 0.03
CUTS_A_ROUND = 400
MOST_ROUNDS = 200
LITERS_PER_MM3 = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Mending:
    """What to add and take away so that a slab passes.

    Parameters
    ----------
    surface : the slab as it is.
    fill_mm, grind_mm : thickness to add and to take away at each reading [mm].
    fill_l, grind_l : volumes [L].
    worst : worst gap of the mended slab, or None where no edge can rest.
    rounds : how often conditions were added.
    """

    surface: Surface
    fill_mm: Floats
    grind_mm: Floats
    fill_l: float
    grind_l: float
    worst: Gap | None
    rounds: int

    @property
    def mended(self) -> Surface:
        """The slab after the work."""
        return self.surface.with_heights(self.surface.heights + self.fill_mm - self.grind_mm)

    @property
    def passes(self) -> bool:
        """Whether the straightedge search finds no gap over the limit on the mended slab."""
        return self.worst is None or self.worst.passes


def least_material(
    surface: Surface,
    rule: FlatnessRule,
    way: Way = "fill",
    *,
    grind_cost: float = 3.0,
    deepest_grind_mm: float = 6.0,
    untouched: Iterable[int] = (),
    search: StraightedgeSearch | None = None,
) -> Mending | None:
    """The least patch, the least grinding, or the cheapest of both, that makes a slab pass.

    Parameters
    ----------
    rule : what is allowed under which straightedge.
    way : *fill* adds only, *grind* takes away only, *both* may do either.
    grind_cost : how many liters of patch a liter ground away counts for (common practice: dust
        and hours; a setting).
    deepest_grind_mm : most that is ground off anywhere (common practice: keep the cover of
        reinforcement; a setting).
    untouched : readings that stay as they are (a drain, a door sill).
    search : of this surface and rule, where there is one already: its lines need not be cut anew.

    Returns
    -------
    The mending; None where nothing allowed makes the slab pass.
    """
    program = _Program(surface, way, grind_cost, deepest_grind_mm, untouched)
    search = search or StraightedgeSearch(surface, rule)
    extra: list[Placements] = []
    rounds = 0
    while True:
        rounds += _settle(program, search, extra)
        if program.infeasible:
            return None
        worst = search.worst_gaps(program.heights())
        if not worst or worst[0].passes or rounds >= MOST_ROUNDS:
            return program.mending(worst[0] if worst else None, rounds)
        extra.append(search.placements_on([gap.line for gap in worst])[0])


def _settle(program: "_Program", search: StraightedgeSearch, extra: Sequence[Placements]) -> int:
    """Add broken conditions and solve again until none of the known placements breaks any."""
    for turn in range(1, MOST_ROUNDS + 1):
        known = chain((placements for placements, _ in search.placements()), extra)
        added = sum(_add_broken(program, placements) for placements in known)
        if added == 0:
            return turn
        program.solve()
        if program.infeasible:
            return turn
    return MOST_ROUNDS


def _add_broken(program: "_Program", placements: Placements) -> int:
    """Add the worst broken condition under each reading; how many were added."""
    rests = placements.evaluate(program.heights())
    broken = np.flatnonzero(rests.excess > -AIM_MM / 2.0)
    broken = broken[np.argsort(-rests.excess[broken], kind="stable")]
    _, first = np.unique(rests.low[broken], return_index=True)
    chosen = broken[np.sort(first)][:CUTS_A_ROUND]
    for k in chosen:
        weights = placements.weights(int(k), float(rests.left[k]))
        program.require(weights, float(rests.allowed[k]) - AIM_MM)
    return len(chosen)


class _Program:
    """The linear program: columns are fills, then grindings, at every reading."""

    def __init__(
        self,
        surface: Surface,
        way: Way,
        grind_cost: float,
        deepest_grind_mm: float,
        untouched: Iterable[int],
    ) -> None:
        if grind_cost <= 0.0 or deepest_grind_mm < 0.0:
            raise InputError("costs must be above 0 and depths 0 or more", where="leveling")
        self._surface = surface
        self._n = len(surface.heights)
        self._areas = surface.point_areas_mm2() * LITERS_PER_MM3
        self._change = np.zeros(2 * self._n)
        self.infeasible = False
        self._solver = QuietSolver()
        highest = np.concatenate(
            [
                np.full(self._n, 0.0 if way == "grind" else highspy.kHighsInf),
                np.full(self._n, 0.0 if way == "fill" else deepest_grind_mm),
            ]
        )
        for node in untouched:
            highest[[node, node + self._n]] = 0.0
        costs = np.concatenate([self._areas, grind_cost * self._areas])
        for cost, most in zip(costs.tolist(), highest.tolist(), strict=True):
            self._solver.addCol(cost, 0.0, most, 0, [], [])

    def require(self, weights: dict[int, float], most: float) -> None:
        """Ask that the sum of weighted mended heights is at most ``most``."""
        nodes = np.fromiter(weights, dtype=np.int32)
        factors = np.fromiter(weights.values(), dtype=float)
        slack = most - float(factors @ self._surface.heights[nodes])
        index = np.concatenate([nodes, nodes + self._n]).astype(np.int32)
        values = np.concatenate([factors, -factors])
        self._solver.addRow(-highspy.kHighsInf, slack, len(index), index, values)

    def solve(self) -> None:
        """Solve with the conditions so far."""
        self._solver.run()
        self.infeasible = self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal
        if not self.infeasible:
            self._change = np.maximum(np.array(self._solver.getSolution().col_value), 0.0)

    def heights(self) -> Floats:
        """Heights after the work [mm]."""
        mended: Floats = self._surface.heights + self._change[: self._n] - self._change[self._n :]
        return mended

    def mending(self, worst: Gap | None, rounds: int) -> Mending:
        """The answer as a value."""
        fill, grind = self._change[: self._n].copy(), self._change[self._n :].copy()
        return Mending(
            self._surface, fill, grind,
            float(fill @ self._areas), float(grind @ self._areas), worst, rounds,
        )  # fmt: skip


def best_plane_fill_l(surface: Surface) -> tuple[float, Floats]:
    """The least patch [L] that fills a slab to a plane of any tilt, and the fill [mm]: the peer.

    A plane on or above every reading with the least volume beneath it.
    """
    solver = QuietSolver()
    areas = surface.point_areas_mm2() * LITERS_PER_MM3
    # Measured from the middle in meters, so that the columns are of one size.
    x, y = ((surface.points - surface.points.mean(axis=0)) / 1000.0).T
    base = surface.heights - surface.heights.min()
    for cost in (float(areas.sum()), float(areas @ x), float(areas @ y)):
        solver.addCol(cost, -highspy.kHighsInf, highspy.kHighsInf, 0, [], [])
    index = np.arange(3, dtype=np.int32)
    for k in range(len(base)):
        row = np.array([1.0, x[k], y[k]])
        solver.addRow(float(base[k]), highspy.kHighsInf, 3, index, row)
    solver.run()
    level, slope_x, slope_y = solver.getSolution().col_value
    fill = np.maximum(level + slope_x * x + slope_y * y - base, 0.0)
    return float(fill @ areas), fill
