"""Waits: swaps on cases that can be counted by hand, and what no swap may change."""

import itertools
from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import TICKS_PER_MM as MM
from plankwright.optimize.instance import Contact, Instance, StretchNeed
from plankwright.optimize.solution import Seat
from plankwright.optimize.solve import Effort, solve
from plankwright.optimize.waits import shorten_waits, sum_of_waits

BOARD = 1000 * MM


def instance(stretches: int) -> Instance:
    return Instance(
        BOARD, 3 * MM, 100 * MM, 0, MM, tuple(StretchNeed(1500 * MM) for _ in range(stretches))
    )


def starter(stretch: int, mm: int, board: int) -> Seat:
    return Seat(stretch, 0, "starter", mm * MM, board, BOARD - mm * MM)


def end(stretch: int, mm: int, board: int) -> Seat:
    return Seat(stretch, 1, "end", mm * MM, board, 0)


def test_two_starters_change_places() -> None:
    # offcuts of 497 mm both serve both starters: waits 3 + 3 become 1 + 1
    seats = [end(0, 500, 0), end(3, 500, 1), starter(4, 400, 0), starter(1, 450, 1)]
    assert sum_of_waits(seats) == 4 + 2
    assert sum_of_waits(shorten_waits(instance(5), seats)) == 1 + 1


def test_a_starter_too_long_for_the_other_offcut_stays() -> None:
    # row 1's starter of 450 does not fit the 297 mm that row 0's end piece of 700 leaves
    seats = [end(0, 700, 0), end(3, 500, 1), starter(4, 290, 0), starter(1, 450, 1)]
    assert shorten_waits(instance(5), seats) == tuple(seats)


def test_a_fresh_board_serves_the_starter_that_would_wait() -> None:
    # row 9's starter waited nine rows for row 0's offcut; row 1's takes it, row 9 a fresh board
    seats = [end(0, 500, 0), starter(9, 400, 0), starter(1, 400, 1)]
    shorter = shorten_waits(instance(10), seats)
    assert sum_of_waits(shorter) == 1
    assert len({seat.board for seat in shorter}) == 2


def test_a_board_with_a_wall_to_wall_piece_is_left_alone() -> None:
    tied = Seat(2, 0, "wall-to-wall", 100 * MM, 0, 510 * MM)
    seats = [end(0, 500, 0), tied, starter(4, 300, 0), end(3, 500, 1), starter(1, 300, 1)]
    assert shorten_waits(instance(5), seats) == tuple(seats)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.lists(st.integers(900, 5200), min_size=2, max_size=14))
def test_swaps_change_boards_only(lengths: list[int]) -> None:
    needs = tuple(StretchNeed(length * MM) for length in lengths)
    contacts = tuple(
        Contact(i, i + 1, 0, min(a, b) * MM) for i, (a, b) in enumerate(itertools.pairwise(lengths))
    )
    given_instance = Instance(1285 * MM, 3 * MM, 300 * MM, 300 * MM, MM, needs, contacts)
    solution, _ = solve(given_instance, Bound(0, 0.0, "area"), Effort(moves=50, looks=1))
    seats = list(solution.seats)
    again = shorten_waits(given_instance, seats)
    assert sum_of_waits(again) <= sum_of_waits(seats)
    assert Counter(seat.board for seat in again).keys() == {seat.board for seat in seats}
    for seat in again:  # what lies in one board still fits beside the kerf
        beside = [o for o in again if o.board == seat.board and o is not seat]
        assert all(
            o.from_near + o.length + given_instance.cut <= seat.from_near
            or seat.from_near + seat.length + given_instance.cut <= o.from_near
            for o in beside
        )
