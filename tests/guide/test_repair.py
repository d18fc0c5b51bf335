"""Repair: what comes up, in which order, and against cutting out in place."""

import pytest
from shapely import box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.application.repair_piece import repair_pieces
from plankwright.errors import InputError
from plankwright.guide.repair import Repair, repair
from plankwright.model.board import Board
from plankwright.model.plan import Plan, StockBoard
from plankwright.model.room import FixedThing, Room
from plankwright.model.rules import Rules
from plankwright.model.toolbox import Rates

QUICK = Effort(moves=500, looks=2)


def plan_of(room: Room, **fields: object) -> Plan:
    board = Board(1285.0, 192.0, **fields)  # type: ignore[arg-type]
    return plan_room(room, board, Rules(allowance_mm=0.0), effort=QUICK)


def plain() -> Plan:
    """4.016 x 1.936 m less gaps: ten rows of 4000 mm, four pieces each at most."""
    return plan_of(Room(box(0, 0, 4016, 1936)))


def test_everything_laid_after_a_row_comes_up_with_it() -> None:
    plan = plain()
    found = repair(plan, ["8.1.2"])
    assert found.rows == (8, 9, 10)
    of_rows = [piece.id for piece in plan.pieces if piece.row >= 8]
    assert sorted(found.lifted) == sorted(of_rows)
    assert found.relaid == tuple(of_rows)  # in laying order, as the plan lists them
    assert found.lifted[0].startswith("10.1.")  # the last row first, from its far end
    assert found.lifted == tuple(
        sorted(of_rows, key=lambda i: [int(n) for n in i.split(".")])[::-1]
    )


def test_what_is_not_laid_does_not_come_up() -> None:
    plan = plain()
    laid = [piece.id for piece in plan.pieces if piece.row <= 8]
    assert repair(plan, ["8.1.2"], laid=laid).rows == (8,)
    with pytest.raises(InputError, match=r"9\.1\.1"):
        repair(plan, ["9.1.1"], laid=laid)


def test_minutes_by_hand() -> None:
    # Row 10 alone: lift 2 and lay 3, trim of three walls off and on 3 x 2 x 10; each piece 0.5
    # apart and 3 to lay; the damaged whole board in the middle is not cut.
    plan = plain()
    whole = next(p for p in plan.pieces if p.row == 10 and p.cut_order is None)
    count = sum(piece.row == 10 for piece in plan.pieces)
    found = repair(plan, [whole.id])
    assert found.lift.minutes == pytest.approx(2 + 3 + 60 + count * 3.5)
    assert (found.lift.boards, found.cut_out.boards) == (1, 1)
    slower = repair(plan, [whole.id], rates=Rates(board=6.0))
    assert slower.lift.minutes - found.lift.minutes == pytest.approx(3.0 * count)


def test_near_the_start_wall_cutting_out_is_faster() -> None:
    plan = plain()
    assert repair(plan, ["10.1.1"]).advice == "lift"
    assert repair(plan, ["1.1.1"]).advice == "cut out"


def test_beside_a_post_only_what_was_joined_later_comes_up() -> None:
    # A hearth as deep as all rows but the first and the last parts the rows in two.
    hearth = FixedThing("hearth", box(1900, 300, 2100, 1600), gap_mm=8.0)
    plan = plan_of(Room(box(0, 0, 4016, 1936), fixed=(hearth,)))
    beside = next(p for p in plan.pieces if p.row == 5 and p.stretch == 2)
    found = repair(plan, [beside.id])
    up = {tuple(map(int, name.split(".")[:2])) for name in found.lifted}
    assert up >= {(5, 2), (6, 2)}
    assert not up & {(5, 1), (6, 1)}
    assert max(row for row, _ in up) == max(piece.row for piece in plan.pieces)


def test_a_spare_offcut_takes_the_place_of_a_board() -> None:
    plan = plain()
    end = next(p for p in plan.pieces if p.row == 10 and p.far_end == "cut")
    short = StockBoard(1, end.length_mm - 50.0, "near", label="P")
    long = StockBoard(2, end.length_mm + 50.0, "near", label="Q")
    wrong = StockBoard(3, end.length_mm + 50.0, "far", label="R")
    found = repair(plan, [end.id], shelf=[short, long, wrong])
    assert (found.replacement, found.lift.boards) == (((end.id, "Q"),), 0)


def test_lifted_pieces_are_labeled_with_their_numbers() -> None:
    found: Repair = repair(plain(), ["9.1.1"])
    assert {name for name, _ in found.labels} == set(found.lifted) - {"9.1.1"}
    assert all(text.startswith(name) for name, text in found.labels)


def test_the_advice_is_told_in_steps() -> None:
    plan = plain()
    told = " ".join(repair_pieces(plan, ["10.1.1"]).steps)
    assert "trim off along row 10" in told
    assert "Cut 10.1.1 again from a new board" in told
    told = " ".join(repair_pieces(plan, ["1.1.1"]).steps)
    assert "Glue" in told
    assert "no deeper than" in told


def test_a_lock_that_breaks_is_warned_of() -> None:
    tapped = plan_of(Room(box(0, 0, 4016, 1936)), end_lock="tap")
    assert "break" in repair(tapped, ["10.1.1"]).lift.against[0]
    assert repair(plain(), ["10.1.1"]).lift.against == ()


def test_no_piece_is_refused() -> None:
    with pytest.raises(InputError):
        repair(plain(), [])
