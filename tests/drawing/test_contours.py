"""Level lines and bands of a surface of flat triangles, by hand."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.drawing.contours import band_above, contour_step, level_lines, levels_of
from plankwright.physics.surface import grid_surface


def test_level_line_of_a_slope() -> None:
    # heights rise by 1 mm every 500 mm along x: the level of 1.5 mm is the line x = 750
    slope = grid_surface([[0.0, 1.0, 2.0, 3.0]] * 3, 500.0)
    (line,) = level_lines(slope, 1.5)
    assert [x for x, _ in line.coords] == pytest.approx([750.0] * len(line.coords))
    assert line.length == pytest.approx(1000.0)
    assert level_lines(slope, 9.0) == []


def test_a_dip_has_closed_lines() -> None:
    rows = [[0.0] * 5, [0.0, -2.0, -2.0, -2.0, 0.0], [0.0, -2.0, -6.0, -2.0, 0.0],
            [0.0, -2.0, -2.0, -2.0, 0.0], [0.0] * 5]  # fmt: skip
    dip = grid_surface(rows, 500.0)
    for level in (-1.0, -3.0, -5.0):
        (line,) = level_lines(dip, level)
        assert line.is_ring


def test_a_level_through_the_readings_is_drawn_once() -> None:
    slope = grid_surface([[0.0, 1.0, 2.0]] * 3, 500.0)
    (line,) = level_lines(slope, 1.0)
    assert line.length == pytest.approx(1000.0, abs=1.0)


def test_band_above_a_slope() -> None:
    slope = grid_surface([[0.0, 1.0, 2.0, 3.0]] * 3, 500.0)
    band = band_above(slope, 1.5)
    assert band.area == pytest.approx(750.0 * 1000.0)
    assert band_above(slope, -np.inf).area == pytest.approx(1500.0 * 1000.0)
    assert band_above(slope, 3.0).is_empty


@settings(derandomize=True, deadline=None, max_examples=50)
@given(st.lists(st.floats(-5, 5), min_size=12, max_size=12), st.floats(-5, 5))
def test_band_and_its_complement_fill_the_slab(heights: list[float], level: float) -> None:
    surface = grid_surface([heights[:4], heights[4:8], heights[8:]], 500.0)
    below = surface.with_heights(-surface.heights)
    both = band_above(surface, level).area + band_above(below, -level).area
    at_level = (surface.heights == level).sum()
    assert both == pytest.approx(1500.0 * 1000.0, rel=1e-4) or at_level > 1


def test_round_steps() -> None:
    assert contour_step(4.0, inches=False) == 0.5
    assert contour_step(40.0, inches=False) == 5.0
    assert contour_step(16.0, inches=True) == pytest.approx(25.4 / 8)
    assert contour_step(1e6, inches=False) == 100.0
    assert levels_of(np.array([-3.0, 0.0]), 1.0) == [-2.0, -1.0]
    assert levels_of(np.array([0.0, 0.0]), 1.0) == []
