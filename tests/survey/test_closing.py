"""Closing errors and the compass rule, against published traverses.

J. Mahun, *Open Access Surveying Library* (jerrymahun.com), traverse computations and adjustment.
Feet. Last digits differ by one where the published figures start from rounded ones.
"""

import math

import pytest

from plankwright.errors import InputError
from plankwright.survey.closing import balance, closing, room_steps, step


def azimuth(degree: float, minute: float = 0.0, second: float = 0.0) -> float:
    return degree + minute / 60 + second / 3600


def length_and_azimuth(x: float, y: float) -> tuple[float, float]:
    return math.hypot(x, y), math.degrees(math.atan2(x, y)) % 360


def test_bearing_traverse() -> None:
    # Chapter E. The adjusted CD is printed 276.479; its own latitude and departure make 276.497
    steps = [
        step(472.68, 180 + azimuth(68, 5, 35)),
        step(216.13, 360 - azimuth(19, 46, 0)),
        step(276.52, azimuth(45, 55, 20)),
        step(382.24, 180 - azimuth(54, 59, 15)),
    ]
    error = closing(steps)
    assert (error.y, error.x) == pytest.approx((0.083, 0.075), abs=0.0011)
    published = [
        (-438.574, -176.386, 472.715), (-73.105, 203.382, 216.122),
        (198.635, 192.340, 276.497), (313.044, -219.336, 382.237),
    ]  # fmt: skip
    for (x, y), (departure, latitude, length) in zip(balance(steps), published, strict=True):
        assert (x, y) == pytest.approx((departure, latitude), abs=0.0011)
        assert math.hypot(x, y) == pytest.approx(length, abs=0.0011)


def test_traverse_adjustment_problem_2() -> None:
    steps = [
        step(639.15, azimuth(226, 54, 23)),
        step(523.69, 0.0),
        step(409.54, azimuth(235, 2, 29)),
        step(815.93, azimuth(79, 35, 2)),
    ]
    error = closing(steps)
    assert (error.y, error.x) == pytest.approx((-0.115, 0.107), abs=0.0011)
    assert error.gap == pytest.approx(0.157, abs=0.0011)
    assert error.one_in == pytest.approx(15_200, rel=0.01)  # 1:15,100 unrounded
    published = [
        (-466.761, -436.631, 639.150, azimuth(226, 54, 36.6)),
        (-0.023, 523.715, 523.715, azimuth(359, 59, 50.8)),
        (-335.663, -234.640, 409.544, azimuth(235, 2, 42.5)),
        (802.447, 147.556, 815.901, azimuth(79, 34, 50.5)),
    ]
    for (x, y), (departure, latitude, length, turn) in zip(balance(steps), published, strict=True):
        assert (x, y) == pytest.approx((departure, latitude), abs=0.0011)
        told = length_and_azimuth(x, y)
        assert told[0] == pytest.approx(length, abs=0.0011)
        assert told[1] == pytest.approx(turn, abs=0.6 / 3600)


def test_traverse_adjustment_problem_1() -> None:
    steps = [
        step(379.25, 180 - azimuth(36)),
        step(408.90, 180 + azimuth(75, 23, 18)),
        step(298.65, 360 - azimuth(14, 43, 29)),
        step(276.55, azimuth(63, 59, 20)),
    ]
    error = closing(steps)
    assert (error.y, error.x) == pytest.approx((0.150, -0.128), abs=0.0015)
    published = [
        (222.954, -306.862), (-395.637, -103.197), (-75.881, 288.809), (248.564, 121.250),
    ]  # fmt: skip
    for got, want in zip(balance(steps), published, strict=True):
        assert got == pytest.approx(want, abs=0.0011)


def test_balanced_steps_close() -> None:
    assert closing(balance([(3.0, 0.1), (0.0, 4.0), (-3.1, -4.2)])).gap == pytest.approx(0.0)


def test_walk_round_a_room() -> None:
    # 4200 out and 4195 back: 5 mm short along x
    steps = room_steps([4200.0, 3600.0, 4195.0, 3600.0], [90.0] * 4)
    error = closing(steps)
    assert (error.x, error.y) == pytest.approx((5.0, 0.0), abs=1e-9)
    assert error.one_in == pytest.approx(15595 / 5)


def test_a_walk_needs_two_steps() -> None:
    with pytest.raises(InputError):
        closing([(1.0, 0.0)])
