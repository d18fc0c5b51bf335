"""The fold: small days by hand, laws at random, and a second fold written another way."""

import json
import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.guide.happenings import BOARD_MM, day
from tests.guide.ledger import ledger_of
from tests.guide.make_vectors import VECTORS, vectors_text

from plankwright.errors import InputError
from plankwright.guide.events import (
    KINDS,
    BoardsOpened,
    Event,
    OffcutFound,
    OffcutThrown,
    PieceCut,
    PieceLaid,
    PieceLifted,
    PieceShelved,
    PieceSpoiled,
    Rest,
    RowLocked,
    Undone,
    event_entry,
    inverse,
    read_event,
)
from plankwright.guide.laying_log import LayingLog, log_of
from plankwright.guide.laying_state import (
    LayingState,
    apply,
    area_um2,
    fold,
    state_entry,
)

SEEDS = st.integers(0, 10**6)
LAWS = settings(derandomize=True, deadline=None, max_examples=60)
STARTER = PieceCut("1.1.1", "", 400.0, 192.0, "far", (Rest("A", 882.0, 192.0, "near"),))


def empty() -> LayingLog:
    return log_of((), BOARD_MM)


def conserved(state: LayingState) -> bool:
    return state.stock_um2 == state.accounted_um2


# --- by hand ---------------------------------------------------------------------------------


def test_a_cut_board_is_piece_offcut_and_waste() -> None:
    # 1285 - 400 - 882 = 3 mm of kerf, 3 x 192 = 576 mm² = 576 000 000 µm²
    log = empty().write(BoardsOpened("p1", "b1", 8), "1").write(STARTER, "2")
    assert list(log.state.hand) == ["1.1.1"]
    assert list(log.state.shelf) == ["A"]
    assert log.state.waste_um2 == 576_000_000
    assert (log.state.boards_opened, log.state.boards_taken) == (8, 1)
    assert conserved(log.state)


def test_from_hand_to_floor_and_back() -> None:
    log = empty().write(STARTER, "1").write(PieceLaid("1.1.1"), "2")
    assert list(log.state.laid) == ["1.1.1"]
    assert not log.state.hand
    lifted = log.write(PieceLifted("1.1.1"), "3")
    assert list(lifted.state.hand) == ["1.1.1"]
    assert not lifted.state.laid


def test_a_whole_board_is_laid_from_its_pack() -> None:
    log = empty().write(PieceLaid("1.1.2", whole=True, pack="p1"), "1")
    assert log.state.laid["1.1.2"].length_mm == 1285.0
    assert log.state.packs["p1"].taken == 1
    assert conserved(log.state)  # one board taken that nobody wrote down: -1 left, 1 laid


def test_the_wrong_end_kept_goes_on_the_shelf() -> None:
    log = empty().write(STARTER, "1").write(PieceShelved("1.1.1", "B", 400.0, "near"), "2")
    assert log.state.shelf["B"].ends == "near"
    assert log.state.waste_um2 == 576_000_000
    again = log.write(PieceCut("1.1.1", "", 400.0, 192.0, "far"), "3")
    assert list(again.state.hand) == ["1.1.1"]
    assert conserved(again.state)


