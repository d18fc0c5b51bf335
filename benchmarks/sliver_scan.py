"""Slivers of a floor by brute force: rows cut along one line after another, and measured.

Shares no code with the planner: the floor is turned and cut by the geometry library, and thin
parts are found from the corners of what is left.

Ledges less than a millimeter thick are left out: drawings have them where a wall runs a hair beside
a row line. Nobody saws such a strip or can measure it with a tape; the gap is a hair wider there
instead, and no row line is better for avoiding it. A strip tapers to no less than half of that.
"""

import math
from itertools import pairwise

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.affinity import rotate

from plankwright.model.plan import Plan

STEEPEST = math.tan(math.radians(10.0))  # a steeper wall ends rows, it leaves no sliver
LEAST_MM = 1.0  # floor thinner than this is a scrap, and so is less than a square centimeter
LEAST_MM2 = 100.0
THREAD_MM = 0.5  # a strip ends where it is thinner
NOISE_MM = 0.05  # a part this much narrower than allowed is rounding


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
    if min(x1 - x0, y1 - y0) < LEAST_MM or part.area < LEAST_MM2:
        return 0.0
    if y1 - y0 < narrowest:
        return sum(thin_runs(part, narrowest, THREAD_MM))
    if (x1 - x0) * (y1 - y0) - part.area < 1.0:
        return 0.0
    return sum(run for run in thin_runs(part, narrowest) if run > narrowest / STEEPEST)


def thin_runs(part: shapely.Polygon, narrow: float, thread: float = 0.0) -> list[float]:
    """Lengths along x over which some part of a polygon is narrower than ``narrow``, each run.

    Floor thinner than ``thread`` counts as none, and so does what is nowhere :data:`LEAST_MM` thick
    between two corners.

    >>> wedge = shapely.Polygon([(0, 0), (100, 0), (100, 20)])
    >>> thin_runs(wedge, 10.0), thin_runs(wedge, 10.0, 1.0)  # 10 thick halfway, 1 at 5
    ([50.0], [45.0])
    >>> thin_runs(shapely.Polygon([(0, 0), (100, 0), (100, 20), (95, 20), (95, 0.9), (0, 0.9)]), 10)
    []
    """
    rings = [np.asarray(ring.coords)[:, :2] for ring in (part.exterior, *part.interiors)]
    edges = [sorted(edge) for ring in rings for edge in pairwise(ring.tolist())]
    runs: list[list[float]] = []
    for low, high in pairwise(sorted({x for ring in rings for x in ring[:, 0].tolist()})):
        across = [(a, b) for a, b in edges if a[0] <= low and b[0] >= high and a[0] < b[0]]
        levels = sorted((_level(a, b, (low + high) / 2.0), a, b) for a, b in across)
        for (_, a, b), (_, c, d) in zip(levels[::2], levels[1::2], strict=True):
            first, last = (_level(c, d, x) - _level(a, b, x) for x in (low, high))
            begin, end = _between(low, high, first, last, thread, narrow)
            if end <= begin or max(first, last) < LEAST_MM:
                continue
            if runs and begin <= runs[-1][1] + NOISE_MM:
                runs[-1] = [min(runs[-1][0], begin), max(runs[-1][1], end)]
            else:
                runs.append([begin, end])
    return [end - begin for begin, end in runs]


def _level(a: list[float], b: list[float], x: float) -> float:
    return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])


def _between(
    low: float, high: float, first: float, last: float, least: float, most: float
) -> tuple[float, float]:
    """Where a width that changes evenly from ``first`` to ``last`` lies between two widths."""
    if abs(last - first) < 1e-9:
        return (low, high) if least <= first < most else (low, low)
    at = [low + (high - low) * (width - first) / (last - first) for width in (least, most)]
    return max(low, min(at)), min(high, max(at))
