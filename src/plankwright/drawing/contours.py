"""Level lines and filled bands of a surface of flat triangles."""

import math

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from plankwright.physics.arrays import Flags, Floats
from plankwright.physics.surface import Surface


def level_lines(surface: Surface, level: float) -> list[shapely.LineString]:
    """The lines on which the surface has a height [mm], each as long as it goes.

    Heights exactly on the level are taken as a hair above it, so that no line is met twice.
    """
    above = surface.heights >= level
    pieces = []
    for triangle in surface.triangles[_mixed(above, surface)]:
        ends = [
            _crossing(surface, int(a), int(b), level)
            for a, b in zip(triangle, np.roll(triangle, -1), strict=True)
            if above[a] != above[b]
        ]
        if len(ends) == 2 and ends[0] != ends[1]:
            pieces.append(shapely.LineString(ends))
    merged = shapely.line_merge(shapely.union_all(pieces)) if pieces else None
    if merged is None:
        return []
    parts: list[shapely.LineString] = list(shapely.get_parts(merged))
    return sorted(parts, key=lambda line: (-line.length, line.bounds))


def band_above(surface: Surface, level: float) -> BaseGeometry:
    """Where the surface lies above a level: polygons, cut along the triangles."""
    above = surface.heights > level
    cut = []
    for triangle in surface.triangles[above[surface.triangles].any(axis=1)]:
        ring: list[tuple[float, float]] = []
        for a, b in zip(triangle, np.roll(triangle, -1), strict=True):
            if above[a]:
                ring.append((float(surface.points[a][0]), float(surface.points[a][1])))
            if above[a] != above[b]:
                ring.append(_crossing(surface, int(a), int(b), level))
        if len(ring) > 2:
            cut.append(shapely.Polygon(ring))
    # Triangles meet along shared sides; a hair of rounding must not leave seams between them.
    return shapely.union_all(cut, grid_size=1e-3) if cut else MultiPolygon()


def contour_step(span_mm: float, *, inches: bool, most: int = 9) -> float:
    """A round interval of heights [mm] that gives at most ``most`` lines.

    >>> contour_step(14.0, inches=False), contour_step(14.0, inches=True) / 25.4
    (2.0, 0.0625)
    """
    steps = (
        [25.4 / 32, 25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2, 25.4, 50.8, 101.6]
        if inches
        else [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0]
    )
    return next((step for step in steps if span_mm / step <= most), steps[-1])


def levels_of(heights: Floats, step: float) -> list[float]:
    """The multiples of a step strictly between the least and the greatest height."""
    first = math.floor(float(heights.min()) / step) + 1
    last = math.ceil(float(heights.max()) / step)
    return [k * step for k in range(first, last)]


def _mixed(above: Flags, surface: Surface) -> Flags:
    """Which triangles have corners on both sides."""
    count = above[surface.triangles].sum(axis=1)
    return np.asarray((count > 0) & (count < 3))


def _crossing(surface: Surface, a: int, b: int, level: float) -> tuple[float, float]:
    """Where a triangle's side crosses a level; the same from either end."""
    low, high = sorted((a, b))
    share = (level - surface.heights[low]) / (surface.heights[high] - surface.heights[low])
    x, y = surface.points[low] + share * (surface.points[high] - surface.points[low])
    return float(x), float(y)
