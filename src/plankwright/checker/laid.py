"""What lay already when the plan was made, and the stock that was at hand for the rest.

A plan that names laid pieces claims the fewest boards among plans that keep them: their own boards,
and new ones for what is open beside the boards of the stock. The laid pieces of a stretch must be
its first ones from the near end, so that what is open of it begins at an end joint.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from plankwright.checker.prices import TICKS_PER_MM, Prices
from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, TOLERANCE_MM, Floats, View
from plankwright.model.plan import Plan, StockBoard


def laid_faults(view: View) -> Iterator[Fault]:
    """Laid pieces that are none, that come late, or whose boards other pieces are cut from."""
    plan = view.plan
    by_id = {piece.id: piece for piece in plan.pieces}
    for name in plan.laid:
        if name not in by_id:
            yield Fault("laid", name, "is said to lie, but the plan has no such piece")
    laid = set(plan.laid)
    boards = {by_id[name].board for name in laid if name in by_id}
    last = max((by_id[name].lay_order for name in laid if name in by_id), default=-math.inf)
    for piece in plan.pieces:
        if piece.id in laid:
            continue
        if piece.board in boards:
            yield Fault(
                "laid",
                piece.id,
                f"is still to be cut from board {piece.board}, from which laid pieces were cut; "
                "what is left of it belongs in the stock",
            )
        if laid and piece.lay_order < last:
            yield Fault("laid", piece.id, "comes before a piece that is said to lie already")
    numbers = [board.id for board in plan.stock]
    for number in sorted({n for n in numbers if numbers.count(n) > 1}):
        yield Fault("laid", f"stock {number}", "two boards of the stock have this number")


def batch_faults(view: View) -> Iterator[Fault]:
    """Boards that pieces of both batches are cut from, and stock used for the second."""
    plan = view.plan
    if plan.second_batch_row is None:
        return
    laid, stock = set(plan.laid), {board.id for board in plan.stock}
    is_open = np.array([piece.id not in laid for piece in plan.pieces], np.bool_)
    is_second = view.rows >= plan.second_batch_row
    first = {plan.pieces[i].board for i in np.flatnonzero(is_open & ~is_second)}
    for i in np.flatnonzero(is_open & is_second):
        piece = plan.pieces[i]
        if piece.board in stock or piece.board in first:
            yield Fault(
                "laid",
                piece.id,
                f"lies in row {view.rows[i]} of the second batch, but board {piece.board} is of "
                "the first",
            )


@dataclass(frozen=True, slots=True)
class Part:
    """Rows whose boards are counted by themselves: all, or those of one batch.

    ``open_from``: for each stretch the u from which it is open in this part; ``stock``: what is at
    hand for it.
    """

    open_from: Floats
    stock: tuple[StockBoard, ...]


def parts_of(view: View) -> list[Part] | str:
    """The parts of what is open, or why prices prove nothing."""
    since = open_from(view)
    if isinstance(since, str):
        return since
    stock, start = tuple(at_hand(view.plan)), view.plan.second_batch_row
    if start is None:
        return [Part(since, stock)]
    second = view.stretch_rows >= start
    return [
        Part(np.where(second, math.inf, since), stock),
        Part(np.where(second, since, math.inf), ()),
    ]


def open_from(view: View) -> Floats | str:
    """For each stretch the u from which it is open: minus infinity for all of it, infinity for
    none; or why that cannot be said.
    """
    count = len(view.stretches)
    laid = np.array([piece.id in set(view.plan.laid) for piece in view.plan.pieces], np.bool_)
    found = np.full(count, -math.inf)
    if not laid.any():
        return found
    held = view.stretch_of >= 0
    last = np.full(count, -math.inf)
    first = np.full(count, math.inf)
    np.maximum.at(last, view.stretch_of[held & laid], view.boxes[held & laid, 2])
    np.minimum.at(first, view.stretch_of[held & ~laid], view.boxes[held & ~laid, 0])
    begun = last > -math.inf
    if (begun & (last > first + TOLERANCE_MM)).any():
        return "prices prove nothing when a row does not lie from its near end on"
    found[begun] = first[begun]
    return found


def laid_boards(plan: Plan) -> int:
    """New boards from which laid pieces were cut."""
    laid, stock = set(plan.laid), {board.id for board in plan.stock}
    return len({piece.board for piece in plan.pieces if piece.id in laid} - stock)


def at_hand(plan: Plan) -> list[StockBoard]:
    """The stock less the boards that laid pieces were cut from."""
    laid = set(plan.laid)
    used = {piece.board for piece in plan.pieces if piece.id in laid}
    return [board for board in plan.stock if board.id not in used]


def open_areas(view: View) -> list[float]:
    """Floor less what lies [mm²]: of all rows, or of those of the first and the second batch."""
    plan, start = view.plan, view.plan.second_batch_row
    laid = np.array([piece.id in set(plan.laid) for piece in plan.pieces], np.bool_)
    open_mm2 = np.where(laid, 0.0, shapely.area(view.outlines))
    if start is None:
        lies = float(shapely.area(view.outlines[laid]).sum())
        return [float(view.floor.area) - float(shapely.area(view.scraps).sum()) - lies]
    second = view.rows >= start
    return [float(open_mm2[~second].sum()), float(open_mm2[second].sum())]


@dataclass(frozen=True, slots=True)
class Worth:
    """What stock at hand can save, by prices; ``width`` is that of a whole board.

    ``short``: there are stretches that one piece may fill.
    """

    stock: tuple[StockBoard, ...]
    width: float
    prices: Prices
    board: int
    cut: int

    def at(self, line: float, reach: float, *, short: bool) -> float:
        """Boards that the stock met by a line along the boards saves at the most."""
        met = [stock for stock in self.stock if self._is_met(stock, line, reach)]
        return math.fsum(self._of(stock, short=short) for stock in met)

    def _is_met(self, stock: StockBoard, line: float, reach: float) -> bool:
        """A strip with a factory side lies at that side, others may lie anywhere."""
        if stock.width_mm is None or stock.side == "none":
            return True
        if stock.side == "wall":
            return line - reach <= stock.width_mm + ROUNDING_MM
        return line + reach >= self.width - stock.width_mm - ROUNDING_MM

    def _of(self, stock: StockBoard, *, short: bool) -> float:
        """One board: with both ends it saves a board at the most; with its far end it is a starter
        of its length, with its near end an end piece instead of a board that would leave the rest,
        either with wall-to-wall pieces beside it.
        """
        if stock.ends == "both":
            return 1.0
        length = min(math.ceil(stock.length_mm * TICKS_PER_MM - 0.01), self.board)
        alone = float(self.prices(np.array([length]))[0])
        if stock.ends == "far":
            return alone
        alone = alone if short else 0.0
        return alone if stock.ends == "none" else max(alone, self._as_end_piece(length, short))

    def _as_end_piece(self, length: int, short: bool) -> float:
        beside = self.prices.at if short else self.prices.at[:1]
        ends = np.concatenate([[length], length - self.cut - beside])
        kept = np.concatenate([[0.0], self.prices(beside)])
        possible = ends > 0
        lost = self.prices(np.maximum(self.board - self.cut - ends[possible], 0))
        return float((1.0 + kept[possible] - lost).max())


def has_shorter_boards(stock: tuple[StockBoard, ...], length: float) -> bool:
    """Whether there are shorter boards with both ends, which may lie between whole ones."""
    return any(b.ends == "both" and b.length_mm < length - ROUNDING_MM for b in stock)


def has_longer_boards(plan: Plan) -> bool:
    """Whether the stock has boards longer than the plan's."""
    return any(b.length_mm > plan.board.length_mm + ROUNDING_MM for b in at_hand(plan))
