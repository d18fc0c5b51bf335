"""Which way a board can be laid: every setting, and what is said when it cannot."""

from itertools import product

import pytest

from plankwright.errors import InputError
from plankwright.model.board import Board, EndLock, Hand, Laid, Profile
from plankwright.plan.handedness import choose_direction, first_choice, possible
from plankwright.testing.moves import mirrored_board, mirrored_laid
from plankwright.testing.strategies import END_LOCKS, HANDS, LAIDS, PROFILES


def board_of(
    hand: Hand = "left",
    lock: EndLock = "drop",
    *,
    either_way: bool = False,
    reversible: bool = False,
    start_side: Profile = "tongue",
) -> Board:
    return Board(
        1285.0,
        192.0,
        reversible=reversible,
        start_side=start_side,
        tongue_end=hand,
        end_lock=lock,
        either_way=either_way,
    )


@pytest.mark.parametrize("start_side", PROFILES)
@pytest.mark.parametrize(
    ("hand", "lock", "either_way", "laid"),
    [
        # the tongue end must be the near end: on the left when laid left to right
        ("left", "drop", False, {"left-to-right"}),
        ("right", "drop", False, {"right-to-left"}),
        ("left", "drop", True, {"left-to-right"}),  # no leaflet can allow what cannot be
        ("left", "angle", False, {"left-to-right"}),
        ("right", "angle", False, {"right-to-left"}),
        ("left", "angle", True, set(LAIDS)),
        ("right", "angle", True, set(LAIDS)),
        ("left", "tap", False, set(LAIDS)),
        ("right", "loose", False, set(LAIDS)),
    ],
)
def test_possible_directions(
    start_side: Profile, hand: Hand, lock: EndLock, either_way: bool, laid: set[Laid]
) -> None:
    board = board_of(hand, lock, either_way=either_way, start_side=start_side)
    assert {way for way in LAIDS if possible(board, way)} == laid


def test_a_reversible_board_goes_either_way() -> None:
    board = board_of(reversible=True)
    assert all(possible(board, way) for way in LAIDS)
    assert choose_direction(board, None) == "left-to-right"
    assert choose_direction(board, "right-to-left") == "right-to-left"
    assert board.near_end("left-to-right") is None


@pytest.mark.parametrize(("hand", "lock"), list(product(HANDS, END_LOCKS)))
def test_without_a_wish_the_tongue_end_is_near(hand: Hand, lock: EndLock) -> None:
    board = board_of(hand, lock)
    laid = choose_direction(board, None)
    assert laid == first_choice(board)
    assert board.near_end(laid) == "tongue"
    assert possible(board, laid)


@pytest.mark.parametrize(("hand", "lock", "way"), list(product(HANDS, END_LOCKS, LAIDS)))
def test_a_mirror_changes_nothing(hand: Hand, lock: EndLock, way: Laid) -> None:
    board = board_of(hand, lock)
    assert possible(board, way) == possible(mirrored_board(board), mirrored_laid(way))


def test_an_impossible_wish_is_refused_with_reason_and_remedy() -> None:
    with pytest.raises(InputError) as caught:
        choose_direction(board_of("left", "drop"), "right-to-left")
    error = caught.value
    assert (error.where, error.value) == ("laid", "right-to-left")
    # laid right to left the near end is the right one, which has the groove and so the lip
    assert "push the lip of its groove end (its right end) under a laid tongue" in str(error)
    assert "dropping" in str(error)
    assert "Lay left to right" in error.remedy
    assert "either_way" not in error.remedy


def test_for_an_angle_lock_the_leaflet_may_allow_it() -> None:
    with pytest.raises(InputError) as caught:
        choose_direction(board_of("right", "angle"), "left-to-right")
    assert "its left end" in str(caught.value)
    assert "angling" in str(caught.value)
    assert "board.either_way = true" in caught.value.remedy
    allowed = board_of("right", "angle", either_way=True)
    assert choose_direction(allowed, "left-to-right") == "left-to-right"
