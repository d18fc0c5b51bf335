"""What is said about a laying order, and the way out of the room."""

from dataclasses import replace

import pytest
from tests.plan.laying_rooms import closet_room, u_room

from plankwright.application.laying_advice import laid_out
from plankwright.application.plan_room import Effort, plan_room
from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan
from plankwright.model.room import Doorway, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.testing.zoo import rectangle

BOARD = Board(1285.0, 192.0)
QUICK = Effort(moves=10, looks=0, prove=False)
BELOW = Wishes(start_wall="A-B", first_row_mm=192.0)


def planned(room: Room, board: Board = BOARD, wishes: Wishes = BELOW) -> Plan:
    return plan_room(room, board, Rules(gap_mm=0.0), wishes, effort=QUICK)


def told(plan: Plan, code: str) -> list[Finding]:
    return [finding for finding in plan.findings if finding.code == code]


def test_a_plain_room_needs_no_word() -> None:
    codes = {finding.code for finding in planned(rectangle()).findings}
    assert codes & {"second-start", "row-backwards", "piece-awkward", "row-too-long"} == set()


def test_two_legs_need_one_line() -> None:
    (finding,) = told(planned(u_room(leg=1920.0)), "second-start")
    assert finding.where == "row 1, stretch 2"
    assert "until row 11 joins" in finding.message
    assert "one line for both" in finding.remedy


def test_a_row_that_hangs_on_a_closet_needs_a_line() -> None:
    (finding,) = told(planned(closet_room(deep=768.0)), "second-start")
    assert finding.where == "row 5"
    assert "hangs on a short piece" in finding.message


def test_rows_laid_backwards_are_told() -> None:
    plan = planned(closet_room(deep=768.0), replace(BOARD, laid_backwards=True))
    (finding,) = told(plan, "row-backwards")
    assert finding.message.startswith("rows 1 to 4 are laid backwards")
    assert told(plan, "second-start") == []
    assert [row.row for row in plan.rows] == [1, 2, 3, 4]


def test_long_rows_and_stop_lines_are_told() -> None:
    plan = planned(rectangle(), replace(BOARD, end_lock="angle"),
                   replace(BELOW, longest_alone_mm=3000.0, half_at_a_time=True))  # fmt: skip
    (finding,) = told(plan, "row-too-long")
    assert finding.message.startswith("rows 1 to 16 must be put together")
    (finding,) = told(plan, "stop-line")
    assert "51% of the floor lies before the joint after row 8" in finding.message


@pytest.mark.parametrize(("wall", "early"), [("A-B", True), ("C-D", False)])
def test_the_way_out(wall: str, early: bool) -> None:
    door = Doorway(wall, 1000.0, 800.0, name="door")
    room = replace(rectangle(), doorways=(door,))
    (finding,) = told(planned(room, wishes=replace(BELOW, way_out="door")), "way-out")
    assert finding.where == wall
    assert ("carried over it" in finding.message) == early
    assert bool(finding.remedy) == early
    with pytest.raises(InputError, match="no such doorway"):
        planned(room, wishes=replace(BELOW, way_out="window"))


def test_advice_is_given_to_any_plan() -> None:
    plan = planned(rectangle())
    again = laid_out(replace(plan, findings=()), rectangle(), BELOW)
    assert again.pieces == plan.pieces
