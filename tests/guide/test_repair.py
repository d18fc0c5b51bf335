"""Repair: what comes up, in which order, and against cutting out in place."""

from datetime import UTC, datetime, timedelta

import pytest
from shapely import box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.application.repair_piece import repair_pieces
from plankwright.buying.labor import is_crosscut, is_ripped
from plankwright.errors import InputError
from plankwright.guide.events import Event, PieceLaid
from plankwright.guide.laying_pace import pace_of
from plankwright.guide.repair import LiftingRates, Repair, repair
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
    assert "Cut 10.1.1 again, " in told
    assert "Lift row 10, whole." in told
    assert "from 10.1.1 to 10.1.4, in the order of the cards" in told
    near = repair_pieces(plan, ["1.1.1"])
    assert "Glue" in " ".join(near.steps)
    assert "no deeper than the board" in " ".join(near.repair.cut_out.against)


def test_the_locks_are_wiped_before_anything_is_laid_again() -> None:
    steps = repair_pieces(plain(), ["10.1.1"]).lifting
    order = [
        next(k for k, step in enumerate(steps) if words in step)
        for words in ("trim off", "Lift row", "Cut 10.1.1", "Wipe all", "lay again", "trim back")
    ]
    assert order == sorted(order)


def test_a_lock_that_breaks_is_warned_of() -> None:
    tapped = plan_of(Room(box(0, 0, 4016, 1936)), end_lock="tap")
    assert "break" in repair(tapped, ["10.1.1"]).lift.against[0]
    assert repair(plain(), ["10.1.1"]).lift.against == ()


def test_the_own_pace_counts_and_what_is_a_guess_says_so() -> None:
    plan = plain()
    guess = repair_pieces(plan, ["10.1.1"])
    assert [line.split(":")[0] for line in guess.minutes_from] == [
        "Laying and sawing", "Lifting and cutting out",
    ]  # fmt: skip
    own = LiftingRates(row=12.0, piece=0.5)
    slower = repair_pieces(plan, ["10.1.1"], lifting=own, rates=Rates())
    assert slower.repair.lift.minutes - guess.repair.lift.minutes == pytest.approx(10.0)
    assert slower.minutes_from == ("Cutting out: a rough guess; give your own minutes.",)
    with pytest.raises(InputError, match="minutes"):
        LiftingRates(cut_out=-1.0)


def test_minutes_follow_the_log() -> None:
    """Rates of 3 minutes a board, 3 a crosscut and 3 a row; the log shows twice of all that.

    Row 10 alone: its row and its boards take twice 3 minutes, trim and lifting take as before.
    """
    plan = plain()
    first = [piece for piece in plan.pieces if piece.row <= 9]
    share = 3.0 * 10 / len(plan.pieces)
    minutes = [2.0 * (share + 3.0 + 3.0 * is_crosscut(p) + 6.0 * is_ripped(p)) for p in first]
    middle = sum(minutes) / len(minutes)
    start = datetime(2030, 5, 4, 9, 0, tzinfo=UTC)
    log = [
        Event(
            str(n), n, "saw", (start + timedelta(minutes=middle * n)).isoformat(), PieceLaid(p.id)
        )
        for n, p in enumerate(first, start=1)
    ]
    found = repair_pieces(plan, ["10.1.1"], events=log)
    plain_time = repair_pieces(plan, ["10.1.1"]).repair.lift.minutes
    count = len(found.repair.lifted)
    bad = next(piece for piece in plan.pieces if piece.id == "10.1.1")
    more = 3.0 + 3.0 * count + 3.0 * ("cut" in (bad.near_end, bad.far_end))
    more += 6.0 * ("cut" in (bad.wall_side, bad.room_side))
    assert found.repair.lift.minutes - plain_time == pytest.approx(more, rel=0.03)
    assert "the log's own pace" in found.minutes_from[0]


def test_pauses_ticks_at_once_and_few_pieces_are_no_pace() -> None:
    plan, start = plain(), datetime(2030, 5, 4, 9, 0, tzinfo=UTC)
    names = [piece.id for piece in plan.pieces]

    def log(step_min: float, count: int) -> list[Event]:
        return [
            Event(str(n), n + 1, "saw", (start + timedelta(minutes=step_min * n)).isoformat(),
                  PieceLaid(names[n]))
            for n in range(count)
        ]  # fmt: skip

    assert pace_of(plan, log(5.0, 9), Rates()) is not None
    assert pace_of(plan, log(5.0, 8), Rates()) is None  # 7 steps
    assert pace_of(plan, log(45.0, 20), Rates()) is None
    assert pace_of(plan, log(0.1, 20), Rates()) is None
    assert pace_of(plan, [Event("a", 1, "saw", "noon", PieceLaid(names[0]))], Rates()) is None


def test_no_piece_is_refused() -> None:
    with pytest.raises(InputError):
        repair(plain(), [])
