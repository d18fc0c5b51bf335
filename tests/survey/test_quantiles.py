"""Quantiles against scipy and printed tables."""

import pytest
from scipy import stats

from plankwright.errors import RangeError
from plankwright.survey.quantiles import (
    chi_square_quantile,
    chi_square_tail,
    family_chance,
    fisher_quantile_2,
    normal_two_sided,
)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 7, 14, 33, 60, 121])
@pytest.mark.parametrize("chance", [0.01, 0.5, 0.95, 0.999, 1 - 1e-7])
def test_chi_square_agrees_with_scipy(freedom: int, chance: float) -> None:
    quantile = chi_square_quantile(chance, freedom)
    assert quantile == pytest.approx(stats.chi2.ppf(chance, freedom), rel=1e-8)
    assert chi_square_tail(quantile, freedom) == pytest.approx(1 - chance, rel=1e-6)


@pytest.mark.parametrize("chance", [0.5, 0.95, 0.999, 0.99995])
def test_normal_agrees_with_scipy(chance: float) -> None:
    assert normal_two_sided(chance) == pytest.approx(stats.norm.ppf((1 + chance) / 2), rel=1e-12)


@pytest.mark.parametrize("freedom", [1, 2, 5, 14, 100])
def test_fisher_agrees_with_scipy(freedom: int) -> None:
    assert fisher_quantile_2(0.95, freedom) == pytest.approx(
        stats.f.ppf(0.95, 2, freedom), rel=1e-9
    )


def test_printed_values() -> None:
    # Abramowitz and Stegun (1964), tables 26.8 and 26.9: chi-square 0.05 at 10: 18.3070,
    # F 0.05 with 2 and 10: 4.10
    assert chi_square_quantile(0.95, 10) == pytest.approx(18.3070, abs=5e-5)
    assert fisher_quantile_2(0.95, 10) == pytest.approx(4.10, abs=5e-3)


def test_family_of_tests() -> None:
    # Ten tests that each pass with chance c all pass with c^10
    assert family_chance(0.98, 10) ** 10 == pytest.approx(0.98)


def test_nothing_exceeds_a_negative_value_never() -> None:
    assert chi_square_tail(-1.0, 3) == 1.0


@pytest.mark.parametrize("bad", [0, -3])
def test_freedom_must_be_positive(bad: int) -> None:
    with pytest.raises(RangeError, match="degrees of freedom"):
        chi_square_tail(1.0, bad)


def test_chance_must_be_a_chance() -> None:
    with pytest.raises(RangeError, match="chance"):
        normal_two_sided(1.0)
