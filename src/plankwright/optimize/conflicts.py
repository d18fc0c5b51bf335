"""Joint conflicts: end joints of neighboring rows that lie closer than the joint offset.

Two end joints are neighbors when the stretch of row line between them lies inside the floor,
that is, when both lie on one contact.
"""

from bisect import bisect_left, bisect_right

import numpy as np

from plankwright.optimize.choices import Choices, Ints
from plankwright.optimize.instance import Instance


class Conflicts:
    """Counts conflicts of every choice of a stretch against its neighbors as they are now."""

    def __init__(self, instance: Instance, choices: list[Choices]) -> None:
        self._instance = instance
        self._starters = [c.starter.tolist() if c.is_long else [] for c in choices]
        self._neighbors: list[list[tuple[int, int, int]]] = [[] for _ in choices]
        for contact in instance.contacts:
            one, other = contact.wall_side, contact.room_side
            if choices[one].is_long and choices[other].is_long:
                self._neighbors[one].append((other, contact.low, contact.high))
                self._neighbors[other].append((one, contact.low, contact.high))
        self._joints: list[tuple[int, ...]] = [()] * len(choices)
        self._choices = choices

    def choose(self, stretch: int, pick: int) -> None:
        """Remember the joints that a stretch now has."""
        self._joints[stretch] = self.joints(stretch, pick)

    def clear(self, stretch: int) -> None:
        """Forget a stretch's joints: it stands open."""
        self._joints[stretch] = ()

    def joints(self, stretch: int, pick: int) -> tuple[int, ...]:
        """Positions of a choice's end joints along u [ticks]."""
        options = self._choices[stretch]
        if not options.is_long:
            return ()
        first = self._instance.stretches[stretch].start + self._starters[stretch][pick]
        board = self._instance.board
        return tuple(first + k * board for k in range(int(options.wholes[pick]) + 1))

    def per_choice(self, stretch: int) -> Ints:
        """For every choice of a stretch, with how many joints of its neighbors it conflicts."""
        starters = self._starters[stretch]
        need = self._instance.stretches[stretch]
        board, offset = self._instance.board, self._instance.offset
        steps = np.zeros(len(self._choices[stretch]) + 1, dtype=np.int64)
        if not starters:
            return steps[:-1]
        first, last = starters[0], starters[-1]
        for other, low, high in self._neighbors[stretch]:
            high = min(high, need.start + need.length - 1)
            for joint in self._joints[other]:
                if not low <= joint <= high:
                    continue
                a = max(joint - offset + 1, low) - need.start
                b = min(joint + offset - 1, high) - need.start
                for k in range(max(0, -(-(a - last) // board)), (b - first) // board + 1):
                    steps[bisect_left(starters, a - k * board)] += 1
                    steps[bisect_right(starters, b - k * board)] -= 1
        counts: Ints = np.cumsum(steps[:-1])
        return counts

    def of(self, stretch: int, pick: int) -> int:
        """Conflicts of one choice against the neighbors as they are now."""
        return int(self.per_choice(stretch)[pick])

    def neighbors(self, stretch: int) -> set[int]:
        """The stretches beside a stretch."""
        return {other for other, _, _ in self._neighbors[stretch]}
