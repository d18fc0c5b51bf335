"""Lanes: lines along the boards, and what every choice of a stretch takes and leaves in each.

Across a board its pieces may lie side by side: beside a piece that is narrow, or narrow in part,
there is room for another that needs the other side. In a *lane*, a line along all boards at one
distance from their wall side, the pieces of a board lie one after another. So every lane is a
ledger of its own, and a plan must keep its number of boards in all of them.
"""

from collections.abc import Sequence

import numpy as np

from plankwright.optimize.instance import Instance
from plankwright.optimize.lane_ledger import Loads
from plankwright.optimize.ledger import Ints
from plankwright.optimize.options import Options, Pick
from plankwright.optimize.spans import ArcRange


class Lanes:
    """What the choices of every stretch of an instance do in its lanes."""

    def __init__(self, instance: Instance, options: Sequence[Options]) -> None:
        self.count = instance.lanes
        self._board, self._cut = instance.board, instance.cut
        self._options = options
        self._base = instance.board * np.arange(instance.lanes, dtype=np.int64)
        self._parts = [
            np.array([(p.lane, p.low, p.high) for p in need.parts], dtype=np.int64).reshape(-1, 3)
            if need.parts
            else None
            for need in instance.stretches
        ]
        self._shifts: dict[tuple[int, ArcRange], Ints] = {}

    def slots(self) -> list[int]:
        """The most pairs that a choice of each stretch has."""
        found = []
        for option, parts in zip(self._options, self._parts, strict=True):
            boards = max(arc.boards for arc in option.ranges)
            found.append(self.count if parts is None else (boards + 1) * len(parts))
        return found

    def loads(self, stretch: int, boards: int, takes: Ints, leaves: Ints) -> Loads:
        """Loads of choices that open as many ``boards`` by themselves."""
        parts = self._parts[stretch]
        if parts is None:
            opened = np.full((len(takes), self.count), boards, dtype=np.int64)
            return Loads(opened, takes[:, None] + self._base, leaves[:, None] + self._base)
        there, low, high = self._places(parts, self._pieces(stretch, boards), takes)
        taken = self._board - low
        left = np.maximum(self._board - self._cut - high, 0)
        whole = there & (taken == self._board) & (left == 0)
        lane = parts[:, 0]
        opened = np.zeros((len(takes), self.count), dtype=np.int64)
        for column, counted in zip(lane, whole.sum(axis=1).T, strict=True):
            opened[:, column] += counted
        pair = there & ~whole
        columns = np.flatnonzero(pair.any(axis=0).ravel())
        base = self._base[lane]
        shape = (len(takes), -1)
        return Loads(
            opened,
            np.where(pair, taken + base, base).reshape(shape)[:, columns],
            np.where(pair, left + base, base).reshape(shape)[:, columns],
        )

    def load(self, stretch: int, choice: Pick) -> Loads:
        """The load of one choice."""
        return self.loads(
            stretch, choice.boards, np.array([choice.takes]), np.array([choice.leaves])
        )

    def _pieces(self, stretch: int, boards: int) -> int:
        return boards + 1 if self._options[stretch].is_long else 1

    def _places(
        self, parts: Ints, pieces: int, takes: Ints
    ) -> tuple["np.ndarray[tuple[int, ...], np.dtype[np.bool_]]", Ints, Ints]:
        """Where every part lies in the board of every piece, and whether it is there at all.

        Arrays by choice, piece and part. Every piece hangs on the first one's far end, which is
        its board's far end, or where a wall-to-wall piece of that length would have it.
        """
        origin = takes[:, None] + (np.arange(pieces, dtype=np.int64) - 1) * self._board
        low = np.clip(parts[:, 1] - origin[:, :, None], 0, self._board)
        high = np.clip(parts[:, 2] - origin[:, :, None], 0, self._board)
        return high > low, low, high

    def shifts(self, stretch: int, arc: ArcRange) -> Ints:
        """What to add to a length so that it is taken or left by the starter that results."""
        key = (stretch, arc)
        if key not in self._shifts:
            self._shifts[key] = self._shifts_of(stretch, arc)
        return self._shifts[key]

    def _shifts_of(self, stretch: int, arc: ArcRange) -> Ints:
        parts = self._parts[stretch]
        if parts is None:
            return np.array([0, -arc.shift], dtype=np.int64)
        pieces = np.arange(self._pieces(stretch, arc.boards), dtype=np.int64) * self._board
        ends = np.unique(np.concatenate([parts[:, 1], parts[:, 2] + self._cut]))
        shifts = np.unique(ends[:, None] - pieces)
        return shifts[(shifts >= arc.low - self._board) & (shifts <= arc.high)]

    def edges(self, stretch: int, arc: ArcRange) -> Ints:
        """Starters that put a joint where a part begins or ends."""
        parts = self._parts[stretch]
        if parts is None or not self._options[stretch].is_long:
            return np.empty(0, dtype=np.int64)
        joints = np.arange(arc.boards, dtype=np.int64) * self._board
        edges = np.unique(np.unique(parts[:, 1:])[:, None] - joints)
        return edges[(edges >= arc.low) & (edges <= arc.high)]

    def seats(self, stretch: int, choice: Pick) -> tuple[Ints, Ints]:
        """For every piece of a choice and every lane where it lies in its board, from and to.

        From is not below to where a lane does not meet it. A wall-to-wall piece counts from its
        own near end.
        """
        pieces = self._pieces(stretch, choice.boards)
        takes = choice.takes if self._options[stretch].is_long else self._board
        parts = self._parts[stretch]
        if parts is None:
            ends = (0, self._options[stretch].need)
            parts = np.array([(lane, *ends) for lane in range(self.count)], dtype=np.int64)
        there, low, high = self._places(parts, pieces, np.array([takes], dtype=np.int64))
        first = np.full((pieces, self.count), self._board, dtype=np.int64)
        last = np.zeros((pieces, self.count), dtype=np.int64)
        for column, lane in enumerate(parts[:, 0]):
            met = there[0, :, column]
            first[met, lane] = np.minimum(first[met, lane], low[0, met, column])
            last[met, lane] = np.maximum(last[met, lane], high[0, met, column])
        return first, last
