"""The length of a row between two walls, and how well the survey knows it."""

import math
from collections.abc import Sequence

import numpy as np

from plankwright.survey.equations import Floats

SURE_SIDES = 1.96  # normal, 95 % between both sides
NUDGE_MM = 0.01

Wall = tuple[int, int]


def span_mm(xy: Floats, walls: tuple[Wall, Wall], at: Sequence[float], along: Floats) -> float:
    """The distance [mm] between two walls along a line through ``at`` in direction ``along``."""
    near, far = (_reach(xy[list(wall)], np.asarray(at), along) for wall in walls)
    return abs(far - near)


def span_sure_mm(
    xy: Floats, covariance: Floats, walls: tuple[Wall, Wall], at: Sequence[float], along: Floats
) -> float:
    """The 95 % error [mm] of :func:`span_mm` from the corners' covariance (2 n, 2 n)."""
    slope = np.zeros(xy.size)
    for corner in {corner for wall in walls for corner in wall}:
        for axis in (0, 1):
            nudged = xy.copy()
            nudged[corner, axis] += NUDGE_MM
            ahead = span_mm(nudged, walls, at, along)
            nudged[corner, axis] -= 2.0 * NUDGE_MM
            slope[2 * corner + axis] = (ahead - span_mm(nudged, walls, at, along)) / (2 * NUDGE_MM)
    variance = float(slope @ covariance[: xy.size, : xy.size] @ slope)
    return SURE_SIDES * math.sqrt(max(variance, 0.0))


def _reach(wall: Floats, at: Floats, along: Floats) -> float:
    """How far along the line the wall's own line is met."""
    side = wall[1] - wall[0]
    across = along[0] * side[1] - along[1] * side[0]
    out = wall[0] - at
    return float((out[0] * side[1] - out[1] * side[0]) / across) if across else math.inf
