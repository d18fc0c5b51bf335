"""From an instance to a solution: wiring only."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.local_search import Found, Search
from plankwright.optimize.looks import LOOKS_FIRST, Taste
from plankwright.optimize.matching import match
from plankwright.optimize.options import options_of
from plankwright.optimize.solution import Solution
from plankwright.optimize.waits import shorten_waits

FIRST_LOOK = 5  # this part of the moves goes before the bound is bettered


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to look: a work limit, so that the same input gives the same plan.

    Parameters
    ----------
    moves : stretches re-chosen at most; 0 takes the first plan as it is.
    seed : of the random numbers that break ties.
    looks : moves for each stretch spent on looks, once the boards are settled.
    prove : whether to prove a bound by prices, and not by area alone.
    """

    moves: int = 20_000
    seed: int = 1
    looks: int = 40
    prove: bool = True


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
    prove : a better bound for a number of boards in hand; asked once, after a first look.
    aim : what counts once the boards are settled; looks, and no board for them, where None.
    """
    options = [options_of(instance, stretch) for stretch in instance.stretches]
    search = Search(instance, options, np.random.default_rng(effort.seed))
    search.aim(bound)
    search.construct()
    found = search.improve(effort.moves // FIRST_LOOK, stop)
    if prove is not None and found.boards > bound.boards:
        bound = prove(found.boards)
    if not found.is_legal_with(bound.boards):
        search.aim(bound)
        found = search.improve(effort.moves - effort.moves // FIRST_LOOK, stop)
    if found.conflicts == 0:
        found = _beautify(search, found.boards, effort.looks * len(options), stop, aim or Aim())
    placed, boards = match(instance, options, found.choices)
    starters = tuple(
        choice.takes if option.is_long else None
        for option, choice in zip(options, found.choices, strict=True)
    )
    seats = shorten_waits(instance, placed)
    return Solution(starters, seats, boards, found.conflicts), bound


def _beautify(search: Search, boards: int, moves: int, stop: Callable[[], bool], aim: Aim) -> Found:
    """Better looks with the same boards; then board by board, while each is worth its price."""
    found = search.beautify(moves, stop, aim.taste)
    for _ in range(aim.spend(boards)):
        dearer = search.beautify(moves, stop, aim.taste, spend=1)
        if found.looks - dearer.looks < aim.taste.board:
            break
        found = dearer
    return found
