"""From starters to boards: which starter is cut from which end piece's board.

One board gives at most one starter (its far end) and one end piece (its near end), and any
number of wall-to-wall pieces from between. Lengths are nested: what serves a length serves every
shorter one. So working down from the longest need, any offcut still lying there will do, and the
number of fresh boards is the greatest shortfall over all lengths (Hall's theorem).
"""

import bisect
from dataclasses import dataclass

from plankwright.optimize.choices import Choices
from plankwright.optimize.instance import Instance
from plankwright.optimize.solution import PieceKind, Seat


@dataclass(slots=True)
class _Offcut:
    """What is left of a board at its far end: ``length`` from ``board - length`` on."""

    length: int
    board: int


def match(instance: Instance, choices: list[Choices], chosen: list[int]) -> tuple[list[Seat], int]:
    """Seats with their boards, by stretch, and the number of boards opened."""
    placed: dict[tuple[int, int], Seat] = {}
    opened = 0
    needs: list[tuple[int, int]] = []
    offcuts: list[_Offcut] = []
    for i, (options, pick) in enumerate(zip(choices, chosen, strict=True)):
        needs.append((int(options.starter[pick]), i))
        if not options.is_long:
            continue
        wholes, end = int(options.wholes[pick]), int(options.end[pick])
        for number in range(1, wholes + 1):
            placed[i, number] = Seat(i, number, "whole", instance.board, opened, 0)
            opened += 1
        placed[i, wholes + 1] = Seat(i, wholes + 1, "end", end, opened, 0)
        offcuts.append(_Offcut(instance.board - instance.cut - end, opened))
        opened += 1
    shelf = _Shelf(offcuts)
    for taken, i in sorted(needs, key=lambda need: (-need[0], need[1])):
        offcut = shelf.smallest_at_least(taken)
        if offcut is None:
            offcut = _Offcut(instance.board, opened)
            opened += 1
        seat, rest = _cut(instance, choices[i], chosen[i], i, offcut)
        placed[i, 0] = seat
        if rest is not None:
            shelf.put(rest)
    return [placed[key] for key in sorted(placed)], opened


def _cut(
    instance: Instance, options: Choices, pick: int, stretch: int, offcut: _Offcut
) -> tuple[Seat, _Offcut | None]:
    """The starter or wall-to-wall piece of a stretch from an offcut, and what is left of that."""
    if options.is_long:
        length, kind = int(options.starter[pick]), _starter_kind(instance, options, pick)
        return Seat(stretch, 0, kind, length, offcut.board, instance.board - length), None
    length = options.need
    from_near = instance.board - offcut.length
    rest = _Offcut(offcut.length - length - instance.cut, offcut.board)
    return Seat(stretch, 0, "wall-to-wall", length, offcut.board, from_near), rest


def _starter_kind(instance: Instance, options: Choices, pick: int) -> PieceKind:
    return "whole" if int(options.starter[pick]) == instance.board else "starter"


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
