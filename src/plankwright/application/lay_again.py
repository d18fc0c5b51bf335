"""Use case: plan again from what the log says, and let nothing out that the checker refuses."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from plankwright.application.lay_day import Day
from plankwright.application.plan_room import require_checked
from plankwright.application.second_batch import with_second_batch
from plankwright.errors import InputError, PlanFaultError
from plankwright.guide.as_laid import FloorState, LaidPiece, WallShift
from plankwright.guide.card_events import cut_of
from plankwright.guide.cards import Card
from plankwright.guide.checks import forecast
from plankwright.guide.events import (
    Event,
    OffcutFound,
    PieceLifted,
    PieceShelved,
    PieceSpoiled,
    PlanTaken,
    What,
)
from plankwright.guide.laying_state import Held, LayingState, OnShelf, apply, taken_back
from plankwright.guide.offcuts_left import odd_rests
from plankwright.guide.replan import Replanned, plan_again
from plankwright.model.plan import Piece, Plan, StockBoard
from plankwright.model.room import FixedKind, FixedThing, Room
from plankwright.optimize.solve import never
from plankwright.plan.drift import TAPE_MM

SAME_MM = 0.5  # read off a tape


@dataclass(frozen=True, slots=True)
class Asked:
    """What a person says beside what the log knows.

    Parameters
    ----------
    walls : walls that are not where the plan has them.
    lifted_rows : rows that come up, because something in them is damaged.
    boards_left : whole boards at hand, of all batches; None: what the packs of the first plan have
        left, if any pack was written down.
    second_batch_left : how many of them are of another batch than what lies.
    second_batch_row : from this row on those are laid; None: the best row for their number.
    keeps_rows : rows to come are laid as planned wherever they can be, also where a board more is
        taken for it.
    """

    walls: tuple[WallShift, ...] = ()
    lifted_rows: tuple[int, ...] = ()
    boards_left: int | None = None
    second_batch_row: int | None = None
    second_batch_left: int | None = None
    keeps_rows: bool = False


def again(
    day: Day,
    room: Room,
    asked: Asked | None = None,
    *,
    bought: int | None = None,
    stop: Callable[[], bool] = never,
) -> Replanned:
    """The checked answer of planning again from a day as it is.

    Parameters
    ----------
    room : the room the plan was made for.
    bought : boards in all packs that were bought; None when nobody knows.
    stop : asked now and then; when it says True the best plan so far is taken.

    Raises
    ------
    InputError : what lies and what was measured cannot go together.
    PlanFaultError : the checker refused the plan: a defect of this program.
    """
    asked = asked or Asked()
    state = floor_state(day, asked, bought)
    planned = partial(_planned, day.plan, room, asked.keeps_rows, stop)
    if asked.second_batch_left is not None and asked.second_batch_row is None:
        answer = with_second_batch(day.plan, state, planned)
    else:
        answer = planned(state)
    try:
        require_checked(answer.plan)
    except PlanFaultError:
        _refuse_rows_beyond(day, asked)
        raise
    return answer


def _planned(
    plan: Plan, room: Room, keeps_rows: bool, stop: Callable[[], bool], state: FloorState
) -> Replanned:
    return plan_again(plan, room, state, stop=stop, keeps_rows=keeps_rows)


def _refuse_rows_beyond(day: Day, asked: Asked) -> None:
    """Rows come up from the last one back: tell which lie beyond one that should come up."""
    lying = {_row(name) for name in day.state.laid}
    first = min(asked.lifted_rows, default=max(lying, default=0))
    beyond = sorted(row for row in lying - {*asked.lifted_rows} if row > first)
    if beyond:
        told = ", ".join(map(str, beyond))
        raise InputError(
            f"rows that lie beyond it must come up before it: {told}",
            where="lift",
            value=first,
            remedy="Lift those, too: they go back in the same order.",
        )


def floor_state(day: Day, asked: Asked, bought: int | None = None) -> FloorState:
    """What the log says lies, is at hand and was measured, as planning again takes it."""
    state, pieces = day.state, {piece.id: piece for piece in day.plan.pieces}
    if unknown := sorted(set(state.laid) - set(pieces)):
        raise InputError("the plan has no such piece", where="laid", value=unknown[0])
    as_planned = [name for name, held in state.hand.items() if _fits(held, pieces.get(name))]
    others = {name: held for name, held in state.hand.items() if name not in as_planned}
    damaged = [name for name, held in state.laid.items() if held.damaged]
    left = asked.boards_left
    if left is None and bought is not None and any(state.packs):
        left = max(bought - state.boards_taken, 0)
    second = asked.second_batch_left
    if left is not None and second is not None:
        if second > left:
            raise InputError(
                f"only {left} whole boards are at hand",
                where="second batch",
                value=second,
                remedy="Count all whole boards, those of the second batch among them.",
            )
        left -= second
    return FloorState(
        laid=tuple(LaidPiece(name, _true_length(held, pieces[name].length_mm))
                   for name, held in sorted(state.laid.items())),
        cut=tuple(sorted(as_planned)),
        shelf=None if not others and is_as_planned(day) else shelf_boards(day, others),
        boards_left=left,
        row_width_mm=laid_row_width(day.plan, state),
        walls=asked.walls,
        lifted_rows=asked.lifted_rows,
        spoiled=tuple(
            sorted({
                *(name for name in damaged if _row(name) in asked.lifted_rows),
                *cut_in_vain(day),
            })
        ),
        second_batch_row=asked.second_batch_row,
        second_batch_left=second,
    )  # fmt: skip


def cut_in_vain(day: Day) -> frozenset[str]:
    """Pieces of the plan that is laid now whose cut went wrong: they have to be cut again."""
    back = {*taken_back(day.log.events), *day.state.set_aside}
    found: set[str] = set()
    for event in reversed(day.log.events):
        if event.id in back:
            continue
        if isinstance(event.what, PlanTaken):
            break
        if isinstance(event.what, PieceSpoiled | PieceShelved):
            found.add(event.what.piece)
    known = {piece.id for piece in day.plan.pieces}
    return frozenset(found & known - set(day.state.hand) - set(day.state.laid))


def is_as_planned(day: Day) -> bool:
    """Whether the shelf holds what the cards left there, by letter, size and ends."""
    planned = LayingState(day.log.board_mm)
    whats: list[What] = [
        OffcutFound(b.label or str(b.id), b.length_mm, b.width_mm or day.log.board_mm[1], b.ends)
        for b in day.plan.stock
    ]
    done = {*day.state.laid, *day.state.hand}
    whats += [
        cut_of(card) for card in day.cards if card.piece in done and not card.is_new_and_whole
    ]
    for number, what in enumerate(whats, start=1):
        planned = apply(planned, Event(str(number), number, "", "", what))
    if set(planned.shelf) != set(day.state.shelf):
        return False
    pairs = ((part, day.state.shelf[label]) for label, part in planned.shelf.items())
    return all(
        abs(one.length_mm - other.length_mm) <= SAME_MM
        and abs(one.width_mm - other.width_mm) <= SAME_MM
        and one.ends == other.ends
        for one, other in pairs
    )


def laid_row_width(plan: Plan, state: LayingState) -> float | None:
    """What a row really covers, from the last distances to the far wall; None as long as planned.

    Open joints are to be closed, not planned with, and what a tape cannot tell does not count.
    """
    try:
        drift = forecast(plan, state)
    except InputError as error:
        raise InputError(
            error.message,
            where="the last distances to the far wall",
            value=error.value,
            remedy="Measure them again and tell them: the last ones count.",
        ) from None
    if drift is None or drift.has_open_joints:
        return None
    extra = sum(drift.extra_mm) / 2.0
    rows = drift.covered_mm[0] / plan.board.width_mm
    return plan.board.width_mm + extra if abs(extra) * rows > TAPE_MM else None


def taken_events(day: Day, answer: Replanned, lifted_rows: Iterable[int] = ()) -> tuple[What, ...]:
    """What is written down when a new plan is taken: rows that come up, pieces put on the shelf."""
    rows, state = set(lifted_rows), day.state
    stocked = {board.label for board in answer.plan.stock}  # in the hand: by its own id
    up = {name: held for name, held in sorted(state.laid.items()) if _row(name) in rows}
    whats: list[What] = [PieceLifted(name) for name in up]
    whats += [PieceSpoiled(name) for name, held in up.items() if held.damaged]
    at_hand = {**state.hand, **{name: held for name, held in up.items() if not held.damaged}}
    whats += [
        PieceShelved(name, name, held.length_mm, held.ends)
        for name, held in sorted(at_hand.items())
        if name in stocked and name not in state.shelf
    ]
    return tuple(whats)


def room_of(plan: Plan) -> Room:
    """The room as far as a plan tells it; doorways stand in its recesses only."""
    return Room(
        plan.room,
        fixed=tuple(
            FixedThing(_kind(thing.kind), thing.outline, thing.gap_mm, thing.name)
            for thing in plan.fixed
        ),
        edge_gaps=plan.edges,
        name=plan.name,
    )


def _kind(word: str) -> FixedKind:
    return word  # type: ignore[return-value]  # FixedThing refuses an unknown one


def _row(piece: str) -> int:
    return int(piece.partition(".")[0])


def _fits(held: Held, piece: Piece | None) -> bool:
    return (
        piece is not None
        and not held.damaged
        and abs(held.length_mm - piece.length_mm) <= SAME_MM
        and abs(held.width_mm - piece.width_mm) <= SAME_MM
    )


def _true_length(held: Held, planned_mm: float) -> float | None:
    return held.length_mm if abs(held.length_mm - planned_mm) > SAME_MM else None


def _odd_marks(card: Card) -> Iterator[str]:
    """Marks of what a card leaves that is no rectangle."""
    if card.cut is not None:
        odd = odd_rests(card.cut)
        lefts = zip(card.left, card.cut.offcuts, strict=True)
        yield from (left.mark for left, offcut in lefts if offcut in odd)


def shelf_boards(day: Day, in_hand: dict[str, Held]) -> tuple[StockBoard, ...]:
    """The shelf, and pieces in the hand that are not as the plan has them.

    An offcut that is no rectangle is left out: nobody knows what else could be cut from it.
    """
    odd = {mark for card in day.cards for mark in _odd_marks(card)}
    sides = {left.mark: left.side for card in day.cards for left in card.left if left.mark}
    numbers = (*(piece.board for piece in day.plan.pieces), *(b.id for b in day.plan.stock))
    first = 1 + max(numbers, default=0)
    whole = day.log.board_mm[1] - SAME_MM
    parts: list[tuple[str, Held | OnShelf]] = [*day.state.shelf.items(), *in_hand.items()]
    parts = [(label, part) for label, part in parts if label not in odd]
    return tuple(
        StockBoard(
            first + number,
            part.length_mm,
            part.ends,
            None if part.width_mm >= whole else part.width_mm,
            label,
            "none" if part.width_mm >= whole else sides.get(label, "none"),
        )
        for number, (label, part) in enumerate(parts)
    )
