"""A second batch of so many boards: from which row on it is laid."""

import pytest
from shapely import box

from plankwright.application.lay_again import Asked, again
from plankwright.application.lay_day import Day, day_of
from plankwright.application.plan_room import Effort, plan_room
from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules

ROOM = Room(box(0, 0, 2000, 2000))


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Ten rows of two whole boards each: 20 boards, nothing is left over."""
    rules = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0, joint_offset_mm=0.0)
    made = plan_room(ROOM, Board(1000.0, 200.0), rules, effort=Effort(moves=2_000))
    assert (made.boards.used, len({p.row for p in made.pieces})) == (20, 10)
    return made


@pytest.fixture(scope="module")
def day(plan: Plan) -> Day:
    return day_of(plan)


def test_the_first_batch_goes_as_far_as_it_does(day: Day) -> None:
    # 20 whole boards, 7 of the second batch: 13 of the first make 6 rows, row 7 on takes 8: 1 more
    # than there are; from row 8 on 6 are taken, and 14 of the first are wanted: 1 is missing
    answer = again(day, ROOM, Asked(boards_left=20, second_batch_left=7))
    assert answer.boards_missing == 1
    # 21 whole boards, 8 of them of the second batch: rows 7 to 10 take just these
    answer = again(day, ROOM, Asked(boards_left=21, second_batch_left=8))
    assert (answer.plan.second_batch_row, answer.second_batch_boards) == (7, 8)
    assert answer.suffices


def test_uncounted_the_second_batch_begins_as_early_as_it_lasts(day: Day) -> None:
    answer = again(day, ROOM, Asked(second_batch_left=7))  # 3 rows of 2
    assert (answer.plan.second_batch_row, answer.second_batch_boards) == (8, 6)


def test_a_row_that_is_named_is_taken(day: Day) -> None:
    answer = again(day, ROOM, Asked(second_batch_left=7, second_batch_row=9))
    assert (answer.plan.second_batch_row, answer.second_batch_boards) == (9, 4)


def test_none_of_a_second_batch_is_one_batch(day: Day) -> None:
    answer = again(day, ROOM, Asked(boards_left=20, second_batch_left=0))
    assert answer.plan.second_batch_row is None
    assert answer.suffices


def test_there_cannot_be_more_of_it_than_there_are(day: Day) -> None:
    with pytest.raises(InputError, match="only 5 whole boards"):
        again(day, ROOM, Asked(boards_left=5, second_batch_left=6))