@pytest.mark.parametrize(
    ("what", "reason"),
    [
        (PieceLaid("1.1.1"), "the piece is not in the hand"),
        (PieceLifted("1.1.1"), "the piece does not lie"),
        (OffcutThrown("Z"), "no such offcut on the shelf"),
        (PieceCut("1.1.1", "Z", 10.0, 10.0), "no such offcut on the shelf"),
        (PieceCut("1.1.1", "", 1286.0, 192.0), "larger than what it was cut from"),
        (
            PieceCut("1.1.1", "", 1000.0, 192.0, "far", (Rest("A", 300.0, 192.0, "near"),)),
            "more came out than went in",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_the_reason(what: object, reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        empty().write(what, "1")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("what", "remedy"),
    [
        (OffcutThrown("Z"), "On the shelf: A."),
        (PieceCut("1.1.1", "", 400.0, 192.0), "tell it as spoiled, then cut it again"),
        (PieceCut("2.1.1", "Z", 10.0, 10.0), "Plan again"),
        (PieceShelved("1.1.1", "A", 400.0, "far"), "Write another letter on it."),
        (PieceLaid("2.1.1"), "Tell first that it was cut."),
    ],
)
def test_what_is_refused_says_what_to_do(what: object, remedy: str) -> None:
    with pytest.raises(InputError, match=remedy):
        empty().write(STARTER, "1").write(what, "2")  # type: ignore[arg-type]


def test_a_letter_is_on_one_offcut_only() -> None:
    log = empty().write(STARTER, "1")
    for what in (
        OffcutFound("A", 300.0, 192.0, "none"),
        PieceCut("2.1.1", "", 400.0, 192.0, "far", (Rest("A", 800.0, 192.0, "near"),)),
        PieceShelved("1.1.1", "A", 400.0, "far"),
    ):
        with pytest.raises(InputError, match="the letter is on another offcut"):
            log.write(what, "2")
    # cut again, what is left of A may be called A
    again = PieceCut("2.1.3", "A", 300.0, 192.0, "near", (Rest("A", 579.0, 192.0, "none"),))
    assert log.write(again, "2").state.shelf["A"].length_mm == 579.0


def test_a_piece_laid_by_two_phones_lies_once_and_the_other_is_set_aside() -> None:
    one = Event("a-1", 1, "a", "", PieceLaid("1.1.1", whole=True))
    two = Event("b-1", 1, "b", "", PieceLaid("1.1.1", whole=True))
    state = fold([two, one], BOARD_MM)
    assert list(state.laid) == ["1.1.1"]
    assert state.set_aside == {"b-1": "the piece lies already"}
    assert state.boards_taken == 1


# --- undo ------------------------------------------------------------------------------------


def test_the_last_event_is_taken_back_and_brought_again() -> None:
    log = empty().write(STARTER, "1").write(PieceLaid("1.1.1"), "2")
    undone = log.write(Undone("2"), "3")
    assert list(undone.state.hand) == ["1.1.1"]
    again = undone.write(Undone("3"), "4")
    assert again.state == log.state


def test_what_others_rest_on_is_not_taken_back() -> None:
    log = empty().write(STARTER, "1").write(RowLocked(1), "2").write(PieceLaid("1.1.1"), "3")
    assert [event.id for event in log.resting_on("1")] == ["3"]
    with pytest.raises(InputError, match=r"rest on it: piece-laid 1\.1\.1"):
        log.write(Undone("1"), "4")
    # nothing rests on the row that was locked, though it is not the last
    assert log.write(Undone("2"), "4").state.locked == frozenset()


def test_an_offcut_used_keeps_its_cut_from_being_taken_back() -> None:
    log = empty().write(STARTER, "1")
    log = log.write(PieceCut("2.1.3", "A", 300.0, 192.0, "near"), "2")
    with pytest.raises(InputError, match="rest on it"):
        log.write(Undone("1"), "3")


@pytest.mark.parametrize("unknown", ["nothing", "2"])
def test_only_what_stands_is_taken_back(unknown: str) -> None:
    log = empty().write(RowLocked(1), "1").write(RowLocked(2), "2").write(Undone("2"), "3")
    with pytest.raises(InputError, match="no such event"):
        log.write(Undone(unknown), "4")


# --- laws ------------------------------------------------------------------------------------


@LAWS
@given(seed=SEEDS)
def test_pieces_shelf_and_waste_are_the_stock(seed: int) -> None:
    state = LayingState(BOARD_MM)
    for event in day(seed, 60):
        if not isinstance(event.what, Undone):
            state = apply(state, event)
            assert conserved(state)


@LAWS
@given(seed=SEEDS)
def test_replay_equals_state(seed: int) -> None:
    """Event by event as a person writes them, and all at once."""
    log = empty()
    for event in day(seed, 60, devices=("one",)):
        try:
            log = log.with_event(event)
        except InputError:
            continue
        assert fold(log.events, BOARD_MM) == log.state
    assert log.state.set_aside == {}
    assert conserved(log.state)


@LAWS
@given(seed=SEEDS)
def test_apply_then_invert_is_identity(seed: int) -> None:
    log = empty()
    for event in day(seed, 40, devices=("one",)):
        try:
            after = log.with_event(event)
        except InputError:
            continue
        back = after.with_event(inverse(event, f"back-{event.id}", after.next_order))
        assert back.state == log.state
        log = after


@LAWS
@given(seed=SEEDS)
def test_given_twice_and_in_any_order_the_state_is_the_same(seed: int) -> None:
    events = day(seed, 60)
    state = fold(events, BOARD_MM)
    shuffled = [*events, *events[::3]]
    random.Random(seed).shuffle(shuffled)
    assert fold(shuffled, BOARD_MM) == state
    half = len(shuffled) // 2
    met = log_of(shuffled[:half], BOARD_MM).merged(shuffled[half:])
    other = log_of(shuffled[half:], BOARD_MM).merged(shuffled[:half])
    assert met.state == other.state == state
    assert met.events == other.events


@LAWS
@given(seed=SEEDS)
def test_what_commutes_may_be_swapped(seed: int) -> None:
    """Neighbors about different pieces, letters and packs: either first, the same state."""
    events = [event for event in day(seed, 40) if not isinstance(event.what, Undone)]
    state = LayingState(BOARD_MM)
    for first, second in pairwise(events):
        if not _names(first) & _names(second):
            assert apply(apply(state, first), second) == apply(apply(state, second), first)
        state = apply(state, first)


def _names(event: Event) -> set[str]:
    """Everything that an event names, and its kind where the last one wins."""
    entry = event_entry(event)
    named = {str(entry[key]) for key in ("piece", "label", "source", "where") if entry.get(key)}
    named |= {rest["label"] for rest in entry.get("rests", ())}
    last_wins = event.kind in (
        "distance-measured", "gap-checked", "check-made", "plan-taken", "boards-opened",
    )  # fmt: skip
    return named | ({event.kind} if last_wins else set())


@LAWS
@given(seed=SEEDS)
def test_the_second_fold_agrees(seed: int) -> None:
    events = day(seed, 80)
    state, book = fold(events, BOARD_MM), ledger_of(events, BOARD_MM)
    assert set(state.laid) == book.names("laid")
    assert set(state.hand) == book.names("hand")
    assert set(state.shelf) == book.names("shelf")
    assert state.waste_um2 == book.waste_um2()
    assert (state.boards_opened, state.boards_taken) == (book.opened, book.taken)
    assert state.found_um2 == book.found_um2
    assert sum(p.um2 for p in book.parts) == state.stock_um2 - (
        book.opened - book.taken
    ) * area_um2(*BOARD_MM)


@LAWS
@given(seed=SEEDS)
def test_json_and_back_is_identity(seed: int) -> None:
    for event in day(seed, 40):
        assert read_event(json.loads(json.dumps(event_entry(event)))) == event


def test_random_days_hold_every_kind() -> None:
    kinds = {event.kind for seed in range(20) for event in day(seed, 60)}
    assert kinds == set(KINDS)


# --- bad entries -----------------------------------------------------------------------------

GOOD = event_entry(Event("e1", 1, "phone", "2026-01-03T09:00:00Z", STARTER))


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"kind": "piece-painted"}, "kind"),
        ({"kind": 3}, "kind"),
        ({"id": ""}, "id"),
        ({"id": "a\nb"}, "id"),
        ({"order": 0}, "order"),
        ({"order": True}, "order"),
        ({"order": 2**60}, "order"),
        ({"length_mm": "400"}, "length_mm"),
        ({"length_mm": float("nan")}, "length_mm"),
        ({"length_mm": -1.0}, "length_mm"),
        ({"ends": "left"}, "ends"),
        ({"ends": ["far"]}, "ends"),
        ({"rests": "A"}, "rests"),
        ({"rests": [1]}, "rests"),
        ({"rests": [{"label": "A"}]}, "length_mm"),
        ({"piece": "x" * 81}, "piece"),
    ],
)
def test_a_bad_value_is_named(change: dict[str, object], where: str) -> None:
    with pytest.raises(InputError) as refused:
        read_event({**GOOD, **change})
    assert refused.value.where == where


