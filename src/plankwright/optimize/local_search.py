"""Search over starters: one stretch re-chosen at a time until the boards meet their target.

The state is a starter for every stretch. Its cost is the excess of the ledger over a target
number of boards plus a penalty for every joint conflict; when both are zero the plan is legal and
needs no more boards than the target. The cost of one stretch's starter is piecewise linear: it is
looked at where its slope can change (where a length taken meets one left, at the edges of what
neighbors forbid) and in a few places drawn at random. The next choice is drawn with a probability
that falls with its cost (a heat bath), and the heat goes down and up again.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.bounds import Bound
from plankwright.optimize.conflicts import Conflicts, in_windows
from plankwright.optimize.instance import TICKS_PER_MM, Instance
from plankwright.optimize.ledger import Floats, Ints, Ledger, excess_with
from plankwright.optimize.looks import LOOKS_FIRST, Looks, Taste
from plankwright.optimize.matching import match
from plankwright.optimize.options import Options, Pick
from plankwright.optimize.prices import Prices
from plankwright.optimize.solution import Seat

CONFLICT_MM = 150.0  # excess that one joint conflict counts for
HOT_MM, COLD_MM = 300.0, 0.3
CYCLE_PER_STRETCH = 40  # moves from hot to cold, for each stretch
GUIDE_MM = 1000.0  # excess that one board of loss by the bound's prices counts for
HOT_LOOKS, COLD_LOOKS = 1.5, 0.03  # in the cost of looks
FEWEST_HOT = 20  # moves for each stretch; with fewer, looks are lowered without heat
LOOK_BACK = 60  # moves for looks until the state is looked at
ROUNDING = 1e-6  # differences in looks that count for nothing
MARKS = 60  # marks of the tape tried for looks in one move
MOST_LENGTHS = 240  # lengths looked at in one move; of more, a sample


@dataclass(frozen=True, slots=True)
class Found:
    """The best state met: choices, stretches in conflict, boards, moves taken."""

    choices: tuple[Pick, ...]
    conflicts: int
    boards: int
    moves: int

    def is_legal_with(self, boards: int) -> bool:
        """Whether no joints conflict and no more than so many boards are needed."""
        return self.conflicts == 0 and self.boards <= boards


@dataclass(frozen=True, slots=True)
class _Kept:
    """The best state met for looks, and by how much its cost in looks is above the first one's."""

    choices: tuple[Pick, ...]
    ugly: float


