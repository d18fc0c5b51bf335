"""From an instance to a solution: wiring only."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.choices import choices_of
from plankwright.optimize.instance import Instance
from plankwright.optimize.local_search import construct, improve
from plankwright.optimize.matching import match
from plankwright.optimize.solution import Solution


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to look: a work limit, so that the same input gives the same plan.

    Parameters
    ----------
    moves : stretches re-chosen at most; 0 takes the first plan as it is.
    seed : of the random numbers that break ties.
    """

    moves: int = 20_000
    seed: int = 1


def never() -> bool:
    """A stop that never comes."""
    return False


def solve(
    instance: Instance, bound: int, effort: Effort, stop: Callable[[], bool] = never
) -> Solution:
    """A legal solution with as few boards as the effort finds; stops at ``bound`` boards."""
    choices = [choices_of(instance, stretch) for stretch in instance.stretches]
    state = construct(instance, choices, bound)
    rng = np.random.default_rng(effort.seed)
    found = improve(state, bound, rng, effort.moves, stop)
    seats, boards = match(instance, choices, list(found.chosen))
    starters = tuple(
        int(options.starter[pick]) if options.is_long else None
        for options, pick in zip(choices, found.chosen, strict=True)
    )
    return Solution(starters, tuple(seats), boards, found.conflicts)
