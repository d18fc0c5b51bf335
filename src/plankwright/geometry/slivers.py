"""Slivers: what a floor cut into rows leaves that is narrower than the narrowest row.

A sliver is a stretch that is nowhere as wide as the narrowest row, or a part of one that stays
narrower for longer than a wall at 10 degrees to the rows would make it: beside a steeper wall the
rows end, and a thin tip is no sliver.
"""

from collections.abc import Iterable

from shapely import MultiPolygon

from plankwright.geometry.rows import Stretch, cut_rows
from plankwright.geometry.slabs import narrow_runs
from plankwright.geometry.start_line import STEEPEST

NOISE_MM = 0.01  # a row just as wide as the narrowest row is none


def sliver_length(stretches: Iterable[Stretch], narrowest: float) -> float:
    """Length of all slivers along the rows [mm]; ``narrowest`` is the least width allowed."""
    return sum(_sliver(stretch, narrowest - NOISE_MM) for stretch in stretches)


def sliver_length_at(floor: MultiPolygon, width: float, narrowest: float, offset: float) -> float:
    """Length of all slivers [mm] of a floor in plan axes cut along lines at ``offset``."""
    return sliver_length(cut_rows(floor, width, offset), narrowest)


def _sliver(stretch: Stretch, narrowest: float) -> float:
    _, v0, _, v1 = stretch.polygon.bounds
    if v1 - v0 < narrowest:
        return stretch.length
    if stretch.is_rectangle:
        return 0.0
    runs = narrow_runs(stretch.slabs(), narrowest)
    return sum(high - low for low, high in runs if high - low > narrowest / STEEPEST)
