"""Ellipses, the next measurement, bows, spans and contradictions."""

import math

import numpy as np
import pytest
from tests.survey import published_networks as published
from tests.survey.rooms import L_ROOM, RECTANGLE, TWELVE, taped

from plankwright.model.survey import BelievedAngle, Distance, StringLine, Survey
from plankwright.survey.adjust import adjust
from plankwright.survey.bow import bowed_outline
from plankwright.survey.contradictions import angle_gap_deg, contradictions
from plankwright.survey.ellipses import (
    ellipse,
    point_ellipses,
    relative_covariance,
    sure_factor,
    worst_mm,
)
from plankwright.survey.next_measurement import candidate_pairs, propose, tell_apart
from plankwright.survey.shape import adjust_from, find_shape
from plankwright.survey.span import span_mm, span_sure_mm

# --- ellipses ---


def test_ellipse_by_hand() -> None:
    # Variances 25 along x + y and 4 across: covariance (14.5, 10.5; 10.5, 14.5)
    found = ellipse(np.array([[14.5, 10.5], [10.5, 14.5]]), 1.0)
    assert (found.major_mm, found.minor_mm) == pytest.approx((5.0, 2.0))
    assert found.turned_deg == pytest.approx(45.0)


def test_published_point_has_an_ellipse_of_its_standard_deviations() -> None:
    # Benning (2011), ex. 8-8: x and y are not correlated by symmetry, so the half axes are the
    # standard deviations 0.00504 and 0.00996 (a posteriori)
    adjusted = adjust(published.FIVE_FIXED_POINTS)
    found = ellipse(adjusted.covariance_of("6"), adjusted.s0)
    assert found.major_mm / published.UNIT == pytest.approx(0.00996, abs=5e-6)
    assert found.minor_mm / published.UNIT == pytest.approx(0.00504, abs=5e-6)
    assert found.turned_deg == pytest.approx(90.0, abs=1e-6)


def test_factors() -> None:
    assert sure_factor() == pytest.approx(2.4477, abs=1e-4)
    assert sure_factor(3) == pytest.approx(math.sqrt(2 * 9.552), rel=1e-4)  # F(0.95; 2, 3) = 9.55


def test_relative_errors_do_not_depend_on_the_first_corner() -> None:
    room = L_ROOM
    turned = room[2:] + room[:2]
    one = find_shape(taped(room, "AC AD BD DF AE"))
    # The same lengths under other names: A is now called E
    other = find_shape(taped(turned, "EA EB FB BD EC"))
    first = point_ellipses(relative_covariance(one.adjusted, 6))
    second = point_ellipses(relative_covariance(other.adjusted, 6))
    majors = [e.major_mm for e in first]
    assert [e.major_mm for e in second] == pytest.approx(majors[2:] + majors[:2], rel=1e-6)


# --- the next measurement ---


def test_the_missing_diagonal_is_proposed() -> None:
    survey = taped(RECTANGLE)
    proposals = propose(survey, find_shape(survey), 8.0)
    assert len(proposals) == 1
    assert proposals[0].name in ("A-C", "B-D")
    assert proposals[0].before_mm > 100.0
    assert proposals[0].after_mm < 8.5
    assert proposals[0].length_mm == pytest.approx(5531.7, abs=1.0)


def test_what_was_promised_comes_true() -> None:
    # Measure what is proposed, exactly as predicted: the worst corner is as promised
    survey = taped(L_ROOM, square="ABCDEF")
    shape = find_shape(survey)
    for proposal in propose(survey, shape, 5.0):
        length = Distance(proposal.start, proposal.end, proposal.length_mm)
        survey = Survey(survey.corners, (*survey.distances, length), survey.angles)
        shape = adjust_from(survey, shape.adjusted.xy)
        worst = worst_mm(relative_covariance(shape.adjusted, 6), 6)
        assert worst == pytest.approx(proposal.after_mm, rel=1e-3)


