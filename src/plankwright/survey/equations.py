"""Observation equations: what each observation should read at given coordinates, and its slopes.

The partial derivatives are the usual ones (C. D. Ghilani, *Adjustment Computations*, 5th ed.,
chapters 14 to 16). Everything is divided by the standard deviation, so that all rows weigh alike.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from plankwright.survey.network import (
    Bearing,
    Length,
    Network,
    Observation,
    Reach,
    Turn,
    names_of,
    sd_of,
    value_of,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Flags = NDArray[np.bool_]
# For points (k, r, 2): the values (r,) and their slopes (k, r, 2), in millimeters or degrees.
Reading = Callable[[Floats], tuple[Floats, Floats]]


@dataclass(frozen=True, slots=True)
class _Block:
    """All observations of one kind: their rows and the points (k, r) they tie."""

    rows: Ints
    ends: Ints
    read: Reading


class Equations:
    """The weighted observation equations of a network, as functions of the coordinates (n, 2)."""

    def __init__(self, network: Network) -> None:
        self.names = tuple(network.points)
        place = {name: i for i, name in enumerate(self.names)}
        self.observed = _floats(value_of(o) for o in network.observations)
        self.sd = _floats(sd_of(o) for o in network.observations)
        self.is_angle = np.array(
            [isinstance(o, Turn | Bearing) for o in network.observations], dtype=bool
        )
        self._blocks = [
            block
            for kind, read in _READINGS
            if (block := _block(network.observations, kind, read, place)) is not None
        ]
        self.count = len(self.observed)

    def misfit(self, xy: Floats) -> Floats:
        """Observed less computed, in standard deviations, (m,)."""
        computed = np.empty(self.count)
        for block in self._blocks:
            computed[block.rows] = block.read(xy[block.ends])[0]
        misfit = self.observed - computed
        misfit[self.is_angle] = (misfit[self.is_angle] + 180.0) % 360.0 - 180.0
        return np.asarray(misfit / self.sd)

    def jacobian(self, xy: Floats) -> Floats:
        """Slopes of the computed values, over the standard deviations, (m, 2 n)."""
        slopes = np.zeros((self.count, len(self.names), 2))
        for block in self._blocks:
            slope = block.read(xy[block.ends])[1]
            for k, ends in enumerate(block.ends):
                slopes[block.rows, ends] += slope[k]
        return np.asarray(slopes.reshape(self.count, -1) / self.sd[:, None])


def _block(
    observations: Sequence[Observation], kind: type[Any], read: Reading, place: dict[str, int]
) -> _Block | None:
    rows = [i for i, observation in enumerate(observations) if isinstance(observation, kind)]
    if not rows:
        return None
    ends = [[place[name] for name in names_of(observations[i])] for i in rows]
    return _Block(np.array(rows, dtype=np.intp), np.array(ends, dtype=np.intp).T, read)


def _floats(values: Any) -> Floats:
    return np.array(list(values), dtype=np.float64)


def _length(points: Floats) -> tuple[Floats, Floats]:
    start, end = points
    along = end - start
    length = _norm(along)
    unit = along / length[:, None]
    return length, np.stack([-unit, unit])


def _bearing(points: Floats) -> tuple[Floats, Floats]:
    start, end = points
    azimuth, slope = _azimuth(end - start)
    return azimuth, np.stack([-slope, slope])


def _turn(points: Floats) -> tuple[Floats, Floats]:
    at, start, end = points
    from_azimuth, from_slope = _azimuth(start - at)
    to_azimuth, to_slope = _azimuth(end - at)
    return to_azimuth - from_azimuth, np.stack([from_slope - to_slope, -from_slope, to_slope])


def _reach(points: Floats) -> tuple[Floats, Floats]:
    point, start, end = points
    along, out = end - start, point - start
    length = _norm(along)
    unit = along / length[:, None]
    left = np.stack([-unit[:, 1], unit[:, 0]], axis=1)
    reach = (out * left).sum(axis=1)
    share = (out * unit).sum(axis=1) / length  # how far along the line the point stands
    return reach, np.stack([left, (share - 1.0)[:, None] * left, -share[:, None] * left])


def _azimuth(along: Floats) -> tuple[Floats, Floats]:
    """Degrees clockwise from +y, and the slope with respect to the far point."""
    square = np.maximum((along * along).sum(axis=1), 1e-12)
    azimuth = np.degrees(np.arctan2(along[:, 0], along[:, 1]))
    slope = np.degrees(np.stack([along[:, 1], -along[:, 0]], axis=1) / square[:, None])
    return azimuth, slope


def _norm(along: Floats) -> Floats:
    return np.asarray(np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-6))


_READINGS: tuple[tuple[type[Any], Reading], ...] = (
    (Length, _length),
    (Turn, _turn),
    (Bearing, _bearing),
    (Reach, _reach),
)
