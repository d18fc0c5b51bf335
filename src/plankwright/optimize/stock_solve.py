"""From an instance with offcuts at hand to a solution: wiring only."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.options import Options, Pick, options_of
from plankwright.optimize.solution import Seat, Solution
from plankwright.optimize.solve import Effort, never
from plankwright.optimize.spans import ArcRange, Offcut
from plankwright.optimize.stock_matching import Source, match_with_stock, shelf_board
from plankwright.optimize.stock_search import StockSearch, Strips, pick_of, search_from

NOTHING = ArcRange(0, 0, 0, 0)  # what a stretch takes that is served already


@dataclass(frozen=True, slots=True)
class Before:
    """The plan that was there, as far as it still holds.

    Parameters
    ----------
    takes : for each stretch the length taken (its starter); None where there was none.
    sources : where pieces were cut from; see :func:`match_with_stock`.
    """

    takes: tuple[int | None, ...]
    sources: Mapping[int, Source]


def solve_with_stock(
    instance: Instance,
    shelf: Sequence[Offcut],
    bound: Bound,
    effort: Effort,
    before: Before | None = None,
    stop: Callable[[], bool] = never,
    prove: Callable[[int], Bound] | None = None,
    strips: Strips | None = None,
) -> tuple[Solution, Bound]:
    """A legal solution with as few new boards as the effort finds, and the best bound.

    Parameters
    ----------
    shelf : offcuts at hand, lengths rounded down [ticks]; each is shorter than a board.
    bound : a quick bound on new boards to aim at.
    before : the plan that was there: kept wherever that costs nothing.
    prove : a better bound for a number of boards in hand; asked now and then.
    strips : ripped strips at hand, for guests only.

    Seats that are cut from an offcut have a board number below 0: the shelf is counted first, then
    the cut strips, then those as long as a board.
    """
    before = before or Before((None,) * len(instance.stretches), {})
    best: Solution | None = None
    givings = list(_givings(instance, shelf))
    effort = replace(effort, moves=effort.moves // len(givings))
    for given in givings:
        found, bound = _solve(
            instance, shelf, given, bound, effort, before, stop, prove, strips or Strips()
        )
        if best is None or _rank(found) < _rank(best):
            best = found
        if best.conflicts == 0 and best.boards <= bound.boards:
            break
    assert best is not None
    return best, bound


def _rank(solution: Solution) -> tuple[int, int]:
    return solution.conflicts, solution.boards


def _givings(instance: Instance, shelf: Sequence[Offcut]) -> Iterator[tuple[Seat, ...]]:
    """Wall-to-wall pieces given an offcut beforehand: one without ends, then one with a near end,
    too, which would otherwise serve an end piece.
    """
    first = _given(instance, shelf, ("none",))
    yield first
    more = _given(instance, shelf, ("none", "near"))
    if more != first:
        yield more


def _given(instance: Instance, shelf: Sequence[Offcut], ends: Sequence[str]) -> tuple[Seat, ...]:
    """Wall-to-wall pieces, the longest first, each from the shortest offcut that is long enough."""
    left = {k: offcut.length for k, offcut in enumerate(shelf) if offcut.end in ends}
    short = [
        (need.length, i)
        for i, need in enumerate(instance.stretches)
        if need.length <= instance.board and not need.begun
    ]
    seats: list[Seat] = []
    for length, stretch in sorted(short, key=lambda pair: (-pair[0], pair[1])):
        fitting = [k for k in left if left[k] >= length]
        if fitting:
            k = min(fitting, key=lambda k: (left[k], k))
            start = shelf[k].length - left[k]
            seats.append(Seat(stretch, 0, "wall-to-wall", length, shelf_board(k), start))
            left[k] -= length + instance.cut
    return tuple(seats)


def _solve(
    instance: Instance,
    shelf: Sequence[Offcut],
    given: Sequence[Seat],
    bound: Bound,
    effort: Effort,
    before: Before,
    stop: Callable[[], bool],
    prove: Callable[[int], Bound] | None,
    strips: Strips,
) -> tuple[Solution, Bound]:
    """A solution in which some seats are given."""
    served = {seat.stretch for seat in given}
    taken = {seat.board for seat in given}
    rest = [
        Offcut(1, "none") if shelf_board(k) in taken else offcut for k, offcut in enumerate(shelf)
    ]
    options = [
        Options(need.length, (NOTHING,), is_long=False, legal=True)
        if i in served
        else options_of(instance, need)
        for i, need in enumerate(instance.stretches)
    ]
    wished: list[Pick | None] = [
        None if takes is None else pick_of(option, takes)
        for option, takes in zip(options, before.takes, strict=True)
    ]
    rng = np.random.default_rng(effort.seed)
    search = StockSearch(instance, options, rest, wished, rng, strips)
    found, bound = search_from(search, bound, effort.moves, stop, prove)
    seats, boards = min(
        (
            _matched(instance, options, found.choices, rest, strips, sources)
            for sources in (before.sources, {})
        ),
        key=lambda matched: matched[1],
    )
    starters = tuple(
        choice.takes if option.is_long else None
        for option, choice in zip(options, found.choices, strict=True)
    )
    everything = tuple(sorted([*seats, *given], key=lambda seat: (seat.stretch, seat.number)))
    return Solution(starters, everything, boards, found.conflicts), bound


def _matched(
    instance: Instance,
    options: Sequence[Options],
    choices: Sequence[Pick],
    shelf: Sequence[Offcut],
    strips: Strips,
    sources: Mapping[int, Source],
) -> tuple[list[Seat], int]:
    """Seats with their boards, and the number of new boards; guests from strips first."""
    guests = [i for i, need in enumerate(instance.stretches) if need.role == "guest"]
    others = [i for i, need in enumerate(instance.stretches) if need.role != "guest"]
    placed, opened = match_with_stock(instance, options, choices, shelf, sources, others)
    narrow, ripped = match_with_stock(instance, options, choices, strips.cut, {}, guests)
    beside = [
        seat.board
        for seat in placed
        if seat.kind == "whole" and seat.number and instance.stretches[seat.stretch].role == "host"
    ]
    whole = [shelf_board(len(shelf) + len(strips.cut) + k) for k in range(strips.whole)]
    board_of = [*whole, *beside][:ripped]
    new = ripped - len(board_of)
    board_of += range(opened, opened + new)
    placed += [
        replace(seat, board=seat.board - len(shelf) if seat.board < 0 else board_of[seat.board])
        for seat in narrow
    ]
    return placed, opened + new