def test_a_missing_value_is_named_and_unknown_keys_do_no_harm() -> None:
    lacking = {key: value for key, value in GOOD.items() if key != "piece"}
    with pytest.raises(InputError, match="missing"):
        read_event(lacking)
    with pytest.raises(InputError, match="table"):
        read_event([])
    assert read_event({**GOOD, "weather": "wet"}) == read_event(GOOD)


def test_one_id_two_events_is_an_error_and_loses_nothing() -> None:
    log = empty().write(RowLocked(1), "1")
    with pytest.raises(InputError, match="two different events"):
        log.merged([Event("1", 1, "", "", RowLocked(2))])
    assert log.with_event(Event("1", 1, "", "", RowLocked(1))) is log


def test_the_state_as_plain_values_is_json() -> None:
    state = fold(day(3, 80), BOARD_MM)
    entry = state_entry(state)
    assert json.loads(json.dumps(entry)) == entry
    assert set(entry["laid"]) == set(state.laid)


def test_spoiled_pieces_are_counted() -> None:
    log = empty().write(STARTER, "1").write(PieceSpoiled("1.1.1"), "2")
    assert log.state.spoiled == {"1.1.1": 1}
    assert log.state.waste_um2 == area_um2(400.0, 192.0) + 576_000_000


# --- one vector file for both languages ------------------------------------------------------


def test_the_vectors_are_what_the_fold_says() -> None:
    """The phone's script is held to the same file by tests/phone."""
    cases = json.loads(VECTORS.read_text(encoding="utf-8"))
    assert len(cases) == 12
    for case in cases:
        events = [read_event(entry) for entry in case["events"]]
        assert state_entry(fold(events, tuple(case["board_mm"]))) == case["state"]
    assert VECTORS.read_text(encoding="utf-8") == vectors_text()
