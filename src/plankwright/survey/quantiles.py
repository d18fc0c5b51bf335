"""The few quantiles that a survey needs, for whole degrees of freedom.

Closed forms: Abramowitz and Stegun, *Handbook of Mathematical Functions* (1964), 26.4.4 and 26.4.5
for chi-square, 26.6.4 for Fisher's F with two degrees of freedom above the line.
"""

import math
from statistics import NormalDist

from plankwright.errors import RangeError


def chi_square_tail(value: float, freedom: int) -> float:
    """The chance that chi-square with ``freedom`` degrees of freedom exceeds ``value``."""
    _require_freedom(freedom)
    if value <= 0.0:
        return 1.0
    half = value / 2.0
    odd = freedom % 2
    tail = math.erfc(math.sqrt(half)) if odd else 0.0
    # Terms exp(-h) h^k / gamma(k + 1) for k = 0, 1, … or, when odd, k = 1/2, 3/2, …
    for step in range(freedom // 2):
        power = step + odd / 2.0
        tail += math.exp(power * math.log(half) - half - math.lgamma(power + 1.0))
    return min(tail, 1.0)


def chi_square_quantile(chance: float, freedom: int) -> float:
    """The value that chi-square stays below with the given chance.

    >>> round(chi_square_quantile(0.95, 2), 3)
    5.991
    """
    _require_chance(chance)
    _require_freedom(freedom)
    low, high = 0.0, 1.0
    while chi_square_tail(high, freedom) > 1.0 - chance:
        high *= 2.0
    for _ in range(200):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if chi_square_tail(middle, freedom) > 1.0 - chance:
            low = middle
        else:
            high = middle
    return high


def normal_two_sided(chance: float) -> float:
    """The size that a standard normal value stays below, either side, with the given chance.

    >>> round(normal_two_sided(0.999), 2)  # Baarda's critical value
    3.29
    """
    _require_chance(chance)
    return NormalDist().inv_cdf((1.0 + chance) / 2.0)


def fisher_quantile_2(chance: float, freedom: int) -> float:
    """The quantile of Fisher's F with 2 and ``freedom`` degrees of freedom.

    >>> round(fisher_quantile_2(0.95, 5), 2)
    5.79
    """
    _require_chance(chance)
    _require_freedom(freedom)
    return freedom / 2.0 * float((1.0 - chance) ** (-2.0 / freedom) - 1.0)


def family_chance(chance: float, tests: int) -> float:
    """The chance each of several tests must keep so that all keep ``chance`` together (Sidak)."""
    _require_chance(chance)
    return float(chance ** (1.0 / max(tests, 1)))


def _require_freedom(freedom: int) -> None:
    if freedom < 1:
        raise RangeError("degrees of freedom", freedom, 1, math.inf)


def _require_chance(chance: float) -> None:
    if not 0.0 < chance < 1.0:
        raise RangeError("chance", chance, 0, 1)
