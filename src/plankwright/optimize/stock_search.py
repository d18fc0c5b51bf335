"""The search over starters with offcuts at hand, begun from a plan that is there already."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.local_search import Found, Search
from plankwright.optimize.options import Options, Pick, pick
from plankwright.optimize.spans import Offcut
from plankwright.optimize.stock import StockLedger

PASSES = 3  # over all stretches, to bring old starters back


@dataclass(frozen=True, slots=True)
class Strips:
    """Ripped strips at hand for the guests: so many as long as a board, and cut ones."""

    whole: int = 0
    cut: tuple[Offcut, ...] = ()


def pick_of(options: Options, takes: int) -> Pick | None:
    """The choice of a length, if the stretch may take it."""
    arcs = [arc for arc in options.ranges if arc.low <= takes <= arc.high]
    return pick(arcs[0], takes) if arcs else None


class StockSearch(Search):
    """The search with offcuts at hand.

    ``wished`` are the choices of the plan that was there; None where it has none that is legal.
    """

    def __init__(
        self,
        instance: Instance,
        options: Sequence[Options],
        shelf: Sequence[Offcut],
        wished: Sequence[Pick | None],
        rng: np.random.Generator,
        strips: Strips | None = None,
    ) -> None:
        super().__init__(instance, options, rng)
        self._ledger = StockLedger(instance, options, shelf)
        if strips is not None:
            self._strips = StockLedger(instance, options, strips.cut)
            self._free_strips += strips.whole
        self._wished = wished

    def begin(self, bound: Bound) -> None:
        """The plan that was there; what it has no legal choice for is chosen for the least harm."""
        self.aim(bound)
        missing = [i for i, choice in enumerate(self._wished) if choice is None]
        opened = {i: min(arc.boards for arc in self._options[i].ranges) for i in missing}
        for stretch, choice in enumerate(self._wished):
            if choice is not None:
                self._enter(stretch, choice)
        for stretch in missing:
            guest = self._is_guest[stretch]
            del opened[stretch]
            to_come = sum(n for i, n in opened.items() if self._is_guest[i] == guest)
            picks, cost, conflicts = self._score(stretch, self._goal(guest) - to_come)
            self._enter(stretch, picks[int(np.lexsort((cost, conflicts))[0])])
        self._conflicted = {i for i in range(len(self._options)) if self._is_conflicted(i)}
        self._note()

    def restore(self) -> Found:
        """The best plan met, with every choice of the old one back that costs nothing."""
        best = self._best
        assert best is not None
        for stretch, choice in enumerate(best.choices):
            self._enter(stretch, choice)
        for _ in range(PASSES):
            if not sum(self._brought_back(i, best.boards) for i in range(len(self._options))):
                break
        chosen = tuple(self._chosen)
        return Found(chosen, best.conflicts, best.boards, best.moves)

    def _brought_back(self, stretch: int, boards: int) -> bool:
        """Whether a stretch got its old choice back, without a board or a conflict more."""
        wish, now = self._wished[stretch], self._chosen[stretch]
        if wish is None or wish == now:
            return False
        harm = self._conflicts.count(stretch, now)
        if self._conflicts.count(stretch, wish) > harm:
            return False
        self._enter(stretch, wish)
        over = max(0, self._strips.boards() - self._free_strips)
        if self._ledger.boards() + over <= boards:
            return True
        self._enter(stretch, now)
        return False


def search_from(
    search: StockSearch,
    bound: Bound,
    moves: int,
    stop: Callable[[], bool],
    prove: Callable[[int], Bound] | None,
) -> tuple[Found, Bound]:
    """The best plan found from the one that was there, and the best bound."""
    search.begin(bound)
    found = search.improve(0, stop)
    if found.is_legal_with(bound.boards):
        return search.restore(), bound
    if prove is not None and found.boards > bound.boards:
        bound = prove(found.boards)
        search.aim(bound)
    found = search.improve(moves // 2, stop)
    if not found.is_legal_with(bound.boards):  # where the prices lead there may be no plan
        target = max(bound.boards, found.boards - 1)
        search.aim(Bound(target, float(target), "area"))
        search.improve(moves - moves // 2, stop)
    return search.restore(), bound
