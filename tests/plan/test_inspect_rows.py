"""What is odd in the rows: findings on pieces made by hand and on whole plans."""

from collections import Counter

import pytest
from shapely import Polygon

from plankwright.application.plan_room import Effort, plan_room
from plankwright.checker.check import check_plan
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import FixedThing, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.testing.zoo import rectangle

BOARD = Board(1285.0, 192.0)
QUICK = Effort(moves=150, prove=False)


def codes(plan: Plan) -> Counter[str]:
    return Counter(finding.code for finding in plan.findings)


def test_a_plain_room_has_nothing_to_check() -> None:
    plan = plan_room(rectangle(), BOARD, effort=QUICK)
    assert plan.findings == ()
    assert check_plan(plan).excused == ()


def test_a_stretch_shorter_than_the_shortest_piece_is_said_once() -> None:
    # a closet of 250 along the rows: 234 less two gaps; 5 rows
    room = Room(rectangle(250.0, 600.0).outline)
    plan = plan_room(room, BOARD, wishes=Wishes(row_wall="A-B"), effort=QUICK)
    assert codes(plan) == {"short-stretch": len(plan.pieces)}
    assert plan.findings[0].message == "the row is only 234 mm long here"


def test_no_legal_joint_gives_a_short_piece_that_is_said() -> None:
    # 1400 - 16 = 1384 = a + b with both at least 1200: impossible in boards of 1285
    plan = plan_room(
        Room(rectangle(1400.0, 400.0).outline), BOARD, Rules(shortest_piece_mm=1200.0), effort=QUICK
    )
    found = codes(plan)
    assert found["short-piece"] >= 2  # one in every row, or all
    named = {finding.where for finding in plan.findings if finding.code == "short-piece"}
    short = {piece.id for piece in plan.pieces if piece.length_mm < 1200.0 - 0.01}
    assert named == short
    assert plan.boards.evidence.kind == "area"  # prices count on the rule that is broken


def test_a_narrow_row_that_was_wished_is_said() -> None:
    plan = plan_room(rectangle(), BOARD, wishes=Wishes(first_row_mm=30.0), effort=QUICK)
    first_row = [piece for piece in plan.pieces if piece.row == 1]
    assert codes(plan) == {"narrow-row": len(first_row)}
    assert plan.findings[0].message == "row 1 is narrower than 50 mm here"


def test_the_tip_of_a_wall_across_the_rows_is_no_sliver() -> None:
    # the right wall leans by 45 degrees: every row ends in a tip
    room = Room(Polygon([(0, 0), (3000, 0), (4000, 1000), (0, 1000)]))
    plan = plan_room(room, BOARD, wishes=Wishes(row_wall="A-B"), effort=QUICK)
    assert "narrow-row" not in codes(plan)


def test_a_pipe_in_the_middle_of_a_board_makes_a_ring() -> None:
    pipe = FixedThing("pipe", Polygon([(1990, 1490), (2010, 1490), (2010, 1510), (1990, 1510)]))
    plan = plan_room(
        Room(rectangle().outline, fixed=(pipe,)),
        BOARD,
        Rules(joint_offset_mm=200.0),
        Wishes(first_row_mm=95.0),
        effort=QUICK,
    )
    rings = [piece for piece in plan.pieces if piece.outline.interiors]
    assert codes(plan)["ring-piece"] == len(rings) <= 1


def test_joints_that_cannot_keep_their_offset_are_named() -> None:
    # three rows of 1400 in boards of 1285 with joints at 300 to 1084 only: an offset of 640
    # cannot be kept twice (300, 940, and 300 again can; 0 more), so ask for one of 642.5 and
    # pieces of at least 600: joints lie from 600 to 784, never 642 apart
    plan = plan_room(
        Room(rectangle(1400.0, 592.0).outline),
        BOARD,
        Rules(shortest_piece_mm=600.0, joint_offset_mm=642.0),
        effort=QUICK,
    )
    rows = {piece.row for piece in plan.pieces}
    assert codes(plan) == {"joint-offset": len(rows) - 1}
    assert plan.findings[0].where == "1.1.1 and 2.1.1"
    assert "where 642 mm is the least" in plan.findings[0].message


@pytest.mark.parametrize("offset", [0.0, 300.0])
def test_an_offset_that_can_be_kept_is_kept(offset: float) -> None:
    plan = plan_room(rectangle(), BOARD, Rules(joint_offset_mm=offset), effort=QUICK)
    assert "joint-offset" not in codes(plan)
