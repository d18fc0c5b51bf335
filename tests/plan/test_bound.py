"""The bound of a floor: honest on rooms that can be counted, and its prices hold when re-added."""

import pytest
from shapely import MultiPolygon, Polygon, box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.optimize.bounds import Bound
from plankwright.plan.bound import bound_lines, evidence
from plankwright.plan.planner import area_bound
from plankwright.testing.zoo import zoo

BOARD = Board(1285.0, 192.0)
NOTHING = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)


def best_bound(floor: Polygon, board: Board, rules: Rules) -> int:
    stretches = cut_rows(MultiPolygon([floor]), board.width_mm, 0.0)
    lines = bound_lines(stretches, contacts(stretches), board, rules)
    return max(line.bound.boards for line in lines)


def test_51_boards_for_4_by_3_meters() -> None:
    # the design's example: 16 stretches of 4000, relaxation 50.667
    assert best_bound(box(0, 0, 4000, 3000), BOARD, NOTHING) == 51


@pytest.mark.parametrize(
    ("length", "rows", "boards"),
    [
        # three pieces of 400 fill a board of 1200 without a kerf
        (400.0, 7, 3),
        # two of 700 do not: one board each
        (700.0, 5, 5),
        # one board exactly
        (1200.0, 4, 4),
        # a whole board and 600 more: the 600s pair up two to a board: 4 + 2
        (1800.0, 4, 6),
    ],
)
def test_rows_that_can_be_counted(length: float, rows: int, boards: int) -> None:
    floor = box(0, 0, length, 200.0 * rows)
    board = Board(1200.0, 200.0)
    assert best_bound(floor, board, NOTHING) == boards


def test_a_kerf_makes_three_of_a_third_impossible() -> None:
    # 3 x 400 + 2 x 3 > 1200: two to a board, so four boards for seven
    floor = box(0, 0, 400, 1400)
    rules = Rules(gap_mm=0.0, kerf_mm=3.0, allowance_mm=0.0)
    assert best_bound(floor, Board(1200.0, 200.0), rules) == 4


def test_area_alone() -> None:
    # 4000 x 3000 over 1285 x 192: 48.64
    assert area_bound(MultiPolygon([box(0, 0, 4000, 3000)]), BOARD).boards == 49
    # a floor of exactly two boards needs two, however its corners were rounded
    assert area_bound(MultiPolygon([box(0, 0, 1285, 384)]), BOARD).boards == 2
    assert area_bound(MultiPolygon(), BOARD).boards == 0


def test_the_evidence_is_what_the_plan_file_says() -> None:
    stretches = cut_rows(MultiPolygon([box(0, 0, 4000, 3000)]), 192.0, 0.0)
    bound = next(bound_lines(stretches, contacts(stretches), BOARD, NOTHING)).bound
    told = evidence(bound)
    assert told.kind == "prices"
    lengths, prices = zip(*told.prices, strict=True)
    assert list(lengths) == sorted(lengths)
    assert list(prices) == sorted(prices)
    assert (lengths[0], prices[0]) == (0.0, 0.0)
    assert prices[-1] <= 1.0
    assert lengths[-1] <= BOARD.length_mm
    assert evidence(Bound(3, 2.5, "area")).kind == "area"


@pytest.mark.parametrize("name", ["rectangle", "L", "U", "corridor", "closet", "sliver"])
def test_no_bound_above_what_a_plan_uses(name: str) -> None:
    plan = plan_room(zoo()[name], BOARD, effort=Effort(moves=300))
    assert plan.boards.bound <= plan.boards.used
    assert plan.boards.bound >= area_bound(plan.floor, BOARD).boards - 1


def test_a_reversible_board_is_bounded_by_area_alone() -> None:
    board = Board(1285.0, 192.0, reversible=True)
    plan = plan_room(Room(box(0, 0, 3000, 2000)), board, effort=Effort(moves=100))
    assert plan.boards.evidence.kind == "area"
