"""Prices of lengths: the evidence for a bound that anyone can check with additions.

A price p(t) is what a length t at the far end of a board is worth, in boards. Prices are a step
function: between two listed lengths the lower one's price holds. They rise from p(0) = 0 to
p(board) <= 1; every such p gives a lower bound on the boards of a floor (:func:`total`).

Prices are kept in whole billionths of a board, so that sums are exact.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from plankwright.errors import PlankwrightError
from plankwright.optimize.spans import ArcRange, Offcut, Span, arcs_of

Ints = npt.NDArray[np.int64]

BILLION = 1_000_000_000
MARGIN = 1_000  # billionths: a bound within this above a whole number is not rounded up


@dataclass(frozen=True, slots=True)
class Prices:
    """A rising step function from lengths to billionths of a board.

    Parameters
    ----------
    lengths : where the price rises [ticks], strictly rising from 0.
    billionths : the price from there on, strictly rising from 0 to at most a billion.
    """

    lengths: tuple[int, ...]
    billionths: tuple[int, ...]

    def __post_init__(self) -> None:
        if len(self.lengths) != len(self.billionths) or not self.lengths:
            raise PlankwrightError("prices need one length for each price")
        if self.lengths[0] != 0 or self.billionths[0] != 0:
            raise PlankwrightError("prices begin with length 0 at price 0")
        for steps in (self.lengths, self.billionths):
            if any(low >= high for low, high in pairwise(steps)):
                raise PlankwrightError("lengths and prices must rise")
        if self.billionths[-1] > BILLION:
            raise PlankwrightError("no length is worth more than a board")

    def of(self, lengths: Ints) -> Ints:
        """Prices [billionths] of lengths [ticks], all at least 0."""
        place = np.searchsorted(np.array(self.lengths, dtype=np.int64), lengths, side="right") - 1
        found: Ints = np.array(self.billionths, dtype=np.int64)[place]
        return found

    def steps(self) -> tuple[tuple[int, float], ...]:
        """Length [ticks] and price [boards] of every step, as a certificate lists them."""
        return tuple(
            (length, price / BILLION)
            for length, price in zip(self.lengths, self.billionths, strict=True)
        )


def repaired(lengths: Sequence[int], values: Iterable[float]) -> Prices:
    """Valid prices nearest to what a linear program with its rounding errors gave.

    Parameters
    ----------
    lengths : rising from 0 [ticks].
    values : a price [boards] for each; lifted to rise, and cut to lie from 0 to 1.
    """
    kept_lengths, kept = [0], [0]
    for length, value in zip(lengths, values, strict=True):
        price = min(BILLION, round(value * BILLION))
        if length > 0 and price > kept[-1]:
            kept_lengths.append(int(length))
            kept.append(price)
    return Prices(tuple(kept_lengths), tuple(kept))


def least_cost(prices: Prices, arcs: Sequence[ArcRange]) -> int:
    """The least of ``boards + p(a) - p(c)`` over all arcs [billionths].

    p is a step function, so the least lies where an arc's range begins or where the length left
    reaches a step: no other arc need be looked at.
    """
    return min(_least_in(prices, arc) for arc in arcs)


def _least_in(prices: Prices, arc: ArcRange) -> int:
    taken = np.array([arc.low, *prices.lengths], dtype=np.int64)
    taken[1:] -= arc.shift
    taken = taken[(taken >= arc.low) & (taken <= arc.high)]
    left = np.maximum(taken + arc.shift, 0)
    return arc.boards * BILLION + int((prices.of(taken) - prices.of(left)).min())


def total(
    prices: Prices,
    spans: Iterable[Span],
    board: int,
    cut: int,
    shelf: Iterable[Offcut] = (),
) -> int:
    """New boards [billionths] that a set of spans needs at the least, by these prices.

    Source: weak duality of the circulation of lengths; holds for every valid ``prices``. Offcuts on
    the shelf take off what they are worth.
    """
    spans, shelf = tuple(spans), tuple(shelf)
    if any(offcut.end == "both" and offcut.length < board for offcut in shelf):
        spans = tuple(replace(span, shortest=0) for span in spans)
    short = any(span.length <= board and not span.begun for span in spans)
    needed = sum(
        count * least_cost(prices, arcs_of(span, board, cut))
        for span, count in Counter(spans).items()
    )
    return needed - sum(worth(prices, offcut, board, cut, short=short) for offcut in shelf)


def worth(prices: Prices, offcut: Offcut, board: int, cut: int, *, short: bool = True) -> int:
    """The most that an offcut can save [billionths]; ``short``: there are wall-to-wall pieces.

    One with its far end serves as a starter of its length at the most. One with its near end gives
    an end piece, instead of a new board that would leave the rest; wall-to-wall pieces may come
    from what is left of either. A shorter board with both ends saves a board at the most: where it
    lies between two whole ones, the cut pieces of its row can be shortened by what a whole board
    has more, or it can be one piece with the shorter of them (if pieces may be of any length, so
    :func:`total` lets them).
    """
    if offcut.end == "both":
        return BILLION
    length = min(offcut.length, board)
    if offcut.end == "far":
        return int(prices.of(np.array([length]))[0])
    alone = int(prices.of(np.array([length]))[0]) if short else 0
    return (
        alone
        if offcut.end == "none"
        else max(alone, _as_end_piece(prices, length, board, cut, short))
    )


def _as_end_piece(prices: Prices, length: int, board: int, cut: int, short: bool) -> int:
    """The most that an end piece from an offcut saves, with what is cut from beside it."""
    beside = np.array(prices.lengths if short else (), dtype=np.int64)
    ends = np.concatenate([[length], length - cut - beside])
    kept = np.concatenate([[0], prices.of(beside)])
    possible = ends > 0
    lost = prices.of(np.maximum(board - cut - ends[possible], 0))
    return BILLION + int((kept[possible] - lost).max())


def whole_boards(billionths: int) -> int:
    """Round a total up to whole boards.

    What lies above a whole number by no more than a millionth of a board is not rounded up, so
    that a sum redone in floating point comes to the same number.
    """
    return max(0, -(-(billionths - MARGIN) // BILLION))
