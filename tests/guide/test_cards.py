"""Cards are complete: with them alone the plan is built again. Words on small plans by hand."""

from dataclasses import replace

import pytest
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from tests.drawing.sample_plans import small_plan
from tests.guide.sawing import CUTS, Person

from plankwright.application.plan_room import plan_room
from plankwright.geometry.frame import Frame
from plankwright.guide.card_words import words_of
from plankwright.guide.cards import cards_of, next_card, stretch_cards, walks
from plankwright.model.board import Board
from plankwright.model.plan import Plan, StockBoard
from plankwright.model.rules import Rules
from plankwright.optimize.solve import Effort
from plankwright.plan.saw_view import SawView, view_at
from plankwright.testing.zoo import zoo

BOARD = Board(1285.0, 192.0)
EFFORT = Effort(moves=20)
ROOMS = zoo()
QUICK = ("L", "post", "doorway", "closet")
BUILT = (*QUICK, "comb", "corridor across", "needle", "parted", "slanted", "touching holes")


def assert_rebuilt(plan: Plan) -> None:
    """Cut and lay card by card; every piece comes out where and as the plan has it."""
    person = Person(replace(plan, pieces=()))
    for card in cards_of(plan):
        person.follow(card)
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    laid = {piece.id: piece for piece in plan.pieces}
    least = min(axes.to_plan(piece.outline).bounds[0] for piece in plan.pieces)
    assert [made.id for made in person.made] == [
        piece.id for piece in sorted(plan.pieces, key=lambda piece: piece.lay_order)
    ]
    boards: dict[int, int] = {}
    for made in person.made:
        piece = laid[made.id]
        outline = shapely.transform(
            axes.to_plan(piece.outline), lambda uv: uv - (least, plan.laying.start_line_mm)
        )
        # slants of less than half a millimeter are cut square; corners are kept to 0.001 mm
        assert made.outline.hausdorff_distance(outline) < 0.75, made.id
        assert boards.setdefault(made.board, piece.board) == piece.board
        # next to a cut end the allowance may lie between
        slack = CUTS * plan.rules.allowance_mm if piece.label else 0.0
        assert abs(made.from_near_mm - piece.from_near_mm) <= slack + 0.75, made.id
        assert abs(made.from_wall_side_mm - piece.from_wall_side_mm) < 0.75, made.id
    assert len(set(boards.values())) == len(boards) == len({p.board for p in plan.pieces})


@pytest.mark.parametrize("name", [*BUILT, "vanishing"])
def test_a_zoo_room_is_built_from_its_cards(name: str) -> None:
    plan = plan_room(ROOMS[name], BOARD, effort=EFFORT)
    if plan.pieces:
        assert_rebuilt(plan)
    else:
        assert cards_of(plan) == ()


def test_the_small_plan_is_built_from_its_cards() -> None:
    assert_rebuilt(small_plan())


@settings(
    derandomize=True,
    deadline=None,
    max_examples=6,
    phases=[Phase.explicit, Phase.generate],  # a plan takes too long to shrink
)
@given(
    room=st.sampled_from(QUICK),
    length=st.integers(600, 2000),
    width=st.integers(120, 330),
    kerf=st.sampled_from([0.0, 2.0, 3.2]),
)
def test_other_boards_too(room: str, length: int, width: int, kerf: float) -> None:
    rules = Rules(kerf_mm=kerf, shortest_piece_mm=200.0, joint_offset_mm=200.0)
    plan = plan_room(ROOMS[room], Board(float(length), float(width)), rules, effort=EFFORT)
    if plan.pieces:
        assert_rebuilt(plan)


def test_cards_come_in_laying_order_and_say_what_is_next() -> None:
    cards = cards_of(small_plan())
    assert [card.piece for card in cards[:4]] == ["1.1.1", "1.1.2", "1.1.3", "2.1.1"]
    assert next_card(cards, []) == cards[0]
    assert next_card(cards, ["1.1.1", "1.1.2"]) == cards[2]
    assert next_card(cards, [card.piece for card in cards]) is None


def test_a_starter_says_what_to_keep_and_what_to_shelve() -> None:
    # near end groove, far end tongue: a starter of 400 keeps the tongue end; 1000 - 400 - 3 = 597
    words = words_of(cards_of(small_plan())[0], small_plan())
    assert words.place == "Row 1, piece 1 of 3 (1.1.1)"
    assert words.take == "Take a new board"
    assert words.cut == "Cut to 400 mm"
    assert words.keep == "Keep the tongue end"
    assert words.shelf == ("Put on the shelf as A: 597 mm",)
    assert words.check == "Check: the piece 400 mm, offcut A 597 mm"
    assert words.trim == "Trim off at the wall: the tongue of the long side"
    assert words.lay == "Lay it first in row 1, the cut end at the spacers"


