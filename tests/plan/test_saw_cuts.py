"""What is left of each board, cut by cut, and which end is kept; sums in the comments."""

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.drawing.sample_plans import piece, small_plan

from plankwright.model.plan import Piece, Plan, StockBoard
from plankwright.plan.saw_cuts import (
    Blank,
    SawCut,
    blank_of,
    offcut_letters,
    piece_figure,
    saw_cuts,
)


def plan_of(*pieces: Piece) -> Plan:
    return replace(small_plan(), pieces=pieces)


def by_piece(plan: Plan) -> dict[str, SawCut]:
    return {cut.piece.id: cut for cut in saw_cuts(plan)}


def test_whole_boards_are_not_in_the_list() -> None:
    assert [cut.piece.id for cut in saw_cuts(small_plan())] == [
        "1.1.1", "1.1.3", "2.1.3", "3.1.1", "3.1.2", "3.1.3",
    ]  # fmt: skip


def test_a_starter_then_an_end_piece_of_one_board() -> None:
    cuts = by_piece(small_plan())
    starter, end_piece = cuts["1.1.1"], cuts["2.1.3"]
    assert (starter.end, starter.end_profile) == ("far", "tongue")
    assert starter.source == Blank(0.0, 0.0, 1000.0, 200.0)
    assert [(o.blank.u0, o.blank.u1, o.label) for o in starter.offcuts] == [(0.0, 597.0, "A")]
    assert (end_piece.end, end_piece.end_profile) == ("near", "groove")
    assert end_piece.source == Blank(0.0, 0.0, 597.0, 200.0)
    assert [(o.blank.u0, o.blank.u1, o.label) for o in end_piece.offcuts] == [(303.0, 597.0, "")]
    assert end_piece.factory_ends == (True, False)
    assert offcut_letters(small_plan()) == {"1.1.1": "A"}


def test_three_pieces_of_one_board_hand_the_letter_on() -> None:
    # end piece 0-300, wall to wall 306-606 (kerf and allowance between), starter 700-1000
    plan = plan_of(
        piece(1, 1, 0.0, 300.0, 1, 0.0, cut_order=1),
        piece(2, 1, 0.0, 300.0, 1, 306.0, cut_order=2, label="A"),
        piece(3, 1, 0.0, 300.0, 1, 700.0, cut_order=3, label="B"),
    )
    first, second, third = saw_cuts(plan)
    assert [o.label for o in first.offcuts] == ["A"]
    # the factory end stays on the offcut: what is kept is its cut end, 3 mm of allowance or not
    assert second.end == "cut"
    assert second.end_profile is None
    assert second.source == Blank(303.0, 0.0, 1000.0, 200.0)
    assert {(o.blank.u0, o.blank.u1): o.label for o in second.offcuts} == {(609.0, 1000.0): "B"}
    assert (third.end, third.end_profile) == ("far", "tongue")


def test_a_piece_from_the_middle_is_cut_at_both_ends() -> None:
    plan = plan_of(
        piece(1, 1, 0.0, 300.0, 1, 350.0, cut_order=1),
        piece(2, 1, 0.0, 300.0, 1, 0.0, cut_order=2, label="A"),
        piece(3, 1, 0.0, 300.0, 1, 700.0, cut_order=3, label="B"),
    )
    middle = saw_cuts(plan)[0]
    assert middle.end == "middle"
    assert {(o.blank.u0, o.blank.u1): o.label for o in middle.offcuts} == {
        (0.0, 347.0): "A",
        (653.0, 1000.0): "B",
    }


def test_a_piece_of_what_has_no_factory_end_left_keeps_either() -> None:
    plan = plan_of(
        piece(1, 1, 0.0, 300.0, 1, 0.0, cut_order=1),
        piece(2, 1, 0.0, 300.0, 1, 700.0, cut_order=2, label="A"),
        piece(3, 1, 0.0, 200.0, 1, 306.0, cut_order=3, label="B"),
    )
    assert [cut.end for cut in saw_cuts(plan)] == ["near", "far", "either"]


def test_two_strips_of_one_board_are_ripped_first() -> None:
    # row 1 needs 90 of the room side, row 3 needs 100 of the wall side: 90 + 3 + 100 <= 200
    room_side = piece(1, 1, 0.0, 600.0, 1, 400.0, cut_order=1, width_mm=90.0,
                      from_wall_side_mm=110.0, wall_side="cut")  # fmt: skip
    wall_side = piece(3, 1, 0.0, 800.0, 1, 200.0, cut_order=2, width_mm=100.0, label="A",
                      room_side="cut")  # fmt: skip
    first, second = saw_cuts(plan_of(room_side, wall_side))
    assert (first.side, first.side_profile) == ("room", "groove")
    strip = next(o for o in first.offcuts if o.label == "A")
    assert strip.blank == Blank(0.0, 0.0, 1000.0, 107.0)  # the whole length, 200 - 90 - 3 wide
    assert (second.side, second.side_profile) == ("wall", "tongue")


