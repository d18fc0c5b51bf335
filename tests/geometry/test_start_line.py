"""Where the row lines may lie: lengths of sliver beside walls, by hand and by sampling."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, box

from plankwright.geometry.floor import build_floor
from plankwright.geometry.frame import Frame
from plankwright.geometry.start_line import (
    candidates,
    further_candidates,
    narrow_lengths,
    side_edges,
)
from plankwright.model.rules import Rules
from plankwright.testing.zoo import zoo

PLAIN = MultiPolygon([box(0, 0, 2000, 450)])


def slivers(floor: MultiPolygon, *offsets: float, narrowest: float = 50.0) -> list[float]:
    found = narrow_lengths(side_edges(floor), 200.0, narrowest, np.array(offsets))
    return [float(length) for length in found]


def test_edges_along_the_rows() -> None:
    edges = side_edges(PLAIN)
    assert sorted(zip(edges.v0, edges.above, strict=True)) == [(0.0, True), (450.0, False)]
    assert list(edges.run) == [2000.0, 2000.0]


def test_steep_edges_end_rows_and_short_ones_are_noise() -> None:
    # 10 degrees: tan = 0.176; 100 over 300 is steeper, 40 over 300 is not
    floor = MultiPolygon([Polygon([(0, 0), (300, 100), (1000, 100), (1300, 60), (1300, 400),
                                   (1299.5, 400), (0, 400)])])  # fmt: skip
    # the corner at the origin lies between two steep walls: a tip, which counts like 100 mm
    assert sorted(side_edges(floor).run) == [100.0, 300.0, 700.0, 1299.5]


def test_slivers_of_a_rectangle() -> None:
    # row 1 whole (offset 0): the last row is 450 mod 200 = 50 wide, just no sliver
    assert slivers(PLAIN, 0.0) == [0.0]
    assert slivers(PLAIN, 0.0, narrowest=51.0) == [2000.0]
    # offset 170: row 1 is 170 wide; the last (450 - 170) mod 200 = 80
    assert slivers(PLAIN, 170.0) == [0.0]
    # offset 30: row 1 only 30 wide; the last (450 - 30) mod 200 = 20: both are slivers
    assert slivers(PLAIN, 30.0) == [4000.0]


def test_a_slanted_wall_is_a_sliver_for_part_of_its_length() -> None:
    # the far wall rises from 400 to 500 over 2000: beyond the line at 400 the row is narrower
    # than 50 for half of that, 1000
    floor = MultiPolygon([Polygon([(0, 0), (2000, 0), (2000, 500), (0, 400)])])
    assert slivers(floor, 0.0) == [1000.0]


def test_candidates_hold_the_lines_a_person_would_try() -> None:
    found = candidates(side_edges(PLAIN), 200.0, 50.0, lowest=0.0)
    assert 0.0 in found  # row 1 whole
    assert 50.0 in found  # the last row whole: 450 - 2 x 200
    # both outer rows equal: (50 + 200) / 2 = 125, so that 125 + 200 + 125 = 450
    assert 125.0 in found
    assert found == sorted(set(found))
    assert all(0.0 <= offset < 200.0 for offset in found)


def test_tips_are_kept_clear_of_slivers() -> None:
    # a rhomb with tips at 0 and 800, rows of 200: a line at 0 leaves both whole, one at 180 leaves
    # 20 of the upper tip beyond the line at 780, one at 30 leaves 30 of the lower. With each
    # millimeter across a tip gets 2 x 100 / 400 longer: 10 and 15 mm. What a line at 190 leaves is
    # 10 x 5 / 2 mm2, a scrap
    across = MultiPolygon([Polygon([(0, 0), (100, 400), (0, 800), (-100, 400)])])
    assert slivers(across, 0.0, 55.0) == [0.0, 0.0]
    assert slivers(across, 180.0, 30.0, 190.0) == [10.0, 15.0, 0.0]
    assert candidates(side_edges(across), 200.0, 50.0, 10.0) == [0.0, 10.0, 50.0, 100.0, 150.0]


def test_where_nothing_is_clear_of_slivers_lines_a_hair_beside_the_walls_are_tried() -> None:
    # walls at 0 and 450: what lies between a wall and a line 0.99 beside it is no piece; and 64
    # lines of 200 / 64 = 3.125 mm
    found = further_candidates(side_edges(PLAIN), 200.0)
    assert {0.99, 199.01, 50.99, 49.01, 3.125, 196.875} <= {*found}
    assert len(found) == 64 + 4


def test_no_edges_no_slivers() -> None:
    # a corner that points into the floor parts no tip from it
    hole = Polygon([(0, 0), (1000, 0), (1000, 800), (0, 800)], [[(500, 300), (600, 400), (500, 500),
                                                                (400, 400)]])  # fmt: skip
    assert sorted(side_edges(MultiPolygon([hole])).run) == [1000.0, 1000.0]


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.integers(250, 3000), st.integers(60, 240), st.integers(1, 59))
def test_a_rectangle_against_counting_rows(depth: int, width: int, narrowest: int) -> None:
    """Brute force: lay rows one by one and look how wide the two outer ones are."""
    floor = MultiPolygon([box(0, 0, 1000, depth)])
    for first in range(1, width + 1, 7):
        rows, left = [min(first, depth)], depth - first
        while left > 0:
            rows.append(min(width, left))
            left -= width
        # one length of wall for each outer row that is partial and too narrow
        outer = [rows[0], rows[-1]] if len(rows) > 1 else []
        expected = 1000.0 * sum(0 < row < min(narrowest, width) for row in outer)
        found = narrow_lengths(
            side_edges(floor), float(width), float(narrowest), np.array([float(first)])
        )
        assert len(rows) == 1 or found[0] == expected


@pytest.mark.parametrize("name", zoo())
def test_the_zoo(name: str) -> None:
    floor = Frame(31.0, "right-to-left").to_plan_grid(build_floor(zoo()[name], Rules()).parts)
    edges = side_edges(floor)
    assert len(edges.v0) == len(edges.run) == len(edges.above)
    offsets = np.array(candidates(edges, 192.0, 50.0, 3.0))
    found = narrow_lengths(edges, 192.0, 50.0, offsets)
    assert found.shape == offsets.shape
    assert (found >= 0.0).all()
    assert (found <= edges.run.sum() + 50.0 * edges.spread.sum() + 1e-6).all()
