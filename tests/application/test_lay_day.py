"""The laying day: next step, sentences, planned against used, planning again."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.drawing.sample_plans import small_plan

from plankwright.application.lay_again import (
    Asked,
    again,
    cut_in_vain,
    floor_state,
    room_of,
    shelf_boards,
    taken_events,
)
from plankwright.application.lay_day import Day, day_of, next_step, step_done
from plankwright.application.lay_used import planned_and_used
from plankwright.application.lay_words import SENTENCES, told
from plankwright.application.plan_room import plan_room
from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.guide.as_laid import WallShift
from plankwright.guide.card_events import cut_of, wrong_end_of
from plankwright.guide.events import (
    BoardDamaged,
    BoardsOpened,
    DistanceMeasured,
    Noted,
    OffcutThrown,
    PieceCut,
    PieceDamaged,
    PieceLaid,
    PieceSpoiled,
    PlanTaken,
    Undone,
    What,
)
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.optimize.solve import Effort
from plankwright.plan.saw_cuts import Offcut
from plankwright.testing.zoo import rectangle

BOARD = Board(1285.0, 192.0)
ROOM = rectangle(4000.0, 2200.0)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_room(ROOM, BOARD, effort=Effort(moves=500))


def after(day: Day, *whats: What) -> Day:
    log = day.log
    for what in whats:
        log = log.write(what, f"e{len(log.events)}")
    return replace(day, log=log)


def laid(plan: Plan, cards: int) -> Day:
    day = day_of(plan)
    for _ in range(cards):
        day = after(day, *step_done(day))
    return day


# --- the next step ---------------------------------------------------------------------------


def test_a_card_at_a_time_to_the_end() -> None:
    day = day_of(small_plan())
    first = next_step(day)
    assert first.check is not None
    assert first.card is not None
    assert (first.card.piece, first.cards_left, first.in_hand) == ("1.1.1", 9, False)
    day = after(day, step_done(day)[0])  # only cut
    assert next_step(day).in_hand
    day = after(day, *step_done(day))
    assert next_step(day).card == day.cards[1]
    day = laid(small_plan(), 9)
    assert next_step(day).card is None
    with pytest.raises(InputError, match="nothing is left"):
        step_done(day)


def test_another_piece_may_be_done_first() -> None:
    day = after(day_of(small_plan()), *step_done(day_of(small_plan()), "3.1.2"))
    assert list(day.state.laid) == ["3.1.2"]
    with pytest.raises(InputError, match="no such piece"):
        step_done(day, "9.9.9")


# --- sentences -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "whats"),
    [
        ("opened P1", (BoardsOpened("P1", "", 4),)),
        ("opened P1 b7 6", (BoardsOpened("P1", "b7", 6),)),
        ("laid 1.1.2", (PieceLaid("1.1.2", whole=True),)),
        ("laid 1.1.1", (PieceLaid("1.1.1"),)),
        ("damaged board", (BoardDamaged(),)),
        ("damaged board P1", (BoardDamaged("P1"),)),
        ("damaged 1.1.2", (PieceDamaged("1.1.2"),)),
        ("measured 2 near 37.5cm", (DistanceMeasured("to the far wall", 2, "near", 375.0),)),
        ("measured 2 far 190 laid width", (DistanceMeasured("laid width", 2, "far", 190.0),)),
    ],
)
def test_sentences(words: str, whats: tuple[What, ...]) -> None:
    assert told(words.split(), day_of(small_plan())) == whats


def test_sentences_with_values_of_the_card() -> None:
    day = day_of(small_plan())
    (cut,) = told(["cut", "1.1.1", "402"], day)
    assert isinstance(cut, PieceCut)
    assert (cut.length_mm, cut.rests[0].length_mm) == (402.0, 595.0)
    assert told(["wrong-end", "1.1.1"], day) == wrong_end_of(day.cards[0])
    assert told(["note", "the wall bulges"], day) == (Noted("the wall bulges"),)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("", "not something that can be told"),
        ("painted 1.1.1", "not something that can be told"),
        ("laid", "a word too few or too many"),
        ("laid 1.1.1 now", "a word too few or too many"),
        ("laid 9.9.9", "no such piece"),
        ("found K wide far", "cannot read this as a length"),
        ("found K 300 left", "not one of the choices"),
        ("measured two near 300", "must be a whole number"),
        ("measured 2 middle 300", "not one of the choices"),
        ("measured 2 near 300 of something", "not one of the choices"),
        ("checked before row 1 fine", "not one of the choices"),
        ("checked the weather good", "not one of the choices"),
    ],
)
def test_a_bad_sentence_says_what_is_wrong(words: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        told(words.split(), day_of(small_plan()))


def test_every_sentence_begins_its_own_form() -> None:
    assert all(sentence.form.startswith(word) for word, sentence in SENTENCES.items())


# --- planned against used --------------------------------------------------------------------


def test_planned_and_used() -> None:
    # small plan: 8 boards of 1000 x 200 = 1.6 m²; pieces 2300 x 550 mm = 1.265 m²
    plan = small_plan()
    day = laid(plan, 9)
    used = planned_and_used(plan, day)
    assert (used.boards_planned, used.boards_taken) == (8, 8)
    assert (used.pieces_planned, used.pieces_laid) == (9, 9)
    assert used.waste_planned_m2 == pytest.approx(1.6 - 1.265)
    shelf = sum(part.length_mm * part.width_mm for part in day.state.shelf.values()) / 1e6
    assert used.waste_m2 + shelf == pytest.approx(1.6 - 1.265)


# --- planning again --------------------------------------------------------------------------


@settings(derandomize=True, deadline=None, max_examples=8)
@given(count=st.integers(0, 40))
def test_nothing_gone_wrong_gives_the_same_plan(plan: Plan, count: int) -> None:
    day = laid(plan, min(count, len(plan.pieces)))
    answer = again(day, ROOM)
    assert answer.plan == plan
    assert answer.changes == ()
    assert taken_events(day, answer) == ()


def test_the_wrong_end_finds_another_use(plan: Plan) -> None:
    day = laid(plan, 8)
    card = next(c for c in day.cards[8:] if c.cut and c.cut.end in ("near", "far"))
    while (step := next_step(day).card) is not None and step.piece != card.piece:
        day = after(day, *step_done(day))
    day = after(day, *wrong_end_of(card))
    answer = again(day, ROOM, bought=plan.packs * 8)
    assert check_plan(answer.plan).ok
    labels = {use.offcut.label for use in answer.shelf if use.pieces}
    assert f"{card.piece}/1" in labels or f"{card.piece}/2" in labels
    reasons = {change.why for change in answer.changes}
    assert any(why.startswith(f"{card.piece} was cut at the wrong end") for why in reasons)
    kept = {piece.id: piece for piece in plan.pieces if piece.id in day.state.laid}
    new = {piece.id: piece for piece in answer.plan.pieces}
    assert all(new[name].outline.equals(piece.outline) for name, piece in kept.items())
    finished = day_of(answer.plan, day.log)
    finished = after(finished, *taken_events(day, answer))
    while next_step(finished).card is not None:
        finished = after(finished, *step_done(finished))
    assert finished.state.set_aside == {}
    assert finished.state.stock_um2 == finished.state.accounted_um2
    assert finished.state.boards_taken == day.state.boards_taken + answer.new_boards


def test_a_cut_in_vain_is_one_of_the_plan_that_is_laid_now(plan: Plan) -> None:
    day = laid(plan, 8)
    card = next(c for c in day.cards[8:] if c.cut and c.cut.end in ("near", "far"))
    while (step := next_step(day).card) is not None and step.piece != card.piece:
        day = after(day, *step_done(day))
    day = after(day, cut_of(card))
    assert cut_in_vain(day) == frozenset()  # in the hand
    spoiled = after(day, PieceSpoiled(card.piece))
    assert cut_in_vain(spoiled) == {card.piece}
    answer = again(spoiled, ROOM)
    reasons = {change.why for change in answer.changes}
    assert any(why.startswith(f"{card.piece} has to be cut again") for why in reasons)
    assert cut_in_vain(after(spoiled, Undone(spoiled.log.events[-1].id))) == frozenset()
    assert cut_in_vain(after(spoiled, PlanTaken(1))) == frozenset()
    with pytest.raises(InputError, match="Plan again"):  # its offcut is there already
        after(spoiled, *step_done(spoiled))
    again_cut = after(spoiled, *(OffcutThrown(label) for label in spoiled.state.shelf))
    assert cut_in_vain(after(again_cut, *step_done(again_cut))) == frozenset()  # cut again, laid


def test_a_damaged_row_comes_up_and_its_good_pieces_go_on_the_shelf(plan: Plan) -> None:
    rows = 3
    count = sum(piece.row <= rows for piece in plan.pieces)
    day = laid(plan, count)
    bad = next(piece.id for piece in plan.pieces if piece.row == rows)
    day = after(day, PieceDamaged(bad))
    asked = Asked(lifted_rows=(rows,))
    state = floor_state(day, asked)
    assert state.spoiled == (bad,)
    answer = again(day, ROOM, asked)
    assert check_plan(answer.plan).ok
    done = after(day_of(answer.plan, day.log), *taken_events(day, answer, asked.lifted_rows))
    assert not any(name.startswith(f"{rows}.") for name in done.state.laid)
    assert done.state.spoiled == {bad: 1}
    while next_step(done).card is not None:
        done = after(done, *step_done(done))
    assert done.state.set_aside == {}
    assert done.state.stock_um2 == done.state.accounted_um2


def test_rows_come_up_from_the_last_one_back(plan: Plan) -> None:
    day = laid(plan, sum(piece.row <= 4 for piece in plan.pieces))
    with pytest.raises(InputError, match="must come up before it: 3, 4"):
        again(day, ROOM, Asked(lifted_rows=(2,)))
    assert again(day, ROOM, Asked(lifted_rows=(2, 3, 4))).plan.pieces


def test_a_wall_that_is_nearer_and_boards_that_are_missing(plan: Plan) -> None:
    day = laid(plan, 8)
    answer = again(day, ROOM, Asked(walls=(WallShift("B-C", 12.0),), boards_left=3))
    assert check_plan(answer.plan).ok
    assert not answer.suffices
    assert answer.boards_missing == answer.new_boards - 3
    assert answer.changes


def test_what_lies_must_be_of_the_plan(plan: Plan) -> None:
    day = after(day_of(plan), PieceLaid("99.1.1", whole=True))
    with pytest.raises(InputError, match="no such piece"):
        again(day, ROOM)


def test_the_room_as_a_plan_tells_it(plan: Plan) -> None:
    room = room_of(plan)
    assert room.outline.equals(ROOM.outline)
    assert room.fixed == ()


def test_what_is_left_round_a_shape_is_nobodys_whole_board(plan: Plan) -> None:
    """Where a piece nests in another's notch the saw list leaves all of the board to cut from."""
    day = laid(plan, 1)
    first = day.cards[0]
    assert first.cut is not None
    left = first.left[0]
    nested = replace(first.cut, offcuts=(Offcut(first.cut.source, left.label),))
    shaped = replace(first, cut=nested, left=(left,))
    assert [board.label for board in shelf_boards(day, {})] == [left.mark]
    assert shelf_boards(replace(day, cards=(shaped, *day.cards[1:])), {}) == ()
