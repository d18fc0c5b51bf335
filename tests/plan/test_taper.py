"""Crooked rooms by hand: where a taper goes, and what the gaps can hide."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import InputError
from plankwright.plan.taper import Across, GapRules, TaperWay, WayName, taper_ways, way_words

IN = 25.4
BOARD = 7.5 * IN


def ways(taper_in: float, least: float, cover: float, planned: float = 0.5) -> dict[str, TaperWay]:
    """A room 15 ft wide at its narrow end, 20 ft long; gaps in inches."""
    across = Across(180.0 * IN, (180.0 + taper_in) * IN, 240.0 * IN)
    gaps = GapRules(planned * IN, least * IN, cover * IN)
    return {way.name: way for way in taper_ways(across, gaps, BOARD)}


def inches(ends: tuple[float, float]) -> tuple[float, float]:
    return round(ends[0] / IN, 6), round(ends[1] / IN, 6)


def test_two_inches_on_one_row_or_one_on_each_of_two() -> None:
    # 15 ft 0 in at one end, 15 ft 2 in at the other
    found = ways(2.0, 0.25, 0.75)
    follow, split = found["follow the start wall"], found["split the difference"]
    assert (follow.first_row_mm, follow.last_row_mm) == pytest.approx((0.0, 2.0 * IN))
    assert (split.first_row_mm, split.last_row_mm) == pytest.approx((1.0 * IN, 1.0 * IN))
    assert follow.seen_mm == pytest.approx(2.0 * split.seen_mm)
    assert inches(follow.start_gap_mm) == inches(split.last_gap_mm) == (0.5, 0.5)


def test_an_inch_over_gaps_of_half_an_inch() -> None:
    # evenly: 1/2 -+ 1/4 at all four corners; kept at one end: 1/2 there and 1 at the other
    found = ways(1.0, 0.25, 0.75)
    even, kept = found["even gaps"], found["gap kept at the narrow end"]
    assert inches(even.start_gap_mm) == inches(even.last_gap_mm) == (0.25, 0.75)
    assert inches(kept.start_gap_mm) == inches(kept.last_gap_mm) == (0.5, 1.0)


@pytest.mark.parametrize(
    ("least", "cover", "even", "kept"),
    [
        (0.25, 0.75, "", "trim does not cover"),  # 1/4 is allowed, 3/4 covered, 1 is not
        (0.375, 1.0, "gap too small", ""),  # 1/4 is too small, 1 is covered
        (0.25, 1.0, "", ""),
        (0.375, 0.75, "gap too small", "trim does not cover"),
    ],
)
def test_pass_or_fail_against_least_gap_and_trim(
    least: float, cover: float, even: str, kept: str
) -> None:
    found = ways(1.0, least, cover)
    assert found["even gaps"].fault == even
    assert found["gap kept at the narrow end"].fault == kept
    assert found["even gaps"].passes is (even == "")


def test_the_gaps_take_what_they_can_and_the_last_row_the_rest() -> None:
    # from 1/4 to 3/4 on two walls: 2 x 1/2 = 1 in hidden; of 2 in one is left for the last row
    gaps = GapRules(0.5 * IN, 0.25 * IN, 0.75 * IN)
    assert gaps.hidden_mm == pytest.approx(1.0 * IN)
    assert gaps.bow_mm == pytest.approx(0.5 * IN)
    shared = ways(2.0, 0.25, 0.75)["gaps and the last row"]
    assert inches(shared.start_gap_mm) == (0.25, 0.75)
    assert shared.last_row_mm == pytest.approx(1.0 * IN)
    assert "gaps and the last row" not in ways(1.0, 0.25, 0.75)


def test_turned_rows_are_cut_out_of_square_at_their_ends() -> None:
    # 2 in over 20 ft, board 7 1/2 in wide: 2 x 7.5 / 240 = 1/16 in
    turned = ways(2.0, 0.25, 0.75)["turn the rows"]
    assert turned.slant_mm == pytest.approx(IN / 16.0)
    assert turned.seen_mm == 0.0


def test_a_room_wider_at_its_near_end_is_the_mirror_image() -> None:
    gaps = GapRules(12.0, 6.0, 20.0)
    one = taper_ways(Across(4000.0, 4030.0, 6000.0), gaps, 192.0)
    other = taper_ways(Across(4030.0, 4000.0, 6000.0), gaps, 192.0)
    assert [way.start_gap_mm[::-1] for way in one] == [way.start_gap_mm for way in other]
    assert [way.fault for way in one] == [way.fault for way in other]


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    narrow=st.floats(1000.0, 10_000.0),
    taper=st.floats(0.0, 150.0),
    gaps=st.tuples(st.floats(4.0, 8.0), st.floats(8.0, 12.0), st.floats(12.0, 30.0)),
)
def test_floor_gaps_and_tapers_add_up_to_the_room(
    narrow: float, taper: float, gaps: tuple[float, float, float]
) -> None:
    """At both ends: the field as wide as at the narrow end, plus tapers and gaps, is the room."""
    across = Across(narrow, narrow + taper, 5000.0)
    for way in taper_ways(across, GapRules(gaps[1], gaps[0], gaps[2]), 192.0):
        if way.name == "turn the rows":
            continue
        field = narrow - way.start_gap_mm[0] - way.last_gap_mm[0]
        at_far = field + way.start_gap_mm[1] + way.last_gap_mm[1]
        at_far += way.first_row_mm + way.last_row_mm
        assert at_far == pytest.approx(across.far_mm, abs=1e-6)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        (
            "even gaps",
            'Straight rows, gaps of 1/4" at the narrow end and 3/4" at the wide one, at all '
            "four corners.",
        ),
        (
            "gap kept at the narrow end",
            'Straight rows, gaps of 1/2" at the narrow end and 1" at the wide one; no: the trim '
            "does not cover the gap at the wide end.",
        ),
        ("split the difference", '1/2" of taper in the first row and 1/2" in the last one.'),
    ],
)
def test_ways_in_words(name: WayName, words: str) -> None:
    assert way_words(ways(1.0, 0.25, 0.75)[name], "in") == words


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="rise in this order"):
        GapRules(5.0, 8.0, 16.0)
    with pytest.raises(InputError, match="above 0"):
        Across(0.0, 4000.0, 5000.0)
