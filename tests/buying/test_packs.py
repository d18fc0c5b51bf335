"""Packs against worked examples of the trade, and the chance of running short by simulation."""

import math
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.buying.packs import (
    chance_short,
    pack_choices,
    packs_by_area,
    packs_to_buy,
)
from plankwright.model.buying import SPOIL_RATES


def test_packs_by_area_in_worked_examples() -> None:
    # 20 m2 + 10 % = 22 m2; 22 / 1.243 = 17.7
    assert packs_by_area(20.0, 1.243, 10.0) == 18
    # 42 ft2 short, boxes of 20 ft2: 2.1
    assert packs_by_area(42.0, 20.0, 0.0) == 3
    # handbook W26 (a): 12 ft x 15 ft 6 in = 186 ft2, 10 % more 204.6, in packs of 20.15: 10.15
    assert packs_by_area(12.0 * 15.5, 20.15, 10.0) == 11
    # handbook W26 (b): 4.70 x 3.65 m = 17.155 m2, 8 % more 18.527, in packs of 2.131: 8.69
    assert packs_by_area(17.155, 2.131, 8.0) == 9
    # exactly full packs stay full: 20.9 x 1.1 = 22.99 = 11 x 2.09, which floats miss
    assert packs_by_area(20.9, 2.09, 10.0) == 11


@pytest.mark.parametrize("rate", SPOIL_RATES)
def test_the_chance_is_that_of_simulated_jobs(rate: Fraction) -> None:
    """100,000 jobs, board after board from 7 packs of 8 until 51 good ones lie: within 0.5 points.

    The standard error of a share of 100,000 is at most 0.16 points.
    """
    draw = np.random.default_rng(20261125)
    good = draw.random((100_000, 56)) >= float(rate)
    simulated = np.mean(np.cumsum(good, axis=1)[:, -1] < 51)
    assert abs(float(chance_short(51, 56, rate)) - simulated) < 0.005


def test_the_chance_is_the_librarys_binomial() -> None:
    stats = pytest.importorskip("scipy.stats", reason="scipy is not installed")
    for needed, bought, rate in ((51, 56, SPOIL_RATES[0]), (95, 104, SPOIL_RATES[2]), (3, 8, 0.5)):
        exact = chance_short(needed, bought, Fraction(rate).limit_denominator(1000))
        assert float(exact) == pytest.approx(
            stats.binom.sf(bought - needed, bought, float(rate)), abs=1e-12
        )


def test_by_hand() -> None:
    # one board wanted, two there, each spoiled one time in ten: both spoiled, 1 in 100
    assert chance_short(1, 2, Fraction(1, 10)) == Fraction(1, 100)
    assert chance_short(8, 8, Fraction(0)) == 0
    assert chance_short(9, 8, Fraction(0)) == 1


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.integers(1, 200), st.integers(0, 30), st.fractions(0, 1, max_denominator=50))
def test_another_board_never_raises_the_chance(needed: int, more: int, rate: Fraction) -> None:
    now = chance_short(needed, needed + more, rate)
    assert 0 <= chance_short(needed, needed + more + 1, rate) <= now <= 1


def test_choices_and_the_one_to_take() -> None:
    choices = pack_choices(51, 8, SPOIL_RATES)
    assert [(c.packs, c.spares) for c in choices] == [(7, 5), (8, 13), (9, 21), (10, 29)]
    # without prices: the fewest packs with room for the repair boards and 10 % at 5 % spoiled
    assert packs_to_buy(choices, 0, Fraction(1, 10)).packs == 7
    assert packs_to_buy(choices, 8, Fraction(1, 10)).packs == 8
    assert packs_to_buy(choices, 0, Fraction(1, 1000)).packs == 8


def test_with_prices_the_least_expected_cost_wins() -> None:
    # 56 boards for 51: P(more than 5 of 56 spoiled at 5 %) is some 6 %; a trip of 30 times that is
    # less than a pack of 25, a trip of 1000 is not
    cheap = pack_choices(51, 8, SPOIL_RATES, price=Decimal(25), trip=Decimal(30))
    dear = pack_choices(51, 8, SPOIL_RATES, price=Decimal(25), trip=Decimal(1000))
    assert cheap[0].expected is not None
    tail = 1 - sum(math.comb(56, k) * 0.05**k * 0.95 ** (56 - k) for k in range(6))
    assert float(cheap[0].expected) == pytest.approx(7 * 25 + 30 * tail)
    assert packs_to_buy(cheap, 0, Fraction(1, 10)).packs == 7
    assert packs_to_buy(dear, 0, Fraction(1, 10)).packs == 8
