"""The shopping list: lines that say how they were computed, and sums right to the cent."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from plankwright.errors import PlankwrightError
from plankwright.model.money import to_cents


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list: everything that must be known in the store.

    Parameters
    ----------
    section : the heading it stands under.
    item : what it is, with its size.
    count : how many.
    unit : of what: packs, rolls, lengths.
    why : how the count was computed, or the reason for a tool.
    price : of one, or None when it is not known.
    back : it may go back unopened.
    """

    section: str
    item: str
    count: int
    unit: str
    why: str
    price: Decimal | None = None
    back: bool = False

    def __post_init__(self) -> None:
        if self.count < 1 or not self.item or not self.why:
            raise PlankwrightError("a line needs a count, an item and its reason")

    @property
    def name(self) -> str:
        """The item without its sizes, in small letters: what a price is noted under."""
        return self.item.partition(",")[0].lower()

    @property
    def amount(self) -> Decimal | None:
        """Count times price, to the cent."""
        return None if self.price is None else to_cents(self.price * self.count)


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums of the lines that have a price.

    Parameters
    ----------
    subtotal, tax, total : to the cent; the tax is rounded once, on the subtotal.
    unpriced : lines without a price.
    """

    subtotal: Decimal
    tax: Decimal
    total: Decimal
    unpriced: int


def priced(line: Line, prices: Mapping[str, Decimal]) -> Line:
    """The line with the price noted under its name, unless it has one."""
    if line.price is not None or line.name not in prices:
        return line
    return replace(line, price=prices[line.name])


def merged(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines with nothing twice: the same thing at the same price is one line."""
    found: dict[tuple[str, str, Decimal | None], Line] = {}
    for line in lines:
        key = (line.item, line.unit, line.price)
        if key in found:
            first = found[key]
            line = Line(
                first.section, first.item, first.count + line.count, first.unit,
                f"{first.why}; {line.why}", first.price, first.back and line.back,
            )  # fmt: skip
        found[key] = line
    return tuple(found.values())


def totals(lines: Iterable[Line], tax_pct: Decimal) -> Totals:
    """The sums; ``tax_pct`` as entered, on all that has a price."""
    amounts = [line.amount for line in lines]
    subtotal = sum((amount for amount in amounts if amount is not None), Decimal("0.00"))
    tax = to_cents(subtotal * tax_pct / 100)
    return Totals(subtotal, tax, subtotal + tax, amounts.count(None))