def test_left_and_right_follow_the_saw() -> None:
    # right to left and face up, start side away: near is right, so the far (tongue) end is left
    card = cards_of(small_plan())[0]
    told = {view: words_of(card, small_plan(), view).lie for view in (SawView(), view_at("jigsaw"))}
    assert (
        told[SawView()] == "Face up, tongue side away from you: keep the left part, X on the right"
    )
    assert told[view_at("jigsaw")] == (
        "Face down, tongue side away from you: keep the right part, X on the left"
    )


def test_an_offcut_is_taken_by_its_letter_and_its_size() -> None:
    plan = small_plan()
    card = next(card for card in cards_of(plan) if card.piece == "2.1.3")
    assert words_of(card, plan).take == "Take offcut A (597 mm long)"
    # 597 - 300 - 3 = 294 of full width, longer than the shortest piece of 200
    assert words_of(card, plan).shelf == ("Keep as a spare, marked S2.1.3: 294 mm",)


def test_what_was_on_the_shelf_before_is_taken_from_there() -> None:
    plan = small_plan()
    first = replace(plan.pieces[0], board=90, from_near_mm=384.0)
    stocked = replace(
        plan, pieces=(first, *plan.pieces[1:]), stock=(StockBoard(90, 784.0, "far", label="P"),)
    )
    card = cards_of(stocked)[0]
    assert (card.take.kind, card.take.label, card.take.length_mm) == ("shelf", "P", 784.0)
    assert words_of(card, stocked).take == "Take from the shelf P (784 mm long)"


def test_a_whole_board_is_not_cut_but_trimmed_at_a_wall() -> None:
    plan = small_plan()
    cards = {card.piece: card for card in cards_of(plan)}
    middle = words_of(cards["1.1.2"], plan)
    assert (middle.cut, middle.trim) == (
        "No cut but the trim",
        "Trim off at the wall: the tongue of the long side",
    )
    # row 2 starts with a whole board: its near end, the groove, lies at the wall
    assert words_of(cards["2.1.1"], plan).trim == "Trim off at the wall: the lip of the end"
    assert words_of(cards["2.1.2"], plan).cut == "No cut: a whole board"


def test_an_offcut_a_little_longer_than_its_piece_keeps_its_factory_end() -> None:
    # board 1: the starter takes 600 to 1000, a kerf is lost, 597 are left for an end piece of 595
    plan = small_plan()
    longer = shapely.box(2010.0, 210.0, 2605.0, 410.0)
    pieces = [
        replace(piece, length_mm=595.0, outline=longer) if piece.id == "2.1.3" else piece
        for piece in plan.pieces
    ]
    plan = replace(plan, pieces=tuple(pieces))
    card = next(card for card in cards_of(plan) if card.piece == "2.1.3")
    words = words_of(card, plan)
    assert (words.cut, words.keep) == ("Cut to 595 mm", "Keep the groove end")


def test_the_last_piece_of_a_row_leaves_the_gap() -> None:
    plan = small_plan()
    assert words_of(cards_of(plan)[2], plan).lay == (
        "Lay it against piece 1.1.2; leave the gap at its other end"
    )


def test_a_ripped_row_says_width_and_side() -> None:
    plan = small_plan()
    card = next(card for card in cards_of(plan) if card.piece == "3.1.2")
    words = words_of(card, plan)
    assert (words.cut, words.keep) == ("Rip to 150 mm", "Keep the tongue side")


def test_stretches_and_what_they_measure() -> None:
    rows = stretch_cards(cards_of(small_plan()))
    assert [(row.row, row.stretch, row.of, len(row.cards)) for row in rows] == [
        (1, 1, 1, 3),
        (2, 1, 1, 3),
        (3, 1, 1, 3),
    ]
    assert [row.length_mm for row in rows] == [2300.0] * 3


def test_cuts_are_grouped_by_walk() -> None:
    cards = cards_of(small_plan())
    by_row = walks(cards)
    assert [walk.rows for walk in by_row] == [(1,), (2,), (3,)]
    at_once = walks(cards, None)
    assert len(at_once) == 1
    cut = [card.cut.number for card in at_once[0].cards if card.cut]
    assert cut == [1, 2, 3, 4, 5, 6]
    assert [walk.rows for walk in walks(cards, 2)] == [(1, 2), (3,)]
    assert {card.piece for walk in by_row for card in walk.cards} == {
        card.piece for card in cards if card.needs_saw
    }
