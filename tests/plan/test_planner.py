"""The planner: what a stopped search says."""

from shapely import box

from plankwright.checker.check import check_plan
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.plan.planner import Task, make_plan

TASK = Task(Room(box(0.0, 0.0, 6100.0, 4300.0)), Board(1285.0, 192.0))


def test_a_stopped_search_is_told_and_its_plan_is_whole() -> None:
    plan = make_plan(TASK, stop=lambda: True)
    assert [finding.code for finding in plan.findings] == ["time-limit"]
    assert check_plan(plan).ok


def test_a_search_left_alone_says_nothing() -> None:
    assert make_plan(TASK).findings == ()
