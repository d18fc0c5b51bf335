"""Psychrometrics against two reference libraries and the handbook's check values."""

import csv
import math
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import RangeError
from plankwright.physics.constants import c_from_f, f_from_c
from plankwright.physics.psychrometrics import (
    absolute_humidity_g_m3,
    condensation_margin_k,
    dew_point_c,
    dew_point_magnus_c,
    highest_humidity_pct,
    humidity_ratio,
    saturation_pressure_magnus_pa,
    saturation_pressure_pa,
    saturation_temperature_c,
    surface_humidity_pct,
    vapor_pressure_pa,
)

AUTHORITIES = Path(__file__).parents[1] / "authorities"

# Saturation pressure over water [Pa]: PsychroLib 2.5.0 and IAPWS (CoolProp 8), WMO Magnus
SATURATION = [
    (5, 872.49, 872.58, 871.74),
    (10, 1228.00, 1228.20, 1226.03),
    (15, 1705.45, 1705.79, 1701.67),
    (20, 2338.80, 2339.32, 2332.60),
    (25, 3169.22, 3169.93, 3160.06),
    (30, 4246.03, 4246.97, 4233.72),
    (35, 5627.82, 5629.02, 5612.84),
]

# air °C, RH %, PsychroLib 2.5.0 °C, CoolProp 8.0.0 °C, WMO Magnus °C, PsychroLib °F
# (the first two are frost points in the libraries and dew points in Magnus)
CHECK = [
    (5, 50, -4.033, -4.033, -4.577, 24.74),
    (10, 40, -2.628, -2.627, -3.001, 27.27),
    (10, 80, 6.713, 6.713, 6.706, 44.08),
    (15, 50, 4.672, 4.674, 4.652, 40.41),
    (15, 70, 9.579, 9.580, 9.569, 49.24),
    (15, 90, 13.374, 13.375, 13.372, 56.07),
    (18, 55, 8.835, 8.836, 8.819, 47.90),
    (18, 75, 13.507, 13.508, 13.500, 56.31),
    (20, 30, 1.914, 1.917, 1.882, 35.45),
    (20, 50, 9.272, 9.274, 9.255, 48.69),
    (20, 65, 13.227, 13.229, 13.217, 55.81),
    (20, 80, 16.447, 16.448, 16.442, 61.60),
    (22, 45, 9.534, 9.536, 9.515, 49.16),
    (22, 60, 13.886, 13.888, 13.875, 56.99),
    (24, 60, 15.763, 15.765, 15.754, 60.37),
    (24, 75, 19.297, 19.298, 19.293, 66.73),
    (25, 50, 13.864, 13.867, 13.852, 56.96),
    (27, 70, 21.062, 21.064, 21.058, 69.91),
    (30, 40, 14.936, 14.941, 14.925, 58.88),
    (30, 60, 21.388, 21.391, 21.385, 70.50),
    (32, 50, 20.277, 20.282, 20.275, 68.50),
    (35, 60, 26.068, 26.073, 26.072, 78.92),
]


@pytest.mark.parametrize(("celsius", "hyland_wexler", "iapws", "magnus"), SATURATION)
def test_saturation_pressure(
    celsius: float, hyland_wexler: float, iapws: float, magnus: float
) -> None:
    assert saturation_pressure_pa(celsius) == pytest.approx(hyland_wexler, abs=0.006)
    # Hyland-Wexler (1983) and IAPWS-95 differ by up to 0.03 % here.
    assert saturation_pressure_pa(celsius) == pytest.approx(iapws, rel=3e-4)
    assert saturation_pressure_magnus_pa(celsius) == pytest.approx(magnus, abs=0.006)


@pytest.mark.parametrize(("air", "rh", "psychrolib", "coolprop", "magnus", "fahrenheit"), CHECK)
def test_the_22_check_values(
    air: float, rh: float, psychrolib: float, coolprop: float, magnus: float, fahrenheit: float
) -> None:
    dew = dew_point_c(air, rh)
    assert dew == pytest.approx(psychrolib, abs=0.001)  # same formula: print rounding only
    assert dew == pytest.approx(coolprop, abs=0.006)  # the libraries differ by up to 0.005 K
    assert f_from_c(dew) == pytest.approx(fahrenheit, abs=0.006)
    assert dew_point_magnus_c(air, rh) == pytest.approx(magnus, abs=0.001)
    if dew > 0:
        assert dew_point_magnus_c(air, rh) == pytest.approx(dew, abs=0.033)


def test_dew_points_of_two_libraries_over_a_grid() -> None:
    with (AUTHORITIES / "dew_points.csv").open(newline="") as file:
        rows = [{k: float(v) for k, v in row.items()} for row in csv.DictReader(file)]
    assert len(rows) >= 1000
    states = [(row, dew_point_c(row["air_c"], row["humidity_pct"])) for row in rows]
    # The file has four decimals: 5e-5 K of rounding.
    assert max(abs(dew - row["psychrolib_c"]) for row, dew in states) < 1e-4
    # CoolProp adds the real-gas enhancement factor: largest difference seen 0.0147 K (45 °C, 10 %).
    assert max(abs(dew - row["coolprop_c"]) for row, dew in states) < 0.015


