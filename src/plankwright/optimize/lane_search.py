"""The search over starters in several lanes: every lane keeps the target number of boards.

That all lanes keep it is needed, not enough: the pieces must be packed side by side, too. So a
state counts with the boards that its packing takes, and packing is tried now and then only.
"""

from collections.abc import Sequence

import numpy as np

from plankwright.optimize.instance import Instance
from plankwright.optimize.lane_ledger import LaneLedger, Loads
from plankwright.optimize.lanes import Lanes
from plankwright.optimize.ledger import Floats, Ints
from plankwright.optimize.local_search import MOST_LENGTHS, Found, Picks, Search
from plankwright.optimize.options import Options, Pick
from plankwright.optimize.side_by_side import pack_lanes
from plankwright.optimize.solution import Seat

PACK_EVERY = 20  # moves from one packing of all pieces to the next, if there is nothing to gain
FEWEST_LENGTHS = 20  # looked at for every way a part may take or leave them


class LaneSearch(Search):
    """The search where pieces may lie side by side in a board."""

    def __init__(
        self, instance: Instance, options: Sequence[Options], rng: np.random.Generator
    ) -> None:
        super().__init__(instance, options, rng)
        self._lanes = Lanes(instance, options)
        self._balance = LaneLedger(instance.board, self._lanes.slots(), instance.lanes)
        self._waited = self._patience = PACK_EVERY
        self._is_guest = [False] * len(options)

    def _enter(self, stretch: int, choice: Pick) -> None:
        self._chosen[stretch] = choice
        self._balance.enter(stretch, self._lanes.load(stretch, choice))
        self._conflicts.enter(stretch, choice)

    def _strike(self, stretch: int) -> None:
        self._balance.strike(stretch)
        self._conflicts.strike(stretch)

    def _most(self, spend: int) -> dict[bool, int]:
        return {False: self._balance.boards() + spend, True: 0}

    def _boards(self) -> int:
        """Boards that the pieces of all choices are cut from; no fewer than the best are sought."""
        enough = self._best.boards if self._best is not None else 0
        return pack_lanes(self._instance, self._lanes, self._chosen, enough)[1]

    def seats(self) -> tuple[list[Seat], int]:
        """The seats of the best state with their boards, and how many boards these are."""
        assert self._best is not None
        return pack_lanes(self._instance, self._lanes, self._best.choices, self._best.boards)

    def _burdened(self) -> Ints:
        over = self._balance.steps().over(self._target)
        if not over:
            return np.empty(0, dtype=np.int64)
        return self._balance.burdened(*over[int(self._rng.integers(len(over)))])

    def _excess(self, stretch: int, picks: Picks, target: int) -> tuple[Floats, Floats]:
        cost, worth = np.empty(len(picks.takes)), np.empty(len(picks.takes))
        for boards in set(picks.boards.tolist()):
            part = picks.boards == boards
            loads = self._lanes.loads(stretch, boards, picks.takes[part], picks.leaves[part])
            cost[part] = self._balance.excess_with(target, loads)
            worth[part] = self._worth(loads)
        return cost, worth

    def _worth(self, loads: Loads) -> Floats:
        """What choices cost by the bound's prices, which are taken to be those of lane 0."""
        first = loads.takes <= self._instance.board
        taken = self._priced(np.where(first, loads.takes, 0))
        left = self._priced(np.where(first, loads.leaves, 0))
        worth: Floats = loads.opened[:, 0] + (taken - left).sum(axis=1)
        return worth

    def _candidates(self, stretch: int, edges: Ints, marks: int = 0) -> Picks:
        lengths = self._balance.steps().at % self._instance.board
        found: list[Picks] = []
        for arc in self._options[stretch].ranges:
            shifts = self._lanes.shifts(stretch, arc)
            most = max(2 * MOST_LENGTHS // max(len(shifts), 1), FEWEST_LENGTHS)
            some = lengths if len(lengths) <= most else self._rng.choice(lengths, most, False)
            chance = self._rng.integers(arc.low, arc.high + 1, size=4 + marks)
            chance[4:] -= chance[4:] % self._instance.grid
            ends = (arc.low, arc.high)
            met = (some + shifts[:, None]).ravel()
            both = np.concatenate([met, edges, self._lanes.edges(stretch, arc), chance, ends])
            inside = both[(both >= arc.low) & (both <= arc.high)]
            boards = np.full(len(inside), arc.boards, dtype=np.int64)
            found.append(Picks(inside, np.maximum(inside + arc.shift, 0), boards))
        return Picks(
            np.concatenate([picks.takes for picks in found]),
            np.concatenate([picks.leaves for picks in found]),
            np.concatenate([picks.boards for picks in found]),
        )

    def _note(self) -> None:
        conflicts, best = len(self._conflicted), self._best
        self._waited += 1
        least = self._balance.boards()
        if best is not None and (conflicts, least) >= (best.conflicts, best.boards):
            return
        if self._waited < self._patience:
            return
        boards = pack_lanes(self._instance, self._lanes, self._chosen, least)[1]
        self._waited = 0
        self._patience = PACK_EVERY if boards == least else min(2 * self._patience, 320)
        if best is None or (conflicts, boards) < (best.conflicts, best.boards):
            self._best = Found(tuple(self._chosen), conflicts, boards, 0)
