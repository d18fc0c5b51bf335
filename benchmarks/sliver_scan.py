"""Slivers of a floor by brute force: rows cut at one offset after another, with the checker's eyes.

Shares no code with the planner: the floor is turned and cut by the geometry library, and thin
parts are found by the checker.
"""

import math

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.affinity import rotate

from plankwright.checker.sizes import STEEPEST, thin_run
from plankwright.model.plan import Plan

LEAST_MM = 0.5  # floor thinner than this is rounding
NOISE_MM = 0.05


def least_slivers(plan: Plan, steps: int) -> tuple[float, float]:
    """Length of the plan's slivers, and the least of all row lines that were tried [mm].

    ``steps``: how many lines, spread over a board's width; the plan's own is one of them.
    """
    turn = -plan.laying.row_angle_deg
    floor = rotate(plan.floor, turn, origin=(0.0, 0.0))
    side = -1.0 if plan.laying.laid == "left-to-right" else 1.0
    width, narrowest = plan.board.width_mm, plan.rules.narrowest_row_mm
    own = side * plan.laying.start_line_mm
    offsets = own + np.arange(steps) * width / steps
    found = [sliver_length(floor, width, narrowest, float(offset)) for offset in offsets]
    return found[0], min(found)


def sliver_length(floor: MultiPolygon, width: float, narrowest: float, offset: float) -> float:
    """Length of slivers when rows run along x and one row line lies at ``y = offset`` [mm]."""
    x0, y0, x1, y1 = floor.bounds
    first = math.floor((y0 - offset) / width)
    last = math.ceil((y1 - offset) / width)
    lines = offset + np.arange(first, last) * width
    strips = shapely.box(x0 - 1.0, lines, x1 + 1.0, lines + width)
    parts = shapely.get_parts(shapely.intersection(floor, strips))
    parts = shapely.get_parts(parts)
    parts = parts[shapely.get_dimensions(parts) == 2]
    return sum(_sliver(part, narrowest - NOISE_MM) for part in parts)


def _sliver(part: shapely.Polygon, narrowest: float) -> float:
    x0, y0, x1, y1 = part.bounds
    if min(x1 - x0, y1 - y0) < LEAST_MM:
        return 0.0
    if y1 - y0 < narrowest:
        return float(x1 - x0)
    if (x1 - x0) * (y1 - y0) - part.area < 1.0:
        return 0.0
    run = thin_run(part, narrowest)
    return run if run > narrowest / STEEPEST else 0.0
