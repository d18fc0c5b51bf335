"""The linear program: known values, and never below what other prices give."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.optimize.circulation import best_prices, pooled
from plankwright.optimize.prices import BILLION, repaired, total
from plankwright.optimize.spans import Span

MM = 10_000


def value(spans: list[Span], board: int, cut: int, grid: int) -> float:
    return total(best_prices(spans, board, cut, grid), spans, board, cut) / BILLION


def test_the_room_of_4_by_3_meters_needs_50_and_two_thirds() -> None:
    prices = best_prices([Span(4000 * MM, 300 * MM)] * 16, 1285 * MM, 0, MM)
    assert [round(length / MM) for length in prices.lengths] == [0, 300, 445, 590, 735, 880, 1025]
    assert prices.billionths[-1] == BILLION


def test_prices_are_the_same_every_time() -> None:
    spans = [Span(length * MM, 300 * MM) for length in (3112, 3127, 3355, 4003, 4021)] * 3
    first = best_prices(spans, 1285 * MM, 3 * MM, MM)
    assert all(best_prices(spans, 1285 * MM, 3 * MM, MM) == first for _ in range(3))


@pytest.mark.parametrize(
    ("lengths", "board", "cut", "expected"),
    [
        ((1000,), 1285, 3, 1.0),  # one piece, more than half a board
        ((600, 600), 1285, 3, 1.0),  # 600 + 3 + 600 from one board: each half a board
        ((642, 642), 1285, 3, 2.0),  # 642 + 3 + 642 = 1287: two together do not fit
        ((1285,), 1285, 3, 1.0),
        ((2570,), 1285, 3, 2.0),  # two whole boards: a starter and an end piece
    ],
)
def test_small_cases_on_paper(
    lengths: tuple[int, ...], board: int, cut: int, expected: float
) -> None:
    spans = [Span(length, shortest=300 if length > board else 0) for length in lengths]
    assert value(spans, board, cut, 1) == pytest.approx(expected, abs=1e-6)


def test_pooling_never_makes_a_span_longer_nor_loses_a_board() -> None:
    for length in range(1, 60):
        found = pooled(Span(length, 2, split=True), board=13, cut=2, grid=5)
        assert max(1, length - 4) <= found.length <= length
        assert (found.length // 13, found.shortest, found.split) == (length // 13, 2, True)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(
    st.integers(5, 15),
    st.lists(st.integers(1, 50), min_size=1, max_size=6),
    st.integers(0, 3),
    st.integers(1, 4),
    st.data(),
)
def test_no_prices_give_more_than_the_best_ones(
    board: int, lengths: list[int], cut: int, shortest: int, data: st.DataObject
) -> None:
    spans = [Span(length, shortest) for length in lengths]
    values = data.draw(st.lists(st.floats(0, 1), min_size=board, max_size=board))
    others = repaired(range(board + 1), [0.0, *sorted(values)])
    best = best_prices(spans, board, cut, grid=1)
    assert total(others, spans, board, cut) <= total(best, spans, board, cut) + 1_000
