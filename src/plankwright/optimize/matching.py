"""From starters to boards: which starter is cut from which end piece's board.

One board gives at most one starter (its far end) and one end piece (its near end), and any
number of wall-to-wall pieces from between. Lengths are nested: what serves a length serves every
shorter one. So working down from the longest need, any offcut still lying there will do, and the
number of fresh boards is the greatest shortfall over all lengths (Hall's theorem).
"""

import bisect
from collections.abc import Sequence
from dataclasses import dataclass, replace

from plankwright.optimize.instance import Instance
from plankwright.optimize.options import Options, Pick
from plankwright.optimize.solution import PieceKind, Seat


@dataclass(slots=True)
class _Offcut:
    """What is left of a board at its far end: ``length`` from ``board - length`` on."""

    length: int
    board: int


def match(
    instance: Instance, options: Sequence[Options], choices: Sequence[Pick]
) -> tuple[list[Seat], int]:
    """Seats with their boards, by stretch, and the number of boards opened.

    Guests are matched among themselves; their strips are those beside the hosts' whole boards, as
    far as there are any.
    """
    guests = [i for i, need in enumerate(instance.stretches) if need.role == "guest"]
    others = [i for i, need in enumerate(instance.stretches) if need.role != "guest"]
    placed, opened = _match(instance, options, choices, others)
    narrow, strips = _match(instance, options, choices, guests)
    beside = [
        seat.board
        for seat in placed
        if seat.kind == "whole" and seat.number and instance.stretches[seat.stretch].role == "host"
    ]
    board_of = [*beside[:strips], *range(opened, opened + strips)]
    placed += [replace(seat, board=board_of[seat.board]) for seat in narrow]
    placed.sort(key=lambda seat: (seat.stretch, seat.number))
    return placed, opened + max(0, strips - len(beside))


def _match(
    instance: Instance,
    options: Sequence[Options],
    choices: Sequence[Pick],
    stretches: Sequence[int],
) -> tuple[list[Seat], int]:
    """Seats of some of the stretches, their boards counted from 0."""
    placed: list[Seat] = []
    offcuts: list[_Offcut] = []
    opened = 0
    for stretch in stretches:
        choice = choices[stretch]
        if not options[stretch].is_long:
            continue
        for number in range(1, choice.boards):
            placed.append(Seat(stretch, number, "whole", instance.board, opened, 0))
            opened += 1
        end = options[stretch].need - choice.takes - (choice.boards - 1) * instance.board
        placed.append(Seat(stretch, choice.boards, "end", end, opened, 0))
        offcuts.append(_Offcut(instance.board - instance.cut - end, opened))
        opened += 1
    shelf = _Shelf(offcuts)
    for stretch in sorted(stretches, key=lambda i: (-choices[i].takes, i)):
        offcut = shelf.smallest_at_least(choices[stretch].takes)
        if offcut is None:
            offcut = _Offcut(instance.board, opened)
            opened += 1
        if options[stretch].is_long:
            placed.append(_starter(instance, stretch, choices[stretch].takes, offcut))
        else:
            need = options[stretch].need
            from_near = instance.board - offcut.length
            placed.append(Seat(stretch, 0, "wall-to-wall", need, offcut.board, from_near))
            shelf.put(_Offcut(offcut.length - need - instance.cut, offcut.board))
    return sorted(placed, key=lambda seat: (seat.stretch, seat.number)), opened


def _starter(instance: Instance, stretch: int, length: int, offcut: _Offcut) -> Seat:
    kind: PieceKind = "whole" if length == instance.board else "starter"
    return Seat(stretch, 0, kind, length, offcut.board, instance.board - length)


class _Shelf:
    """Offcuts by length."""

    def __init__(self, offcuts: list[_Offcut]) -> None:
        self._offcuts = sorted(offcuts, key=lambda o: (o.length, o.board))
        self._lengths = [o.length for o in self._offcuts]

    def smallest_at_least(self, length: int) -> _Offcut | None:
        """Take the shortest offcut that is long enough, or None."""
        place = bisect.bisect_left(self._lengths, length)
        if place == len(self._lengths):
            return None
        self._lengths.pop(place)
        return self._offcuts.pop(place)

    def put(self, offcut: _Offcut) -> None:
        """Lay an offcut on the shelf."""
        if offcut.length <= 0:
            return
        place = bisect.bisect_right(self._lengths, offcut.length)
        self._lengths.insert(place, offcut.length)
        self._offcuts.insert(place, offcut)
