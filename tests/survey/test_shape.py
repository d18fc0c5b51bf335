"""The shape from rough lengths alone; what has to be assumed is said."""

import math
import os
import subprocess
import sys
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.survey.rooms import CLIPPED, CROOKED, L_ROOM, RECTANGLE, TWELVE, Corner, taped

from plankwright.model.survey import BelievedAngle, Distance, Survey, WallDistance
from plankwright.survey.network import Turn
from plankwright.survey.shape import Shape, find_shape


def assert_same_room(shape: Shape, room: tuple[Corner, ...], within_mm: float = 1.0) -> None:
    """All distances between corners agree, and the corners run anticlockwise."""
    got = shape.adjusted.xy[: len(room)]
    for i in range(len(room)):
        for j in range(i):
            apart = float(np.hypot(*(got[i] - got[j])))
            assert apart == pytest.approx(math.dist(room[i], room[j]), abs=within_mm)
    x, y = got.T
    assert x @ np.roll(y, -1) - y @ np.roll(x, -1) > 0.0


@pytest.mark.parametrize(
    ("room", "diagonals", "square"),
    [
        (CROOKED, "AC", ""),
        (CROOKED, "AC BD", ""),
        (CROOKED, "BD", "A"),
        (CLIPPED, "AC CE", ""),
        (L_ROOM, "", "ABCDEF"),
        (L_ROOM, "AC AD BD DF", ""),
        (TWELVE, "", "ABCDEFGHIJKL"),
        (TWELVE, "AG BF CI DK", "ABCDEFGHIJKL"),
    ],
)
def test_the_room_is_found_from_its_lengths(
    room: tuple[Corner, ...], diagonals: str, square: str
) -> None:
    shape = find_shape(taped(room, diagonals, square=square))
    assert_same_room(shape, room, within_mm=25.0 if room is CROOKED and square else 1.0)
    assert not shape.crossed
    assert shape.room.assumed_corners == ()


def test_first_corner_at_the_origin_and_first_wall_along_x() -> None:
    shape = find_shape(taped(CROOKED, "AC BD"))
    assert shape.adjusted.at("A") == pytest.approx((0.0, 0.0), abs=1e-6)
    assert shape.adjusted.at("B") == pytest.approx((4200.0, 0.0), abs=1e-6)
    assert shape.adjusted.at("D")[1] > 0.0


def test_clockwise_corners_give_the_mirror_image() -> None:
    shape = find_shape(taped(CROOKED, "AC BD", clockwise=True))
    assert shape.adjusted.at("D") == pytest.approx((20.0, -3590.0), abs=1e-3)


def test_a_fold_over_is_excluded_by_the_order_of_the_corners() -> None:
    # Five lengths of a quadrilateral fit two shapes; in the other one D lies across A-B,
    # and the walls would cross
    shape = find_shape(taped(RECTANGLE, "AC"))
    assert_same_room(shape, RECTANGLE)
    assert shape.rival is None


def test_an_inside_corner_of_an_l_needs_no_word() -> None:
    # All six corners are only said to be square: which one has 270 degrees follows
    shape = find_shape(taped(L_ROOM, "", square="ABCDEF"))
    turns = [o for o in shape.adjusted.observations if isinstance(o, Turn)]
    assert {turn.at: turn.degrees for turn in turns}["D"] == 270.0
    assert sum(turn.degrees for turn in turns) == 720.0  # (6 - 2) 180


def test_four_walls_alone_are_no_silent_rectangle() -> None:
    shape = find_shape(taped(RECTANGLE))
    assert shape.room.assumed_corners == ("A", "B", "C", "D")
    assert_same_room(shape, RECTANGLE)
    # The corners are only known to the assumption: 5 degrees over 3.6 m are 314 mm for one,
    # and four corners share it
    assert 40.0 < max(shape.adjusted.sd_of("C")) < 314.0


def test_only_the_loose_corner_is_assumed() -> None:
    # A triangle of walls and a diagonal hold A, B and C; D hangs on one length
    survey = Survey(
        ("A", "B", "C", "D"),
        (Distance("A", "B", 3000.0), Distance("B", "C", 4000.0), Distance("A", "C", 5000.0),
         Distance("C", "D", 3000.0)),
    )  # fmt: skip
    shape = find_shape(survey)
    assert "B" not in shape.room.assumed_corners  # 3-4-5 fixes it
    assert shape.room.guessed_walls == ()
    assert_same_room(shape, ((0, 0), (3000, 0), (3000, 4000), (0, 4000)), within_mm=2.0)


def test_a_missing_wall_of_a_square_room_follows_from_the_others() -> None:
    shape = find_shape(taped(L_ROOM, square="ABCDEF", left_out="CD"))
    assert shape.room.guessed_walls == ()
    assert_same_room(shape, L_ROOM)


def test_two_missing_walls_that_make_up_for_each_other_stay_a_guess() -> None:
    # B-C + D-E = 4500 is all that is known of them
    shape = find_shape(taped(L_ROOM, square="ABCDEF", left_out="BC DE"))
    assert shape.room.guessed_walls == (("B", "C"), ("D", "E"))


def test_two_shapes_that_fit_alike_are_both_told() -> None:
    # Without redundancy every corner of a fan from A may be mirrored
    names = "BCDEFGHIJKL"
    fan = " ".join("A" + other for other in names[1:-1])
    shape = find_shape(taped(TWELVE, fan))
    assert shape.rival is not None


def test_a_believed_obtuse_corner() -> None:
    survey = taped(CLIPPED)
    angles = tuple(
        BelievedAngle(corner, degrees)
        for corner, degrees in zip("ABCDE", (90, 90, 135, 135, 90), strict=True)
    )
    shape = find_shape(Survey(survey.corners, survey.distances, angles))
    assert_same_room(shape, CLIPPED)


