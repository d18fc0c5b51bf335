"""Search over starters: one stretch re-chosen at a time until the boards meet their target.

The state is a starter for every stretch. Its cost is the excess area of the ledger over a target
number of boards plus a penalty for every joint conflict; when both are zero the plan is legal and
needs no more boards than the target. All choices of a stretch are scored at once.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.choices import Choices, Ints
from plankwright.optimize.conflicts import Conflicts
from plankwright.optimize.instance import Instance
from plankwright.optimize.ledger import Ledger

FAR = 1 << 40


@dataclass(frozen=True, slots=True)
class Found:
    """The best state met: choices, conflicts, boards, and the moves it took."""

    chosen: tuple[int, ...]
    conflicts: int
    boards: int
    moves: int


class State:
    """Choices of all stretches, with their ledger and conflicts kept up to date."""

    def __init__(self, instance: Instance, choices: list[Choices]) -> None:
        self.choices = choices
        self.ledger = Ledger(instance.cells)
        self.conflicts = Conflicts(instance, choices)
        self.chosen = [-1] * len(choices)

    def put(self, stretch: int, pick: int) -> None:
        """Choose for an open stretch."""
        self.chosen[stretch] = pick
        self.ledger.add(self.choices[stretch], pick)
        self.conflicts.choose(stretch, pick)

    def take(self, stretch: int) -> int:
        """Open a stretch again; returns what it had."""
        pick = self.chosen[stretch]
        self.ledger.add(self.choices[stretch], pick, -1)
        self.conflicts.clear(stretch)
        self.chosen[stretch] = -1
        return pick

    def conflict_count(self) -> int:
        """Conflicting pairs of joints in all."""
        twice = sum(self.conflicts.of(i, pick) for i, pick in enumerate(self.chosen))
        return twice // 2


def construct(instance: Instance, choices: list[Choices], target: int) -> State:
    """A first plan: stretch by stretch, no conflict if that can be, then the least excess."""
    state = State(instance, choices)
    for stretch, options in enumerate(choices):
        cost = state.ledger.excess_with(options, max(target, state.ledger.opened))
        cost = cost + FAR * state.conflicts.per_choice(stretch)
        state.put(stretch, int(np.argmin(cost)))
    return state


def improve(
    state: State,
    target: int,
    rng: np.random.Generator,
    moves: int,
    stop: Callable[[], bool],
) -> Found:
    """Re-choose stretches until the target is met, the moves are spent or ``stop`` says so."""
    walk = _Walk(state, target, rng)
    for move in range(moves):
        if walk.met or (move % 64 == 63 and stop()):
            return walk.best(move)
        walk.step()
    return walk.best(moves)


class _Walk:
    """One run of the search towards a target."""

    def __init__(self, state: State, target: int, rng: np.random.Generator) -> None:
        self._state = state
        self._target = target
        self._rng = rng
        self._weight = 40.0  # cells of excess that one conflict counts for
        self._conflicted = {i for i in range(len(state.chosen)) if self._is_conflicted(i)}
        self._best: Found | None = None
        self._tabu: dict[int, int] = {}
        self._move = 0
        self._note()

    @property
    def met(self) -> bool:
        best = self._best
        return best is not None and best.conflicts == 0 and best.boards <= self._target

    def best(self, moves: int) -> Found:
        assert self._best is not None
        return Found(self._best.chosen, self._best.conflicts, self._best.boards, moves)

    def step(self) -> None:
        self._move += 1
        stretch = self._pick_stretch()
        state = self._state
        old = state.take(stretch)
        conflicts = state.conflicts.per_choice(stretch)
        cost = state.ledger.excess_with(state.choices[stretch], self._target)
        score = cost + self._weight * conflicts
        pick = self._pick_choice(score, old)
        state.put(stretch, pick)
        if conflicts[pick] or conflicts[old]:
            for other in (stretch, *state.conflicts.neighbors(stretch)):
                (self._conflicted.add if self._is_conflicted(other) else self._conflicted.discard)(
                    other
                )
        self._note()

    def _is_conflicted(self, stretch: int) -> bool:
        return self._state.conflicts.of(stretch, self._state.chosen[stretch]) > 0

    def _pick_stretch(self) -> int:
        count = len(self._state.chosen)
        draw = self._rng.random()
        if self._conflicted and draw < 0.5:
            among = sorted(self._conflicted)
            return among[int(self._rng.integers(len(among)))]
        if draw < 0.85:
            tight = self._state.ledger.tight(self._target)
            if len(tight):
                cell = int(tight[int(self._rng.integers(len(tight)))])
                burdened = [
                    i
                    for i, pick in enumerate(self._state.chosen)
                    if self._state.choices[i].leaves[pick]
                    < cell
                    <= self._state.choices[i].takes[pick]
                ]
                if burdened:
                    return burdened[int(self._rng.integers(len(burdened)))]
        return int(self._rng.integers(count))

    def _pick_choice(self, score: Ints, old: int) -> int:
        if self._rng.random() < 0.5 and len(score) > 1:
            score = score.astype(np.float64)
            score[old] += 5.0
        least = score.min()
        ties = np.flatnonzero(score <= least + (self._rng.random() < 0.1) * 20.0)
        return int(ties[int(self._rng.integers(len(ties)))])

    def _note(self) -> None:
        conflicts = len(self._conflicted)
        boards = self._state.ledger.boards()
        best = self._best
        if best is None or (conflicts, boards) < (best.conflicts, best.boards):
            self._best = Found(tuple(self._state.chosen), conflicts, boards, 0)
