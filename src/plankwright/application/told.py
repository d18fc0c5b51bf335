"""Small thicknesses, temperatures, limits and counts as people read them."""

from plankwright.model.sourced import Sourced
from plankwright.physics.constants import f_from_c
from plankwright.units import Unit


def told_thickness(mm: float, unit: Unit) -> str:
    """A small thickness with its millimeters: ``9/32" (7.0 mm)`` or ``7.0 mm``."""
    if unit in ("in", "ft"):
        thirty_seconds = round(mm / 25.4 * 32)
        return f"{_fraction(thirty_seconds)} ({mm:.1f} mm)"
    return f"{mm:.1f} mm"


def told_temperature(celsius: float, unit: Unit) -> str:
    """A temperature in both scales, that of the job first.

    >>> told_temperature(18.76, "mm"), told_temperature(18.76, "in")
    ('18.8 °C (65.8 °F)', '65.8 °F (18.8 °C)')
    """
    scales = [f"{celsius:.1f} °C", f"{f_from_c(celsius):.1f} °F"]
    first, second = _own_first(scales, unit)
    return f"{first} ({second})"


def told_temperatures(low_c: float, high_c: float, unit: Unit) -> str:
    """From one temperature to another in the scale of the job, whole degrees Fahrenheit.

    >>> told_temperatures(10.0, 30.0, "mm"), told_temperatures(10.0, 30.0, "in")
    ('10 to 30 °C', '50 to 86 °F')
    """
    if unit in ("in", "ft"):
        return f"{f_from_c(low_c):.0f} to {f_from_c(high_c):.0f} °F"
    return f"{low_c:g} to {high_c:g} °C"


def told_warming(kelvins: float, unit: Unit, *, signed: bool = False) -> str:
    """A difference of temperatures in both scales, that of the job first.

    >>> told_warming(3.0, "mm"), told_warming(0.58, "in", signed=True)
    ('3.00 K (5.4 °F)', '+1.0 °F (+0.58 K)')
    """
    sign = "+" if signed else "-"
    scales = [f"{kelvins:{sign}.2f} K", f"{1.8 * kelvins:{sign}.1f} °F"]
    first, second = _own_first(scales, unit)
    return f"{first} ({second})"


def _own_first(scales: list[str], unit: Unit) -> list[str]:
    return scales[::-1] if unit in ("in", "ft") else scales


def told_limit(limit: Sourced, unit: Unit) -> str:
    """A limit in mm or °C in the job's own unit, with its source.

    >>> told_limit(Sourced(6.0, "mm", "most that is ground off", "common practice"), "in")
    '1/4" (most that is ground off; common practice)'
    """
    if unit in ("in", "ft") and limit.unit == "mm":
        return limit.told(told_thickness(limit.value, unit).partition(" (")[0])
    if unit in ("in", "ft") and limit.unit == "°C":
        return limit.told(f"{f_from_c(limit.value):.0f} °F")
    return limit.told()


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
