"""Side by side: pieces of several lanes cut from boards, narrow ones beside each other.

Every piece but the wall-to-wall ones has its place along its board: end pieces at the near end,
starters at the far end, whole lengths over all of it. In every lane of a board there is one
window, from the last piece at its near end to the first at its far end, each with a cut. Pieces go
one by one into the board whose windows they fill best; of several orders the best is kept.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from plankwright.optimize.board_coloring import colored
from plankwright.optimize.instance import Instance
from plankwright.optimize.lanes import Lanes
from plankwright.optimize.ledger import Ints
from plankwright.optimize.options import Pick
from plankwright.optimize.solution import PieceKind, Seat

ORDERS = 12  # tried at most
SWAY = 0.15  # by which an order strays from that of sizes
SPARE = 0.3  # what a lane left empty beside a piece counts for


@dataclass(frozen=True, slots=True)
class _Item:
    """A seat without its board, and where it lies in every lane (from, to; to 0: not at all)."""

    seat: Seat
    low: Ints
    high: Ints

    @property
    def is_loose(self) -> bool:
        return self.seat.kind == "wall-to-wall"

    @property
    def size(self) -> float:
        met = self.high > 0
        return float((self.high - self.low)[met].sum())


def pack_lanes(
    instance: Instance, lanes: Lanes, choices: Sequence[Pick], enough: int = 0
) -> tuple[list[Seat], int]:
    """Seats with their boards, by stretch, and the number of boards opened.

    ``enough`` boards are looked for beyond the first orders.
    """
    items = [item for i, pick in enumerate(choices) for item in _items(instance, lanes, i, pick)]
    whole = [i for i, item in enumerate(items) if _fills(item, instance.board)]
    rest = [i for i in range(len(items)) if not _fills(items[i], instance.board)]
    aim = max(_least(instance, [items[i] for i in rest]), enough - len(whole))
    rng = np.random.default_rng(1)
    bumped = np.zeros(len(items))
    best: _Boards | None = None
    for turn in range(ORDERS):
        sway = 1.0 + SWAY * rng.standard_normal(len(items)) * (turn > 0)
        boards = _Boards(instance, len(rest))
        keys = [(_class(items[i]), -bumped[i], -items[i].size * sway[i], i) for i in rest]
        for *_, i in sorted(keys):
            bumped[i] += boards.put(i, items[i])
        if best is None or boards.opened < best.opened:
            best = boards
        if best.opened <= aim:
            break
    assert best is not None
    if best.opened > aim:
        best = _recolored(instance, items, best, aim, rng)
    seats = [replace(items[i].seat, board=board, from_near=at) for i, board, at in best.placed]
    seats += [replace(items[i].seat, board=best.opened + n) for n, i in enumerate(whole)]
    seats.sort(key=lambda seat: (seat.stretch, seat.number))
    return seats, best.opened + len(whole)


def _recolored(
    instance: Instance, items: Sequence[_Item], best: "_Boards", aim: int, rng: np.random.Generator
) -> "_Boards":
    """The same pieces in fewer boards, if a search for such an assignment finds one."""
    fixed = [(i, board) for i, board, _ in best.placed if not items[i].is_loose]
    if not fixed:
        return best
    low = np.array([items[i].low for i, _ in fixed])
    high = np.array([items[i].high for i, _ in fixed])
    clash = np.zeros((len(fixed), len(fixed)), dtype=np.bool_)
    for lane in range(instance.lanes):
        begin, end = low[:, lane], high[:, lane] + instance.cut
        met = high[:, lane] > 0
        clash |= (begin[:, None] < end) & (begin < end[:, None]) & met & met[:, None]
    np.fill_diagonal(clash, False)
    colors = colored(clash, np.array([board for _, board in fixed]), aim, rng)
    if colors is None:
        return best
    found = _Boards(instance, len(best.placed))
    found.opened = aim
    for (i, _), board in zip(fixed, colors.tolist(), strict=True):
        found.put_into(board, i, items[i])
    for i, _, _ in best.placed:
        if items[i].is_loose:
            found.put(i, items[i])
    return found if found.opened < best.opened else best


def _items(instance: Instance, lanes: Lanes, stretch: int, pick: Pick) -> list[_Item]:
    low, high = lanes.seats(stretch, pick)
    board, need = instance.board, instance.stretches[stretch].length
    if len(low) == 1:
        return [_Item(Seat(stretch, 0, "wall-to-wall", need, 0, 0), low[0], high[0])]
    found = []
    for number in range(len(low)):
        kind: PieceKind = "whole"
        length, from_near = board, 0
        if number == 0 and pick.takes < board:
            kind, length, from_near = "starter", pick.takes, board - pick.takes
        elif number == len(low) - 1:
            kind, length = "end", need - pick.takes - (number - 1) * board
        seat = Seat(stretch, number, kind, length, 0, from_near)
        found.append(_Item(seat, low[number], high[number]))
    return found


def _fills(item: _Item, board: int) -> bool:
    return bool(((item.low == 0) & (item.high == board)).all())


def _class(item: _Item) -> int:
    """Full pieces at the near end first, each of which opens a board; loose pieces last."""
    if item.is_loose:
        return 3
    if item.seat.kind == "starter":
        return 2
    return 0 if (item.high > 0).all() else 1


def _least(instance: Instance, items: Sequence[_Item]) -> int:
    """Boards that the pieces need by their lengths alone, in the busiest lane."""
    busy = np.zeros(instance.lanes)
    for item in items:
        busy += np.where(item.high > 0, item.high - item.low + instance.cut, 0)
    return int(np.ceil(busy.max(initial=0.0) / (instance.board + instance.cut)))


class _Boards:
    """Boards being filled: the window left in every lane of each."""

    def __init__(self, instance: Instance, most: int) -> None:
        self._board, self._cut = instance.board, instance.cut
        self._low = np.zeros((most, instance.lanes), dtype=np.int64)
        self._high = np.full((most, instance.lanes), instance.board, dtype=np.int64)
        self.opened = 0
        self.placed: list[tuple[int, int, int]] = []

    def put(self, index: int, item: _Item) -> bool:
        """Put a piece into the board it fills best; whether that is a new one."""
        met = item.high > 0
        low, high = self._low[: self.opened], self._high[: self.opened]
        shift = np.zeros(self.opened, dtype=np.int64)
        if item.is_loose:
            shift = np.maximum((low - item.low)[:, met].max(axis=1, initial=0), 0)
            last = shift + item.seat.length <= self._board
        else:
            last = np.ones(self.opened, dtype=np.bool_)
        begin, end = item.low + shift[:, None], item.high + shift[:, None]
        fits = np.flatnonzero(last & ((begin >= low) & (end <= high))[:, met].all(axis=1))
        if len(fits):
            wasted = np.minimum(begin - low, high - end)[fits][:, met].sum(axis=1)
            beside = np.maximum(high - low, 0)[fits][:, ~met].sum(axis=1)
            board = int(fits[np.argmin(wasted + SPARE * beside)])
        else:
            board = self.opened
            self.opened += 1
        moved = int(shift[board]) if len(fits) else 0
        self._close(board, met, item.low + moved, item.high + moved)
        self.placed.append((index, board, moved if item.is_loose else item.seat.from_near))
        return not len(fits)

    def put_into(self, board: int, index: int, item: _Item) -> None:
        """Put a piece that has its place along its board into a board where it fits."""
        self._close(board, item.high > 0, item.low, item.high)
        self.placed.append((index, board, item.seat.from_near))

    def _close(
        self,
        board: int,
        met: "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]",
        first: Ints,
        last: Ints,
    ) -> None:
        """Take a piece out of the windows; of what is left on its two sides the larger is kept."""
        low, high = self._low[board], self._high[board]
        before, after = first - self._cut - low, high - last - self._cut
        at_near = met & (after >= before)
        at_far = met & (after < before)
        low[at_near] = (last + self._cut)[at_near]
        high[at_far] = (first - self._cut)[at_far]
