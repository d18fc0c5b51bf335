"""Looks: how the end joints of neighboring rows fall, as a cost that a search can lower.

Measures, each a count over the floor (common practice; none of them is a hard rule):

* *H-joint*: end joints of rows n and n + 2 less than 100 mm apart along the row.
* *stair-step*: three rows running whose joints march by equal steps, within 30 mm.
* *close joints*: end joints of neighboring rows that keep the joint offset by less than a tenth.
* *short end*: a starter or end piece shorter than 1 1/2 times the shortest piece.
* *cut end*: a starter or end piece that is not a whole board.
* *off the marks*: a starter that does not end on a mark of the tape.

The cost of a plan is the sum of its counts, each times its weight in a :class:`Taste`.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from plankwright.optimize.conflicts import Conflicts, in_windows
from plankwright.optimize.instance import TICKS_PER_MM, Contact, Instance
from plankwright.optimize.ledger import Floats, Ints
from plankwright.optimize.options import Options, Pick

H_JOINT = 100 * TICKS_PER_MM
STAIR = 30 * TICKS_PER_MM


@dataclass(frozen=True, slots=True)
class Taste:
    """What one of each measure costs, and a board spent on lowering them."""

    h_joint: float = 3.0
    stair_step: float = 2.0
    close_joints: float = 1.0
    short_end: float = 0.5
    cut_end: float = 0.2
    off_the_marks: float = 0.05
    board: float = 1.5


LOOKS_FIRST = Taste()
CUTS_FIRST = Taste(h_joint=0.5, stair_step=0.3, close_joints=0.2, cut_end=2.0)


class Looks:
    """The cost in looks of every choice of a stretch, its neighbors as they are now."""

    def __init__(
        self, instance: Instance, options: Sequence[Options], taste: Taste = LOOKS_FIRST
    ) -> None:
        self._taste = taste
        self._instance = instance
        self._options = options
        triples = _triples(instance, options)
        beyond = tuple(Contact(one, last, low, high) for one, _, last, low, high in triples)
        self._in_line = Conflicts(replace(instance, offset=H_JOINT, contacts=beyond), options)
        self._close = Conflicts(
            replace(instance, offset=instance.offset + instance.offset // 10), options
        )
        self._triples: list[list[tuple[int, int, int]]] = [[] for _ in options]
        for one, middle, last, _, _ in triples:
            for stretch in (one, middle, last):
                self._triples[stretch].append((one, middle, last))
        self._first_joint: list[int | None] = [None] * len(options)

    def enter(self, stretch: int, choice: Pick) -> None:
        """Enter a stretch's choice."""
        self._in_line.enter(stretch, choice)
        self._close.enter(stretch, choice)
        if self._options[stretch].is_long:
            self._first_joint[stretch] = self._instance.stretches[stretch].start + choice.takes

    def strike(self, stretch: int) -> None:
        """Forget a stretch's choice."""
        self._in_line.strike(stretch)
        self._close.strike(stretch)
        self._first_joint[stretch] = None

    def cost(self, stretch: int, takes: Ints, boards: Ints) -> Floats:
        """Cost of many choices of an open stretch: starters and the boards each opens."""
        if not self._options[stretch].is_long:
            return np.zeros(len(takes))
        instance = self._instance
        ends = self._options[stretch].need - takes - (boards - 1) * instance.board
        short = instance.shortest + instance.shortest // 2
        whole = instance.board
        taste, cost = self._taste, np.zeros(len(takes))
        cost += taste.h_joint * in_windows(takes, *self._in_line.windows(stretch))
        cost += taste.close_joints * in_windows(takes, *self._close.windows(stretch))
        cost += taste.stair_step * self._stairs(stretch, takes)
        cost += taste.short_end * ((takes < short) * 1.0 + (ends < short))
        if instance.stretches[stretch].straight:
            cost += taste.cut_end * ((takes != whole) * 1.0 + (ends != whole))
        cost += taste.off_the_marks * (takes % instance.grid != 0)
        return cost

    def _stairs(self, stretch: int, takes: Ints) -> Ints:
        """For each starter, in how many triples of rows its joints would march by equal steps."""
        board = self._instance.board
        joints = self._instance.stretches[stretch].start + takes
        count = np.zeros(len(takes), dtype=np.int64)
        for one, middle, last in self._triples[stretch]:
            a, b, c = (self._first_joint[i] for i in (one, middle, last))
            if stretch == middle and a is not None and c is not None:
                off = (2 * joints - a - c) % board
            elif stretch == one and b is not None and c is not None:
                off = (joints + c - 2 * b) % board
            elif stretch == last and a is not None and b is not None:
                off = (joints + a - 2 * b) % board
            else:
                continue
            count += (off < STAIR) | (off > board - STAIR)
        return count


def _triples(
    instance: Instance, options: Sequence[Options]
) -> list[tuple[int, int, int, int, int]]:
    """Stretches of three rows running, with the part of the row that all three share."""
    beyond: dict[int, list[Contact]] = {}
    for contact in instance.contacts:
        beyond.setdefault(contact.wall_side, []).append(contact)
    found: list[tuple[int, int, int, int, int]] = []
    for contact in instance.contacts:
        for further in beyond.get(contact.room_side, ()):
            low, high = max(contact.low, further.low), min(contact.high, further.high)
            ids = (contact.wall_side, contact.room_side, further.room_side)
            if high - low > H_JOINT and all(options[i].is_long for i in ids):
                found.append((*ids, low, high))
    return found
