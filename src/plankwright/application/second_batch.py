"""From which row on boards of a second batch are laid, when only their number is known.

Shades of two batches differ, so they meet along one row line. The first batch goes as far as its
boards do; where nobody counted those, the second batch begins as early as its boards last.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from plankwright.errors import InputError
from plankwright.guide.as_laid import FloorState
from plankwright.guide.replan import Replanned
from plankwright.model.plan import Plan

TRIES = 4  # rows looked at, one after another, from the one that the old plan tells

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
    opened = _opened(plan, state)
    rows = sorted(opened)
    if state.second_batch_left == 0 or not rows:
        return planned(replace(state, second_batch_row=None, second_batch_left=None))
    at, best = _likeliest(opened, rows, state), None
    tried: set[int] = set()
    while 0 <= at < len(rows) and at not in tried and len(tried) < TRIES:
        tried.add(at)
        answer = planned(replace(state, second_batch_row=rows[at]))
        if best is None or answer.boards_missing < best.boards_missing:
            best = answer
        if answer.suffices:
            break
        at += 1 if answer.second_batch_boards > state.second_batch_left else -1
    assert best is not None
    return best


def _likeliest(opened: Mapping[int, int], rows: Sequence[int], state: FloorState) -> int:
    """Which row to look at first: where the first batch ends, or the second must begin."""
    before = [sum(n for other, n in opened.items() if other < row) for row in rows]
    if state.boards_left is not None:
        return max(k for k, count in enumerate(before) if count <= state.boards_left)
    first = sum(opened.values()) - (state.second_batch_left or 0)
    return next((k for k, count in enumerate(before) if count >= first), len(rows) - 1)


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
