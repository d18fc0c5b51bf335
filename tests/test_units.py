"""Lengths as typed and as printed."""

import math
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from plankwright.errors import LengthError
from plankwright.units import (
    MM_PER,
    TAPE_MARK_MM,
    UNITS,
    Unit,
    at_least,
    at_most,
    describe_length,
    format_length,
    format_volume,
    format_weight,
    parse_length,
    parse_size,
    parse_unit,
    round_to_tape,
    same,
)

INCH = Fraction(254, 10)

TYPED: list[tuple[str | float, Unit, Fraction]] = [
    ("12' 3 5/8\"", "mm", (144 + Fraction(29, 8)) * INCH),  # 147.625 in = 3749.675 mm
    ("12' 3 5/8", "mm", Fraction(3749675, 1000)),
    ("12'3 5/8\"", "mm", Fraction(3749675, 1000)),
    ("12'-3 5/8\"", "mm", Fraction(3749675, 1000)),
    ("12' - 3-5/8\"", "mm", Fraction(3749675, 1000)),
    ("12′ 3⅝″", "mm", Fraction(3749675, 1000)),
    ("12’ 3 ⅝”", "mm", Fraction(3749675, 1000)),
    ("12ft 3.625in", "mm", Fraction(3749675, 1000)),
    ("12 FT 3.625 Inches", "mm", Fraction(3749675, 1000)),
    ("12 feet 3 5/8 in.", "mm", Fraction(3749675, 1000)),
    ("147 5/8", "in", Fraction(3749675, 1000)),
    ("147-5/8", "in", Fraction(3749675, 1000)),
    ("147 5⁄8", "in", Fraction(3749675, 1000)),
    ("23⅝ in", "mm", Fraction(189, 8) * INCH),
    ("3 ''", "mm", 3 * INCH),
    ("5/8", "in", Fraction(5, 8) * INCH),
    ("½", "in", INCH / 2),
    (".5", "in", INCH / 2),
    ("12'", "in", 144 * INCH),
    ("12.5'", "in", 150 * INCH),
    ("3.74 m", "in", Fraction(3740)),
    ("3,74 m", "in", Fraction(3740)),
    ("0,740 m", "in", Fraction(740)),  # thousands never begin with 0
    ("1234,567", "mm", Fraction(1234567, 1000)),  # nor with four digits
    ("3,5 in.", "mm", Fraction(889, 10)),
    ("374 cm", "in", Fraction(3740)),
    ("3 m 74 cm", "in", Fraction(3740)),
    ("3m 74cm 5mm", "in", Fraction(3745)),
    ("3740", "mm", Fraction(3740)),
    (" 3740 ", "mm", Fraction(3740)),
    ("3740", "cm", Fraction(37400)),
    (3740, "mm", Fraction(3740)),
    (3.74, "m", Fraction(3740)),
    (0.1, "ft", Fraction(3048, 100)),
    (0, "mm", Fraction(0)),
    ("0", "mm", Fraction(0)),
]

REFUSED: list[object] = [
    "", " ", "abc", "12' 14\"", "3,740", "3,740 m", "1,234.5", "1.234,5", "1,234,567", "3, 74",
    "3 740", "12 3", "12.5' 3\"", "3 m 74", "3 cm 2 m", "12' 3 m", "5/0", "3 9/8", "3 yd",
    "12 furlongs", "--3", "-3", "- 3 m", "12'-", "nan", "NaN", "inf", "1e3", "1e400", "3 mm mm",
    "0x10", "3..5", "³", "3 5/8/2", "9" * 60, "2 km", "1500 m", "∞",
    math.nan, math.inf, -math.inf, -1, -0.001, 1e300, 10**40, 2_000_000, True, None, [], {"mm": 3},
]  # fmt: skip


@pytest.mark.parametrize(("value", "unit", "mm"), TYPED)
def test_reads_what_people_type(value: str | float, unit: Unit, mm: Fraction) -> None:
    assert parse_length(value, unit) == mm


