"""Lanes: which lines show all that can lie side by side in a board."""

from shapely import MultiPolygon, Polygon, box, unary_union

from plankwright.geometry.rows import cut_rows
from plankwright.model.board import Board
from plankwright.model.rules import Rules
from plankwright.plan.lanes import LaneParts, lanes_of

BOARD = Board(1000.0, 200.0)
RULES = Rules(kerf_mm=3.0, allowance_mm=0.0)


def lanes(*shapes: Polygon, board: Board = BOARD) -> LaneParts:
    floor = unary_union(shapes)
    return lanes_of(cut_rows(MultiPolygon([floor]), board.width_mm, 0.0), board, RULES)


def test_whole_rows_need_a_single_lane() -> None:
    assert lanes(box(0.0, 0.0, 5000.0, 600.0)) == LaneParts(1, (None, None, None))


def test_two_narrow_rows_that_fit_into_one_board_have_a_lane_each() -> None:
    # row 1 from 110 on, row 3 up to 80: 90 + 3 + 80 fits in 200
    found = lanes(box(0.0, 110.0, 5000.0, 480.0))
    assert found.count == 2
    first, second, third = found.parts
    assert second is None
    assert {lane for lane, _, _ in first or ()} != {lane for lane, _, _ in third or ()}


def test_rows_too_wide_for_one_board_are_met_together() -> None:
    # row 1 from 98 on, row 3 up to 100: 102 + 3 + 100 does not fit
    assert lanes(box(0.0, 98.0, 5000.0, 500.0)).count == 1
    # 100 and 98 fit, but for a kerf: 100 + 3 + 98
    assert lanes(box(0.0, 100.0, 5000.0, 498.0)).count == 1


def test_a_row_narrow_in_part_is_met_in_part() -> None:
    # row 2 is full for 2 m and 60 wide beyond; row 1 needs only its room side
    found = lanes(box(0.0, 120.0, 5000.0, 260.0), box(0.0, 200.0, 2000.0, 400.0))
    assert found.count == 2
    parts = found.parts[1] or ()
    assert {(low, high) for _, low, high in parts} == {(0.0, 2000.0), (0.0, 5000.0)}


def test_reversible_boards_have_no_sides_to_share() -> None:
    board = Board(1000.0, 200.0, reversible=True)
    assert lanes(box(0.0, 110.0, 5000.0, 480.0), board=board).count == 1


def test_many_jogs_come_to_few_lanes_that_miss_nothing() -> None:
    steps = [box(500.0 * k, 10.0 * k, 500.0 * k + 500.0, 380.0 - 12.0 * k) for k in range(12)]
    found = lanes(*steps)
    assert found.count <= 4
    for parts in found.parts:
        met = sorted((low, high) for _, low, high in parts or ())
        assert not parts or met[0][0] == 0.0
        assert not parts or max(high for _, high in met) == 6000.0
