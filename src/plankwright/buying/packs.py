"""Packs of boards: how many, and the chance that they do not suffice.

Every board that is taken from a pack is spoiled, by a slip of the saw or by a damaged edge, with
the same chance and by itself. The plan needs a number of good ones; whether a pack number suffices
is then a matter of the binomial distribution, summed exactly.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class PackChoice:
    """A number of packs and what it means.

    Parameters
    ----------
    packs : how many.
    spares : boards beyond what the plan needs.
    chances : of running short, one for each rate.
    expected : price of the packs and chance times the price of a second trip, at the middle rate;
        None without prices.
    """

    packs: int
    spares: int
    chances: tuple[float, ...]
    expected: Decimal | None


def chance_short(needed: int, bought: int, rate: Fraction) -> Fraction:
    """The chance that fewer than ``needed`` of ``bought`` boards are good.

    Exact: 1 - sum over k from 0 to bought - needed of C(bought, k) rate^k (1 - rate)^(bought - k).

    >>> chance_short(1, 2, Fraction(1, 10))
    Fraction(1, 100)
    """
    if bought < needed:
        return Fraction(1)
    bad, of = rate.numerator, rate.denominator
    ways = sum(
        math.comb(bought, k) * bad**k * (of - bad) ** (bought - k)
        for k in range(bought - needed + 1)
    )
    return 1 - Fraction(ways, of**bought)


def packs_by_area(area: float, pack_area: float, waste_pct: float) -> int:
    """Packs by the rule of thumb: area and a percentage, rounded up to packs; any unit of area.

    >>> packs_by_area(20, 1.243, 10)
    18
    """
    need = _exact(area) * (1 + _exact(waste_pct) / 100)
    return math.ceil(need / _exact(pack_area))


def pack_choices(
    needed: int,
    per_pack: int,
    rates: Sequence[Fraction],
    *,
    price: Decimal | None = None,
    trip: Decimal | None = None,
    more: int = 3,
) -> tuple[PackChoice, ...]:
    """The fewest packs that hold the boards and so many more, each with what it means."""
    least = max(1, math.ceil(needed / per_pack))
    found = []
    for packs in range(least, least + more + 1):
        bought = packs * per_pack
        chances = [chance_short(needed, bought, rate) for rate in rates]
        middle = chances[len(chances) // 2]
        expected = None
        if price is not None and trip is not None:
            expected = price * packs + trip * middle.numerator / middle.denominator
        found.append(PackChoice(packs, bought - needed, tuple(map(float, chances)), expected))
    return tuple(found)


def packs_to_buy(choices: Sequence[PackChoice], spares: int, accept: Fraction) -> PackChoice:
    """The choice to take: room for the repair boards, and few enough second trips.

    With prices the one with the least expected cost, else the first whose chance of running short
    at the middle rate is not above ``accept``.
    """
    enough = [choice for choice in choices if choice.spares >= spares] or [choices[-1]]
    priced = [(c.expected, c.packs, c) for c in enough if c.expected is not None]
    if priced:
        return min(priced, key=lambda entry: entry[:2])[2]
    middle = len(choices[0].chances) // 2
    return next((c for c in enough if c.chances[middle] <= accept), enough[-1])


def _exact(number: float) -> Fraction:
    """The number as it is written in decimals, so that rounding up never meets float noise."""
    return Fraction(repr(number))
