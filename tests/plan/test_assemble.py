"""Pieces from a solution made by hand, among them the handbook's worked row."""

from dataclasses import replace

import pytest
from shapely import MultiPolygon, Polygon, box

from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import cut_rows
from plankwright.model.board import Board
from plankwright.model.plan import (
    BoardCount,
    Evidence,
    Laying,
    Piece,
    Plan,
)
from plankwright.model.rules import Rules
from plankwright.optimize.solution import PieceKind, Seat, Solution
from plankwright.plan import assemble as module
from plankwright.plan.assemble import assemble
from plankwright.plan.compile import compile_instance, up
from plankwright.plan.inspect_rows import inspect_pieces
from plankwright.plan.saw_cuts import saw_cuts

FRAME = Frame(0.0, "right-to-left")  # u is x, v is y


def pieces_of(
    floor: Polygon, board: Board, rules: Rules, *seats: tuple[PieceKind, float, int, float]
) -> tuple[Piece, ...]:
    """Pieces of a floor of one row: each seat is its kind, length, board and place in it."""
    stretches = cut_rows(MultiPolygon([floor]), board.width_mm, 0.0)
    instance = compile_instance(stretches, [], board, rules, 1.0)
    solution = Solution(
        (None,),
        tuple(
            Seat(0, number, kind, up(length), number_of_board, up(from_near))
            for number, (kind, length, number_of_board, from_near) in enumerate(seats)
        ),
        len({seat[2] for seat in seats}),
        0,
    )
    return assemble(stretches, instance, solution, board, rules, FRAME)


# --- handbook example W29: a row of 4700, gaps 10, board 1215, kerf 3 --------------------------

W29 = Board(1215.0, 190.0)
W29_RULES = Rules(gap_mm=10.0, allowance_mm=0.0, shortest_piece_mm=300.0)


def worked_row(starter: float) -> tuple[tuple[Piece, ...], Plan]:
    whole, last = divmod(4680.0 - starter, 1215.0)
    first: PieceKind = "whole" if starter == 1215.0 else "starter"
    seats: list[tuple[PieceKind, float, int, float]] = [(first, starter, 0, 1215.0 - starter)]
    seats += [("whole", 1215.0, 1 + i, 0.0) for i in range(int(whole))]
    seats += [("end", last, 9, 0.0)]
    pieces = pieces_of(box(10, 0, 4690, 190), W29, W29_RULES, *seats)
    floor = box(10, 0, 4690, 190)
    plan = Plan(
        board=W29,
        rules=W29_RULES,
        laying=Laying(0.0, "right-to-left", "A-B", 0.0),
        room=box(0, -10, 4700, 200),
        floor=MultiPolygon([floor]),
        pieces=pieces,
        boards=BoardCount(len(pieces), 4, "feasible", Evidence("area")),
        packs=1,
    )
    return pieces, plan


@pytest.mark.parametrize(
    ("starter", "last", "offcut"),
    [(1215.0, 1035.0, 177.0), (810.0, 225.0, 987.0), (607.0, 428.0, 784.0), (405.0, 630.0, 582.0)],
)
def test_the_worked_row(starter: float, last: float, offcut: float) -> None:
    # last = (4680 - starter) mod 1215; offcut = 1215 - last - 3
    pieces, plan = worked_row(starter)
    assert [piece.length_mm for piece in pieces] == [starter, 1215.0, 1215.0] + (
        [last] if starter == 1215.0 else [1215.0, last]
    )
    end = next(cut for cut in saw_cuts(plan) if cut.piece.id == pieces[-1].id)
    assert end.end == "near"
    assert [left.blank.length_mm for left in end.offcuts] == [offcut]
    # with a shortest piece of 300, starter 810 is refused for its end piece of 225
    stretches = cut_rows(plan.floor, 190.0, 0.0)
    codes = [f.code for f in inspect_pieces(stretches, pieces, W29_RULES, FRAME)]
    assert codes == (["short-piece"] if starter == 810.0 else [])


def test_joints_of_two_worked_rows_keep_half_a_board_apart() -> None:
    def joints(starter: float) -> list[float]:
        pieces, _ = worked_row(starter)
        return [piece.outline.bounds[2] for piece in pieces[:-1]]

    # 1225, 2440, 3655 against 617, 1832, 3047, 4262: 608 or 607 apart
    apart = {abs(a - b) for a in joints(1215.0) for b in joints(607.0)}
    assert min(apart) == pytest.approx(607.0)


# --- edges, labels, parts --------------------------------------------------------------------

BOARD = Board(1000.0, 200.0)
RULES = Rules(gap_mm=0.0, shortest_piece_mm=100.0)


