"""The sum of prices: by hand, against every way to cut, and against the true fewest boards."""

import random

import numpy as np
import pytest
from tests.checker.plan_maker import PRICES
from tests.optimize.oracle import Row, Shop, fewest_boards

from plankwright.checker.prices import (
    Need,
    Prices,
    boards_at_least,
    least_price,
    price_sum,
    read_prices,
    ticks_down,
)


def test_seven_prices_prove_51_boards() -> None:
    # 16 stretches of 4000 mm: each 3 whole boards' worth and 1/6, see PRICES: 16 x 19/6 = 50.667.
    prices = read_prices(PRICES, 1285.0)
    assert isinstance(prices, Prices)
    needs = [Need(40_000_000, 3_000_000, 3_000_000, whole=False, split=True)] * 16
    total = price_sum(prices, needs, 12_850_000, 0)
    assert total == pytest.approx(50.0 + 2.0 / 3.0, abs=1e-9)
    assert boards_at_least(total) == 51


def test_prices_of_nothing_count_whole_boards_only() -> None:
    # p = 0 everywhere but p(L) = 1: a stretch of 2.5 boards costs at least f + 1 = 2, since its
    # starter may be short; and c = L only when b = 0, which the shortest piece forbids.
    prices = Prices(np.array([0, 100]), np.array([0.0, 1.0]))
    assert least_price(prices, Need(250, 30, 30, whole=False, split=True), 100, 0) == 2.0


def test_a_short_stretch_costs_what_it_uses() -> None:
    # p(50) = 1/2, p(100) = 1: a piece of 50 leaves 50 of a whole board, or uses a half.
    prices = Prices(np.array([0, 50, 100]), np.array([0.0, 0.5, 1.0]))
    assert least_price(prices, Need(50, 0, 0, whole=True, split=False), 100, 0) == 0.5
    # 51 of a whole board with a kerf of 3 leaves 46, worth nothing; a length of 51 to 99 costs 1/2
    assert least_price(prices, Need(51, 0, 0, whole=True, split=False), 100, 3) == 0.5


@pytest.mark.parametrize("seed", range(40))
def test_the_least_is_found_among_all_ways_to_cut(seed: int) -> None:
    rng = random.Random(seed)
    board, cut = rng.randint(8, 30), rng.randint(0, 2)
    prices = random_prices(rng, board)
    length = rng.randint(1, 4 * board)
    least = rng.randint(0, board // 3)
    need = Need(length, least, least, whole=length <= board, split=length > board)
    if length <= board:
        ways = [
            prices_of(prices, t) - prices_of(prices, max(t - length - cut, 0))
            for t in range(length, board + 1)
        ]
    else:
        ways = [
            f + 1 + prices_of(prices, a) - prices_of(prices, max(board - cut - b, 0))
            for f in range(5)
            for a in range(least, board + 1)
            for b in [length - f * board - a]
            if least <= b <= board
        ]
    assert least_price(prices, need, board, cut) == pytest.approx(min(ways, default=0.0))


@pytest.mark.parametrize("seed", range(100))
def test_no_prices_prove_more_than_the_fewest_boards(seed: int) -> None:
    rng = random.Random(1000 + seed)
    board, cut, shortest = rng.randint(6, 10), rng.randint(0, 1), rng.randint(1, 3)
    lengths = [rng.randint(2, 3 * board) for _ in range(rng.randint(1, 3))]
    fewest = fewest_boards(Shop(board, cut, shortest), [Row(length) for length in lengths])
    needs = [
        Need(length, shortest, shortest, whole=length <= board, split=length > board)
        for length in lengths
    ]
    if fewest is not None:
        for _ in range(20):
            total = price_sum(random_prices(rng, board), needs, board, cut)
            assert boards_at_least(total) <= fewest


def random_prices(rng: random.Random, board: int) -> Prices:
    at = sorted(rng.sample(range(1, board + 1), rng.randint(1, min(6, board))))
    price = sorted(rng.random() for _ in at)
    price[-1] = 1.0
    return Prices(np.array([0, *at]), np.array([0.0, *price]))


def prices_of(prices: Prices, length: int) -> float:
    return float(prices(np.array([length]))[0])


@pytest.mark.parametrize(
    ("pairs", "told"),
    [
        ((), "no prices"),
        (((0.0, 0.1), (5.0, 1.0)), "length 0"),
        (((1.0, 0.0), (5.0, 1.0)), "length 0"),
        (((0.0, 0.0), (5.0, 0.5), (5.0, 0.6)), "do not rise"),
        (((0.0, 0.0), (5.0, 0.5), (6.0, 0.4)), "fall"),
        (((0.0, 0.0), (5.0, 1.01)), "above 1"),
        (((0.0, 0.0), (5.0, float("nan"))), "not a number"),
    ],
)
def test_prices_that_are_none_are_refused(
    pairs: tuple[tuple[float, float], ...], told: str
) -> None:
    reason = read_prices(pairs, 10.0)
    assert isinstance(reason, str)
    assert told in reason


def test_ticks_are_rounded_down_but_for_float_noise() -> None:
    assert ticks_down(0.1 + 0.2) == 3000
    assert ticks_down(3749.675 - 1e-13) == 37_496_750
    assert ticks_down(3749.67499) == 37_496_749
