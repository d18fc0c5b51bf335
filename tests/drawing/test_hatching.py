"""Hatch lines: clipped to the area, on one grid, holes left out; lengths against shapely."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from plankwright.drawing.hatching import hatch_lines
from plankwright.drawing.scene import Area
from plankwright.drawing.style import HATCHES, Hatch

SQUARE = Area(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), "piece")
LEVEL = Hatch((0.0,), spacing_mm=4.0)


def test_level_lines_in_a_square() -> None:
    # levels 0, 4 and 8 cross the square; the line at 0 is its own edge
    lines = [((a[0], a[1]), (b[0], b[1])) for a, b in hatch_lines(SQUARE, LEVEL)]
    assert lines[1:] == [((0.0, 4.0), (10.0, 4.0)), ((0.0, 8.0), (10.0, 8.0))]


def test_a_hole_parts_the_lines() -> None:
    hole = ((3.0, 3.0), (7.0, 3.0), (7.0, 5.0), (3.0, 5.0))
    area = Area(SQUARE.outline, "piece", holes=(hole,))
    at_four = [line for line in hatch_lines(area, LEVEL) if line[0][1] == 4.0]
    assert at_four == [((0.0, 4.0), (3.0, 4.0)), ((7.0, 4.0), (10.0, 4.0))]


def test_starters_rise_to_the_right_and_end_pieces_fall() -> None:
    starter = list(hatch_lines(SQUARE, HATCHES["starter"]))
    end_piece = list(hatch_lines(SQUARE, HATCHES["end-piece"]))
    assert all(a[1] > b[1] for a, b in starter)  # y is down: rising means y falls as x grows
    assert all(a[1] < b[1] for a, b in end_piece)
    crossed = list(hatch_lines(SQUARE, HATCHES["wall-to-wall"]))
    assert crossed == starter + end_piece


@settings(derandomize=True, deadline=None, max_examples=50)
@given(
    st.lists(st.floats(1.0, 30.0), min_size=3, max_size=12),
    st.sampled_from([0.0, 30.0, 45.0, -45.0, 90.0]),
)
def test_lines_stay_inside_and_fill_the_area(radii: list[float], angle: float) -> None:
    turn = 2.0 * math.pi / len(radii)
    ring = tuple(
        (40.0 + r * math.cos(i * turn), 40.0 + r * math.sin(i * turn)) for i, r in enumerate(radii)
    )
    polygon = Polygon(ring)
    lines = list(hatch_lines(Area(ring, "piece"), Hatch((angle,), 0.5)))
    grown = polygon.buffer(1e-6)
    assert all(grown.covers(LineString(line)) for line in lines)
    # length times spacing is the area, but for one strip at the rim
    filled = sum(math.dist(a, b) for a, b in lines) * 0.5
    assert filled == pytest.approx(polygon.area, abs=0.5 * polygon.length)
