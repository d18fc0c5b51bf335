"""Slips people make with a tape and a pencil, recognized from what was written and what fits.

The list is common practice: digits swapped or misread, the wrong foot or ten, the tape started at
a mark instead of its hook, feet taken for meters, the case of the tape left out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from plankwright.units import MM_PER, Unit

INCH_MM = float(MM_PER["in"])
FOOT_MM = float(MM_PER["ft"])
LEAST_TOLERANCE_MM = 3.0
MOST_TOLERANCE_MM = 40.0  # if no better is known, no slip can be told from another
TOLERANCE_SHARE = 0.05  # of the error: gross slips are told from each other more easily
LOOKALIKES = {"1": "7", "7": "1", "3": "8", "8": "36", "6": "908", "9": "6", "0": "6", "5": "6"}
CASE_MM = (50.0, 95.0)  # the case of a pocket tape, about 2 to 3 3/4 in


@dataclass(frozen=True, slots=True)
class Slip:
    """What probably happened, and the length [mm] that was meant.

    ``telling`` slips are rare by chance: they speak for one of several suspects.
    """

    reason: str
    meant_mm: float
    telling: bool = False


def recognize_slip(
    written_mm: float, fits_mm: float, tolerance_mm: float, unit: Unit
) -> Slip | None:
    """The slip that explains a length best, or None.

    Parameters
    ----------
    written_mm : what was written down.
    fits_mm : what the other measurements say.
    tolerance_mm : how surely they say it.
    unit : the unit the person writes in.

    Examples
    --------
    >>> recognize_slip(4410.0, 4143.0, 6.0, "mm").reason
    'two digits were swapped'
    """
    tolerance_mm = max(tolerance_mm, LEAST_TOLERANCE_MM)
    error_mm = abs(written_mm - fits_mm)
    most_mm = max(MOST_TOLERANCE_MM, TOLERANCE_SHARE * error_mm)
    if tolerance_mm > most_mm or error_mm <= tolerance_mm:
        return None
    for slips in (_units, _marks, _swaps, _misread_digits):
        near = [s for s in slips(written_mm, unit) if abs(s.meant_mm - fits_mm) <= tolerance_mm]
        if near:
            return min(near, key=lambda slip: abs(slip.meant_mm - fits_mm))
    if CASE_MM[0] <= fits_mm - written_mm <= CASE_MM[1]:
        return Slip("the case of the tape may not have been added", fits_mm)
    return None


def _units(written_mm: float, unit: Unit) -> Iterator[Slip]:
    """The number read in another unit."""
    del unit
    for factor, reason in (
        (FOOT_MM / 1000.0, "it was measured in feet and written as meters"),
        (1000.0 / FOOT_MM, "it was measured in meters and written as feet"),
        (INCH_MM / 10.0, "it was measured in inches and written as centimeters"),
        (10.0 / INCH_MM, "it was measured in centimeters and written as inches"),
        (10.0, "it was measured in centimeters and written as millimeters"),
        (0.1, "a zero too many was written"),
    ):
        yield Slip(reason, written_mm * factor, telling=True)


def _marks(written_mm: float, unit: Unit) -> Iterator[Slip]:
    """Off by a whole mark of the tape."""
    if unit in ("in", "ft"):
        steps = (
            (FOOT_MM, "the tape was read against the wrong foot"),
            (INCH_MM, "it is a whole inch out: was the tape started at its 1-inch mark?"),
            (10 * INCH_MM, "a ten was misread"),
        )
    else:
        steps = (
            (1000.0, "it is a whole meter out"),
            (100.0, "the tape was read against the wrong ten, or started at its 10 cm mark"),
            (10.0, "it is a whole centimeter out"),
        )
    for step_mm, reason in steps:
        telling = step_mm >= 100.0
        yield Slip(reason, written_mm - step_mm, telling)
        yield Slip(reason, written_mm + step_mm, telling)


def _swaps(written_mm: float, unit: Unit) -> Iterator[Slip]:
    for number, scale_mm, rest_mm in _numbers(written_mm, unit):
        for i in range(len(number) - 1):
            swapped = number[:i] + number[i + 1] + number[i] + number[i + 2 :]
            if swapped != number:
                meant_mm = int(swapped) * scale_mm + rest_mm
                yield Slip("two digits were swapped", meant_mm, telling=True)
    if unit in ("in", "ft"):
        feet, inches = divmod(int(written_mm / INCH_MM + 1e-9), 12)
        rest_mm = written_mm - (12 * feet + inches) * INCH_MM
        turned = (12 * inches + feet) * INCH_MM + rest_mm
        yield Slip("feet and inches were swapped", turned)


def _misread_digits(written_mm: float, unit: Unit) -> Iterator[Slip]:
    for number, scale_mm, rest_mm in _numbers(written_mm, unit):
        for i, digit in enumerate(number):
            for other in LOOKALIKES.get(digit, ""):
                misread = number[:i] + other + number[i + 1 :]
                yield Slip(f"a {other} was read as a {digit}", int(misread) * scale_mm + rest_mm)


def _numbers(written_mm: float, unit: Unit) -> Iterator[tuple[str, float, float]]:
    """The digits as they were written, what one of their units is, and what is beside them."""
    if unit in ("in", "ft"):
        whole = int(Fraction(written_mm) / MM_PER["in"] + Fraction(1, 10**6))
        yield str(whole), INCH_MM, written_mm - whole * INCH_MM
        feet, inches = divmod(whole, 12)
        if unit == "ft":
            yield str(feet), FOOT_MM, written_mm - feet * FOOT_MM
            yield str(inches), INCH_MM, written_mm - inches * INCH_MM
        return
    millimeters = round(written_mm)
    yield str(millimeters), 1.0, 0.0
