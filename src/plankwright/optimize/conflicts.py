"""Joint conflicts: end joints of neighboring rows that lie closer than the joint offset.

Two end joints are neighbors when the stretch of row line between them lies inside the floor,
that is, when both lie on one contact.
"""

from collections.abc import Sequence

import numpy as np

from plankwright.optimize.instance import Instance
from plankwright.optimize.ledger import Ints
from plankwright.optimize.options import Options, Pick


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
        self._joints: list[tuple[int, ...]] = [()] * len(options)

    def enter(self, stretch: int, choice: Pick) -> None:
        """Enter the joints that a stretch's choice makes."""
        if self._options[stretch].is_long:
            first = self._instance.stretches[stretch].start + choice.takes
            board = self._instance.board
            self._joints[stretch] = tuple(first + k * board for k in range(choice.boards))

    def strike(self, stretch: int) -> None:
        """Forget a stretch's joints."""
        self._joints[stretch] = ()

    def windows(self, stretch: int) -> tuple[Ints, Ints]:
        """Ranges of starters (first and last, both conflicting) of a stretch, each sorted."""
        need, board = self._instance.stretches[stretch], self._instance.board
        offset = self._instance.offset
        first: list[int] = []
        last: list[int] = []
        for other, low, high in self._neighbors[stretch]:
            top = min(high, need.start + need.length - 1)
            for joint in self._joints[other]:
                if not low <= joint <= high:
                    continue
                a = max(joint - offset + 1, low) - need.start
                b = min(joint + offset - 1, top) - need.start
                for shift in range(max(0, (a - 1) // board) * board, b, board):
                    first.append(a - shift)
                    last.append(b - shift)
        return np.array(sorted(first), dtype=np.int64), np.array(sorted(last), dtype=np.int64)

    def count(self, stretch: int, choice: Pick) -> int:
        """Conflicts of one choice against the neighbors as they are now."""
        if not self._options[stretch].is_long:
            return 0
        first, last = self.windows(stretch)
        return int(in_windows(np.array([choice.takes]), first, last)[0])

    def neighbors(self, stretch: int) -> set[int]:
        """The stretches beside a stretch."""
        return {other for other, _, _ in self._neighbors[stretch]}


def in_windows(starters: Ints, first: Ints, last: Ints) -> Ints:
    """For each starter, in how many windows it lies."""
    opened = np.searchsorted(first, starters, side="right")
    closed = np.searchsorted(last, starters, side="left")
    inside: Ints = opened - closed
    return inside