def test_the_stored_grid_is_what_the_libraries_say() -> None:
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    for air, rh in ((-10, 5), (0, 50), (12, 95), (45, 10)):
        mine = dew_point_c(air, rh)
        assert mine == pytest.approx(psychrolib.GetTDewPointFromRelHum(air, rh / 100), abs=1e-4)
        kelvin = coolprop.HAPropsSI("D", "T", air + 273.15, "R", rh / 100, "P", 101325)
        assert mine == pytest.approx(kelvin - 273.15, abs=0.015)
        ratio = psychrolib.GetHumRatioFromRelHum(air, rh / 100, 101325)
        assert humidity_ratio(air, rh) == pytest.approx(ratio, rel=1e-6)


# Worked examples of the project's handbook, each computed there with PsychroLib and CoolProp.


def test_w1_to_w3_dew_points() -> None:
    assert dew_point_c(20, 50) == pytest.approx(9.272, abs=0.01)
    assert dew_point_magnus_c(20, 50) == pytest.approx(9.255, abs=0.03)
    assert dew_point_c(24, 60) == pytest.approx(15.763, abs=0.01)
    assert f_from_c(dew_point_c(c_from_f(75), 60)) == pytest.approx(60.19, abs=0.02)


def test_w4_the_margin_of_a_slab() -> None:
    margin = condensation_margin_k(24, 60, 17.0)
    assert margin == pytest.approx(1.24, abs=0.01)
    assert margin < 3.0  # fails the 3 K rule
    assert dew_point_c(24, 60) + 3.0 == pytest.approx(18.76, abs=0.01)


def test_w5_humidity_at_the_slab() -> None:
    humidity = surface_humidity_pct(24, 60, 17.0)
    assert humidity == pytest.approx(92.4, abs=0.1)
    # CoolProp's route, vapor pressure from the dew point (the handbook's second method)
    by_dew_point = 100 * saturation_pressure_pa(dew_point_c(24, 60)) / saturation_pressure_pa(17.0)
    assert humidity == pytest.approx(by_dew_point, abs=1e-6)


def test_more_than_saturated_is_told_not_clamped() -> None:
    assert surface_humidity_pct(30, 80, 15) > 100


def test_dehumidifier_target_is_where_the_margin_is_just_met() -> None:
    target = highest_humidity_pct(24, 17.0, 3.0)
    assert condensation_margin_k(24, target, 17.0) == pytest.approx(3.0, abs=1e-6)
    assert highest_humidity_pct(20, 30, 3.0) == 100.0  # a slab warmer than the room


def test_absolute_humidity_of_saturated_air() -> None:
    # 17.3 g/m3 at 20 °C: the figure of every school book (common knowledge, to 0.1)
    assert absolute_humidity_g_m3(20, 100) == pytest.approx(17.3, abs=0.05)


@pytest.mark.parametrize(
    ("call", "value", "bounds"),
    [
        (lambda: saturation_pressure_pa(-100.1), -100.1, (-100, 200)),
        (lambda: saturation_pressure_pa(200.1), 200.1, (-100, 200)),
        (lambda: saturation_pressure_magnus_pa(60.5), 60.5, (-45, 60)),
        (lambda: vapor_pressure_pa(20, 100.5), 100.5, (0, 100)),
        (lambda: vapor_pressure_pa(20, -1), -1, (0, 100)),
        (lambda: dew_point_magnus_c(20, 0), 0, (1e-9, 100)),
    ],
)
def test_out_of_range_is_refused_with_value_and_range(
    call: Callable[[], float], value: float, bounds: tuple[float, float]
) -> None:
    with pytest.raises(RangeError) as caught:
        call()
    assert caught.value.value == value
    assert (caught.value.low, caught.value.high) == bounds
    assert caught.value.source


@pytest.mark.parametrize("humidity", [0.0, math.nan])
def test_dry_air_and_nonsense_have_no_dew_point(humidity: float) -> None:
    with pytest.raises(RangeError):
        dew_point_c(20, humidity)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.floats(-99, 199))
def test_saturation_temperature_inverts_saturation_pressure(celsius: float) -> None:
    # At the triple point the two branches meet within 0.001 K.
    assert saturation_temperature_c(saturation_pressure_pa(celsius)) == pytest.approx(
        celsius, abs=1e-3
    )


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.floats(-20, 60), st.floats(5, 99))
def test_the_dew_point_never_exceeds_the_air_and_rises_with_humidity(
    celsius: float, humidity: float
) -> None:
    dew = dew_point_c(celsius, humidity)
    assert dew <= celsius + 1e-3
    assert dew_point_c(celsius, humidity + 1.0) > dew
