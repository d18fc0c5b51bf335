"""Slivers by hand."""

import pytest
from shapely import MultiPolygon, Polygon, box

from plankwright.geometry.slivers import sliver_length_at


def floor(*corners: tuple[float, float]) -> MultiPolygon:
    return MultiPolygon([Polygon(corners)])


@pytest.mark.parametrize(
    ("offset", "length"),
    [
        (0.0, 0.0),  # 5 whole rows of 200 and one of 60
        (-20.0, 0.0),  # 180 at the start, 80 at the end
        (20.0, 2 * 3000.0),  # 20 at the start, 1060 - 20 = 5 x 200 + 40 at the end
        (25.0, 2 * 3000.0),
        (150.0, 0.0),  # 150 at the start, 110 at the end
    ],
)
def test_the_outer_rows_of_a_rectangle(offset: float, length: float) -> None:
    found = sliver_length_at(MultiPolygon([box(0, 0, 3000, 1060)]), 200.0, 50.0, offset)
    assert found == pytest.approx(length)


def test_a_jog_leaves_a_sliver_beside_it() -> None:
    # rows of 200 from 0; the wall jogs out by 1030 - 1000 = 30 mm over 800 mm: row 6 is there only
    shape = floor((0, 0), (3000, 0), (3000, 1000), (1800, 1000), (1800, 1030), (1000, 1030),
                  (1000, 1000), (0, 1000))  # fmt: skip
    assert sliver_length_at(shape, 200.0, 50.0, 0.0) == pytest.approx(800.0)
    assert sliver_length_at(shape, 200.0, 50.0, -100.0) == 0.0


def test_a_tip_beside_a_steep_wall_is_none() -> None:
    # the last row of a triangle at 45 degrees tapers to nothing within 50 mm of its length
    steep = floor((0, 0), (1000, 0), (0, 1000))
    assert sliver_length_at(steep, 200.0, 50.0, 0.0) == 0.0
    # at 4 degrees the row is below 50 mm over 50 / tan(4 deg) = 715 mm
    flat = floor((0, 0), (2000, 0), (0, 139.85))
    assert sliver_length_at(flat, 200.0, 50.0, 0.0) == pytest.approx(715.0, abs=1.0)


def test_a_narrow_arm_counts_over_its_own_length_only() -> None:
    # one row 180 mm wide with an arm of 30 mm: 800 mm long it is a sliver, 200 mm long it is none
    def arm(length: float) -> MultiPolygon:
        return floor((0, 0), (1000 + length, 0), (1000 + length, 30), (1000, 30), (1000, 180),
                     (0, 180))  # fmt: skip

    assert sliver_length_at(arm(800.0), 200.0, 50.0, 0.0) == pytest.approx(800.0)
    assert sliver_length_at(arm(200.0), 200.0, 50.0, 0.0) == 0.0
