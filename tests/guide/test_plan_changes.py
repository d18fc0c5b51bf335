"""What changed against the old plan, and why: every reason names what went wrong."""

import re
from functools import cache

import pytest
from benchmarks.mishaps import mishap
from shapely import Polygon, box

from plankwright.guide.as_laid import FloorState, LaidPiece
from plankwright.guide.change_reasons import FEWEST
from plankwright.guide.offcuts_left import Ends
from plankwright.guide.replan import Change, Replanned, plan_again
from plankwright.model.board import Board
from plankwright.model.plan import Piece, Plan, StockBoard
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.optimize.solve import Effort
from plankwright.plan.planner import Task, make_plan

EFFORT = Effort(moves=1_500)
ROOMS = {
    "plain": Room(box(0, 0, 4016, 3016), name="plain"),
    "L": Room(
        Polygon([(0, 0), (4600, 0), (4600, 1700), (2900, 1700), (2900, 3400), (0, 3400)]), name="L"
    ),
    "slanted": Room(Polygon([(0, 0), (4200, 0), (3900, 2500), (150, 2600)]), name="slanted"),
}
RULES = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0, joint_offset_mm=100.0)


@cache
def plan_of(name: str) -> Plan:
    return make_plan(Task(ROOMS[name], Board(1285.0, 192.0)))


def again(plan: Plan, room: Room, state: FloorState) -> Replanned:
    return plan_again(plan, room, state, effort=EFFORT)


def at(answer: Replanned, where: str) -> Change:
    return next(change for change in answer.changes if change.where == where)


# --- two rows by hand -----------------------------------------------------------------------------


@cache
def two_rows() -> tuple[Room, Plan, Piece, Piece]:
    """Two rows of 1500 mm, boards of 1000: the end piece of row 1 leaves the starter of row 2.

    Row 1 is a starter a and an end piece 1500 - a (or a whole board and 500), row 2 likewise: 3000
    mm of row are exactly 3 boards of 1000 mm, no kerf, so nothing may be lost.
    """
    room = Room(box(0, 0, 1500, 400))
    plan = make_plan(Task(room, Board(1000.0, 200.0), RULES))
    assert plan.boards.used == 3
    shared = [p for p in plan.pieces if p.cut_order is not None and p.row == 2 and p.label]
    late = shared[0]
    early = next(p for p in plan.pieces if p.board == late.board and p.id != late.id)
    return room, plan, early, late


def end_of(piece: Piece) -> Ends:
    """The factory end that a cut piece has."""
    return "far" if piece.far_end == "factory" else "near"


def other_end(end: Ends) -> Ends:
    return "near" if end == "far" else "far"


def laid_before(plan: Plan, piece: Piece) -> tuple[LaidPiece, ...]:
    return tuple(LaidPiece(p.id) for p in plan.pieces if p.lay_order < piece.lay_order)


def test_a_piece_cut_at_the_wrong_end_is_named_with_all_that_was_to_come_of_its_board() -> None:
    room, plan, early, _late = two_rows()
    ends, kept = other_end(end_of(early)), end_of(early)
    parts = (
        StockBoard(1, early.length_mm, ends, label=f"{early.id}/1"),
        StockBoard(2, 1000.0 - early.length_mm, kept, label=f"{early.id}/2"),
    )
    state = FloorState(laid_before(plan, early), shelf=parts, spoiled=(early.id,))
    answer = again(plan, room, state)
    assert at(answer, early.id).why == f"{early.id} was cut at the wrong end"
    for change in answer.changes:
        assert early.id in change.why, change


def test_a_spoiled_piece_has_to_be_cut_again_and_its_offcut_stays_where_it_was() -> None:
    room, plan, early, late = two_rows()
    ends = end_of(late)
    rest = StockBoard(1, late.length_mm, ends, label=late.label or "")
    state = FloorState(laid_before(plan, early), shelf=(rest,), spoiled=(early.id,))
    answer = again(plan, room, state)
    assert at(answer, early.id).why == f"{early.id} has to be cut again"
    assert late.id not in {change.where for change in answer.changes}


def test_an_offcut_from_elsewhere_is_what_changed_a_source() -> None:
    room, plan, early, late = two_rows()
    ends = end_of(late)
    found = StockBoard(1, late.length_mm + 100.0, ends, label="Z")
    laid = (*laid_before(plan, early), LaidPiece(early.id))
    answer = again(plan, room, FloorState(laid, shelf=(found,)))
    change = at(answer, late.id)
    assert change.what == "is cut from offcut Z"
    assert change.why == f"offcut {late.label} for {late.id} is not there any more"


# --- every reason names a cause -----------------------------------------------------------------


@pytest.mark.parametrize("name", ROOMS)
@pytest.mark.parametrize("seed", range(4))
def test_after_a_wrong_end_every_reason_leads_back_to_it(name: str, seed: int) -> None:
    """A reason names the piece, or a piece with a change of its own that does: never nothing."""
    plan = plan_of(name)
    happened = mishap(plan, ROOMS[name], "wrong end", seed)
    assert happened is not None
    (wrong,) = happened.state.spoiled
    answer = again(plan, ROOMS[name], happened.state)
    assert at(answer, wrong).why == f"{wrong} was cut at the wrong end"
    of = {change.where: change.why for change in answer.changes}
    for change in answer.changes:
        assert change.why != FEWEST
        assert leads_to(wrong, change.why, of), change


def leads_to(wrong: str, why: str, of: dict[str, str]) -> bool:
    """Follow the pieces that reasons name; a row that is laid otherwise speaks for its pieces."""
    seen: set[str] = set()
    while wrong not in why.replace(",", "").replace("/", " ").split():
        named = re.match(r"[\d.]+[a-z]?", why)
        if named is None or named[0] in seen:
            return False
        seen.add(named[0])
        row = named[0].rpartition(".")[0]
        if named[0] not in of and row not in of:
            return False
        why = of.get(named[0]) or of[row]
    return True


@pytest.mark.parametrize("name", ROOMS)
def test_a_split_offcut_is_named(name: str) -> None:
    plan = plan_of(name)
    told = 0
    for seed in range(6):
        happened = mishap(plan, ROOMS[name], "split", seed)
        assert happened is not None
        if not happened.told.startswith("an offcut"):
            continue
        told += 1
        piece = happened.told.rpartition(" ")[2]
        answer = again(plan, ROOMS[name], happened.state)
        assert any(
            change.why.endswith(f"for {piece} is not there any more") for change in answer.changes
        )
        assert FEWEST not in {change.why for change in answer.changes}
    assert told


def test_a_row_that_comes_up_is_laid_again() -> None:
    room, plan, _, _ = two_rows()
    row = [piece for piece in plan.pieces if piece.row == 1]
    ends: dict[bool, Ends] = {True: "near", False: "far"}  # the first piece begins at the wall
    answer = again(
        plan,
        room,
        FloorState(
            laid=tuple(LaidPiece(piece.id) for piece in row),
            lifted_rows=(1,),
            shelf=tuple(
                StockBoard(0, piece.length_mm, ends[piece.seat > 1], label=piece.id)
                for piece in row
                if piece.cut_order is not None
            ),
        ),
    )
    told = [change for change in answer.changes if change.where.startswith("1.")]
    assert told
    assert {(change.what, change.why) for change in told} == {("is laid again", "row 1 comes up")}
