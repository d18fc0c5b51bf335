"""From which line to begin, and which stretches are laid backwards from there.

A stretch laid *forward* is joined on its wall side, one laid *backwards* on its room side. Where a
forward stretch lies on the wall side of one laid backwards, neither can be joined to the other; so
whatever lies on the room side of a forward stretch is laid forward, too. That alone makes an order
legal: forward stretches rise row by row, those laid backwards fall, and no way leads round.

Most stretches are held straight by what they are joined to. One that is not (row 1, or a row that
hangs on a doorway) is a *start line*: a line must be snapped for it. A floor with two start lines
that meet farther on fits only if both lines are true; laying one of the two parts backwards saves
a start line, where lock and leaflet allow it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from plankwright.model.plan import RowKind
from plankwright.plan.seams import Seams

HELD_SHARE = 0.25  # of a stretch's length: less of a joint does not keep it straight


@dataclass(frozen=True, slots=True)
class Ways:
    """Which way each stretch is laid.

    Parameters
    ----------
    backwards : indices of the stretches that are joined on their room side.
    starts : indices of the stretches that are start lines, the first to be laid first.
    """

    backwards: frozenset[int]
    starts: tuple[int, ...]

    def ahead_of(self, seams: Seams, index: int) -> set[int]:
        """A stretch and all that can be laid only after it."""
        later: dict[int, list[int]] = {}
        for seam in seams.seams:
            pair = seam.wall_side, seam.room_side
            first, then = reversed(pair) if seam.wall_side in self.backwards else pair
            later.setdefault(first, []).append(then)
        return _reached(later, [index])


def all_forward(seams: Seams) -> Ways:
    """Every stretch joined on its wall side."""
    return _ways(seams, frozenset(), ())


def from_lines(seams: Seams, firsts: Sequence[int]) -> Ways:
    """Begin with some stretches, one for each part of the floor; the rest hangs on them backwards.

    Whatever lies on the room side of a first stretch is laid forward, what lies on the wall side
    of all that backwards, and what then remains forward by itself.
    """
    up = _reached(_neighbors(seams, "room"), firsts)
    down = _neighbors(seams, "wall")
    beside = [low for high in up for low in down.get(high, ()) if low not in up]
    return _ways(seams, frozenset(_reached(down, beside)), firsts)


def as_said(seams: Seams, rows: Sequence[RowKind]) -> Ways:
    """The ways that a plan says: which of its rows are joined on their room side."""
    back = [row for row in rows if row.turned or row.joined == "room-side"]
    backwards = frozenset(
        index
        for index, stretch in enumerate(seams.stretches)
        if any(row.row == stretch.row and row.covers(stretch.number) for row in back)
    )
    return _ways(seams, backwards, ())


def parts(seams: Seams) -> list[set[int]]:
    """The parts of the floor that no seam joins, as sets of stretches, by their first row."""
    room, wall = _neighbors(seams, "room"), _neighbors(seams, "wall")
    either = {i: [*room.get(i, ()), *wall.get(i, ())] for i in room.keys() | wall.keys()}
    found: list[set[int]] = []
    seen: set[int] = set()
    for index in range(len(seams.stretches)):
        if index not in seen:
            found.append(_reached(either, [index]))
            seen |= found[-1]
    return found


def _ways(seams: Seams, backwards: frozenset[int], firsts: Sequence[int]) -> Ways:
    held = [0.0] * len(seams.stretches)
    for seam in seams.seams:
        if seam.wall_side in backwards:
            held[seam.wall_side] += seam.length_mm
        else:
            held[seam.room_side] += seam.length_mm
    starts = [
        index
        for index, stretch in enumerate(seams.stretches)
        if index in firsts or held[index] < HELD_SHARE * stretch.length_mm
    ]
    return Ways(backwards, tuple(sorted(starts, key=lambda index: (index not in firsts, index))))


def _neighbors(seams: Seams, side: str) -> dict[int, list[int]]:
    """The stretches on the room side, or on the wall side, of each."""
    found: dict[int, list[int]] = {}
    for seam in seams.seams:
        here, there = seam.wall_side, seam.room_side
        if side == "wall":
            here, there = there, here
        found.setdefault(here, []).append(there)
    return found


def _reached(neighbors: dict[int, list[int]], begin: Iterable[int]) -> set[int]:
    found, waiting = set(begin), list(begin)
    while waiting:
        for other in neighbors.get(waiting.pop(), ()):
            if other not in found:
                found.add(other)
                waiting.append(other)
    return found