def test_ties_place_a_post_inside_the_room() -> None:
    # 2500 from A and from B of a wall of 4200: 2100 along, sqrt(2500^2 - 2100^2) = 1356.5 off
    survey = taped(RECTANGLE, "AC BD")
    tied = Survey(
        survey.corners,
        (*survey.distances, Distance("A", "post", 2500.0), Distance("B", "post", 2500.0)),
        points=("post",),
    )
    assert find_shape(tied).adjusted.at("post") == pytest.approx((2100.0, 1356.466), abs=0.01)


@pytest.mark.parametrize("clockwise", [False, True])
def test_ties_to_two_walls(clockwise: bool) -> None:
    survey = taped(RECTANGLE, "AC BD", clockwise=clockwise)
    tied = Survey(
        survey.corners,
        survey.distances,
        points=("drain",),
        wall_distances=(
            WallDistance("drain", "A", "B", 800.0),
            WallDistance("drain", "A", "D", 900.0),
        ),
        clockwise=clockwise,
    )
    x, y = find_shape(tied).adjusted.at("drain")
    assert (x, abs(y)) == pytest.approx((900.0, 800.0), abs=0.01)
    assert (y < 0.0) == clockwise


@settings(derandomize=True, deadline=None, max_examples=25)
@given(
    seed=st.integers(0, 10_000),
    turn=st.integers(0, 5),
)
def test_where_the_naming_begins_changes_nothing(seed: int, turn: int) -> None:
    noise = np.random.default_rng(seed).normal(0.0, 15.0, (6, 2))
    room = tuple((x + dx, y + dy) for (x, y), (dx, dy) in zip(L_ROOM, noise, strict=True))
    turned = room[turn:] + room[:turn]
    shapes = [find_shape(taped(r, "AD BD CF", square="ABCDEF")) for r in (room, room)]
    assert shapes[0].adjusted.xy.tolist() == shapes[1].adjusted.xy.tolist()  # same bytes
    assert_same_room(find_shape(taped(turned, _all_pairs(6))), turned, within_mm=0.5)


def _all_pairs(n: int) -> str:
    names = "ABCDEFGHIJKL"[:n]
    walls = [{a, b} for a, b in zip(names, names[1:] + names[:1], strict=True)]
    return " ".join(
        a + b for i, a in enumerate(names) for b in names[i + 1 :] if {a, b} not in walls
    )


def test_a_survey_of_twelve_corners_takes_less_than_50_ms() -> None:
    surveys = [taped(TWELVE, _all_pairs(12)), taped(TWELVE, "AG BF CI", square="ABCDEFGHIJKL")]
    for survey in surveys:
        find_shape(survey)
        taken = []
        for _ in range(5):
            begun = time.perf_counter()
            find_shape(survey)
            taken.append(time.perf_counter() - begun)
        assert min(taken) < 0.050  # the least of five: the machine may be busy


def test_outside_corners_written_as_such_are_taken_at_their_word() -> None:
    # A comb of 10 corners whose notches are all alike: closing lengths alone cannot tell it from
    # its folded neighbors, the word 270 can
    comb = _comb(4)
    plain = taped(comb, square="ABCDEFGHIJ")
    assert find_shape(plain).rival is not None
    literal = tuple(
        BelievedAngle(name, 270.0 if _is_outside(comb, i) else 90.0)
        for i, name in enumerate(plain.corners)
    )
    told = find_shape(Survey(plain.corners, plain.distances, literal))
    assert told.rival is None
    assert_same_room(told, comb)


def test_many_square_corners() -> None:
    # 18 corners by their walls and beliefs alone; a diagonal settles what closing leaves open
    steps = (1310.0, 1520.0, 1275.0, 1645.0, 1190.0, 1411.0, 1730.0, 1057.0)
    heights = (3000.0, 3730.0, 2590.0, 4110.0, 3313.0, 2777.0, 3901.0, 3170.0)
    comb = _comb(8, steps, heights)
    shape = find_shape(taped(comb, "AJ BN", square="ABCDEFGHIJKLMNOPQR"))
    assert not shape.crossed
    assert_same_room(shape, comb)


def _comb(
    teeth: int,
    step: tuple[float, ...] = (1500.0, 1500.0, 1500.0, 1500.0),
    height: tuple[float, ...] = (3000.0, 3700.0, 3000.0, 3700.0),
) -> tuple[Corner, ...]:
    x = sum(step[:teeth])
    ring: list[Corner] = [(0.0, 0.0), (x, 0.0)]
    for i in range(teeth):
        ring += [(x, height[i]), (x - step[i], height[i])]
        x -= step[i]
    return tuple(ring)


def _is_outside(room: tuple[Corner, ...], i: int) -> bool:
    (ax, ay), (bx, by), (cx, cy) = room[i - 1], room[i], room[(i + 1) % len(room)]
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx) < 0.0


SHAPE_OF_THE_DEMO = """
from importlib import resources
from plankwright import api
from plankwright.survey.shape import find_shape
job = api.open_job(str(resources.files("plankwright") / "data" / "demo_room.toml"))
print(find_shape(job.survey).adjusted.xy.tolist())
"""


def test_the_same_coordinates_from_processors_that_add_in_another_order() -> None:
    """The linear algebra library has routines for each kind of processor; names it does not know
    change nothing. Coordinates a hair apart once gave two plans of one room."""
    told = {
        subprocess.run(
            [sys.executable, "-c", SHAPE_OF_THE_DEMO],
            env={**os.environ, "OPENBLAS_CORETYPE": kind},
            capture_output=True,
            encoding="utf-8",
            check=True,
        ).stdout
        for kind in ("Prescott", "Haswell")
    }
    assert len(told) == 1
    assert "5175.596" in told.pop()
