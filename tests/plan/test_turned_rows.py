"""Rows turned end for end beyond a spline: by hand, laid by the simulator, checked."""

import random
from dataclasses import replace

import pytest
from shapely import box
from tests.plan.laying_rooms import any_u, closet_room, l_room, post_room
from tests.plan.laying_simulator import lay_all

from plankwright.application.laying_advice import laid_out
from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.guide.card_words import words_of
from plankwright.guide.cards import cards_of
from plankwright.model.board import Board
from plankwright.model.plan import Evidence, Plan, RowKind
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort
from plankwright.plan.laying_legs import legs_of
from plankwright.plan.planner import Task, make_plan
from plankwright.plan.turned_rows import spline_mm, turn_rows
from plankwright.testing.zoo import rectangle

BOARD = Board(1285.0, 192.0, start_side="groove", spline=True)
QUICK = Effort(moves=10, looks=0, prove=False)


def planned(room: Room, board: Board = BOARD, rules: Rules | None = None) -> Plan:
    return make_plan(Task(room, board, rules or Rules(), effort=QUICK))


# --- two rows by hand -------------------------------------------------------------------------


def two_rows() -> Plan:
    """Two rows of 1500 mm, boards of 1000, no kerf: a whole board and 500 in either row.

    The two pieces of 500 are the two halves of one board: 3 boards.
    """
    rules = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0, joint_offset_mm=400.0)
    board = Board(1000.0, 200.0, start_side="groove", spline=True)
    plan = planned(Room(box(0, 0, 1500, 400)), board, rules)
    assert plan.boards.used == 3
    return plan


def test_halves_of_one_board_want_the_same_end_when_one_of_them_is_turned() -> None:
    """Turned, both pieces of 500 mm need the far end of a board: 4 boards; 3.0 of area."""
    plan = two_rows()
    turned = turn_rows(plan, (RowKind(1, turned=True, joined="room-side"),))
    assert (turned.boards.used, turned.boards.bound) == (4, 3)
    assert turned.boards.evidence == Evidence("area")
    assert [p.outline for p in turned.pieces] == [p.outline for p in plan.pieces]
    cut = {p.row: p for p in turned.pieces if p.length_mm == pytest.approx(500.0)}
    assert cut[1].board != cut[2].board
    assert cut[1].from_near_mm == cut[2].from_near_mm


def test_a_board_whose_pieces_are_all_turned_is_turned_as_it_is() -> None:
    plan = two_rows()
    rows = tuple(RowKind(row, turned=True, joined="room-side") for row in (1, 2))
    turned = turn_rows(plan, rows)
    assert [p.board for p in turned.pieces] == [p.board for p in plan.pieces]
    for old, new in zip(plan.pieces, turned.pieces, strict=True):
        assert new.from_near_mm == pytest.approx(1000.0 - old.from_near_mm - old.length_mm)
    assert turn_rows(turned, ()).pieces == plan.pieces  # and back again
    assert turn_rows(turned, rows) == turned


def test_turned_pieces_go_where_there_is_room() -> None:
    """Three rows of 1400 mm, boards of 1000 mm, kerf 0: 400 + 1000, 1000 + 400, 400 + 1000.

    Boards: three whole ones, and one that gives starter and end piece, and one starter: 5. With
    row 1 turned its starter becomes an end piece, and finds a starter of row 3 or none: still 5.
    """
    rules = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0, joint_offset_mm=300.0)
    board = Board(1000.0, 200.0, start_side="groove", spline=True)
    plan = planned(Room(box(0, 0, 1400, 600)), board, rules)
    assert plan.boards.used == 5
    turned = turn_rows(plan, (RowKind(1, turned=True, joined="room-side"),))
    assert turned.boards.used == 5


# --- the order, the cards, the finding --------------------------------------------------------


def test_rows_before_the_line_are_turned_where_the_lock_takes_a_spline() -> None:
    plan = laid_out(planned(rectangle()), rectangle(), Wishes(begin_row=5))
    assert plan.rows == tuple(RowKind(row, True, "room-side") for row in range(1, 5))
    verdict = check_plan(plan)
    assert verdict.ok, verdict.faults[:3]
    assert lay_all(plan).refused == []
    assert [leg.words() for leg in legs_of(plan)] == [
        "rows 5 to 16", "rows 4 to 1, turned end for end",
    ]  # fmt: skip
    least, _, most, _ = plan.floor.bounds
    assert spline_mm(plan) == pytest.approx(most - least)
    told = next(finding for finding in plan.findings if finding.code == "row-turned")
    assert told.where == "row 4"
    assert "rows 1 to 4 lie turned end for end beyond a spline of 3984 mm" in told.message


def test_cards_of_turned_rows_speak_of_the_board() -> None:
    """Laid from the other end; an end that is kept is kept on the board, not on the floor."""
    plan = laid_out(planned(rectangle()), rectangle(), Wishes(begin_row=5))
    cards = {card.piece: card for card in cards_of(plan)}
    first = next(card for card in cards.values() if card.turned)
    assert (first.row, first.seat, first.of) == (4, first.of, first.of)
    assert words_of(first, plan).lay.startswith("Set the spline in the groove of row 5. Lay it fir")
    assert [card.piece for card in cards.values() if card.spline] == [first.piece]
    for card in cards.values():
        after = cards.get(f"{card.row}.{card.stretch}.{card.seat + 1}")
        if card.turned:
            assert card.joins == (after.piece if after else "")
    starter = cards[first.piece]
    last = cards["4.1.1"]
    assert (starter.ends, last.ends) == ("far", "near")
    assert words_of(last, plan).lay.startswith("Lay it against piece 4.1.2; leave the gap at its")


def test_without_a_spline_nothing_is_turned_and_two_tongues_take_none() -> None:
    plan = planned(rectangle())
    with pytest.raises(InputError, match="laid backwards"):
        laid_out(
            replace(plan, board=replace(BOARD, spline=False)), rectangle(), Wishes(begin_row=5)
        )
    tongue = planned(rectangle(), Board(1285.0, 192.0, spline=True))
    with pytest.raises(InputError, match="two tongues"):
        laid_out(tongue, rectangle(), Wishes(begin_row=5))
    both = replace(BOARD, laid_backwards=True)  # a lock that goes backwards needs no spline
    rows = laid_out(planned(rectangle(), both), rectangle(), Wishes(begin_row=5)).rows
    assert rows
    assert not any(row.turned for row in rows)


def test_the_checker_refuses_a_spline_between_tongues() -> None:
    plan = laid_out(planned(rectangle()), rectangle(), Wishes(begin_row=5))
    other = replace(plan.board, start_side="tongue")
    assert "lay-order" in {fault.code for fault in check_plan(replace(plan, board=other)).faults}


def test_turned_rows_of_drawn_rooms_can_be_laid() -> None:
    """Ls, Us, posts and a closet: checked, and laid by the simulator; outlines stay as they are."""
    chance, more = random.Random(9), 0
    rooms = [*((l_room, any_u, post_room)[n % 3](chance) for n in range(18)), closet_room()]
    for room in rooms:
        before = planned(room)
        plan = laid_out(before, room, Wishes(begin_row=chance.randint(2, 6)))
        assert lay_all(plan).refused == [], room.name
        verdict = check_plan(plan)
        assert verdict.ok, (room.name, verdict.faults[:3])
        assert {p.id: p.outline for p in plan.pieces} == {p.id: p.outline for p in before.pieces}
        more += plan.boards.used - before.boards.used
        assert (spline_mm(plan) > 0.0) == any(row.turned for row in plan.rows)
    assert more < 3 * len(rooms)  # boards shared by rows of both kinds are few
