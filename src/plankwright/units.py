"""Lengths as people type and read them; the only home of tolerance and of comparison.

Reading is exact: a typed length becomes a :class:`fractions.Fraction` of millimeters (an inch is
25.4 mm exactly). The rest of the program calculates in floating millimeters.

A length is typed as ``12' 3 5/8"``, ``12ft 3.625in``, ``147 5/8``, ``23⅝ in``, ``3.74 m``,
``3 m 74 cm``, ``374 cm`` or ``3740``; a bare number has the unit of the job. What could be read in
two ways (``3,740``) is refused, never guessed.

Areas, volumes and weights are printed here too, in the customary units of the United States where
lengths are in inches or feet.
"""

import math
import re
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import Literal, get_args

from plankwright.errors import InputError, LengthError, in_mm

Unit = Literal["mm", "cm", "m", "in", "ft"]
Rounding = Literal["down", "up", "nearest"]
Real = int | float | Fraction

UNITS: tuple[Unit, ...] = get_args(Unit)
MM_PER: dict[Unit, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),  # international inch, exact since 1959
    "ft": Fraction(3048, 10),
}
# The finest mark people read off a tape of that kind [mm].
TAPE_MARK_MM: dict[Unit, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(1),
    "m": Fraction(1),
    "in": MM_PER["in"] / 16,
    "ft": MM_PER["in"] / 16,
}

# US liquid quart (57.75 cubic inches) and avoirdupois pound, both exact: NIST Handbook 44,
# appendix C (from memory).
L_PER_QT = Fraction(946_352_946, 10**9)
KG_PER_LB = Fraction(45_359_237, 10**8)

LONGEST_MM = 1_000_000  # a kilometer: longer is a slip of the unit, not a room
SAME_MM = 1e-6  # lengths closer than this are the same length: float noise, not carpentry
MOST_LETTERS = 40

# --- comparison ------------------------------------------------------------------------------


def same(a_mm: Real, b_mm: Real, within_mm: Real = SAME_MM) -> bool:
    """Whether two lengths [mm] are the same but for noise."""
    return -within_mm <= a_mm - b_mm <= within_mm


def at_least(length_mm: Real, limit_mm: Real, within_mm: Real = SAME_MM) -> bool:
    """Whether a length [mm] reaches its limit, noise forgiven."""
    return length_mm - limit_mm >= -within_mm


def at_most(length_mm: Real, limit_mm: Real, within_mm: Real = SAME_MM) -> bool:
    """Whether a length [mm] keeps within its limit, noise forgiven."""
    return length_mm - limit_mm <= within_mm


# --- reading ---------------------------------------------------------------------------------

