"""Strips cut from rolls: nothing lost, end laps kept, the aims told apart."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from plankwright.model.roll import Roll, Sheeting
from plankwright.plan.roll_cuts import plan_rolls


@st.composite
def rooms(draw: st.DrawFn) -> BaseGeometry:
    """Rectangles with a bite out of a corner or a wall, turned by any angle."""
    w, h = draw(st.integers(1500, 9000)), draw(st.integers(1500, 7000))
    x, y = draw(st.integers(0, w - 500)), draw(st.integers(h // 2, h - 200))
    bite = box(x, y, x + draw(st.integers(300, 6000)), h + 1)
    room = shapely.difference(box(0, 0, w, h), bite)
    slant = Polygon([(0, 0), (w, draw(st.integers(-200, 200))), (w, h + 500), (0, h + 500)])
    return affinity.rotate(shapely.intersection(room, slant), draw(st.integers(0, 179)))


@settings(derandomize=True, deadline=None, max_examples=40)
@given(rooms(), st.sampled_from([5_000.0, 12_000.0, 25_000.0]), st.booleans())
def test_rolls_hold_every_strip_with_its_end_laps(
    room: BaseGeometry, roll: float, joined: bool
) -> None:
    sheeting = Sheeting(Roll(1500.0, roll), 150.0, 200.0, 75.0, joined=joined)
    found = plan_rolls(room, sheeting, (0.0, 90.0))
    for cut in found.rolls:
        assert sum(part.length_mm for part in cut) <= roll + 0.1 * len(cut)
    for strip in found.plan.strips:
        parts = [p for cut in found.rolls for p in cut if p.strip == strip.number]
        whole = sum(p.length_mm for p in parts) - 200.0 * (len(parts) - 1)
        assert whole == pytest.approx(strip.length_mm, abs=0.01)
        assert all(p.length_mm > 200.0 or len(parts) == 1 for p in parts)
    assert found.least_rolls <= len(found.rolls)


def test_aims_differ() -> None:
    # 9.0 x 4.0 m: along the length 3 strips and 2 seams of 9.0; across 5 strips, 4 seams of 4.0
    room = box(0, 0, 9000, 4000)
    bare = Roll(2000.0, 9000.0)
    seam = plan_rolls(room, Sheeting(bare, 200.0, 200.0, 0.0, "shortest seam"), (0.0, 90.0))
    assert seam.plan.angle_deg == 90.0
    assert seam.seam_mm == pytest.approx(4 * 4000.0)
    rolls = plan_rolls(room, Sheeting(bare, 200.0, 200.0, 0.0, joined=False), (0.0, 90.0))
    assert len(rolls.rolls) == 3
    assert math.isclose(rolls.seam_mm, 2 * 9000.0 if rolls.plan.angle_deg == 0.0 else 16_000.0)
