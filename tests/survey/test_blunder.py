"""The measurement to take again is named; good ones are not accused."""

import math

import numpy as np
import pytest
from tests.survey.rooms import CROOKED, L_ROOM, RECTANGLE, taped

from plankwright.model.survey import Survey
from plankwright.survey.adjust import adjust
from plankwright.survey.blunder import (
    FALSE_ALARM,
    critical_size,
    detectable,
    find_blunders,
    predict,
    sight,
)
from plankwright.survey.network import Length, Network, Turn
from plankwright.survey.quantiles import normal_two_sided
from plankwright.survey.shape import find_shape


def blamed(survey: Survey) -> list[str]:
    suspects, _ = find_blunders(survey, find_shape(survey))
    return [suspect.name for suspect in suspects]


def test_a_good_survey_is_not_accused() -> None:
    assert blamed(taped(CROOKED, "AC BD")) == []
    assert blamed(taped(L_ROOM, "AD BD CF AE", square="ABCDEF")) == []


@pytest.mark.parametrize("wrong", ["AB", "CD", "EF", "AD", "BF"])
@pytest.mark.parametrize("error_mm", [-300.0, 90.0, 700.0])
def test_the_wrong_length_is_named_and_left_out(wrong: str, error_mm: float) -> None:
    survey = taped(L_ROOM, "AC AD AE BD BE BF CE CF DF", wrong={wrong: error_mm})
    suspects, rest = find_blunders(survey, find_shape(survey))
    first = suspects[0]
    assert first.name == f"{wrong[0]}-{wrong[1]}"
    assert first.left_out
    assert first.error == pytest.approx(error_mm, abs=6.0)
    assert first.row == [d.name for d in survey.distances].index(first.name)
    assert np.abs(rest.adjusted.residuals).max() < 0.1


def test_a_single_check_cannot_tell_which() -> None:
    # Six lengths of a quadrilateral, one more than needed: all residuals are of one size
    survey = taped(RECTANGLE, "AC BD", wrong={"AC": 44.0})
    suspects, _ = find_blunders(survey, find_shape(survey))
    assert len(suspects) == 1
    assert len({suspects[0].name, *suspects[0].or_else}) == 6
    assert not suspects[0].left_out


def test_a_usual_slip_speaks_for_one_of_several() -> None:
    # D-A written 10 cm too long: no other of the six is out by a round figure
    survey = taped(CROOKED, "AC BD", square="ABCD", wrong={"DA": 100.0})
    suspects, _ = find_blunders(survey, find_shape(survey))
    assert suspects[0].name == "D-A"


def test_a_gross_slip_is_told_by_the_room_it_leaves() -> None:
    # Without A-B the room is a usual one, without any other length it is not
    survey = taped(CROOKED, "AC BD", wrong={"AB": -3000.0})
    suspects, rest = find_blunders(survey, find_shape(survey))
    assert suspects[0].name == "A-B"
    assert suspects[0].fits == pytest.approx(4200.0, abs=1.0)
    assert rest.adjusted.at("B") == pytest.approx((4200.0, 0.0), abs=1.0)


def test_two_blunders_are_both_found() -> None:
    pairs = "AC AD AE BD BE BF CE CF DF"
    survey = taped(L_ROOM, pairs, wrong={"AD": 150.0, "EF": -220.0})
    assert set(blamed(survey)) == {"A-D", "E-F"}


def test_a_wrong_belief_is_named_and_is_no_length() -> None:
    # A corner of 86 degrees that was believed to be square
    room = (
        (0.0, 0.0),
        (4200.0, 0.0),
        (4200.0, 3600.0),
        (3600.0 * math.tan(math.radians(4)), 3600.0),
    )
    survey = taped(room, "AC BD", square="A")
    suspects, rest = find_blunders(survey, find_shape(survey))
    assert [s.name for s in suspects] == ["angle at A"]
    assert suspects[0].is_belief
    assert suspects[0].fits == pytest.approx(86.0, abs=0.05)
    assert rest.room.believed == 0


def test_walls_that_cannot_close_are_blamed_before_the_beliefs() -> None:
    survey = taped(RECTANGLE, square="ABCD", wrong={"AB": 2000.0})
    suspects, _ = find_blunders(survey, find_shape(survey))
    assert {suspects[0].name, *suspects[0].or_else} == {"A-B", "C-D"}


def test_critical_value_by_hand() -> None:
    # Four lengths of ten (those to E and F) are checked by nothing: six tests and one chance in
    # fifty of a false alarm, so each keeps 0.98^(1/6) = 0.99664
    adjusted = adjust(find_shape(taped(L_ROOM, "AC AD BD DF")).adjusted.network)
    assert (adjusted.redundancy > 0.01).sum() == 6
    assert critical_size(adjusted, 10) == pytest.approx(normal_two_sided(0.98 ** (1 / 6)))
    assert FALSE_ALARM == 0.02


def test_detectable_by_hand() -> None:
    # Two readings of one length with sd 2: r = 1/2 each, so a blunder must reach
    # (critical + 0.8416) 2 / sqrt(1/2)
    points = {"A": (0.0, 0.0), "B": (1000.0, 0.0), "N": (0.0, 1e6)}
    network = Network(
        points,
        (Length("A", "B", 1000.0, 2.0), Length("A", "B", 1001.0, 2.0), Turn("A", "N", "B", 90, 1)),
        frozenset({"A", "N"}),
    )
    adjusted = adjust(network)
    limit = (critical_size(adjusted, 2) + 0.8416) * 2.0 / math.sqrt(0.5)
    assert detectable(adjusted, 2) == pytest.approx([limit, limit])
    assert detectable(adjusted, 3)[2] == math.inf
    assert sight(adjusted)[0, 1] == pytest.approx(-1.0)  # either may be the wrong one


def test_predicting_a_length_that_was_not_measured() -> None:
    shape = find_shape(taped(RECTANGLE, "AC"))
    length_mm, sd_mm = predict(shape.adjusted, Length("B", "D", 1.0, 1.0))
    assert length_mm == pytest.approx(math.hypot(4200, 3600), abs=1e-3)
    assert 3.0 < sd_mm < 15.0
