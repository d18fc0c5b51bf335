"""Money to the cent: exact where floats are not, rounded once and half up."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import InputError
from plankwright.model.money import read_decimal, read_price, told_money
from plankwright.model.shopping import Line, merged, priced, totals


def line(item: str, count: int, price: str | None = None, **more: Any) -> Line:
    return Line(
        "Things", item, count, "pieces", "because", Decimal(price) if price else None, **more
    )


def test_sums_to_the_cent() -> None:
    # 3 x 0.10 + 7 x 19.99 = 140.23; 6.25 % of it 8.764375, so 8.76; together 148.99
    sums = totals([line("a", 3, "0.10"), line("b", 7, "19.99"), line("c", 1)], Decimal("6.25"))
    assert (sums.subtotal, sums.tax, sums.total) == (
        Decimal("140.23"), Decimal("8.76"), Decimal("148.99")
    )  # fmt: skip
    assert sums.unpriced == 1


def test_tax_rounds_half_up() -> None:
    # 5 % of 0.10 is half a cent
    assert totals([line("a", 1, "0.10")], Decimal(5)).tax == Decimal("0.01")


@settings(derandomize=True, deadline=None, max_examples=100)
@given(
    st.lists(st.tuples(st.integers(1, 500), st.integers(0, 99_999)), max_size=20),
    st.integers(0, 3000),
)
def test_sums_are_those_of_whole_cents(entries: list[tuple[int, int]], tax: int) -> None:
    """The same sum in integers of a cent and hundredths of a percent, nothing but integers."""
    lines = [line(str(i), n, f"{c // 100}.{c % 100:02}") for i, (n, c) in enumerate(entries)]
    sums = totals(lines, Decimal(tax) / 100)
    cents = sum(n * c for n, c in entries)
    tax_cents = (cents * tax + 5000) // 10_000
    assert sums.subtotal * 100 == cents
    assert sums.tax * 100 == tax_cents
    assert sums.total * 100 == cents + tax_cents


@pytest.mark.parametrize("value", ["-1", "1.005", "NaN", "1,50", "free", True, None, 1e9])
def test_what_is_no_price(value: object) -> None:
    with pytest.raises(InputError) as refused:
        read_price(value, where="buy.pack")
    assert refused.value.where == "buy.pack"
    assert refused.value.remedy


def test_prices_are_read_as_typed() -> None:
    assert read_price(31.5, where="") == Decimal("31.50")
    assert read_price("31.50", where="") == Decimal("31.50")
    assert read_decimal(8.875, where="") == Decimal("8.875")
    assert told_money(Decimal("0"), "USD") == "0.00 USD"


def test_nothing_stands_there_twice() -> None:
    lines = merged([line("tape", 1, "2.00", back=True), line("film", 2), line("tape", 2, "2.00")])
    assert [(found.item, found.count, found.back) for found in lines] == [
        ("tape", 3, False), ("film", 2, False)
    ]  # fmt: skip


def test_a_price_is_found_by_the_name_before_the_sizes() -> None:
    found = priced(line("Brads, 2 in long", 1), {"brads": Decimal("6.49")})
    assert found.amount == Decimal("6.49")
    assert priced(line("nails", 1), {"brads": Decimal("6.49")}).amount is None
