"""Rows that end at slanted walls: the search is asked several times, and shapes decide.

The search measures a stretch from tip to tip; how well slanted offcuts nest shows only when pieces
are put into boards by their shapes (:mod:`plankwright.plan.nesting`). So solutions from several
seeds are nested and the one with the fewest boards is kept.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import Stretch
from plankwright.model.board import Board
from plankwright.model.plan import Piece
from plankwright.model.rules import Rules
from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.solution import Solution
from plankwright.optimize.solve import Aim, Effort, solve
from plankwright.plan.assemble import assemble

TRIES = 4
WORTH_MOVES = 2_000  # with less effort than this the first solution has to do

Nested = tuple[Solution, tuple[Piece, ...]]


def nested(
    instance: Instance,
    stretches: Sequence[Stretch],
    first: Nested,
    board: Board,
    rules: Rules,
    frame: Frame,
    effort: Effort,
    bound: Bound,
    aim: Aim,
    stop: Callable[[], bool],
) -> Nested:
    """The best of the first solution and of those of other seeds, nested by shape."""
    tries = TRIES if effort.moves >= WORTH_MOVES else 1
    found = [first]
    for turn in range(tries):
        if boards_of(min(found, key=_rank)[1]) <= bound.boards or (turn and stop()):
            break
        solution = first[0]
        if turn:
            again = replace(effort, seed=effort.seed + turn, prove=False)
            solution, _ = solve(instance, bound, again, stop, aim=aim)
        pieces = assemble(stretches, instance, solution, board, rules, frame, by_shape=True)
        found.append((solution, pieces))
    return min(found, key=_rank)


def _rank(found: Nested) -> tuple[int, int]:
    return found[0].conflicts, boards_of(found[1])


def boards_of(pieces: Sequence[Piece]) -> int:
    """How many boards some pieces are cut from."""
    return len({piece.board for piece in pieces})
