"""Plan axes: u along the rows, v across them, and back again."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, box

from plankwright.geometry.frame import Frame, on_grid
from plankwright.model.board import Laid
from plankwright.testing.strategies import LAIDS, angles


@pytest.mark.parametrize(
    ("angle", "laid", "u", "v"),
    [
        # the point (300, 100), seen with u along x: v is y right to left, -y left to right
        (0.0, "right-to-left", 300.0, 100.0),
        (0.0, "left-to-right", 300.0, -100.0),
        # u along y: turned by +90 degrees v is -x, by -90 degrees x
        (90.0, "right-to-left", 100.0, -300.0),
        (90.0, "left-to-right", 100.0, 300.0),
        (180.0, "right-to-left", -300.0, -100.0),
        (270.0, "left-to-right", -100.0, -300.0),
    ],
)
def test_axes_by_hand(angle: float, laid: Laid, u: float, v: float) -> None:
    seen = Frame(angle, laid).to_plan(Point(300.0, 100.0))
    assert (seen.x, seen.y) == (u, v)  # exactly: square rooms stay square


def test_facing_the_start_wall_u_runs_from_the_near_end() -> None:
    """Facing a wall to the north, left to right is eastward; v leads south, into the room."""
    frame = Frame(0.0, "left-to-right")
    assert frame.to_plan(Point(0.0, -1.0)).y == 1.0
    assert frame.to_plan(Point(1.0, 0.0)).x == 1.0
    # right to left along the same wall: u westward, v still south
    back = Frame(180.0, "right-to-left")
    assert back.to_plan(Point(0.0, -1.0)).y == 1.0
    assert back.to_plan(Point(1.0, 0.0)).x == -1.0


@settings(derandomize=True, deadline=None)
@given(angles(), st.sampled_from(LAIDS), st.integers(-9000, 9000), st.integers(-9000, 9000))
def test_there_and_back_again(angle: float, laid: Laid, x: int, y: int) -> None:
    frame = Frame(angle, laid)
    shape = box(x, y, x + 700, y + 300)
    assert frame.to_room(frame.to_plan(shape)).equals_exact(shape, 1e-8)
    assert frame.to_plan(shape).area == pytest.approx(700 * 300)


def test_the_grid_swallows_float_noise() -> None:
    shape = on_grid(Point(0.1 + 0.2, -1e-9))
    assert (shape.x, shape.y) == (0.3, 0.0)
    noisy = shapely.transform(box(0, 0, 4000, 3000), lambda xy: xy + 1e-10)
    assert Frame(0.0, "right-to-left").to_plan_grid(noisy).equals(box(0, 0, 4000, 3000))
    assert not np.signbit(shape.y)
