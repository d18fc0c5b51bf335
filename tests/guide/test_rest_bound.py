"""The bound of the rest: lines that a shelf lies beside, by hand."""

import pytest
from shapely import box

from plankwright.application.plan_room import plan_room
from plankwright.guide.as_laid import FloorState
from plankwright.guide.replan import plan_again
from plankwright.model.board import Board
from plankwright.model.plan import StockBoard
from plankwright.model.room import Room
from plankwright.model.rules import Rules


@pytest.mark.parametrize(("width", "fewest"), [(90.0, 6), (100.0, 4)])
def test_strips_too_narrow_for_any_row_prove_nothing_away(width: float, fewest: int) -> None:
    """Rows of 2 boards each, the last one 100 mm wide: 6 boards, as two such rips make 203 mm.

    Strips of the wall side, 100 mm wide, give the last row. Of 90 mm they give nothing, and a line
    95 mm from the wall sides shows it: it meets all three rows and none of the strips.
    """
    room = Room(box(0, 0, 2570 + 16, 2 * 192 + 100 + 16))
    rules = Rules(gap_mm=8.0, joint_offset_mm=0.0, narrowest_row_mm=50.0, allowance_mm=0.0)
    plan = plan_room(room, Board(1285.0, 192.0), rules)
    assert sorted({round(piece.width_mm) for piece in plan.pieces}) == [100, 192]
    strips = [StockBoard(0, 1285.0, "both", width, side="wall") for _ in range(3)]
    answer = plan_again(plan, room, FloorState(shelf=tuple(strips)))
    assert (answer.new_boards, answer.least_new_boards) == (fewest, fewest)
