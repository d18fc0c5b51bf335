"""Squareness: corners, tapers, 3-4-5."""

import math

import pytest
from tests.survey.rooms import CLIPPED, L_ROOM, RECTANGLE, taped

from plankwright.model.survey import Distance, Survey
from plankwright.survey.shape import find_shape
from plankwright.survey.squareness import (
    corner_angle,
    corner_angles,
    meant_angle_deg,
    out_of_square_mm,
    square_checks,
    tapers,
)


def test_worked_example_of_the_handbook() -> None:
    # Handbook, example W31 (law of cosines): sides 4.200 and 3.600 m, diagonal 5.545 m measured
    # (5.5317 if square): corner 90.279 degrees, 17.5 mm over 3.6 m. Tolerances as given there.
    degrees = corner_angle(4200.0, 3600.0, 5545.0)
    assert degrees == pytest.approx(90.279, abs=0.001)
    assert out_of_square_mm(degrees - 90.0, 3600.0) == pytest.approx(17.5, abs=0.1)
    assert math.hypot(4200.0, 3600.0) == pytest.approx(5531.7, abs=0.05)


def test_the_same_example_as_a_survey() -> None:
    survey = Survey(
        ("A", "B", "C"),
        (Distance("A", "B", 4200.0), Distance("C", "A", 3600.0), Distance("B", "C", 5545.0)),
    )
    at_a = corner_angles(survey, find_shape(survey).adjusted)[0]
    assert at_a.degrees == pytest.approx(90.279, abs=0.001)
    assert at_a.meant_deg == 90.0
    assert at_a.first_mm == pytest.approx(17.5, abs=0.1)  # over the wall before it, C-A
    assert 0.03 < at_a.sd_deg < 0.2


def test_angles_of_a_room_add_up() -> None:
    survey = taped(L_ROOM, "AC AD BD DF")
    angles = corner_angles(survey, find_shape(survey).adjusted)
    assert [round(a.degrees) for a in angles] == [90, 90, 90, 270, 90, 90]
    assert sum(a.degrees for a in angles) == pytest.approx(720.0)


@pytest.mark.parametrize(
    ("degrees", "meant"),
    [(88.0, 90.0), (272.0, 270.0), (137.0, 135.0), (175.0, 180.0), (52.0, 45.0)],
)
def test_what_a_corner_was_meant_to_be(degrees: float, meant: float) -> None:
    assert meant_angle_deg(degrees) == meant


def test_taper_by_hand() -> None:
    # 3600 wide at A, 3640 at B; both walls share all of the 4200 but what the mean direction
    # of A-B and C-D, turned by half of atan(40/4200), takes off
    room = ((0.0, 0.0), (4200.0, 0.0), (4200.0, 3640.0), (0.0, 3600.0))
    survey = taped(room, "AC BD")
    first, second = tapers(survey, find_shape(survey).adjusted.xy)
    assert {first.wall, first.facing} == {"A-B", "C-D"}
    assert first.taper_mm == pytest.approx(40.0, abs=0.5)
    assert first.near_mm == pytest.approx(3600.0, abs=0.5)
    assert second.taper_mm == pytest.approx(0.0, abs=0.5)


def test_tapers_only_where_walls_face_each_other() -> None:
    survey = taped(L_ROOM, "AC AD BD DF")
    pairs = {(t.wall, t.facing) for t in tapers(survey, find_shape(survey).adjusted.xy)}
    assert pairs == {("B-C", "F-A"), ("A-B", "E-F")}
    assert tapers(taped(CLIPPED, "AC CE"), find_shape(taped(CLIPPED, "AC CE")).adjusted.xy)


def test_three_four_five() -> None:
    # Walls 4200 and 3600: 10 steps of 100 mm fit 4 times in 4200 (4000) and 3 times in 3600
    survey = taped(RECTANGLE, "AC BD")
    adjusted = find_shape(survey).adjusted
    checks = square_checks(survey, adjusted.xy, corner_angles(survey, adjusted), "mm")
    assert [check.corner for check in checks] == ["A", "B", "C", "D"]
    first = checks[0]
    assert (first.toward_before, first.toward_after) == ("D", "B")
    assert (first.before_mm, first.after_mm, first.square_mm) == (3000.0, 4000.0, 5000.0)
    assert first.expected_mm == pytest.approx(5000.0, abs=0.1)
    # In inches the steps are of 6 in: 26 of them would be 3 x 156 in, 4200 mm are 165 in: 6 steps
    inches = square_checks(survey, adjusted.xy, corner_angles(survey, adjusted), "in")[0]
    assert inches.after_mm == pytest.approx(4 * 6 * 6 * 25.4)


def test_no_three_four_five_at_an_inside_corner() -> None:
    survey = taped(L_ROOM, "AC AD BD DF")
    adjusted = find_shape(survey).adjusted
    checks = square_checks(survey, adjusted.xy, corner_angles(survey, adjusted), "mm")
    assert "D" not in [check.corner for check in checks]
