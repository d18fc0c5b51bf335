"""Sticks of trim: counts of worked examples, and the least cost against brute force."""

import itertools
import random
from decimal import Decimal

import pytest
from tests.plan.brute_sticks import least_cost

from plankwright.buying.trim_pieces import TrimPiece, spliced_sticks
from plankwright.model.trim import StockLength, Trim
from plankwright.plan.trim_sticks import cut_trim

INCH = 25.4


def bare(*lengths: float, **more: object) -> Trim:
    plain: dict[str, object] = {"kerf_mm": 0.0, "miter_mm": 0.0, "shortest_mm": 0.0}
    return Trim(tuple(map(StockLength, lengths)), **{**plain, **more})  # type: ignore[arg-type]


def square(length: float, label: str = "1") -> TrimPiece:
    return TrimPiece(label, "A-B", length, length, "square", "square")


def test_fourteen_pieces_of_37_and_a_half_inches() -> None:
    """Common worked example of the trade: 72 in stock holds one piece unspliced, so 14 lengths;
    spliced 14 x 37.5 / 72 = 7.3, so 8."""
    pieces = [square(37.5 * INCH, str(n)) for n in range(14)]
    whole = cut_trim(pieces, bare(72 * INCH))
    assert len(whole.sticks) == 14
    assert whole.proven
    spliced = cut_trim(pieces, bare(72 * INCH, splice="anywhere", thickness_mm=0.001))
    assert len(spliced.sticks) == 8
    assert spliced_sticks([37.5] * 14, 72.0) == 8


@pytest.mark.parametrize("seed", range(25))
def test_sticks_against_brute_force(seed: int) -> None:
    """Random houses: walls, stock lengths, prices; 200 of them in ``benchmarks/buying.py``."""
    draw = random.Random(seed)
    stock = sorted(draw.sample(range(2200, 5000, 20), draw.randint(1, 3)))
    prices = [Decimal(n // 10 + draw.randint(-60, 60)) / 100 + 1 for n in stock]
    trim = Trim(
        tuple(StockLength(n, p) for n, p in zip(stock, prices, strict=True)), kerf_mm=3.0,
        miter_mm=0.0, shortest_mm=0.0,
    )  # fmt: skip
    lengths = [draw.randint(300, stock[-1]) for _ in range(draw.randint(3, 9))]
    found = cut_trim([square(n, str(i)) for i, n in enumerate(lengths)], trim)
    bars = [(n, int(p * 100)) for n, p in zip(stock, prices, strict=True)]
    assert found.least == least_cost(lengths, bars, 3)
    labels = itertools.chain.from_iterable(stick.pieces for stick in found.sticks)
    assert sorted(int(piece.label) for piece in labels) == list(range(len(lengths)))
    for stick in found.sticks:
        used = sum(p.blank_mm for p in stick.pieces) + 3.0 * (len(stick.pieces) - 1)
        assert used <= stick.stock.length_mm + 1e-6


def test_without_prices_the_least_length_is_bought() -> None:
    # 2000 + 1600 fit into 3660 only; two sticks of 2440 would be 4880
    found = cut_trim([square(2000.0), square(1600.0, "2")], bare(2440.0, 3660.0))
    assert [stick.stock.length_mm for stick in found.sticks] == [3660.0]
    assert (found.measure, found.least, found.proven) == ("length", 36_600, True)
