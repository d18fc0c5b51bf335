"""The sum of prices that bounds the number of boards (design section 5.2), added anew.

Prices p(t) of a length t of board form a step function that never falls, with p(0) = 0 and
p(board length) <= 1. For any such prices the boards needed are at least the sum, over the
stretches, of the least price of any way to fill the stretch:

* longer than a board: a starter a, f whole boards and an end piece b, a + f L + b = R. It costs
  f + 1 + p(a) - p(c), where c = max(0, L - cut - b) is the starter still left in the end piece's
  board;
* no longer than a board: one piece of length w from any length t >= w, for
  p(t) - p(max(0, t - w - cut)).

The least is exact over the continuum of a (or t): where p(a) is constant the price falls only
where p(c) steps up, so the least lies at the range's lower end or where c is a listed length.
All lengths are whole ticks of 1/10,000 mm, so that equal lengths are equal.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

TICKS_PER_MM = 10_000
NOISE_TICKS = 0.01  # 1e-6 mm: float noise, below every rounding of the file
SAFETY = 1e-7  # taken off the sum before rounding it up, for the float noise of adding

Ticks = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]


def ticks_down(length_mm: float) -> int:
    """A length in whole ticks, rounded down but for float noise."""
    return math.floor(length_mm * TICKS_PER_MM + NOISE_TICKS)


@dataclass(frozen=True, slots=True)
class Prices:
    """A step function: ``at`` rising lengths [ticks] from 0, ``price`` from each on."""

    at: Ticks
    price: Floats

    def __call__(self, lengths: Ticks) -> Floats:
        """Prices of lengths of 0 or more."""
        return self.price[np.searchsorted(self.at, lengths, side="right") - 1]


@dataclass(frozen=True, slots=True)
class Need:
    """What has to be filled, all in ticks.

    ``length`` R; ``starter`` and ``end`` the least lengths of the two cut pieces; ``whole`` when
    one piece may fill it, ``split`` when two cut pieces may; ``begun`` when it joins a laid piece,
    so that only whole boards and an end piece can fill it.
    """

    length: int
    starter: int
    end: int
    whole: bool
    split: bool
    begun: bool = False


def read_prices(pairs: tuple[tuple[float, float], ...], board_mm: float) -> Prices | str:
    """The step function, or what is wrong with it."""
    if not pairs:
        return "there are no prices"
    lengths = [length for length, _ in pairs]
    prices = [price for _, price in pairs]
    if not all(math.isfinite(value) for pair in pairs for value in pair):
        return "a price is not a number"
    if pairs[0] != (0.0, 0.0):
        return "the price of length 0 is not 0"
    if any(b <= a for a, b in pairwise(lengths)):
        return "the lengths of the prices do not rise"
    if any(b < a for a, b in pairwise(prices)):
        return "the prices fall"
    if max(price for length, price in pairs if length <= board_mm) > 1.0:
        return "a board is priced above 1"
    kept = [(round(t * TICKS_PER_MM), p) for t, p in pairs if t <= board_mm]
    return Prices(np.array([t for t, _ in kept], np.int64), np.array([p for _, p in kept]))


def price_sum(prices: Prices, needs: list[Need], board: int, cut: int) -> float:
    """The sum of the least prices of all needs; ``board`` and ``cut`` (kerf and allowance) in
    ticks."""
    counted: dict[Need, int] = {}
    for need in needs:
        counted[need] = counted.get(need, 0) + 1
    costs = [count * least_price(prices, need, board, cut) for need, count in counted.items()]
    return math.fsum(costs)


def boards_at_least(total: float) -> int:
    """The whole number of boards that a price sum proves."""
    return math.ceil(total - SAFETY)


def least_price(prices: Prices, need: Need, board: int, cut: int) -> float:
    """The least price of any way to fill a need."""
    if need.begun:
        return _end_piece_only(prices, need.length, board, cut)
    ways = []
    if need.whole and need.length <= board:
        ways.append(_one_piece(prices, need.length, board, cut))
    if need.split or not ways:
        ways.extend(_two_pieces(prices, need, board, cut))
    return min(ways, default=0.0)


def _end_piece_only(prices: Prices, length: int, board: int, cut: int) -> float:
    """Whole boards and an end piece b of at most a board, which leaves board - cut - b."""
    wholes = max(length - 1, 0) // board
    left = max(board - cut - (length - wholes * board), 0)
    return float(wholes + 1 - prices(np.array([left]))[0])


def _one_piece(prices: Prices, length: int, board: int, cut: int) -> float:
    """Least p(t) - p(t - length - cut): at t = length, or where what is left is a listed length."""
    t = np.concatenate([[length], prices.at + length + cut])
    t = t[t <= board]
    return float((prices(t) - prices(np.maximum(t - length - cut, 0))).min())


def _two_pieces(prices: Prices, need: Need, board: int, cut: int) -> list[float]:
    """Least price for each number f of whole boards between the two cut pieces."""
    found = []
    for f, low, high, gain in starter_ranges(need, board, cut):
        a = np.concatenate([[low], prices.at - gain])
        a = a[(a >= low) & (a <= high)]
        left = np.maximum(a + gain, 0)
        found.append(float(f + 1 + (prices(a) - prices(left)).min()))
    return found


def starter_ranges(need: Need, board: int, cut: int) -> Iterator[tuple[int, int, int, int]]:
    """For each number f of whole boards: f, least and greatest starter a, and c - a."""
    for f in range(max(need.length // board - 2, 0), need.length // board + 1):
        rest = need.length - f * board
        low, high = max(need.starter, rest - board), min(board, rest - need.end)
        if low <= high:
            yield f, low, high, board - cut - rest
