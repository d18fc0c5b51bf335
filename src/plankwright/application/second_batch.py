"""From which row on boards of a second batch are laid, when only their number is known.

Shades of two batches differ, so they meet along one row line. The first batch goes as far as its
boards do; where nobody counted those, the second batch begins as early as its boards last.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from plankwright.errors import InputError
from plankwright.guide.as_laid import FloorState
from plankwright.guide.replan import Replanned
from plankwright.model.plan import Plan

TRIES = 4  # rows looked at; the plan that was there tells nearly which

Planned = Callable[[FloorState], Replanned]


def with_second_batch(plan: Plan, state: FloorState, planned: Planned) -> Replanned:
    """The answer of planning again with the row chosen from which the second batch is laid.

    Parameters
    ----------
    state : says how many boards of the second batch are at hand, and not from which row.
    planned : plans again from a state.

    Raises
    ------
    InputError : the state does not say how many.
    """
    if state.second_batch_left is None:
        raise InputError("how many boards of the second batch?", where="second batch")
    rows = list(_rows(plan, state))
    if state.second_batch_left == 0 or not rows:
        return planned(replace(state, second_batch_row=None, second_batch_left=None))
    best: Replanned | None = None
    for row in rows[:TRIES]:
        answer = planned(replace(state, second_batch_row=row))
        if best is None or answer.boards_missing < best.boards_missing:
            best = answer
        if best.suffices:
            break
    assert best is not None
    return best


def _rows(plan: Plan, state: FloorState) -> Iterator[int]:
    """Rows from which the second batch may begin, the likeliest first."""
    opened = _opened(plan, state)
    rows = sorted(opened)
    first, second = state.boards_left, state.second_batch_left or 0
    before = {row: sum(n for other, n in opened.items() if other < row) for row in rows}
    total = sum(opened.values())
    if first is not None:
        fitting = [row for row in rows if before[row] <= first]
        yield from reversed(fitting)
        return
    yield from (row for row in rows if total - before[row] <= second)


def _opened(plan: Plan, state: FloorState) -> dict[int, int]:
    """By row what the plan that was there opens of new boards."""
    out = state.laid_ids | {*state.cut}
    seen = {piece.board for piece in plan.pieces if piece.id in out}
    seen |= {board.id for board in plan.stock}
    found: dict[int, int] = {}
    for piece in sorted(plan.pieces, key=lambda piece: piece.lay_order):
        if piece.id in out:
            continue
        is_new = piece.board not in seen
        seen.add(piece.board)
        found[piece.row] = found.get(piece.row, 0) + is_new
    return found
