"""Slivers: what a floor cut into rows leaves that is narrower than the narrowest row.

A sliver is a stretch that is nowhere as wide as the narrowest row, or a part of one that stays
narrower for longer than a wall at 10 degrees to the rows would make it: beside a steeper wall the
rows end, and a thin tip is no sliver. A scrap (``model/plan.py``) is too small for any piece.
"""

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from plankwright.geometry.rows import ON_LINE_MM, Stretch, cut_rows
from plankwright.geometry.slabs import narrow_runs
from plankwright.geometry.start_line import STEEPEST

LEAST_SCRAP_MM2 = 1.0  # less floor is rounding
THINNEST_MM = 0.2  # what vanishes when moved in by this is a thread
NOISE_MM = 0.01  # a row just as wide as the narrowest row is none


def sliver_length(stretches: Iterable[Stretch], narrowest: float) -> float:
    """Length of all slivers along the rows [mm]; ``narrowest`` is the least width allowed."""
    return sum(_sliver(stretch, narrowest - NOISE_MM) for stretch in stretches)


def sliver_length_at(floor: MultiPolygon, width: float, narrowest: float, offset: float) -> float:
    """Length of all slivers [mm] of a floor in plan axes cut along lines at ``offset``."""
    return sliver_length(cut_rows(floor, width, offset), narrowest)


def scraps(floor: MultiPolygon, stretches: Sequence[Stretch]) -> list[Polygon]:
    """What a floor in plan axes has beyond its stretches, threads of rounding left out."""
    polygons = [stretch.polygon for stretch in stretches]
    if floor.area - sum(polygon.area for polygon in polygons) < LEAST_SCRAP_MM2:
        return []
    rest = shapely.get_parts(shapely.difference(floor, shapely.union_all(polygons)))
    wide = ~shapely.is_empty(shapely.buffer(rest, -THINNEST_MM))
    return [part for part in rest[wide].tolist() if part.area >= LEAST_SCRAP_MM2]


def _sliver(stretch: Stretch, narrowest: float) -> float:
    _, v0, _, v1 = stretch.polygon.bounds
    if v1 - v0 < narrowest:
        return stretch.length
    if _length_along_walls(stretch) <= narrowest / STEEPEST:
        return 0.0  # a narrow part has a wall along it
    runs = narrow_runs(stretch.slabs(), narrowest)
    return sum(high - low for low, high in runs if high - low > narrowest / STEEPEST)


def _length_along_walls(stretch: Stretch) -> float:
    """How far walls run beside a stretch, in all, counted along the row [mm]."""
    corners = shapely.get_coordinates(stretch.polygon)
    v = corners[:, 1]
    on_line = np.minimum(abs(v - stretch.wall_line), abs(v - stretch.room_line)) <= ON_LINE_MM
    run, rise = abs(corners[1:] - corners[:-1]).T
    beside = ~(on_line[:-1] & on_line[1:]) | (rise > ON_LINE_MM)
    return float(run[beside].sum())