class Search:
    """Choices of all stretches, with their ledger and conflicts kept up to date."""

    def __init__(
        self, instance: Instance, options: Sequence[Options], rng: np.random.Generator
    ) -> None:
        self._prices: Prices | None = None
        self._price_at = np.zeros(1, dtype=np.int64)
        self._price = np.zeros(1)
        self._instance = instance
        self._options = options
        self._target = 0
        self._rng = rng
        self._ledger = Ledger(instance.board, len(options))
        self._strips = Ledger(instance.board, len(options))
        self._is_guest = [need.role == "guest" for need in instance.stretches]
        self._free_strips = strips_at_least(instance, options)
        self._conflicts = Conflicts(instance, options)
        self._chosen: list[Pick] = [Pick(0, 0, 0)] * len(options)
        self._conflicted: set[int] = set()
        self._best: Found | None = None

    def aim(self, bound: Bound) -> None:
        """Aim at a number of boards, steered by the prices that prove it."""
        self._target, self._prices = bound.boards, bound.prices
        steps = bound.prices.steps() if bound.prices is not None else ((0, 0.0),)
        self._price_at = np.array([length for length, _ in steps], dtype=np.int64)
        self._price = np.array([price for _, price in steps])

    def construct(self) -> None:
        """A first plan: stretch by stretch, no conflict if that can be, then the least excess."""
        opened = [min(arc.boards for arc in options.ranges) for options in self._options]
        to_come = {guest: self._sum(opened, guest) for guest in (True, False)}
        for stretch, guest in enumerate(self._is_guest):
            to_come[guest] -= opened[stretch]
            picks, cost, conflicts = self._score(stretch, self._goal(guest) - to_come[guest])
            best = np.lexsort((cost, conflicts))[0]
            self._enter(stretch, picks[int(best)])
        self._conflicted = {i for i in range(len(self._options)) if self._is_conflicted(i)}
        self._note()

    def _sum(self, opened: Sequence[int], guest: bool) -> int:
        return sum(
            n for n, is_guest in zip(opened, self._is_guest, strict=True) if is_guest == guest
        )

    def _goal(self, guest: bool) -> int:
        """Boards that plain stretches and hosts may take, or strips that guests may."""
        return self._free_strips if guest else self._target

    def _book(self, stretch: int) -> Ledger:
        return self._strips if self._is_guest[stretch] else self._ledger

    def go_on_from(self, found: Found) -> None:
        """Go on from the choices that another search found."""
        for stretch, choice in enumerate(found.choices):
            self._enter(stretch, choice)
        self._conflicted = {i for i in range(len(self._options)) if self._is_conflicted(i)}
        self._note()

    def go_back_to(self, found: Found) -> None:
        """Take a state met earlier for the best one again."""
        self._best = found

    def seats(self) -> tuple[list[Seat], int]:
        """The seats of the best state with their boards, and how many boards these are."""
        assert self._best is not None
        return match(self._instance, self._options, self._best.choices)

    def improve(self, moves: int, stop: Callable[[], bool]) -> Found:
        """Re-choose stretches until the target is met, the moves are spent or ``stop`` says so."""
        cycle = max(200, CYCLE_PER_STRETCH * len(self._options))
        for move in range(moves):
            if self._met() or (move % 16 == 15 and stop()):
                return self._found(move)
            heat = HOT_MM * (COLD_MM / HOT_MM) ** ((move % cycle) / cycle)
            self._step(heat * TICKS_PER_MM)
        return self._found(moves)

    def beautify(
        self, moves: int, stop: Callable[[], bool], taste: Taste = LOOKS_FIRST, spend: int = 0
    ) -> Found:
        """From the best state on, lower the cost in looks without a conflict more.

        The heat goes down once, so that looks first get worse; the best state met is kept. Few
        moves are taken cold. ``spend`` boards more may be opened. The state reached is the best
        state from then on.
        """
        assert self._best is not None
        looks = Looks(self._instance, self._options, taste)
        for stretch, choice in enumerate(self._best.choices):
            self._enter(stretch, choice)
            looks.enter(stretch, choice)
        most, boards = self._most(spend), self._best.boards + spend
        count = len(self._options)
        hot = moves if moves >= FEWEST_HOT * count else 0
        ugly, kept = 0.0, _Kept(self._best.choices, 0.0)
        for move in range(moves):
            if move % 16 == 15 and stop():
                break
            heat = HOT_LOOKS * (COLD_LOOKS / HOT_LOOKS) ** (move / hot) if hot else 0.0
            ugly += self._embellish(int(self._rng.integers(count)), looks, most, heat)
            if move % LOOK_BACK == LOOK_BACK - 1 or move == moves - 1:
                kept, ugly = self._look_back(kept, ugly, boards, looks)
        self._go_back(kept, looks)
        self._best = Found(kept.choices, self._best.conflicts, self._boards(), moves)
        return self._best

    def cost_in_looks(self, taste: Taste) -> float:
        """What the best state costs in looks, stretch by stretch: what two rows share twice."""
        assert self._best is not None
        looks = Looks(self._instance, self._options, taste)
        for stretch, choice in enumerate(self._best.choices):
            looks.enter(stretch, choice)
        return sum(
            float(looks.cost(stretch, np.array([pick.takes]), np.array([pick.boards]))[0])
            for stretch, pick in enumerate(self._best.choices)
        )

    def _most(self, spend: int) -> dict[bool, int]:
        """Boards that plain stretches and hosts may take for looks, and strips that guests may."""
        return {False: self._ledger.boards() + spend, True: self._strips.boards()}

    def _look_back(
        self, kept: "_Kept", ugly: float, boards: int, looks: Looks
    ) -> tuple["_Kept", float]:
        """Keep the state if it is the best; go back if looks took more boards than they may."""
        if self._boards() > boards:
            self._go_back(kept, looks)
            return kept, kept.ugly
        if ugly < kept.ugly - ROUNDING:
            kept = _Kept(tuple(self._chosen), ugly)
        return kept, ugly

    def _go_back(self, kept: "_Kept", looks: Looks) -> None:
        for stretch, choice in enumerate(kept.choices):
            if choice != self._chosen[stretch]:
                self._enter(stretch, choice)
                looks.enter(stretch, choice)

    def _boards(self) -> int:
        """Boards that the choices take as they are."""
        return self._ledger.boards() + max(0, self._strips.boards() - self._free_strips)

    def _embellish(
        self, stretch: int, looks: Looks, most: dict[bool, int], heat: float = 0.0
    ) -> float:
        """Re-choose one stretch for looks, among the choices that cost nothing else.

        Says by how much the looks cost more now.
        """
        old = self._chosen[stretch]
        self._strike(stretch)
        looks.strike(stretch)
        first, last = self._conflicts.windows(stretch)
        picks = self._candidates(stretch, last + 1, marks=MARKS).with_one(old)
        excess = self._excess(stretch, picks, most[self._is_guest[stretch]])[0]
        clashes = in_windows(picks.takes, first, last)
        cost = looks.cost(stretch, picks.takes, picks.boards)
        cost[(excess > excess[-1]) | (clashes > clashes[-1])] = np.inf
        # Ties fall by chance; in the heat also what is worse.
        chance = np.log(self._rng.standard_exponential(len(cost)))
        drawn = int(np.argmin(cost + max(heat, ROUNDING) * chance))
        self._enter(stretch, picks[drawn])
        looks.enter(stretch, picks[drawn])
        return float(cost[drawn] - cost[-1])

    def _met(self) -> bool:
        return self._best is not None and self._best.is_legal_with(self._target)

    def _found(self, moves: int) -> Found:
        assert self._best is not None
        return Found(self._best.choices, self._best.conflicts, self._best.boards, moves)

    def _step(self, heat: float) -> None:
        stretch = self._pick_stretch()
        before = stretch in self._conflicted
        self._strike(stretch)
        picks, cost, conflicts = self._score(stretch, self._goal(self._is_guest[stretch]))
        score = cost + CONFLICT_MM * TICKS_PER_MM * conflicts
        drawn = int(np.argmin(score + heat * self._rng.standard_exponential(len(score))))
        self._enter(stretch, picks[drawn])
        if before or conflicts[drawn]:
            for other in (stretch, *self._conflicts.neighbors(stretch)):
                keep = self._is_conflicted(other)
                (self._conflicted.add if keep else self._conflicted.discard)(other)
        self._note()

    def _enter(self, stretch: int, choice: Pick) -> None:
        self._chosen[stretch] = choice
        self._book(stretch).enter(stretch, choice)
        self._conflicts.enter(stretch, choice)

    def _strike(self, stretch: int) -> None:
        self._book(stretch).strike(stretch)
        self._conflicts.strike(stretch)

    def _is_conflicted(self, stretch: int) -> bool:
        return self._conflicts.count(stretch, self._chosen[stretch]) > 0

    def _pick_stretch(self) -> int:
        draw = self._rng.random()
        if self._conflicted and draw < 0.4:
            among = sorted(self._conflicted)
            return among[int(self._rng.integers(len(among)))]
        if draw < 0.7:
            burdened = self._burdened()
            if len(burdened):
                return int(burdened[int(self._rng.integers(len(burdened)))])
        return int(self._rng.integers(len(self._options)))

    def _burdened(self) -> Ints:
        """Stretches that burden the balance in one of the places where it is over its goal."""
        book, goal = self._ledger, self._target
        if self._strips.opened and self._rng.random() < 0.3:
            book, goal = self._strips, self._free_strips
        over = book.steps().over(goal - book.opened)
        if not over:
            return np.empty(0, dtype=np.int64)
        return book.burdened(*over[int(self._rng.integers(len(over)))])

    def _score(self, stretch: int, target: int) -> tuple["Picks", Floats, Ints]:
        """Choices of an open stretch, the excess of each and its conflicts."""
        first, last = self._conflicts.windows(stretch)
        picks = self._candidates(stretch, np.concatenate([first - 1, last + 1]))
        cost, worth = self._excess(stretch, picks, target)
        if self._prices is not None and not self._is_guest[stretch]:
            cost += GUIDE_MM * TICKS_PER_MM * (worth - worth.min())
        return picks, cost, in_windows(picks.takes, first, last)

    def _excess(self, stretch: int, picks: "Picks", target: int) -> tuple[Floats, Floats]:
        """For each of many choices of an open stretch the excess over a target [ticks], and what
        it costs by the bound's prices [boards].
        """
        book = self._book(stretch)
        steps, cost = book.steps(), np.empty(len(picks.takes))
        for boards in set(picks.boards.tolist()):
            part = picks.boards == boards
            spare = target - book.opened - boards
            cost[part] = excess_with(steps, spare, picks.takes[part], picks.leaves[part])
        return cost, picks.boards + self._priced(picks.takes) - self._priced(picks.leaves)

    def _priced(self, lengths: Ints) -> Floats:
        """Prices of lengths [boards]."""
        found: Floats = self._price[self._price_at.searchsorted(lengths, side="right") - 1]
        return found

    def _candidates(self, stretch: int, edges: Ints, marks: int = 0) -> "Picks":
        lengths = self._book(stretch).steps().at
        if len(lengths) > MOST_LENGTHS:
            lengths = self._rng.choice(lengths, MOST_LENGTHS, replace=False)
        takes: list[Ints] = []
        leaves: list[Ints] = []
        boards: list[Ints] = []
        for arc in self._options[stretch].ranges:
            chance = self._rng.integers(arc.low, arc.high + 1, size=4 + marks)
            chance[4:] -= chance[4:] % self._instance.grid
            both = np.concatenate(
                [lengths, lengths - arc.shift, edges, chance, (arc.low, arc.high)]
            )
            inside = both[(both >= arc.low) & (both <= arc.high)]
            takes.append(inside)
            leaves.append(np.maximum(inside + arc.shift, 0))
            boards.append(np.full(len(inside), arc.boards, dtype=np.int64))
        return Picks(np.concatenate(takes), np.concatenate(leaves), np.concatenate(boards))

    def _note(self) -> None:
        conflicts, best = len(self._conflicted), self._best
        if best is not None and conflicts > best.conflicts:
            return
        boards = self._boards()
        if best is None or (conflicts, boards) < (best.conflicts, best.boards):
            self._best = Found(tuple(self._chosen), conflicts, boards, 0)


def strips_at_least(instance: Instance, options: Sequence[Options]) -> int:
    """Whole boards that the hosts have in every plan, each with a strip for guests beside it."""
    return sum(
        min(arc.boards - 1 for arc in option.ranges)
        for need, option in zip(instance.stretches, options, strict=True)
        if need.role == "host" and option.is_long
    )


@dataclass(frozen=True, slots=True)
class Picks:
    """Many choices of one stretch, side by side."""

    takes: Ints
    leaves: Ints
    boards: Ints

    def with_one(self, choice: Pick) -> "Picks":
        """The same choices and one more at the end."""
        return Picks(
            np.append(self.takes, choice.takes),
            np.append(self.leaves, choice.leaves),
            np.append(self.boards, choice.boards),
        )

    def __getitem__(self, index: int) -> Pick:
        return Pick(int(self.takes[index]), int(self.leaves[index]), int(self.boards[index]))
