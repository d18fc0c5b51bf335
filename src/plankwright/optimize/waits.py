"""Waits: how long an offcut lies on the shelf between the row it is cut in and the row it serves.

The number of boards leaves free which of several offcuts that are long enough serves a starter.
Swapping them so that the sum of waits falls keeps the shelf short: what lies there at once is, on
average, the sum of waits over the number of stretches (Little's law).
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from plankwright.optimize.instance import Instance
from plankwright.optimize.solution import Seat

Ints = npt.NDArray[np.int64]
PASSES = 6
NOBODY = -1


def shorten_waits(instance: Instance, seats: Sequence[Seat]) -> tuple[Seat, ...]:
    """The same seats and as many boards, starters swapped between boards for shorter waits.

    Only boards that gave one starter, one end piece or both take part; a strip or a wall-to-wall
    piece ties its board.
    """
    of_board: dict[int, list[Seat]] = defaultdict(list)
    for seat in seats:
        of_board[seat.board].append(seat)
    free = [board for board, cut in sorted(of_board.items()) if _is_free(instance, cut)]
    if len(free) < 2:
        return tuple(seats)
    starters = [_of_kind(of_board[board], "starter") for board in free]
    ends = [_of_kind(of_board[board], "end") for board in free]
    length = np.array([seat.length if seat else 0 for seat in starters])
    room = np.array(
        [instance.board - instance.cut - seat.length if seat else instance.board for seat in ends]
    )
    order = _swapped(length, _stretches(starters), room, _stretches(ends))
    board_of = {
        (seat.stretch, seat.number): free[slot]
        for slot, who in enumerate(order)
        if (seat := starters[who]) is not None
    }
    return tuple(
        replace(seat, board=board_of.get((seat.stretch, seat.number), seat.board)) for seat in seats
    )


def sum_of_waits(seats: Sequence[Seat]) -> int:
    """Stretches between starter and end piece of each board, added up."""
    rows: dict[int, list[int]] = defaultdict(list)
    for seat in seats:
        if seat.kind in ("starter", "end"):
            rows[seat.board].append(seat.stretch)
    return sum(max(where) - min(where) for where in rows.values())


def _is_free(instance: Instance, cut: Sequence[Seat]) -> bool:
    needs = [instance.stretches[seat.stretch] for seat in cut]
    plain = all(need.role != "guest" and not need.parts for need in needs)
    return (
        plain
        and len(cut) <= 2
        and sorted({s.kind for s in cut})
        in (
            ["starter"],
            ["end"],
            ["end", "starter"],
        )
    )


def _of_kind(cut: Sequence[Seat], kind: str) -> Seat | None:
    return next((seat for seat in cut if seat.kind == kind), None)


def _stretches(seats: Sequence[Seat | None]) -> Ints:
    return np.array([seat.stretch if seat else NOBODY for seat in seats])


def _swapped(length: Ints, at: Ints, room: Ints, end_at: Ints) -> Ints:
    """Which starter each slot gets: pairs swapped while that shortens their waits."""
    order = np.arange(len(length))
    waits = _wait(at, end_at)
    for _ in range(PASSES):
        before = order.copy()
        for slot in range(len(order)):
            mine = order[slot]
            fits = (length[order] <= room[slot]) & (length[mine] <= room)
            there, here = _wait(at[mine], end_at), _wait(at[order], end_at[slot])
            gain = np.where(fits, waits[slot] + waits - there - here, 0)
            best = int(np.argmax(gain))
            if gain[best] > 0:
                waits[slot], waits[best] = here[best], there[best]
                order[slot], order[best] = order[best], order[slot]
        if (order == before).all():
            break
    return order


def _wait(starter_at: Ints, end_at: Ints) -> Ints:
    """Stretches between a starter and the end piece of its board; 0 where one is missing."""
    both = (starter_at != NOBODY) & (end_at != NOBODY)
    wait: Ints = np.abs(starter_at - end_at) * both
    return wait
