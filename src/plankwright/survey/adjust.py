"""Weighted least-squares adjustment of a network by damped Gauss-Newton steps.

The steps solve the normal equations with a trace of damping, so that a free network takes the
smallest correction (inner constraints). At the end one singular value decomposition gives the
covariances and finds out by its rank whether the network can still flex.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from plankwright.survey.equations import Equations, Flags, Floats
from plankwright.survey.network import Network, Observation

MOST_STEPS = 60
STEP_MM = 1e-5  # smaller corrections are noise
LOOSE_SD_MM = 1500.0
LEAST_DAMPING = 1e-13  # of the trace: slows nothing, keeps a free network from drifting
RANK_SHARE = 1e-9  # a singular value below this share of the largest is none


@dataclass(frozen=True, slots=True, eq=False)
class Adjustment:
    """An adjusted network with n points, m observations and u = 2 n unknowns.

    Parameters
    ----------
    network : as it was given.
    xy : (n, 2) adjusted coordinates [mm].
    covariance : (u, u) of the coordinates [mm2] from the standard deviations as given (a priori).
    residuals : (m,) adjusted less observed, in millimeters or degrees.
    sd : (m,) standard deviations of the observations as given.
    redundancy : (m,) share of each observation that the others check, from 0 to 1.
    spread : (m, m) covariance of the residuals in units of the standard deviations.
    loose : (k, u) ways in which the points can move without any observation noticing, the moves
        of the whole network included.
    freedom : redundancy of the whole: observations less what they determine.
    converged : the last correction was noise.
    """

    network: Network
    xy: Floats
    covariance: Floats
    residuals: Floats
    sd: Floats
    redundancy: Floats
    spread: Floats
    loose: Floats
    freedom: int
    converged: bool

    @property
    def observations(self) -> tuple[Observation, ...]:
        """The observations, in the order of ``residuals``."""
        return self.network.observations

    @property
    def names(self) -> tuple[str, ...]:
        """The points, in the order of ``xy``."""
        return tuple(self.network.points)

    @property
    def misfit(self) -> float:
        """Weighted sum of squared residuals; chi-square with ``freedom`` when all is well."""
        return float(((self.residuals / self.sd) ** 2).sum())

    @property
    def s0(self) -> float:
        """Standard deviation of unit weight from the residuals; nan when nothing is checked."""
        return math.sqrt(self.misfit / self.freedom) if self.freedom > 0 else math.nan

    def at(self, name: str) -> tuple[float, float]:
        """Adjusted coordinates [mm] of a point."""
        x_mm, y_mm = self.xy[self.names.index(name)]
        return float(x_mm), float(y_mm)

    def covariance_of(self, name: str) -> Floats:
        """The (2, 2) covariance [mm2] of a point, a priori."""
        i = 2 * self.names.index(name)
        return self.covariance[i : i + 2, i : i + 2]

    def sd_of(self, name: str, *, a_posteriori: bool = False) -> tuple[float, float]:
        """Standard deviations [mm] of x and y; a posteriori they are multiplied by s0."""
        scale = self.s0 if a_posteriori else 1.0
        x_mm, y_mm = np.sqrt(np.diag(self.covariance_of(name)).clip(min=0.0)) * scale
        return float(x_mm), float(y_mm)

    def standardized(self) -> Floats:
        """Residuals over their own standard deviations, (m,); 0 where nothing is checked."""
        checked = self.redundancy > 1e-9
        result = np.zeros_like(self.residuals)
        scale = self.sd[checked] * np.sqrt(self.redundancy[checked])
        result[checked] = self.residuals[checked] / scale
        return result


def adjust(network: Network) -> Adjustment:
    """Adjust a network; it may be free, and may even be able to flex (see ``loose``).

    Examples
    --------
    A point 3 m and 4 m from two fixed points that are 5 m apart:

    >>> from plankwright.survey.network import Length
    >>> points = {"A": (0.0, 0.0), "B": (5000.0, 0.0), "P": (1500.0, 2000.0)}
    >>> seen = (Length("A", "P", 3000.0, 2.0), Length("B", "P", 4000.0, 2.0))
    >>> x, y = adjust(Network(points, seen, frozenset("AB"))).at("P")
    >>> round(x, 6), round(y, 6)
    (1800.0, 2400.0)
    """
    equations = Equations(network)
    moving = _moving(network)
    xy, converged = _descend(equations, _start(network), moving)
    return _judge(network, equations, xy, moving, converged)


def settle(network: Network) -> tuple[Floats, float]:
    """Only the adjusted coordinates (n, 2) [mm] and the misfit: for trying many start shapes."""
    equations = Equations(network)
    xy, _ = _descend(equations, _start(network), _moving(network))
    return xy, float((equations.misfit(xy) ** 2).sum())


def judge_at(network: Network) -> Adjustment:
    """The covariances at the start coordinates, nothing moved; what is known worse than to
    :data:`LOOSE_SD_MM` counts as loose.
    """
    equations = Equations(network)
    xy = _start(network)
    return _judge(network, equations, xy, _moving(network), True, weakest=1.0 / LOOSE_SD_MM)


def moved_to(network: Network, xy: Floats) -> Network:
    """The same network with other start coordinates (n, 2) [mm]."""
    points = {name: (float(x), float(y)) for name, (x, y) in zip(network.points, xy, strict=True)}
    return replace(network, points=points)


def _start(network: Network) -> Floats:
    return np.array(list(network.points.values()), dtype=np.float64)


def _moving(network: Network) -> Flags:
    """Whether each coordinate may move, (u,)."""
    return np.repeat(np.array([n not in network.fixed for n in network.points], dtype=bool), 2)


def _descend(equations: Equations, xy: Floats, moving: Flags) -> tuple[Floats, bool]:
    """Gauss-Newton steps, damped only when one would make things worse."""
    misfit = equations.misfit(xy)
    cost = float(misfit @ misfit)
    damping = 0.0
    for _ in range(MOST_STEPS):
        slopes = equations.jacobian(xy)[:, moving]
        normal, pull = slopes.T @ slopes, slopes.T @ misfit
        strongest = float(np.trace(normal))
        if strongest == 0.0:
            return xy, True
        while True:
            step = _step(normal, pull, damping + LEAST_DAMPING * strongest)
            trial = xy.copy()
            trial.reshape(-1)[moving] += step
            trial_misfit = equations.misfit(trial)
            trial_cost = float(trial_misfit @ trial_misfit)
            size = float(np.abs(step).max())
            if trial_cost <= cost or size < STEP_MM:
                break
            damping = max(10.0 * damping, 1e-4 * strongest)
        # The last, tiny step counts though the cost is too flat to show that it helped: without it
        # processors that add in another order would end elsewhere.
        if trial_cost <= cost or size < STEP_MM:
            xy, misfit, cost = trial, trial_misfit, trial_cost
        damping = damping / 10.0 if damping > 1e-12 * strongest else 0.0
        if size < STEP_MM:
            return xy, True
    return xy, False


def _step(normal: Floats, pull: Floats, damping: float) -> Floats:
    return np.asarray(np.linalg.solve(normal + damping * np.eye(len(pull)), pull))


def _judge(
    network: Network,
    equations: Equations,
    xy: Floats,
    moving: Flags,
    converged: bool,
    *,
    weakest: float = 0.0,
) -> Adjustment:
    """Covariances and redundancy numbers at the adjusted coordinates."""
    unknowns = xy.size
    slopes = equations.jacobian(xy)[:, moving]
    left, strength, right = np.linalg.svd(slopes, full_matrices=True)
    largest = float(strength[0]) if strength.size else 0.0
    rank = int((strength > max(RANK_SHARE * largest, weakest)).sum())
    covariance = np.zeros((unknowns, unknowns))
    inverse = right[:rank].T / strength[:rank]
    covariance[np.ix_(moving, moving)] = inverse @ inverse.T
    loose = np.zeros((right.shape[0] - rank, unknowns))
    loose[:, moving] = right[rank:]
    spread = np.eye(equations.count) - left[:, :rank] @ left[:, :rank].T
    return Adjustment(
        network=network,
        xy=xy,
        covariance=covariance,
        residuals=-equations.misfit(xy) * equations.sd,
        sd=equations.sd,
        redundancy=np.diag(spread).clip(0.0, 1.0),
        spread=spread,
        loose=loose,
        freedom=equations.count - rank,
        converged=converged,
    )
