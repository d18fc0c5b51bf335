"""Small thicknesses and counts as people read them."""

from plankwright.units import Unit


def told_thickness(mm: float, unit: Unit) -> str:
    """A small thickness with its millimeters: ``9/32" (7.0 mm)`` or ``7.0 mm``."""
    if unit in ("in", "ft"):
        thirty_seconds = round(mm / 25.4 * 32)
        return f"{_fraction(thirty_seconds)} ({mm:.1f} mm)"
    return f"{mm:.1f} mm"


def _fraction(thirty_seconds: int) -> str:
    whole, rest = divmod(thirty_seconds, 32)
    below = 32
    while rest and rest % 2 == 0:
        rest, below = rest // 2, below // 2
    parts = ([str(whole)] if whole or not rest else []) + ([f"{rest}/{below}"] if rest else [])
    return " ".join(parts) + '"'


def counted(number: int, noun: str) -> str:
    """A number with its noun.

    >>> counted(1, "bag"), counted(3, "bag")
    ('1 bag', '3 bags')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
