"""Prices are added up exactly, and every valid set of prices gives a bound."""

from bisect import bisect_right

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.optimize.oracle import Row, Shop, fewest_boards

from plankwright.errors import PlankwrightError
from plankwright.optimize.prices import (
    BILLION,
    Prices,
    least_cost,
    repaired,
    total,
    whole_boards,
)
from plankwright.optimize.spans import Span, arcs_of


def test_seven_prices_prove_51_boards_for_16_stretches_of_4000() -> None:
    # 4000 = 3 x 1285 + 145, so a starter a leaves a - 145 and three boards are opened. Prices
    # that rise by 1/6 every 145 from 300 on cost each stretch 3 + 1/6; 16 x 19/6 = 50.67.
    lengths = (0, 300, 445, 590, 735, 880, 1025)
    prices = repaired(lengths, [k / 6 for k in range(7)])
    assert len(prices.lengths) == 7
    found = total(prices, [Span(4000, shortest=300)] * 16, board=1285, cut=0)
    assert found == pytest.approx(16 * 19 / 6 * BILLION, abs=100)
    assert whole_boards(found) == 51


def test_rounding_up_leaves_a_margin_for_sums_in_floating_point() -> None:
    assert whole_boards(51 * BILLION) == 51
    assert whole_boards(51 * BILLION + 1) == 51  # a sum in floats could not tell
    assert whole_boards(51 * BILLION + 2_000) == 52
    assert whole_boards(51 * BILLION - 1) == 51
    assert whole_boards(0) == 0


def test_repair_lifts_and_cuts_prices_until_they_are_valid() -> None:
    prices = repaired((0, 2, 4, 6, 8), (0.1, 0.5, 0.4999, 1.0000001, 0.9))
    assert prices == Prices((0, 2, 6), (0, BILLION // 2, BILLION))
    assert prices.steps() == ((0, 0.0), (2, 0.5), (6, 1.0))


@pytest.mark.parametrize(
    ("lengths", "billionths"),
    [
        ((0, 5), (0,)),
        ((1, 5), (0, 10)),
        ((0, 5), (1, 10)),
        ((0, 5, 5), (0, 10, 20)),
        ((0, 5, 6), (0, 20, 10)),
        ((0, 5), (0, BILLION + 1)),
        ((), ()),
    ],
)
def test_prices_that_prove_nothing_are_refused(
    lengths: tuple[int, ...], billionths: tuple[int, ...]
) -> None:
    with pytest.raises(PlankwrightError):
        Prices(lengths, billionths)


@st.composite
def boards_and_prices(draw: st.DrawFn) -> tuple[int, Prices]:
    board = draw(st.integers(5, 9))
    values = draw(st.lists(st.floats(0, 1), min_size=board, max_size=board))
    return board, repaired(range(board + 1), [0.0, *sorted(values)])


@settings(derandomize=True, deadline=None, max_examples=200)
@given(boards_and_prices(), st.integers(1, 40), st.integers(0, 3), st.integers(0, 4), st.booleans())
def test_the_least_cost_is_that_of_trying_every_arc(
    drawn: tuple[int, Prices], length: int, cut: int, shortest: int, split: bool
) -> None:
    board, prices = drawn
    arcs = arcs_of(Span(length, min(shortest, length), split), board, cut)

    def price(t: int) -> int:
        return prices.billionths[bisect_right(prices.lengths, t) - 1]

    by_hand = min(
        arc.boards * BILLION + price(a) - price(max(0, a + arc.shift))
        for arc in arcs
        for a in range(arc.low, arc.high + 1)
    )
    assert least_cost(prices, arcs) == by_hand


@settings(derandomize=True, deadline=None, max_examples=100)
@given(
    boards_and_prices(),
    st.lists(st.integers(1, 20), min_size=1, max_size=3),
    st.integers(0, 2),
    st.integers(1, 3),
)
def test_any_prices_give_a_bound(
    drawn: tuple[int, Prices], lengths: list[int], cut: int, shortest: int
) -> None:
    board, prices = drawn
    shop = Shop(board, cut, min(shortest, board // 2))
    fewest = fewest_boards(shop, [Row(length) for length in lengths])
    assert fewest is not None
    spans = [Span(length, shop.shortest) for length in lengths]
    assert whole_boards(total(prices, spans, board, cut)) <= fewest
