"""From an instance to a solution: wiring only."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.bounds import Bound, circulation_bound
from plankwright.optimize.instance import Instance, in_one_lane
from plankwright.optimize.lane_search import LaneSearch
from plankwright.optimize.local_search import Found, Search
from plankwright.optimize.looks import LOOKS_FIRST, Taste
from plankwright.optimize.options import options_of
from plankwright.optimize.solution import Solution
from plankwright.optimize.spans import Span
from plankwright.optimize.waits import shorten_waits

FIRST_LOOK = 5  # this part of the moves goes before the bound is bettered,
MOST_AT_FIRST = 4_000  # and no more of them
FIRST_PART = 1_000  # moves for a target, before another is tried; doubled each time round
LANE_COST = 4  # a move costs so much more in several lanes


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to look: a work limit, so that the same input gives the same plan.

    Parameters
    ----------
    moves : stretches re-chosen at most; 0 takes the first plan as it is.
    seed : of the random numbers that break ties.
    looks : moves for each stretch spent on looks, once the boards are settled.
    prove : whether to prove a bound by prices, and not by area alone.
    waits : whether to shorten how long offcuts wait on the shelf.
    """

    moves: int = 20_000
    seed: int = 1
    looks: int = 100
    prove: bool = True
    waits: bool = True


WHILE_DRAGGING = Effort(
    moves=100, looks=2, prove=False
)  # a good plan at once, on a slow machine too


def never() -> bool:
    """A stop that never comes."""
    return False


@dataclass(frozen=True, slots=True)
class Aim:
    """What counts once the boards are settled.

    Parameters
    ----------
    taste : what each measure of looks costs, and a board spent on lowering them.
    spend : for a number of boards, how many more may be spent on looks.
    """

    taste: Taste = LOOKS_FIRST
    spend: Callable[[int], int] = lambda _: 0


def solve(
    instance: Instance,
    bound: Bound,
    effort: Effort,
    stop: Callable[[], bool] = never,
    prove: Callable[[int], Bound] | None = None,
    aim: Aim | None = None,
) -> tuple[Solution, Bound]:
    """A legal solution with as few boards as the effort finds, and the best bound.

    Parameters
    ----------
    bound : a quick bound to aim at.
    prove : a better bound for a number of boards in hand; asked after a first look, and again when
        a plan with a board more than the bound was found.
    aim : what counts once the boards are settled; looks, and no board for them, where None.
    """
    options = [options_of(instance, stretch) for stretch in instance.stretches]
    is_plain = True
    plain, rng = in_one_lane(instance), np.random.default_rng(effort.seed)
    search = Search(plain, options, rng)
    search.aim(bound)
    search.construct()
    at_first = min(effort.moves // FIRST_LOOK, MOST_AT_FIRST)
    found = search.improve(at_first, stop)
    if prove is not None and found.boards > bound.boards:
        bound = prove(found.boards)
    moves = effort.moves - at_first
    met = found.is_legal_with(bound.boards)
    if not met and (instance.lanes == 1 or _least(plain, stop) <= bound.boards):
        found, bound = _descend(search, bound, moves, stop, prove)
    if instance.lanes > 1 and not found.is_legal_with(bound.boards):
        sharing = LaneSearch(instance, options, rng)
        sharing.go_on_from(found)
        shared, bound = _descend(sharing, bound, moves // LANE_COST, stop, prove)
        if (shared.conflicts, shared.boards) < (found.conflicts, found.boards):
            search, found, is_plain = sharing, shared, False
    if found.conflicts == 0:
        found = _beautify(search, found.boards, effort.looks * len(options), stop, aim or Aim())
    placed, boards = search.seats()
    starters = tuple(
        choice.takes if option.is_long else None
        for option, choice in zip(options, found.choices, strict=True)
    )
    seats = tuple(placed)
    if effort.waits:
        seats = shorten_waits(plain if is_plain else instance, placed)
    return Solution(starters, seats, boards, found.conflicts), bound


def _least(plain: Instance, stop: Callable[[], bool]) -> int:
    """Boards that stretches need if nothing lies beside them: prices on a coarse grid."""
    spans = [
        Span(need.length, plain.shortest if need.length > plain.board else 0, begun=need.begun)
        for need in plain.stretches
        if need.role != "guest"
    ]
    return circulation_bound(plain.board, plain.cut, spans, arc_limit=0, stop=stop).boards


def _descend(
    search: Search,
    bound: Bound,
    moves: int,
    stop: Callable[[], bool],
    prove: Callable[[int], Bound] | None,
) -> tuple[Found, Bound]:
    """Aim at the bound and, in turn, at a board less than found, for longer and longer.

    The bound's prices lead to a plan that meets it, if there is one; without them a board less is
    found more often where there is none.
    """
    left, part = moves, FIRST_PART
    while True:
        search.aim(bound)
        found = search.improve(min(part, left), stop)
        left -= found.moves
        while not found.is_legal_with(bound.boards):
            if prove is not None and found.is_legal_with(bound.boards + 1):
                bound = prove(found.boards)
                if found.boards <= bound.boards:
                    break
            if left <= 0 or stop():
                break
            target = max(bound.boards, found.boards - (found.conflicts == 0))
            search.aim(Bound(target, float(target), "area"))
            search.construct()
            found = search.improve(min(part, left), stop)
            left -= max(found.moves, 1)
            if not found.is_legal_with(target):
                break
        if found.is_legal_with(bound.boards) or left <= 0 or stop():
            return found, bound
        part *= 2


def _beautify(search: Search, boards: int, moves: int, stop: Callable[[], bool], aim: Aim) -> Found:
    """Better looks with the same boards; then board by board, while each is worth its price."""
    found = search.beautify(moves, stop, aim.taste)
    for _ in range(aim.spend(boards)):
        before = search.cost_in_looks(aim.taste)
        dearer = search.beautify(moves, stop, aim.taste, spend=1)
        if before - search.cost_in_looks(aim.taste) < aim.taste.board:
            search.go_back_to(found)
            break
        found = dearer
    return found
