"""Why rules cannot be kept: cases whose limits can be worked out by hand."""

import pytest
from shapely import box

from plankwright.application.plan_room import plan_room
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.legal_change import Explanation, conflicting_rows, explain, is_broken
from plankwright.plan.planner import Task, make_plan


def task(length: float, offset: float, shortest: float, depth: float = 1000.0) -> Task:
    rules = Rules(
        gap_mm=0.0,
        kerf_mm=0.0,
        allowance_mm=0.0,
        joint_offset_mm=offset,
        shortest_piece_mm=shortest,
    )
    return Task(Room(box(0, 0, length, depth)), Board(1285, 192), rules, Wishes(row_angle_deg=0.0))


def changed(why: Explanation, rule: str) -> float:
    return next(change.to_mm for change in why.changes if change.rule == rule)


def test_an_offset_above_half_a_board_cannot_be_kept() -> None:
    # joints repeat every 1285 mm, so two rows are at most 1285 / 2 = 642.5 mm apart
    hopeless = task(4000, offset=700, shortest=300)
    assert is_broken(make_plan(hopeless))
    why = explain(hopeless)
    assert len(why.rows) == 2
    assert 600 <= changed(why, "joint offset") <= 642.5


def test_a_change_of_the_shortest_piece_helps_where_the_joint_has_no_room() -> None:
    # one joint in 1400 mm, from 350 to 1050 mm: 700 mm of room are less than the offset of 760;
    # with pieces of 320 mm it has 1400 - 640 = 760 mm, just enough
    why = explain(task(1400, offset=760, shortest=350))
    assert 300 <= changed(why, "shortest piece") <= 320
    assert 660 <= changed(why, "joint offset") <= 700


@pytest.mark.parametrize("change", ["joint_offset_mm", "shortest_piece_mm"])
def test_the_proposed_change_works(change: str) -> None:
    hopeless = task(1400, offset=760, shortest=350)
    to_mm = changed(explain(hopeless), change.removesuffix("_mm").replace("_", " "))
    other = {
        "joint_offset_mm": Rules(0, 0, 0, 350, to_mm),
        "shortest_piece_mm": Rules(0, 0, 0, to_mm, 760),
    }[change]
    plan = plan_room(hopeless.room, hopeless.board, other, hopeless.wishes)
    assert not is_broken(plan)


def test_rules_that_hold_have_no_conflicting_rows() -> None:
    assert conflicting_rows(task(4000, offset=300, shortest=300)) == ()


def told(plan: Plan) -> list[str]:
    return [f"{f.message}. {f.remedy}" for f in plan.findings if f.code == "rules-conflict"]


def test_the_plan_tells_it_and_still_passes_its_check() -> None:
    hopeless = task(4000, offset=700, shortest=300)
    plan = plan_room(hopeless.room, hopeless.board, hopeless.rules, hopeless.wishes)
    (words,) = told(plan)
    assert "rows 1 and 2 keep both a joint offset of 700 mm" in words
    assert "instead of 700 mm it works" in words


def test_a_plan_that_keeps_its_rules_tells_nothing() -> None:
    fine = task(4000, offset=300, shortest=300)
    assert told(plan_room(fine.room, fine.board, fine.rules, fine.wishes)) == []
