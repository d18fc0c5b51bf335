"""Money: decimal, exact, rounded to the cent once and half up; the currency is only a word."""

from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

from plankwright.errors import InputError

CENT = Decimal("0.01")
MOST = Decimal(10_000_000)


def to_cents(amount: Decimal) -> Decimal:
    """An amount rounded half up to two places.

    >>> to_cents(Decimal("2.345")), to_cents(Decimal("2.344"))
    (Decimal('2.35'), Decimal('2.34'))
    """
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def read_decimal(value: object, *, where: str, most: Decimal = MOST) -> Decimal:
    """A number from 0 to ``most`` as it was typed: ``31.5``, ``"31.50"``.

    Raises
    ------
    InputError : not a number, below 0 or above ``most``.

    >>> read_decimal("31.50", where="price")
    Decimal('31.50')
    """
    remedy = "Write it with a point and without a currency: 31.50."
    if isinstance(value, bool) or not isinstance(value, int | float | str | Decimal):
        raise InputError("not a number", where=where, value=value, remedy=remedy)
    try:
        number = Decimal(value.strip() if isinstance(value, str) else repr(value))
    except InvalidOperation:
        raise InputError("not a number", where=where, value=value, remedy=remedy) from None
    if not number.is_finite() or not 0 <= number <= most:
        raise InputError(f"must be from 0 to {most}", where=where, value=value, remedy=remedy)
    return number


def read_price(value: object, *, where: str) -> Decimal:
    """A price with at most two places; see :func:`read_decimal`."""
    price = read_decimal(value, where=where)
    if price != to_cents(price):
        raise InputError(
            "a price has at most two places after the point",
            where=where,
            value=value,
            remedy="Write it to the cent.",
        )
    return to_cents(price)


def told_money(amount: Decimal, currency: str = "") -> str:
    """An amount as people read it.

    >>> told_money(Decimal("1234.5"), "USD")
    '1,234.50 USD'
    """
    return f"{to_cents(amount):,} {currency}".strip()