@pytest.mark.parametrize("value", REFUSED, ids=lambda v: repr(v)[:24])
def test_refuses_with_place_and_value(value: object) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(value, "mm", where="job.toml: board.length")
    assert caught.value.where == "job.toml: board.length"
    assert caught.value.value == value or caught.value.value is value


def test_coordinates_may_be_negative() -> None:
    assert parse_length("-12' 6\"", "mm", signed=True) == -150 * INCH
    assert parse_length("−3.5 m", "mm", signed=True) == -3500
    assert parse_length(-7, "cm", signed=True) == -70


@pytest.mark.parametrize(
    ("text", "unit", "size"),
    [
        ("1285x192", "mm", (1285, 192)),
        ("1285 × 192 mm", "in", (1285, 192)),
        ("128.5*19.2", "cm", (1285, 192)),
        ('48" x 7 1/2"', "mm", (Fraction("1219.2"), Fraction("190.5"))),
        ("48 by 7.5 in", "mm", (Fraction("1219.2"), Fraction("190.5"))),
        ("4' x 7.5", "in", (Fraction("1219.2"), Fraction("190.5"))),
    ],
)
def test_reads_a_board_size(text: str, unit: Unit, size: tuple[Fraction, Fraction]) -> None:
    assert parse_size(text, unit) == size


@pytest.mark.parametrize("text", ["1285", "1285x", "x192", "1x2x3", "a x b", ""])
def test_refuses_a_board_size(text: str) -> None:
    with pytest.raises(LengthError):
        parse_size(text, "mm")


def test_units_by_their_words() -> None:
    assert [parse_unit(word) for word in ("Inches", "feet", "Meter", "cm.", "mm")] == [
        "in", "ft", "m", "cm", "mm",
    ]  # fmt: skip
    for word in ("furlong", "", "'", 3):
        with pytest.raises(LengthError, match="unknown unit"):
            parse_unit(word)


@pytest.mark.parametrize(
    ("mm", "unit", "down", "nearest", "up"),
    [
        # 113.5 mm: metric marks 113, 114; a half rounds up.
        (113.5, "mm", "113 mm", "114 mm", "114 mm"),
        # 100 mm = 3.937 in = 62.99 sixteenths
        (100.0, "in", '3 7/8"', '3 15/16"', '3 15/16"'),
        (3749.675, "ft", "12' 3 5/8\"", "12' 3 5/8\"", "12' 3 5/8\""),
        (3749.675 + 1e-9, "ft", "12' 3 5/8\"", "12' 3 5/8\"", "12' 3 5/8\""),
        (428.0 - 1e-9, "mm", "428 mm", "428 mm", "428 mm"),
        (428.0 + 1e-9, "mm", "428 mm", "428 mm", "428 mm"),
        (3048.0, "ft", "10'", "10'", "10'"),
        (0.0, "ft", '0"', '0"', '0"'),
        (3740.4, "m", "3.740 m", "3.740 m", "3.741 m"),
        (3740.4, "cm", "374.0 cm", "374.0 cm", "374.1 cm"),
        (-12.7, "in", '-1/2"', '-1/2"', '-1/2"'),
    ],
)
def test_prints_on_the_tape(mm: float, unit: Unit, down: str, nearest: str, up: str) -> None:
    assert format_length(mm, unit, rounding="down") == down
    assert format_length(mm, unit) == nearest
    assert format_length(mm, unit, rounding="up") == up


def test_prints_bare_figures_for_tables() -> None:
    assert format_length(3749.675, "in", with_unit=False) == "147 5/8"
    assert format_length(3740, "m", with_unit=False) == "3.740"


def test_echoes_what_was_understood() -> None:
    assert describe_length(parse_length("12ft 3.625in", "in"), "ft") == "12' 3 5/8\" (3749.7 mm)"
    assert describe_length(7.5625 * 25.4, "in") == '7 9/16" (192.1 mm)'  # a float, not exact
    assert describe_length(parse_length("3.3", "in"), "in") == '3.3" (83.8 mm)'
    assert describe_length(parse_length("3740", "mm"), "mm") == '3740 mm (147 1/4")'