def test_factory_and_cut_edges() -> None:
    # 400 + 1000 + 500; starter and end piece of board 0: 400 + 6 + 500 <= 1000
    first, whole, last = pieces_of(
        box(0, 0, 1900, 150),
        BOARD,
        RULES,
        ("starter", 400.0, 0, 600.0),
        ("whole", 1000.0, 1, 0.0),
        ("end", 500.0, 0, 0.0),
    )
    assert (first.near_end, first.far_end) == ("cut", "factory")
    assert (whole.near_end, whole.far_end) == ("factory", "factory")
    assert (last.near_end, last.far_end) == ("factory", "cut")
    # row 1 is 150 of 200 wide and begins at its wall line: the room side is ripped off
    assert {p.wall_side for p in (first, whole, last)} == {"factory"}
    assert {p.room_side for p in (first, whole, last)} == {"cut"}
    assert [p.board for p in (first, whole, last)] == [1, 2, 1]
    assert [p.label for p in (first, whole, last)] == [None, None, "A"]
    assert [p.cut_order for p in (first, whole, last)] == [1, 2, 3]
    assert [p.id for p in (first, whole, last)] == ["1.1.1", "1.1.2", "1.1.3"]


def test_a_row_that_needs_its_room_side_lies_at_the_boards_room_side() -> None:
    # the floor begins 50 past the row's wall line: 150 wide from 50 to 200
    (only,) = pieces_of(box(0, 50, 700, 200), BOARD, RULES, ("wall-to-wall", 700.0, 0, 0.0))
    assert (only.from_wall_side_mm, only.width_mm) == (50.0, 150.0)
    assert (only.wall_side, only.room_side) == ("cut", "factory")


def test_a_post_at_a_joint_parts_a_seat_in_two() -> None:
    """The end piece begins beside a post that stands on the joint: an upper and a lower part."""
    floor = box(0, 0, 1600, 200).difference(box(900, 60, 1600, 140))
    pieces = pieces_of(floor, BOARD, RULES, ("starter", 1000.0, 0, 0.0), ("end", 600.0, 1, 0.0))
    assert [piece.id for piece in pieces] == ["1.1.1", "1.1.2", "1.1.2b"]
    assert [piece.width_mm for piece in pieces] == [200.0, 60.0, 60.0]
    # 80 of post between them is more than a kerf: both come from one board
    assert [piece.board for piece in pieces] == [1, 2, 2]
    assert sum(piece.outline.area for piece in pieces) == pytest.approx(floor.area)


def test_a_slot_thinner_than_the_kerf_takes_another_board() -> None:
    floor = box(0, 0, 1600, 200).difference(box(900, 99, 1600, 101))
    pieces = pieces_of(floor, BOARD, RULES, ("starter", 1000.0, 0, 0.0), ("end", 600.0, 1, 0.0))
    assert [piece.board for piece in pieces] == [1, 2, 3]


def test_outlines_are_kept_to_a_thousandth() -> None:
    floor = Polygon([(0, 0), (1000 / 3, 0), (1000 / 3 + 20, 200), (0, 200)])
    (only,) = pieces_of(floor, BOARD, RULES, ("wall-to-wall", 1000 / 3 + 20, 0, 0.0))
    assert all(round(c, 3) == c for xy in only.outline.exterior.coords for c in xy)
    assert only.length_mm == pytest.approx(353.3333, abs=1e-3)


@pytest.mark.parametrize(
    "floor",
    [
        Polygon([(0, 0), (3300, 0), (3260, 200), (50, 200)]),  # both ends slanted
        Polygon([(0, 0), (3300, 0), (3300, 200), (0, 190)]),  # straight nowhere
        box(0, 0, 3300, 200).difference(box(1500, 60, 1600, 140)),  # a post in the third board
    ],
)
def test_where_a_stretch_runs_straight_its_pieces_are_those_cut_by_shape(
    floor: Polygon, monkeypatch: pytest.MonkeyPatch
) -> None:
    seats: list[tuple[PieceKind, float, int, float]] = [("starter", 400.0, 0, 600.0)]
    seats += [("whole", 1000.0, 1, 0.0), ("whole", 1000.0, 2, 0.0), ("end", 900.0, 3, 0.0)]
    pieces = pieces_of(floor, BOARD, RULES, *seats)
    monkeypatch.setattr(module, "_plain_part", lambda _: (0.0, 0.0))
    by_shape = pieces_of(floor, BOARD, RULES, *seats)
    assert [replace(piece, outline=floor) for piece in pieces] == [
        replace(piece, outline=floor) for piece in by_shape
    ]
    for piece, other in zip(pieces, by_shape, strict=True):
        assert piece.outline.hausdorff_distance(other.outline) <= 0.001
