"""Wood moisture against the Wood Handbook (USDA Forest Products Laboratory)."""

import csv
from pathlib import Path

import pytest

from plankwright.errors import RangeError
from plankwright.physics.constants import c_from_f
from plankwright.physics.wood_moisture import (
    SPECIES,
    solid_width_change_mm,
    wood_moisture_fahrenheit_pct,
    wood_moisture_pct,
)

TABLE = Path(__file__).parents[1] / "authorities" / "wood_handbook_table_4_2.csv"


def test_every_retrieved_cell_of_table_4_2() -> None:
    """Tolerance 0.1: the table is printed to 0.1 and the equation is its fit."""
    worst, cells = 0.0, 0
    with TABLE.open(newline="") as file:
        for row in csv.DictReader(file):
            fahrenheit = float(row.pop("fahrenheit"))
            for humidity, printed in row.items():
                moisture = wood_moisture_pct(c_from_f(fahrenheit), float(humidity))
                worst, cells = max(worst, abs(moisture - float(printed))), cells + 1
    assert cells == 90
    assert worst < 0.07  # the handbook page's own figure for "equation minus table"


def test_the_two_coefficient_sets_agree() -> None:
    for celsius in range(-1, 50):
        for humidity in range(5, 96, 5):
            fahrenheit = wood_moisture_fahrenheit_pct(celsius * 1.8 + 32, humidity)
            assert wood_moisture_pct(celsius, humidity) == pytest.approx(fahrenheit, abs=0.0145)


# Worked examples W6 to W9 (both coefficient sets), W17, W18 (table 13-5)


@pytest.mark.parametrize(
    ("celsius", "humidity", "expected"),
    [
        (20.0, 50, 9.27),  # W6
        (c_from_f(70), 65, 11.96),  # W7; table 4-2 prints 12.0
        (15.0, 80, 16.23),  # W8: a damp basement
        (20.0, 35, 6.963),  # W9
        (20.0, 65, 11.996),
    ],
)
def test_w6_to_w9(celsius: float, humidity: float, expected: float) -> None:
    assert wood_moisture_pct(celsius, humidity) == pytest.approx(expected, abs=0.01)
    fahrenheit = wood_moisture_fahrenheit_pct(celsius * 1.8 + 32, humidity)
    assert fahrenheit == pytest.approx(expected, abs=0.015)


def test_w9_difference() -> None:
    swing = wood_moisture_pct(20, 65) - wood_moisture_pct(20, 35)
    assert swing == pytest.approx(5.03, abs=0.01)


def test_w17_white_oak() -> None:
    # 127 × 0.00365 × 3 = 1.39065 mm = 0.0548 in
    change = solid_width_change_mm(127, SPECIES["white oak"].tangential, 6, 9)
    assert change == pytest.approx(1.39, abs=0.01)
    assert change / 25.4 == pytest.approx(0.055, abs=0.0005)


def test_w18_red_oak_over_the_rooms_swing() -> None:
    dry, damp = wood_moisture_pct(20, 35), wood_moisture_pct(20, 65)
    change = solid_width_change_mm(125, SPECIES["red oak"].tangential, dry, damp)
    assert change == pytest.approx(2.32, abs=0.01)


def test_movement_outside_6_to_14_percent_is_refused() -> None:
    with pytest.raises(RangeError) as caught:
        solid_width_change_mm(125, 0.00369, 9, wood_moisture_pct(15, 80))  # W8: 16.23 %
    assert (caught.value.low, caught.value.high) == (6, 14)
    assert caught.value.value == pytest.approx(16.23, abs=0.01)


@pytest.mark.parametrize(("celsius", "humidity"), [(-2, 50), (83, 50), (20, 4.9), (20, 95.1)])
def test_moisture_outside_the_table_is_refused(celsius: float, humidity: float) -> None:
    with pytest.raises(RangeError):
        wood_moisture_pct(celsius, humidity)