def test_no_tape_goes_through_a_wall() -> None:
    survey = taped(L_ROOM, square="ABCDEF")
    pairs = candidate_pairs(survey, find_shape(survey).adjusted.xy)
    assert (2, 4) not in pairs  # C and E stand on both sides of the corner at D
    assert (0, 3) in pairs
    assert (2, 4) in candidate_pairs(survey, find_shape(survey).adjusted.xy, through_walls=True)


def test_a_room_that_is_known_needs_nothing() -> None:
    survey = taped(RECTANGLE, "AC BD")
    assert propose(survey, find_shape(survey), 8.0) == ()


def test_the_length_that_tells_two_shapes_apart() -> None:
    survey = taped(TWELVE, " ".join("A" + other for other in "CDEFGHIJK"))
    telling = tell_apart(survey, find_shape(survey))
    assert telling is not None
    assert abs(telling.here_mm - telling.rival_mm) > 30.0
    assert tell_apart(taped(RECTANGLE, "AC"), find_shape(taped(RECTANGLE, "AC"))) is None


# --- bows ---


@pytest.mark.parametrize("clockwise", [False, True])
@pytest.mark.parametrize("backward", [False, True])
def test_a_bow_goes_out_of_the_room(clockwise: bool, backward: bool) -> None:
    base = taped(RECTANGLE, "AC BD", clockwise=clockwise)
    ends = ("B", "A") if backward else ("A", "B")
    along = 3200.0 if backward else 1000.0
    # Blocks of 20, gap 32 at 1000 from A: the wall leaves the room by 12
    line = StringLine(*ends, ((along, 32.0), (2100.0, 20.2)), block_mm=20.0)
    survey = Survey(base.corners, base.distances, string_lines=(line,), clockwise=clockwise)
    outline, walls = bowed_outline(survey, find_shape(survey).adjusted.xy)
    assert walls == ("A-B", "A-B", "B-C", "C-D", "D-A")
    side = 12.0 if clockwise else -12.0
    assert outline[1] == pytest.approx((1000.0, side), abs=0.01)


# --- spans ---


def test_span_between_two_walls_by_hand() -> None:
    # Walls D-A (x = 0) and B-C (x = 4200), a row at y = 900: 4200. Corners known to sd 2 in x:
    # each wall at a quarter of its height has variance 4 (0.75^2 + 0.25^2) = 2.5, two walls 5.
    xy = np.array(RECTANGLE, dtype=float)
    covariance = np.diag([4.0, 0.0] * 4)
    along = np.array([1.0, 0.0])
    walls = ((3, 0), (1, 2))
    assert span_mm(xy, walls, (2000.0, 900.0), along) == pytest.approx(4200.0)
    sure = span_sure_mm(xy, covariance, walls, (2000.0, 900.0), along)
    assert sure == pytest.approx(1.96 * math.sqrt(5.0), rel=1e-6)


# --- contradictions ---


def test_a_length_longer_than_the_way_round() -> None:
    survey = taped(RECTANGLE, wrong={"AB": 8000.0})
    found = contradictions(survey)
    assert [c.distance.name for c in found] == ["A-B"]
    assert found[0].way == ("A", "D", "C", "B")
    assert found[0].way_mm == pytest.approx(11400.0)
    assert contradictions(taped(RECTANGLE, "AC BD")) == ()


@pytest.mark.parametrize(
    ("angles", "gap"),
    [
        ((90, 90, 90, 90), 0.0),
        ((90, 90, 90, 93), 0.0),  # within what beliefs may be out
        ((120, 120, 120, 120), 120.0),
        ((90, 90, 90, 90, 90), 90.0),  # five square corners make no room
        ((90, 90, 90, 90, 90, 90), 0.0),  # one of them is an outside corner
        ((90, 90, 135, 135, 90), 0.0),
    ],
)
def test_angles_that_add_up(angles: tuple[float, ...], gap: float) -> None:
    names = tuple("ABCDEF"[: len(angles)])
    beliefs = tuple(BelievedAngle(n, a) for n, a in zip(names, angles, strict=True))
    survey = Survey(names, (Distance("A", "B", 1000.0),), beliefs)
    assert angle_gap_deg(survey) == pytest.approx(gap)