def test_comparison_forgives_noise_only() -> None:
    assert same(0.1 + 0.2, 0.3)
    assert not same(300.0, 300.001)
    assert at_least(300.0 - 1e-9, 300.0)
    assert not at_least(299.9, 300.0)
    assert at_most(Fraction(3), 3.0)
    assert not at_most(3.1, 3)


lengths = st.fractions(min_value=0, max_value=900_000, max_denominator=10_000)
units = st.sampled_from(UNITS)
law = settings(derandomize=True, deadline=None, max_examples=200)


@law
@given(lengths, units)
@example(Fraction(254, 160), "ft")
def test_printing_then_reading_is_rounding(mm: Fraction, unit: Unit) -> None:
    for rounding in ("down", "up", "nearest"):
        printed = format_length(mm, unit, rounding=rounding)
        assert parse_length(printed, "mm") == round_to_tape(mm, unit, rounding)


@law
@given(lengths, units)
def test_down_fits_and_up_suffices(mm: Fraction, unit: Unit) -> None:
    down, up = round_to_tape(mm, unit, "down"), round_to_tape(mm, unit, "up")
    nearest, mark = round_to_tape(mm, unit), TAPE_MARK_MM[unit]
    assert at_most(down, mm)
    assert at_least(up, mm)
    assert up - down in (0, mark)
    assert nearest in (down, up)
    assert 2 * abs(nearest - mm) <= mark


@law
@given(st.integers(0, 80), st.integers(0, 11), st.integers(0, 15))
def test_every_mark_of_a_tape_in_feet(feet: int, inches: int, sixteenths: int) -> None:
    mm = (feet * 12 + inches + Fraction(sixteenths, 16)) * INCH
    assert parse_length(f"{feet}' {inches} {sixteenths}/16\"", "mm") == mm
    assert parse_length(f"{feet}ft {inches + sixteenths / 16}in", "mm") == mm
    assert parse_length(format_length(float(mm), "ft"), "mm") == mm


@law
@given(st.floats(0, 900_000), units)
def test_numbers_are_taken_as_their_decimals(number: float, unit: Unit) -> None:
    if number * MM_PER[unit] <= 1_000_000:
        assert parse_length(number, unit) == Fraction(repr(number)) * MM_PER[unit]


@law
@given(st.text(max_size=12), units)
def test_any_text_is_read_or_refused(text: str, unit: Unit) -> None:
    try:
        length = parse_length(text, unit)
    except LengthError:
        return
    assert 0 <= length <= 1_000_000


# --- volumes and weights: NIST Handbook 44, appendix C (factors from memory) ----------------------


@pytest.mark.parametrize(
    ("liters", "unit", "told"),
    [
        (0.946352946, "in", "1.0 qt"),  # a quart is 57.75 in³ = 57.75 × 16.387064 mL
        (3.0, "ft", "3.2 qt"),  # 3 / 0.946352946 = 3.170
        (3.75, "in", "1.0 gal"),  # 3.963 qt would be told as 4.0
        (3.785411784, "in", "1.0 gal"),  # a gallon is 231 in³
        (16.9, "in", "4.5 gal"),  # 16.9 / 3.785411784 = 4.464
        (154.0, "in", "41 gal"),  # 154 / 3.785411784 = 40.68
        (0.0, "in", "0.0 qt"),
        (16.94, "mm", "16.9 L"),
        (19.96, "cm", "20 L"),
        (154.4, "m", "154 L"),
    ],
)
def test_volumes(liters: float, unit: Unit, told: str) -> None:
    assert format_volume(liters, unit) == told


@pytest.mark.parametrize(
    ("kilograms", "unit", "told"),
    [
        (0.45359237, "in", "1 lb"),
        (22.6796185, "in", "50 lb"),  # 50 × 0.45359237
        (22.7, "ft", "50 lb"),  # 50.04
        (25.0, "in", "55 lb"),  # 25 / 0.45359237 = 55.12
        (2.5, "in", "5.5 lb"),  # 5.51
        (22.6796185, "mm", "22.7 kg"),
        (25.0, "m", "25 kg"),
    ],
)
def test_weights(kilograms: float, unit: Unit, told: str) -> None:
    assert format_weight(kilograms, unit) == told
