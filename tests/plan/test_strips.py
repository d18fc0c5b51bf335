"""Hosts and guests: narrow rows that share ripped boards."""

from shapely import MultiPolygon, box

from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.board import Board
from plankwright.model.rules import Rules
from plankwright.optimize.instance import Role
from plankwright.plan.strips import strip_roles

BOARD = Board(1000.0, 200.0)


def roles(depth: float, start_line: float, board: Board = BOARD) -> list[Role]:
    """Roles of the rows of a floor 5 m long, laid from ``start_line``."""
    floor = MultiPolygon([box(0.0, 0.0, 5000.0, depth)])
    stretches = cut_rows(floor, board.width_mm, start_line)
    return strip_roles(stretches, contacts(stretches), board, Rules())


def test_two_narrow_outer_rows_share() -> None:
    # row 1 is 90 wide, then one whole row, then 100: 90 + 3 + 100 fits in 200
    found = roles(90.0 + 200.0 + 100.0, -110.0)
    assert sorted(found) == ["guest", "host", "plain"]
    assert found[1] == "plain"


def test_outer_rows_too_wide_for_one_board_stay_plain() -> None:
    # 110 + 3 + 100 = 213
    assert roles(110.0 + 200.0 + 100.0, -90.0) == ["plain"] * 3


def test_a_single_narrow_row_has_nobody_to_share_with() -> None:
    assert roles(200.0 + 200.0 + 80.0, 0.0) == ["plain"] * 3


def test_reversible_boards_have_no_sides() -> None:
    assert roles(390.0, -110.0, Board(1000.0, 200.0, reversible=True)) == ["plain"] * 3
