"""What doing a card writes down, by hand on the small plan; and whole plans come out even."""

from dataclasses import replace

import pytest
from tests.drawing.sample_plans import small_plan

from plankwright.application.lay_day import day_of, next_step, step_done
from plankwright.application.plan_room import plan_room
from plankwright.errors import InputError
from plankwright.guide.card_events import cut_of, done_of, with_free_marks, wrong_end_of
from plankwright.guide.cards import Card, cards_of
from plankwright.guide.events import PieceCut, PieceLaid, PieceShelved, Rest
from plankwright.guide.laying_state import LayingState
from plankwright.model.board import Board
from plankwright.model.plan import StockBoard
from plankwright.optimize.solve import Effort
from plankwright.testing.zoo import zoo

EMPTY = LayingState((1000.0, 200.0))


def card(piece: str) -> Card:
    return next(card for card in cards_of(small_plan()) if card.piece == piece)


def test_a_starter_is_cut_from_a_new_board_and_leaves_its_offcut() -> None:
    assert cut_of(card("1.1.1")) == PieceCut(
        "1.1.1", "", 400.0, 200.0, "far", (Rest("A", 597.0, 200.0, "near"),)
    )


def test_an_end_piece_from_an_offcut_leaves_a_spare_marked_by_its_piece() -> None:
    # 597 - 300 - 3 = 294; neither end of it is the factory's
    assert cut_of(card("2.1.3")) == PieceCut(
        "2.1.3", "A", 300.0, 200.0, "near", (Rest("S2.1.3", 294.0, 200.0, "none"),)
    )


def test_cut_longer_than_planned_takes_it_from_the_offcut() -> None:
    longer = cut_of(card("1.1.1"), 405.0)
    assert (longer.length_mm, longer.rests[0].length_mm) == (405.0, 592.0)
    shorter = cut_of(card("1.1.1"), 395.0)
    assert (shorter.length_mm, shorter.rests[0].length_mm) == (395.0, 597.0)


def test_done_is_cut_and_laid_or_only_laid() -> None:
    assert [type(what) for what in done_of(card("1.1.1"), EMPTY)] == [PieceCut, PieceLaid]
    assert done_of(card("1.1.2"), EMPTY) == (PieceLaid("1.1.2", whole=True),)
    with pytest.raises(InputError, match="whole board is not cut"):
        cut_of(card("1.1.2"))


def test_an_offcut_that_fits_as_it_is_comes_from_the_shelf() -> None:
    plan = small_plan()
    whole = replace(plan.pieces[1], board=90, label="P")
    stocked = replace(
        plan, pieces=(plan.pieces[0], whole), stock=(StockBoard(90, 1000.0, label="P"),)
    )
    card = cards_of(stocked)[1]
    assert (card.cut, card.take.kind, card.is_new_and_whole) == (None, "shelf", False)
    assert done_of(card, EMPTY) == (
        PieceCut("1.1.2", "P", 1000.0, 200.0, "both"),
        PieceLaid("1.1.2"),
    )


def test_the_wrong_end_kept() -> None:
    # a starter of 400 should keep the far end; cut from the near end 597 with the far end is left
    cut, shelved = wrong_end_of(card("1.1.1"))
    assert isinstance(cut, PieceCut)
    assert (cut.length_mm, cut.ends) == (400.0, "near")
    assert cut.rests == (Rest("1.1.1/2", 597.0, 200.0, "far"),)
    assert shelved == PieceShelved("1.1.1", "1.1.1/1", 400.0, "near")
    with pytest.raises(InputError, match="wrong end"):
        wrong_end_of(card("3.1.2"))  # only ripped


@pytest.mark.parametrize("name", ["with post", "wide gaps"])
def test_card_by_card_a_plan_comes_out_even(name: str) -> None:
    """Pieces, shelf and waste are the boards taken; the count of boards is the plan's."""
    rooms = {room.name: room for room in zoo().values()}
    plan = plan_room(rooms[name], Board(1285.0, 192.0), effort=Effort(moves=100))
    day = day_of(plan)
    while next_step(day).card is not None:
        for what in step_done(day):
            day = replace(day, log=day.log.write(what, str(len(day.log.events))))
        assert day.state.stock_um2 == day.state.accounted_um2
    assert day.state.set_aside == {}
    assert set(day.state.laid) == {piece.id for piece in plan.pieces}
    assert day.state.boards_taken == plan.boards.used
    assert not day.state.hand
    letters = {label for label in day.state.shelf if label.isalpha()}
    assert letters == set()  # every offcut with a letter was used


def test_a_piece_cut_twice_leaves_two_spares_with_marks_of_their_own() -> None:
    # board by board: the second cut of 2.1.3 finds S2.1.3 on the shelf
    cut = cut_of(card("2.1.3"))
    assert with_free_marks(cut, []).rests == cut.rests
    again = with_free_marks(cut, ["S2.1.3", "A"])
    assert [rest.label for rest in again.rests] == ["S2.1.3-2"]
    third = with_free_marks(cut, ["S2.1.3", "S2.1.3-2"])
    assert [rest.label for rest in third.rests] == ["S2.1.3-3"]
    starter = cut_of(card("1.1.1"))
    assert with_free_marks(starter, ["A"]) == starter  # a letter of the plan is not changed
