"""Strips of film: the handbook's example, an independent counter, cover and laps everywhere."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from plankwright.buying.strips import StripPlan, lay_strips, strips_across
from plankwright.model.roll import Roll, Sheeting


def counted(width: float, roll: float, lap: float, upturn: float) -> int:
    """Strips laid one after the other until the far upturn is covered: no formula."""
    covered, strips = roll, 1
    while covered < width + 2.0 * upturn - 1e-9:
        covered, strips = covered - lap + roll, strips + 1
    return strips


def uncovered_mm2(plan: StripPlan) -> float:
    strips = shapely.union_all([plan.outline(strip) for strip in plan.strips])
    return float(shapely.difference(plan.region, strips).area)


def test_the_worked_example_of_the_handbook() -> None:
    # W30: room 3.65 x 4.70 m, roll 2.0 m, lap 0.20, upturn 0.05: 2 strips of 4.80 m, 9.60 m
    film = Sheeting(Roll(2000.0, 50_000.0), 200.0, 200.0, 50.0)
    laid = lay_strips(box(0, 0, 4700, 3650), film, 0.0)
    assert [round(strip.length_mm, 6) for strip in laid.strips] == [4800.0, 4800.0]
    assert laid.strips[-1].v1 - laid.strips[0].v0 == pytest.approx(3800.0)
    # with a 1.0 m roll 5 strips
    narrow = Sheeting(Roll(1000.0, 50_000.0), 200.0, 200.0, 50.0)
    assert len(lay_strips(box(0, 0, 4700, 3650), narrow, 0.0).strips) == 5


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.integers(100, 20_000), st.integers(500, 4000), st.integers(0, 240), st.integers(0, 300))
def test_the_formula_is_the_counting_loop(width: int, roll: int, lap: int, upturn: int) -> None:
    assert strips_across(width, roll, lap, upturn) == counted(width, roll, lap, upturn)


@st.composite
def rooms(draw: st.DrawFn) -> BaseGeometry:
    """Rectangles with a bite out of a corner or a wall, turned by any angle."""
    w, h = draw(st.integers(1500, 9000)), draw(st.integers(1500, 7000))
    x, y = draw(st.integers(0, w - 500)), draw(st.integers(h // 2, h - 200))
    bite = box(x, y, x + draw(st.integers(300, 6000)), h + 1)
    room = shapely.difference(box(0, 0, w, h), bite)
    slant = Polygon([(0, 0), (w, draw(st.integers(-200, 200))), (w, h + 500), (0, h + 500)])
    return affinity.rotate(shapely.intersection(room, slant), draw(st.integers(0, 179)))


@settings(derandomize=True, deadline=None, max_examples=80)
@given(
    rooms(), st.sampled_from([500.0, 1000.0, 2000.0, 3000.0]), st.sampled_from([0.0, 100.0, 200.0]),
    st.sampled_from([0.0, 75.0]), st.integers(0, 179), st.booleans(),
)  # fmt: skip
def test_floor_and_upturn_are_covered_and_laps_kept(
    room: BaseGeometry, roll: float, lap: float, upturn: float, angle: int, from_far: bool
) -> None:
    laid = lay_strips(room, Sheeting(Roll(roll, 25_000.0), lap, lap, upturn), angle,
                      from_far=from_far)  # fmt: skip
    # every corner of the room lies an upturn inside the region, and the region under strips
    if upturn:
        assert laid.region.covers(room.buffer(upturn - 0.5, join_style="mitre"))
    assert uncovered_mm2(laid) < 1.0
    # wherever the floor runs on from strip to strip, both lie there over the full lap
    lines = sorted({round(strip.v1, 6) for strip in laid.strips})
    flat = affinity.rotate(laid.region, -angle, origin=(0.0, 0.0))
    for end in lines[:-1]:
        zone = shapely.intersection(flat, box(-1e5, end - lap, 1e5, end))
        here = [box(s.u0, s.v0, s.u1, s.v1) for s in laid.strips if abs(s.v1 - end) < 1e-3]
        there = [box(s.u0, s.v0, s.u1, s.v1) for s in laid.strips if abs(s.v0 - end + lap) < 1e-3]
        assert shapely.difference(zone, shapely.union_all(here)).area < 1.0
        assert shapely.difference(zone, shapely.union_all(there)).area < 1.0