def test_one_strip_is_crosscut_first_so_that_the_rip_is_short() -> None:
    narrow = piece(3, 1, 0.0, 600.0, 1, 400.0, cut_order=1, width_mm=90.0, room_side="cut")
    (cut,) = saw_cuts(plan_of(narrow))
    assert {(o.blank.length_mm, o.blank.width_mm) for o in cut.offcuts} == {
        (397.0, 200.0),
        (600.0, 107.0),
    }


def test_nested_pieces_leave_the_source_to_be_marked_from_the_drawing() -> None:
    # two trapezoids whose rectangles overlap in the board
    first = piece(1, 1, 0.0, 400.0, 1, 600.0, cut_order=1)
    second = piece(2, 1, 0.0, 650.0, 1, 0.0, cut_order=2, label="A")
    cuts = saw_cuts(plan_of(first, second))
    assert [o.label for o in cuts[0].offcuts] == ["A"]
    assert cuts[1].source.length_mm == 1000.0


def test_an_offcut_from_the_shelf_has_the_ends_it_still_has() -> None:
    far_only = StockBoard(90, 784.0, "far", label="Q")
    starter = piece(1, 1, 0.0, 400.0, 90, 384.0, cut_order=1, near_end="cut", far_end="factory")
    wall = piece(2, 1, 0.0, 300.0, 90, 0.0, cut_order=2, label="A", near_end="cut")
    plan = replace(plan_of(starter, wall), stock=(far_only,))
    first, second = saw_cuts(plan)
    assert first.factory_ends == (False, True)
    assert (first.end, first.end_profile) == ("far", "tongue")
    assert second.end == "either"


def test_angled_ends_are_told_by_two_lengths() -> None:
    # right to left: v is y. The far end leans: 900 along the wall side, 890 along the room side
    leaning = replace(
        piece(1, 1, 0.0, 900.0, 1, 0.0, cut_order=1),
        outline=shapely.Polygon([(10, 10), (910, 10), (900, 210), (10, 210)]),
    )
    (cut,) = saw_cuts(plan_of(leaning))
    assert cut.lengths_mm == pytest.approx((900.0, 890.0))
    assert cut.slanted_end == "far"
    assert cut.angled
    assert not cut.tapered
    assert not cut.shaped


def test_tapered_rips_are_told_by_two_widths() -> None:
    taper = replace(
        piece(1, 1, 0.0, 1000.0, 1, 0.0, cut_order=1, width_mm=120.0, room_side="cut"),
        outline=shapely.Polygon([(10, 10), (1010, 10), (1010, 130), (10, 110)]),
    )
    (cut,) = saw_cuts(plan_of(taper))
    assert cut.widths_mm == pytest.approx((100.0, 120.0))
    assert cut.tapered
    assert not cut.angled


@pytest.mark.parametrize(
    "corners",
    [
        [(10, 10), (910, 10), (910, 110), (810, 110), (810, 210), (10, 210)],  # a notch
        [(10, 10), (910, 10), (900, 210), (20, 210)],  # both ends lean
    ],
)
def test_other_shapes_are_marked_from_the_drawing(corners: list[tuple[int, int]]) -> None:
    shape = replace(piece(1, 1, 0.0, 900.0, 1, 0.0, cut_order=1), outline=shapely.Polygon(corners))
    assert saw_cuts(plan_of(shape))[0].shaped


def test_rounding_of_outlines_costs_no_mark() -> None:
    assert piece_figure(192.087, "in") == '7 9/16"'  # 192.0875 mm
    assert piece_figure(192.0, "in") == '7 1/2"'


@settings(derandomize=True, deadline=None, max_examples=100)
@given(st.lists(st.integers(50, 400), min_size=1, max_size=6), st.randoms(use_true_random=False))
def test_pieces_and_what_is_left_never_overlap(lengths: list[int], order: object) -> None:
    """Cut in any order, each piece lies in its source, and no offcut reaches into a piece."""
    places, at = [], 0.0
    for length in lengths:
        if at + length <= 1000.0:
            places.append((at, float(length)))
            at += length + 6.0
    order.shuffle(places)  # type: ignore[attr-defined]
    pieces = [
        piece(1, n, 0.0, length, 1, start, cut_order=n, label=None if n == 1 else chr(63 + n))
        for n, (start, length) in enumerate(places, start=1)
    ]
    waiting = {p.label for p in pieces} - {None}
    for cut in saw_cuts(plan_of(*pieces)):
        wanted = blank_of(cut.piece)
        assert cut.source.holds(wanted)
        for offcut in cut.offcuts:
            assert (
                offcut.blank.u1 <= wanted.u0 - 3.0 + 1e-9
                or offcut.blank.u0 >= wanted.u1 + 3.0 - 1e-9
            )
        if cut.label:
            assert cut.label in waiting
