"""Good plans pass: every room, turned by any angle, laid either way, kept as a file."""

from collections.abc import Callable

import pytest
from tests.checker.plan_maker import (
    BOARD,
    LEFT_TO_RIGHT,
    ROOMS,
    changed,
    plain_room,
    proven_room,
)

from plankwright.checker.check import check_plan
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.plan import Evidence, Plan


@pytest.mark.parametrize("room", ROOMS)
@pytest.mark.parametrize("angle", [0.0, 90.0, -137.25, 30.0])
@pytest.mark.parametrize("board", [BOARD, LEFT_TO_RIGHT])
def test_a_good_plan_passes(room: Callable[..., Plan], angle: float, board: Board) -> None:
    laid = "right-to-left" if board is BOARD else "left-to-right"
    plan = room(angle=angle, laid=laid, board=board)
    verdict = check_plan(plan)
    assert verdict.ok, verdict.faults[:5]
    assert verdict.excused == ()
    kept = check_plan(load_plan(dump_plan(plan)))  # rounded to 0.001 mm
    assert kept.ok, kept.faults[:5]


def test_prices_prove_51_boards_for_the_4_by_3_room() -> None:
    verdict = check_plan(proven_room())
    assert verdict.ok, verdict.faults[:5]


def test_an_exhausted_search_is_noted() -> None:
    plan = plain_room()
    boards = changed(plan.boards, bound=53, status="optimal", evidence=Evidence("search"))
    verdict = check_plan(changed(plan, boards=boards))
    assert verdict.ok
    assert "not re-checked" in verdict.notes[0]


def test_findings_without_a_broken_rule_excuse_nothing() -> None:
    plan = changed(plain_room(), findings=(Finding("short-piece", "1.1.1", "…"),))
    verdict = check_plan(plan)
    assert verdict.ok
    assert verdict.excused == ()
