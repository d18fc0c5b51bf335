"""A surface cut along a level."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.physics.cut_surface import cut_at_level
from plankwright.physics.pouring import volume_below_l, wet_area_m2
from plankwright.physics.surface import grid_surface


def test_one_cell_by_hand() -> None:
    # One corner 2 mm up: the level of 1 mm cuts the two sides and the diagonal that meet there.
    cut = cut_at_level(grid_surface([[2.0, 0.0], [0.0, 0.0]], 1000.0), 1.0)
    added = {tuple(p) for p in cut.points[4:].tolist()}
    assert added == {(500.0, 0.0), (0.0, 500.0), (500.0, 500.0)}
    # What lies above is the corner as far as those points: 500 × 500 mm
    assert wet_area_m2(grid_surface([[2.0, 0.0], [0.0, 0.0]], 1000.0), 1.0) == pytest.approx(0.75)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.lists(st.integers(-8, 8), min_size=12, max_size=12), st.floats(-9, 9))
def test_a_cut_changes_neither_area_nor_volume(heights: list[int], level: float) -> None:
    rows = [[float(h) for h in heights[k : k + 4]] for k in (0, 4, 8)]
    surface = grid_surface(rows, 500.0)
    cut = cut_at_level(surface, level)
    assert cut.triangle_areas_mm2().sum() == pytest.approx(surface.triangle_areas_mm2().sum())
    assert volume_below_l(cut, 20.0) == pytest.approx(volume_below_l(surface, 20.0))
    corners = cut.heights[cut.triangles]
    one_side = (corners <= level + 1e-5).all(axis=1) | (corners >= level - 1e-5).all(axis=1)
    assert one_side.all()
    # Filled to the level point by point, the cut surface holds exactly the pool's volume.
    depth = np.maximum(level - cut.heights, 0.0)
    held = float(depth @ cut.point_areas_mm2()) * 1e-6
    assert held == pytest.approx(volume_below_l(surface, level), abs=1e-5)


def test_a_level_through_a_reading_is_no_trouble() -> None:
    surface = grid_surface([[0.0, 1.0], [2.0, 1.0]], 1000.0)
    cut = cut_at_level(surface, 1.0)
    assert cut.triangle_areas_mm2().min() >= 0.0
    assert cut.triangle_areas_mm2().sum() == pytest.approx(1e6)
