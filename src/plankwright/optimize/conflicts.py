"""Joint conflicts: end joints of neighboring rows that lie closer than the joint offset.

Two end joints are neighbors when the stretch of row line between them lies inside the floor,
that is, when both lie on one contact.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from plankwright.optimize.instance import Instance
from plankwright.optimize.ledger import Ints
from plankwright.optimize.options import Options, Pick

NONE = range(0)


class Conflicts:
    """Joints of all stretches, and what they forbid their neighbors."""

    def __init__(self, instance: Instance, options: Sequence[Options]) -> None:
        self._instance = instance
        self._options = options
        self._neighbors: list[list[tuple[int, int, int]]] = [[] for _ in options]
        for contact in instance.contacts if instance.offset > 0 else ():
            one, other = contact.wall_side, contact.room_side
            if options[one].is_long and options[other].is_long:
                self._neighbors[one].append((other, contact.low, contact.high))
                self._neighbors[other].append((one, contact.low, contact.high))
        self._joints: list[range] = [NONE] * len(options)

    def enter(self, stretch: int, choice: Pick) -> None:
        """Enter the joints that a stretch's choice makes."""
        if self._options[stretch].is_long:
            first = self._instance.stretches[stretch].start + choice.takes
            board = self._instance.board
            self._joints[stretch] = range(first, first + choice.boards * board, board)

    def strike(self, stretch: int) -> None:
        """Forget a stretch's joints."""
        self._joints[stretch] = NONE

    def windows(self, stretch: int) -> tuple[Ints, Ints]:
        """Ranges of starters (first and last, both conflicting) of a stretch, each sorted."""
        need = self._instance.stretches[stretch]
        first: list[int] = []
        last: list[int] = []
        for other, low, high in self._neighbors[stretch]:
            on_contact = within(self._joints[other], low, high)
            top = min(high, need.start + need.length - 1)
            for joint, count in self._alike(on_contact, max(low, need.start + 1), top):
                for a, b in self._forbidden(joint, need.start, low, top):
                    first += [a] * count
                    last += [b] * count
        return np.array(sorted(first), dtype=np.int64), np.array(sorted(last), dtype=np.int64)

    def _alike(self, joints: range, low: int, top: int) -> Iterator[tuple[int, int]]:
        """Joints, each with how many there are that forbid the same starters.

        Those that keep the offset from both ends of the contact lie whole boards apart, so what
        one of them forbids all of them forbid.
        """
        reach = self._instance.offset - 1
        inner = within(joints, low + reach, top - reach)
        yield from ((joint, 1) for joint in joints if joint not in inner)
        if inner:
            yield inner[0], len(inner)

    def _forbidden(self, joint: int, start: int, low: int, top: int) -> Iterator[tuple[int, int]]:
        """Ranges of starters that put a joint too near to a neighbor's."""
        board, reach = self._instance.board, self._instance.offset - 1
        a = max(joint - reach, low) - start
        b = min(joint + reach, top) - start
        for shift in range(max(0, (a - 1) // board) * board, b, board):
            yield a - shift, b - shift

    def count(self, stretch: int, choice: Pick) -> int:
        """Conflicts of one choice against the neighbors as they are now."""
        if not self._options[stretch].is_long:
            return 0
        first, last = self.windows(stretch)
        return int(in_windows(np.array([choice.takes]), first, last)[0])

    def neighbors(self, stretch: int) -> set[int]:
        """The stretches beside a stretch."""
        return {other for other, _, _ in self._neighbors[stretch]}


def within(joints: range, low: int, high: int) -> range:
    """Those of some joints that lie from ``low`` to ``high``, both included."""
    first = max(0, -((joints.start - low) // joints.step))
    beyond = max(first, (high - joints.start) // joints.step + 1)
    return joints[first:beyond]


def in_windows(starters: Ints, first: Ints, last: Ints) -> Ints:
    """For each starter, in how many windows it lies."""
    opened = np.searchsorted(first, starters, side="right")
    closed = np.searchsorted(last, starters, side="left")
    inside: Ints = opened - closed
    return inside
