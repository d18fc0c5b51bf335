"""What is odd in the rows: findings on pieces made by hand and on whole plans."""

from collections import Counter

import pytest
from shapely import Polygon, box

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


def test_a_tip_of_floor_too_small_for_a_piece_is_left_open_and_told() -> None:
    # rows of 192 from the wall: 3 whole ones; a nook of 9 x 10 mm above them is a fourth row of
    # 0.9 cm2, less than 1 cm2, so that nobody cuts a piece for it; one of 11 x 10 is 1.1 cm2
    def nook(width: float) -> Room:
        top = [(500.0 + width, 576.0), (500.0 + width, 586.0), (500.0, 586.0), (500.0, 576.0)]
        return Room(Polygon([(0, 0), (3000, 0), (3000, 576), *top, (0, 576)]))

    rules = Rules(gap_mm=0.0)
    wishes = Wishes(start_wall="A-B", first_row_mm=192.0)
    plan = plan_room(nook(9.0), BOARD, rules, wishes, effort=QUICK)
    told = [finding for finding in plan.findings if finding.code == "scrap"]
    assert [finding.where for finding in told] == ["beside row 3"]
    assert "up to 0.90 cm²" in told[0].message
    assert max(piece.row for piece in plan.pieces) == 3
    larger = plan_room(nook(11.0), BOARD, rules, wishes, effort=QUICK)
    assert "scrap" not in codes(larger)
    assert max(piece.row for piece in larger.pieces) == 4


def test_rows_on_the_diagonal_leave_no_crack_in_a_corner() -> None:
    # each corner of a room is a tip of a row at 45 degrees: d deep it has d x d of floor; however
    # the rows fall, the plan passes, and what is under 1 cm2 (10 mm deep) gets no piece
    room = Room(box(0.0, 0.0, 1900.0, 1500.0))
    for tenths in range(0, 130, 5):
        wishes = Wishes(row_angle_deg=45.0, first_row_mm=60.0 + tenths / 10.0)
        plan = plan_room(room, BOARD, wishes=wishes, effort=Effort(moves=0, looks=0, prove=False))
        assert min(piece.outline.area for piece in plan.pieces) > 99.0


# --- the unit of the job ---------------------------------------------------------------------
# 1 in = 25.4 mm exactly (NIST SP 811, B.6): 50 mm is 1.97 in, 234 mm 9.21, 642 mm 25.28

NOOK = Polygon([(0, 0), (3000, 0), (3000, 576), (509, 576), (509, 586), (500, 586), (500, 576),
                (0, 576)])  # fmt: skip


@pytest.mark.parametrize(
    ("room", "rules", "wishes", "told"),
    [
        (
            rectangle(250.0, 600.0).outline, Rules(), Wishes(row_wall="A-B"),
            'the row is only 9 3/16" long here',
        ),
        (
            rectangle(1400.0, 400.0).outline, Rules(shortest_piece_mm=1200.0), Wishes(),
            ', where 47 1/4" is the least; no joint of this stretch is legal',
        ),
        (
            rectangle().outline, Rules(), Wishes(first_row_mm=30.0),
            'row 1 is narrower than 1 15/16" here',
        ),
        (
            rectangle(1400.0, 592.0).outline,
            Rules(shortest_piece_mm=600.0, joint_offset_mm=642.0), Wishes(),
            'apart, where 25 1/4" is the least',
        ),
        (
            NOOK, Rules(gap_mm=0.0), Wishes(start_wall="A-B", first_row_mm=192.0),
            "of up to 0.14 sq in",  # 90 mm2 over 645.16 mm2
        ),
        (
            rectangle().outline, Rules(gap_mm=17.0), Wishes(),
            'its gap of 11/16" is wider than the 5/8" that the trim covers',
        ),
    ],
    ids=["short-stretch", "short-piece", "narrow-row", "joint-offset", "scrap", "gap-uncovered"],
)  # fmt: skip
def test_a_job_in_inches_is_told_in_inches(
    room: Polygon, rules: Rules, wishes: Wishes, told: str
) -> None:
    plan = plan_room(Room(room), BOARD, rules, wishes, unit="in", effort=QUICK)
    messages = [finding.message for finding in plan.findings]
    assert any(told in message for message in messages), messages
    assert not any(" mm" in message or "cm" in message for message in messages)