_FOOT_MARKS = "′’‘ʹ´`"
_INCH_MARKS = "″”“„ʺ〃"
_WORDS: dict[str, Unit] = {
    **dict.fromkeys(("mm", "millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
}
# What may follow what in one length: feet and inches; meters, centimeters, millimeters.
_SMALLER: dict[Unit, tuple[Unit, ...]] = {"ft": ("in",), "m": ("cm", "mm"), "cm": ("mm",)}

_TERM = re.compile(
    r"""\s*
    (?: (?P<whole>\d+) (?:\s+|\s?-\s?) (?P<over>\d+) \s?/\s? (?P<under>\d+)   # 3 5/8, 3-5/8
      | (?P<top>\d+) \s?/\s? (?P<bottom>\d+)                                  # 5/8
      | (?P<decimal>\d+(?:\.\d*)?|\.\d+)                                      # 3, 3.625, .5
    )
    \s* (?P<unit>[a-zA-Z]+\.?|['"])?
    """,
    re.VERBOSE,
)
_AMBIGUOUS_COMMA = re.compile(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)")
_POINT = re.compile(r"\.\d")
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)")


def parse_unit(text: object, *, where: str = "unit") -> Unit:
    """The unit a person means by a word such as ``inches``.

    >>> parse_unit("Inches")
    'in'
    """
    word = str(text).strip().lower().rstrip(".")
    if word not in _WORDS or word in ("'", '"'):
        raise LengthError(
            "unknown unit", where=where, value=text, remedy="Use one of " + ", ".join(UNITS) + "."
        )
    return _WORDS[word]


def parse_length(
    value: object, unit: Unit, *, where: str = "length", signed: bool = False
) -> Fraction:
    """The length a person typed, exactly, in millimeters.

    Parameters
    ----------
    value : text, or a number in ``unit``.
    unit : unit of a bare number.
    where : file and field, for the message.
    signed : allow negative values (coordinates); otherwise a length is 0 or more.

    Raises
    ------
    LengthError
        when it cannot be read, can be read in two ways, is negative or longer than a kilometer.

    Examples
    --------
    >>> float(parse_length("12' 3 5/8\\"", "in"))
    3749.675
    >>> parse_length("3,74 m", "mm")
    Fraction(3740, 1)
    """
    length = (
        _read_text(value, unit, where)
        if isinstance(value, str)
        else _read_number(value, unit, where)
    )
    if length < 0 and not signed:
        raise LengthError(
            "a length cannot be negative", where=where, value=value, remedy="Leave the minus out."
        )
    if abs(length) > LONGEST_MM:
        raise LengthError(
            "longer than a kilometer",
            where=where,
            value=value,
            remedy="Check the number and its unit.",
        )
    return length


def parse_size(value: object, unit: Unit, *, where: str = "size") -> tuple[Fraction, Fraction]:
    """Two lengths [mm] typed as ``1285x192``; a unit after the second serves a bare first.

    >>> [float(side) for side in parse_size("48 x 7 1/2 in", "mm")]
    [1219.2, 190.5]
    """
    parts = re.split(r"\s*(?:[x×*]|\bby\b)\s*", str(value).strip().lower())
    if len(parts) != 2:
        raise LengthError(
            "expected two lengths", where=where, value=value, remedy="Write them as 1285x192."
        )
    first, second = parts
    ending = re.search(r"[a-z]+\.?$|['\"]$", _plain(second))
    shared = _WORDS.get(ending.group().rstrip(".")) if ending else None
    bare = re.search(r"[a-z'\"]", _plain(first)) is None
    return (
        parse_length(first, shared if bare and shared else unit, where=where),
        parse_length(second, unit, where=where),
    )


def _read_number(value: object, unit: Unit, where: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        raise LengthError(
            "not a length", where=where, value=value, remedy=f"Write a number of {unit} or text."
        )
    if not math.isfinite(value):
        raise LengthError(
            "not a finite number", where=where, value=value, remedy="Measure it and write it down."
        )
    if abs(float(value)) > 1e12:
        raise LengthError("far too long", where=where, value=value, remedy="Check the unit.")
    # repr gives back the decimals as they were typed: 3.74 is 374/100, not its binary neighbor.
    number = Fraction(repr(float(value))) if isinstance(value, float) else Fraction(value)
    return number * MM_PER[unit]


def _read_text(text: str, unit: Unit, where: str) -> Fraction:
    plain = _plain(text)
    if not plain or len(text) > MOST_LETTERS:
        raise _unreadable(text, where)
    plain = _decimal_commas(plain, text, where)
    negative = plain.startswith("-")
    terms = _terms(plain.removeprefix("-"), text, where)
    length = _add_terms(terms, unit, text, where)
    return -length if negative else length


def _plain(text: str) -> str:
    """Typographic marks, spaces and vulgar fractions as plain characters."""
    letters: list[str] = []
    for letter in text.strip():
        if letter in _FOOT_MARKS:
            letters.append("'")
        elif letter in _INCH_MARKS:
            letters.append('"')
        elif letter in "−–‐‑":
            letters.append("-")
        elif unicodedata.decomposition(letter).startswith("<fraction>"):
            letters.append(" " + unicodedata.normalize("NFKC", letter).replace("⁄", "/"))
        else:
            letters.append(" " if letter.isspace() else letter)
    return "".join(letters).replace("⁄", "/").replace("''", '"').strip()


def _decimal_commas(plain: str, text: str, where: str) -> str:
    if "," not in plain:
        return plain
    if _AMBIGUOUS_COMMA.search(plain) or _POINT.search(plain) or plain.count(",") > 1:
        raise LengthError(
            "this comma can be read in two ways",
            where=where,
            value=text,
            remedy="Write 3740 for thousands and 3.74 for a decimal.",
        )
    return _DECIMAL_COMMA.sub(".", plain)


def _terms(plain: str, text: str, where: str) -> list[tuple[Fraction, Unit | None]]:
    """The numbers of a typed length, each with its unit if it has one."""
    terms: list[tuple[Fraction, Unit | None]] = []
    position = 0
    while position < len(plain) or not terms:
        if terms and plain[position:].lstrip().startswith("-"):  # 12'-3 5/8"
            position = plain.index("-", position) + 1
        match = _TERM.match(plain, position)
        if match is None:
            raise _unreadable(text, where)
        terms.append((_number(match, text, where), _unit_of(match["unit"], text, where)))
        position = match.end()
    return terms


def _number(match: re.Match[str], text: str, where: str) -> Fraction:
    if match["decimal"] is not None:
        return Fraction(match["decimal"])
    over, under = int(match["over"] or match["top"]), int(match["under"] or match["bottom"])
    if under == 0:
        raise LengthError(
            "a fraction over 0", where=where, value=text, remedy="Read the tape again."
        )
    if match["whole"] is not None and over >= under:
        raise LengthError(
            f"the fraction {over}/{under} after a whole number is not below 1",
            where=where,
            value=text,
            remedy="Check it.",
        )
    return int(match["whole"] or 0) + Fraction(over, under)


def _unit_of(word: str | None, text: str, where: str) -> Unit | None:
    if word is None:
        return None
    try:
        return _WORDS[word.lower().rstrip(".")]
    except KeyError:
        raise LengthError(
            f"unknown unit {word!r}",
            where=where,
            value=text,
            remedy="Use one of " + ", ".join(UNITS) + ".",
        ) from None


def _add_terms(
    terms: list[tuple[Fraction, Unit | None]], unit: Unit, text: str, where: str
) -> Fraction:
    """Feet and inches, or meters and centimeters, as one length; a lone number in ``unit``."""
    number, first = terms[0]
    larger = first or unit
    total = number * MM_PER[larger]
    if len(terms) > 1 and (first is None or number.denominator != 1):
        raise _unreadable(text, where)
    for number, given in terms[1:]:
        # After feet only inches can follow, so their mark may be left out: 12' 3 5/8
        smaller = given or ("in" if larger == "ft" else None)
        if smaller not in _SMALLER.get(larger, ()):
            raise _unreadable(text, where)
        part = number * MM_PER[smaller]
        if part >= MM_PER[larger]:
            raise LengthError(
                f"{float(number):g} {smaller} is more than one {larger}",
                where=where,
                value=text,
                remedy="Write it in one unit.",
            )
        total, larger = total + part, smaller
    return total


def _unreadable(text: str, where: str) -> LengthError:
    return LengthError(
        "cannot read this as a length",
        where=where,
        value=text,
        remedy="Write it like 12' 3 5/8\", 147 5/8 in, 3.74 m or 3740.",
    )


# --- printing --------------------------------------------------------------------------------


def round_to_tape(mm: Real, unit: Unit, rounding: Rounding = "nearest") -> Fraction:
    """The length [mm] on the tape's marks: 1/16 in or 1 mm.

    Round a piece down so that it fits and a need up so that it suffices. A length within noise
    of a mark stays on that mark.
    """
    mark = TAPE_MARK_MM[unit]
    marks = Fraction(mm) / mark
    nearest = math.floor(marks + Fraction(1, 2))
    if rounding == "nearest" or same(nearest * mark, Fraction(mm)):
        return nearest * mark
    return (math.floor(marks) if rounding == "down" else math.ceil(marks)) * mark


def format_length(
    mm: Real, unit: Unit, *, rounding: Rounding = "nearest", with_unit: bool = True
) -> str:
    """A length as people read it in their unit, on the tape's marks.

    >>> format_length(3749.675, "ft"), format_length(3749.675, "in")
    ('12\\' 3 5/8"', '147 5/8"')
    >>> format_length(3749.675, "mm", rounding="down"), format_length(3749.675, "m")
    ('3749 mm', '3.750 m')
    """
    on_tape = round_to_tape(mm, unit, rounding)
    sign, size = ("-" if on_tape < 0 else ""), abs(on_tape)
    if unit == "ft":
        return sign + _feet_and_inches(size)
    if unit == "in":
        return sign + _mixed(size / MM_PER["in"]) + ('"' if with_unit else "")
    decimals = {"mm": 0, "cm": 1, "m": 3}[unit]
    figure = f"{float(size / MM_PER[unit]):.{decimals}f}"
    return f"{sign}{figure} {unit}" if with_unit else sign + figure


@contextmanager
def told_in(unit: Unit) -> Iterator[None]:
    """What is refused inside tells its lengths in a unit.

    >>> try:
    ...     with told_in("in"):
    ...         raise InputError("must be from 0 to {0}", lengths_mm=[1000.0], value_mm=2286.0)
    ... except InputError as error:
    ...     print(error)
    must be from 0 to 39 3/8" (got 90")
    """
    try:
        yield
    except InputError as error:
        raise error.told(lambda mm: _told(mm, unit)) from None


def _told(mm: float, unit: Unit) -> str:
    """On the tape's marks; to 0.1 mm in millimeters and where it is smaller than a mark."""
    if unit == "mm" or not math.isfinite(mm) or (mm != 0.0 and round_to_tape(mm, unit) == 0):
        return in_mm(mm)
    return format_length(mm, unit)


def format_area(square_m: float, unit: Unit) -> str:
    """An area in square feet for inches and feet, else in square meters.

    >>> format_area(10.0, "mm"), format_area(10.0, "in")
    ('10.00 m²', '107.6 sq ft')
    """
    if unit in ("in", "ft"):
        return f"{square_m * 1e6 / float(MM_PER['ft']) ** 2:.1f} sq ft"
    return f"{square_m:.2f} m²"


def format_volume(liters: float, unit: Unit) -> str:
    """A volume in US quarts, or gallons from one on, for inches and feet, else in liters.

    To a tenth below 20, whole above: nobody mixes finer.

    >>> format_volume(2.0, "in"), format_volume(16.9, "in"), format_volume(16.9, "mm")
    ('2.1 qt', '4.5 gal', '16.9 L')
    """
    if unit not in ("in", "ft"):
        return f"{_to_mix(liters)} L"
    quarts = liters / float(L_PER_QT)
    return f"{_to_mix(quarts)} qt" if round(quarts, 1) < 4.0 else f"{_to_mix(quarts / 4.0)} gal"


def _to_mix(number: float) -> str:
    return f"{number:.1f}" if round(number, 1) < 20.0 else f"{number:.0f}"


def format_weight(kilograms: float, unit: Unit) -> str:
    """The weight of a bag in pounds for inches and feet, else in kilograms.

    Whole pounds from 10 on: a bag of 22.7 kg is sold as one of 50 lb.

    >>> format_weight(22.7, "in"), format_weight(22.7, "mm"), format_weight(25.0, "mm")
    ('50 lb', '22.7 kg', '25 kg')
    """
    if unit not in ("in", "ft"):
        return f"{round(kilograms, 1):g} kg"
    pounds = kilograms / float(KG_PER_LB)
    return f"{round(pounds, 0 if pounds >= 10.0 else 1):g} lb"


def describe_length(mm: Real, unit: Unit) -> str:
    """How an entry was understood: unrounded in the job's unit, and in the other system.

    >>> describe_length(parse_length("12ft 3.625in", "ft"), "ft")
    '12\\' 3 5/8" (3749.7 mm)'
    """
    exact = Fraction(mm)
    if unit in ("in", "ft"):
        off_tape = not same(round_to_tape(exact, unit), exact)
        told = f'{float(exact / MM_PER["in"]):.7g}"' if off_tape else format_length(exact, unit)
        return f"{told} ({float(exact):.1f} mm)"
    told = f"{float(exact / MM_PER[unit]):.7g} {unit}"
    return f"{told} ({format_length(exact, 'in')})"


def _feet_and_inches(size: Fraction) -> str:
    feet, inches = divmod(size / MM_PER["in"], 12)
    if feet == 0:
        return _mixed(inches) + '"'
    return f"{feet}'" if inches == 0 else f"{feet}' {_mixed(inches)}\""


def _mixed(number: Fraction) -> str:
    whole, rest = divmod(number, 1)
    if rest == 0:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)
