"""Proofs along a line with a reach: two rows that would share boards but for the kerf."""

from dataclasses import replace

import pytest
from shapely import box

from plankwright.checker.check import check_plan
from plankwright.checker.chords import cut_along
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort
from plankwright.plan.planner import Task, make_plan

BOARD = Board(1285.0, 192.0)
RULES = Rules(gap_mm=0.0, allowance_mm=0.0)  # kerf 3


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Rows 96, 192, 192 and 96 mm wide: 96 + 3 + 96 does not fit into a board."""
    room = Room(box(0.0, 0.0, 2570.0, 576.0))
    wishes = Wishes(first_row_mm=96.0, row_angle_deg=0.0)
    return make_plan(Task(room, BOARD, RULES, wishes, effort=Effort(moves=500)))


def with_line(plan: Plan, y: float, reach: float) -> list[str]:
    evidence = replace(plan.boards.evidence, line_mm=(y, reach))
    changed = replace(plan, boards=replace(plan.boards, evidence=evidence))
    return [fault.code for fault in check_plan(changed).faults]


def test_four_rows_of_two_boards_need_eight(plan: Plan) -> None:
    # each row: 2570 = 2 x 1285 of length, whatever its starter; by area three rows' worth
    assert plan.boards.bound == 8
    line = plan.boards.evidence.line_mm
    assert line is not None
    assert line[0] == pytest.approx(96.0, abs=0.1)
    assert 0.0 < line[1] < 1.5
    assert check_plan(plan).ok


def test_without_its_reach_or_elsewhere_the_line_proves_less(plan: Plan) -> None:
    assert with_line(plan, 96.0, 0.06) == []
    assert with_line(plan, 40.0, 0.0) == ["bound"]  # meets no more than three rows
    assert with_line(plan, 150.0, 0.06) == ["bound"]


def test_a_line_as_wide_as_the_kerf_is_none(plan: Plan) -> None:
    assert with_line(plan, 96.0, 1.5) == ["bound"]
    assert with_line(plan, 96.0, -1.0) == ["bound"]
    assert with_line(plan, float("nan"), 0.0) == ["bound"]


def test_what_is_left_of_a_cut_along_the_row() -> None:
    # a cut of 5 between shapes, up to 3 of it across: 4 along
    assert cut_along(5.0, 1.5) == pytest.approx(4.0)
    assert cut_along(3.0, 0.0) == 3.0
    assert cut_along(1.0, 1.0) == 0.0
