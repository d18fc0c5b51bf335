"""The shelf as it is, held against the shelf as planned, and whether anything went wrong at all."""

from collections.abc import Sequence
from dataclasses import replace

from plankwright.errors import InputError
from plankwright.guide.as_laid import FloorState
from plankwright.guide.offcuts_left import Offcut, offcuts_left
from plankwright.model.plan import Plan, StockBoard

SAME_MM = 0.06


def shelf_now(plan: Plan, state: FloorState) -> tuple[Offcut, ...]:
    """Every offcut at hand, each with the board of the plan it comes from where that is known.

    Pieces that wait to be laid and those of lifted rows are among them.

    Raises
    ------
    InputError : the state names pieces that the plan does not have.
    """
    planned = planned_shelf(plan, state)
    if state.shelf is None:
        return planned
    waiting = [offcut for offcut in planned if offcut.exact]
    unclaimed = [offcut for offcut in planned if not offcut.exact]
    found = []
    for stock in (_of_full_width(stock, plan) for stock in state.shelf):
        match = _match(stock, unclaimed, plan)
        if match is None:
            found.append(Offcut(stock))
        else:
            unclaimed.remove(match)
            found.append(Offcut(_as_planned(stock, match), match.board, match.wanted))
    return (*found, *waiting)


def planned_shelf(plan: Plan, state: FloorState) -> tuple[Offcut, ...]:
    """What the plan leaves at hand once the pieces are cut that are."""
    known = {piece.id for piece in plan.pieces}
    if unknown := [name for name in (*state.cut, *state.spoiled) if name not in known]:
        raise InputError("the plan has no such piece", where="pieces", value=unknown[0])
    laid, lifted = state.laid_ids, state.lifted_ids
    at_hand = ({*state.cut} | lifted) - laid - {*state.spoiled}
    return offcuts_left(plan, laid | lifted | {*state.cut, *state.spoiled}, at_hand)


def _match(stock: StockBoard, planned: Sequence[Offcut], plan: Plan) -> Offcut | None:
    """The planned offcut that this one is, by its ends, its width and its length."""
    slack = plan.rules.allowance_mm + SAME_MM
    alike = [
        offcut
        for offcut in planned
        if offcut.stock.ends == stock.ends
        and abs(_width(offcut.stock, plan) - _width(stock, plan)) <= slack
        and abs(offcut.stock.length_mm - stock.length_mm) <= slack
    ]
    return min(
        alike,
        key=lambda o: (o.stock.label != stock.label, abs(o.stock.length_mm - stock.length_mm)),
        default=None,
    )


def _as_planned(stock: StockBoard, planned: Offcut) -> StockBoard:
    """The true offcut; its label as the plan has it where it bears none."""
    label = stock.label or planned.stock.label
    return replace(stock, label=label, side=planned.stock.side)


def _of_full_width(stock: StockBoard, plan: Plan) -> StockBoard:
    """An offcut as wide as a board says no width."""
    if stock.width_mm is not None and stock.width_mm >= plan.board.width_mm - SAME_MM:
        return replace(stock, width_mm=None)
    return stock


def _width(stock: StockBoard, plan: Plan) -> float:
    return plan.board.width_mm if stock.width_mm is None else stock.width_mm


def nothing_wrong(plan: Plan, state: FloorState, shelf: Sequence[Offcut]) -> bool:
    """Whether all is as planned: the old plan holds, whatever the number of boards at hand."""
    lengths = {piece.id: piece.length_mm for piece in plan.pieces}
    as_cut = all(
        piece.length_mm is None
        or abs(piece.length_mm - lengths.get(piece.id, 0.0)) <= plan.rules.allowance_mm + SAME_MM
        for piece in state.laid
    )
    width = state.row_width_mm
    return (
        as_cut
        and not state.walls
        and not state.lifted_rows
        and not state.spoiled
        and state.second_batch_row is None
        and (width is None or abs(width - plan.board.width_mm) < 1e-9)
        and all(offcut.board is not None for offcut in shelf)
        and _is_whole(plan, state, shelf)
    )


def _is_whole(plan: Plan, state: FloorState, shelf: Sequence[Offcut]) -> bool:
    """Whether every planned offcut that is wanted is there, by nearly its planned length."""
    wanted = {name for offcut in planned_shelf(plan, state) for name in offcut.wanted}
    return wanted <= {name for offcut in shelf for name in offcut.wanted}
