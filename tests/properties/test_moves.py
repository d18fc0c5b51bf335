"""Turning a room, or mirroring it with everything in it, changes nothing that can be counted."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.application.plan_room import Effort, plan_room
from plankwright.model.board import Board, Hand
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.testing.moves import mirrored, mirrored_board, turned
from plankwright.testing.strategies import HANDS, angles, rooms
from plankwright.testing.zoo import zoo

BOARD = Board(1285.0, 192.0)
QUICK = Effort(moves=150, prove=False)
SAME = settings(derandomize=True, deadline=None, max_examples=25)


def told(plan: Plan) -> dict[str, object]:
    """Everything that a person would count or measure, whichever way the room is turned."""
    return {
        "boards": (plan.boards.used, plan.boards.bound, plan.boards.status, plan.packs),
        "rows": plan.laying.start_line_mm,
        "findings": Counter(finding.code for finding in plan.findings),
        "pieces": [
            (p.id, p.board, p.length_mm, p.width_mm, p.from_near_mm, p.near_end, p.far_end, p.label)
            for p in plan.pieces
        ],
    }


def plan_of(room: Room, board: Board = BOARD) -> Plan:
    return plan_room(room, board, Rules(), effort=QUICK)


@SAME
@given(rooms(any_angle=False), angles(), st.sampled_from(HANDS))
def test_turning_changes_nothing(room: Room, angle: float, hand: Hand) -> None:
    board = replace(BOARD, tongue_end=hand)
    assert told(plan_of(turned(room, angle), board)) == told(plan_of(room, board))


@SAME
@given(rooms(any_angle=False), st.sampled_from(HANDS))
def test_mirroring_room_board_and_direction_changes_nothing(room: Room, hand: Hand) -> None:
    board = replace(BOARD, tongue_end=hand)
    plan, seen = plan_of(room, board), plan_of(mirrored(room), mirrored_board(board))
    assert seen.laying.laid != plan.laying.laid
    assert told(seen) == told(plan)


@pytest.mark.parametrize("name", zoo())
def test_the_zoo_turned_and_mirrored(name: str) -> None:
    room = zoo()[name]
    board = mirrored_board(BOARD)
    plan = told(plan_of(room))
    assert told(plan_of(turned(room, 33.7))) == plan
    assert told(plan_of(mirrored(turned(room, 90.0)), board)) == plan
