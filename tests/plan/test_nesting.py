"""Slanted offcuts nested by their shapes, by hand."""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.geometry.rows import cut_rows
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.wishes import Wishes
from plankwright.plan.nesting import Shape, is_slanted, nest, pairs, slants

LENGTH, WIDTH, CUT = 1200.0, 200.0, 6.0
CLEAR = CUT * 2**0.5 + 0.2  # along the board, between parallel ends at 45 degrees


def end_piece(tip: float, slant: float = WIDTH) -> Polygon:
    """From the near end of a board, its far end slanted: ``tip`` long at its wall side."""
    return Polygon([(0, 0), (tip, 0), (tip - slant, WIDTH), (0, WIDTH)])


def starter(tip: float, slant: float = WIDTH) -> Polygon:
    """At the far end of a board: ``tip`` long at its room side, if slanted like the end piece."""
    wall_side = tip - slant
    return Polygon([(LENGTH - wall_side, 0), (LENGTH, 0), (LENGTH, WIDTH), (LENGTH - tip, WIDTH)])


def boards(*shapes: Shape) -> int:
    return len({place.board for place in nest(shapes, LENGTH, WIDTH, CUT)})


def test_parallel_slants_share_a_board_that_their_boxes_overfill() -> None:
    # along every line of the board 600 + (1200 - 600 - CLEAR - 200 + 200): the boxes overlap by
    # almost the width, their outlines keep 6 mm
    longest = LENGTH - 600.0 + WIDTH - CLEAR
    assert boards(Shape("end", end_piece(600)), Shape("starter", starter(longest))) == 1
    assert boards(Shape("end", end_piece(600)), Shape("starter", starter(longest + 1.0))) == 2


def test_slants_that_face_each_other_do_not_nest() -> None:
    # the end piece is longest at its wall side, and so is the starter: the tips meet there
    facing = Polygon([(LENGTH - 500, 0), (LENGTH, 0), (LENGTH, WIDTH), (LENGTH - 300, WIDTH)])
    assert boards(Shape("end", end_piece(690)), Shape("starter", facing)) == 1
    assert boards(Shape("end", end_piece(695)), Shape("starter", facing)) == 2


def test_a_wall_to_wall_piece_lies_between() -> None:
    # two parallelograms and a wall-to-wall piece slanted alike: 300 + 300 + 500 and two cuts
    loose = Polygon([(200, 0), (600, 0), (400, WIDTH), (0, WIDTH)])
    shapes = [
        Shape("end", end_piece(400)),
        Shape("starter", starter(400)),
        Shape("wall-to-wall", loose),
    ]
    places = nest(shapes, LENGTH, WIDTH, CUT)
    assert {place.board for place in places} == {0}
    # it begins where the end piece's room side ends, 200 mm, and a cut later
    assert places[2].from_near == pytest.approx(200.0 + CLEAR, abs=0.5)


def test_a_whole_board_is_left_alone() -> None:
    assert (
        boards(Shape("whole", box(0, 0, LENGTH, WIDTH)), Shape("wall-to-wall", box(0, 0, 5, 5)))
        == 2
    )


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    ends=st.lists(st.tuples(st.integers(250, 1000), st.sampled_from([-200, 0, 200])), max_size=5),
    starters=st.lists(
        st.tuples(st.integers(250, 1000), st.sampled_from([-200, 0, 200])), max_size=5
    ),
)
def test_as_many_pairs_as_brute_force_finds(
    ends: list[tuple[int, int]], starters: list[tuple[int, int]]
) -> None:
    """All ways of putting starters to end pieces, the best of them counted."""
    near = [end_piece(max(tip, tip + slant), slant) for tip, slant in ends]
    far = [starter(max(tip, tip + slant), slant) for tip, slant in starters]
    clear = [[one.distance(other) >= CUT for other in near] for one in far]
    slots = [*range(len(near)), *[None] * len(far)]
    best = max(
        (
            sum(slot is not None and clear[i][slot] for i, slot in enumerate(order))
            for order in permutations(slots, len(far))
        ),
        default=0,
    )
    partners = pairs(far, near, CUT)
    chosen = [end for end in partners if end is not None]
    assert len(chosen) == len(set(chosen)) == best
    assert all(end is None or clear[i][end] for i, end in enumerate(partners))


def test_slants_of_a_stretch() -> None:
    # a floor between two walls at 45 degrees: both ends slanted by the board's width
    floor = MultiPolygon([Polygon([(0, 0), (3000, 0), (3600, 600), (600, 600)])])
    stretches = cut_rows(floor, 200.0, 0.0)
    assert [slants(stretch) for stretch in stretches] == [
        pytest.approx((200.0, 200.0), abs=1e-6)
    ] * 3
    assert is_slanted(stretches)
    assert not is_slanted(cut_rows(MultiPolygon([box(0, 0, 3000, 600)]), 200.0, 0.0))


def test_a_diagonal_floor_needs_hardly_more_boards_than_a_straight_one() -> None:
    # 4.00 x 3.00 m: by area 49 boards; straight rows take 51; slanted ends as boxes took 54
    room, board = Room(box(0, 0, 4000, 3000)), Board(1285.0, 192.0)
    wishes = Wishes(row_angle_deg=45.0)
    plan = plan_room(room, board, None, wishes, effort=Effort(moves=1_000, looks=0, prove=False))
    assert plan.boards.used <= 52
