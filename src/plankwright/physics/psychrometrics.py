"""Moist air: saturation pressure, dew point, and the humidity at a cold surface.

Two formulas side by side, never mixed:

* *Hyland-Wexler* as in the ASHRAE Handbook of Fundamentals, chapter "Psychrometrics": over ice
  below 0.01 °C, over liquid water above. Range -100 to 200 °C. The program's own.
* *Magnus* as in the WMO guide No. 8, annex 4.B, over liquid water at every temperature.
  Range -45 to 60 °C. A second opinion, within 0.04 K above 0 °C.

Below 0.01 °C the first gives a frost point, the second a dew point over supercooled water; they
differ by about half a kelvin there and must not be compared.
"""

import math

from plankwright.errors import RangeError
from plankwright.physics.constants import STANDARD_PRESSURE_PA, WATER_VAPOR_GAS_CONSTANT

_KELVIN = 273.15
_TRIPLE_POINT_C = 0.01
_HYLAND_WEXLER = "Hyland-Wexler, ASHRAE Fundamentals, Psychrometrics"
_HYLAND_WEXLER_C = (-100.0, 200.0)
_MAGNUS = "WMO guide No. 8, annex 4.B"
_MAGNUS_C = (-45.0, 60.0)

# ln p = A/T + B + C·T + D·T² + E·T³ + F·T⁴ + G·ln T, p in Pa, T in K
_OVER_ICE = (
    -5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019,
)  # fmt: skip
_OVER_WATER = (
    -5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673,
)  # fmt: skip

Coefficients = tuple[float, float, float, float, float, float, float]


def require_within(quantity: str, value: float, low: float, high: float, source: str = "") -> None:
    """Refuse a value outside its published range with :class:`RangeError`; NaN is outside."""
    if not low <= value <= high:
        raise RangeError(quantity, value, low, high, source)


def saturation_pressure_pa(temperature_c: float) -> float:
    """Pressure of saturated water vapor [Pa], over ice below 0.01 °C.

    Source: Hyland-Wexler, ASHRAE Fundamentals, "Psychrometrics"; -100 to 200 °C.

    Raises
    ------
    RangeError
        outside that range.

    Examples
    --------
    >>> round(saturation_pressure_pa(20.0), 2)
    2338.8
    """
    require_within("temperature [°C]", temperature_c, *_HYLAND_WEXLER_C, _HYLAND_WEXLER)
    return math.exp(_log_pressure(temperature_c + _KELVIN, _coefficients(temperature_c)))


def saturation_pressure_magnus_pa(temperature_c: float) -> float:
    """Pressure of saturated vapor over liquid water [Pa].

    Source: WMO guide No. 8, annex 4.B; -45 to 60 °C.

    Raises
    ------
    RangeError
        outside that range.
    """
    require_within("temperature [°C]", temperature_c, *_MAGNUS_C, _MAGNUS)
    return 611.2 * math.exp(17.62 * temperature_c / (243.12 + temperature_c))


def vapor_pressure_pa(temperature_c: float, humidity_pct: float) -> float:
    """Partial pressure of the water vapor in air [Pa] of a relative humidity [%].

    Raises
    ------
    RangeError
        for a humidity outside 0 to 100 % or a temperature outside -100 to 200 °C.
    """
    require_within("relative humidity [%]", humidity_pct, 0.0, 100.0, "definition")
    return humidity_pct / 100.0 * saturation_pressure_pa(temperature_c)


def dew_point_c(temperature_c: float, humidity_pct: float) -> float:
    """Temperature [°C] at which air begins to shed water; the frost point below 0.01 °C.

    Parameters
    ----------
    temperature_c : dry air temperature [°C], -100 to 200.
    humidity_pct : relative humidity [%], above 0 to 100.

    Raises
    ------
    RangeError
        outside those ranges, or where the dew point would lie below -100 °C.

    Examples
    --------
    >>> round(dew_point_c(20.0, 50.0), 3)
    9.272
    """
    return saturation_temperature_c(vapor_pressure_pa(temperature_c, humidity_pct))


def saturation_temperature_c(pressure_pa: float) -> float:
    """Temperature [°C] at which a vapor pressure [Pa] is saturated (inverse of Hyland-Wexler).

    Raises
    ------
    RangeError
        when the pressure belongs to a temperature outside -100 to 200 °C.
    """
    low, high = (saturation_pressure_pa(t) for t in _HYLAND_WEXLER_C)
    require_within("vapor pressure [Pa]", pressure_pa, low, high, _HYLAND_WEXLER)
    target = math.log(pressure_pa)
    triple_k = _TRIPLE_POINT_C + _KELVIN
    over_water = target >= _log_pressure(triple_k, _OVER_WATER)
    coefficients = _OVER_WATER if over_water else _OVER_ICE
    kelvin = triple_k
    for _ in range(60):  # Newton on ln p, which is nearly straight: 3 to 8 steps in practice
        step = (_log_pressure(kelvin, coefficients) - target) / _log_slope(kelvin, coefficients)
        kelvin -= step
        if abs(step) < 1e-10:
            break
    return kelvin - _KELVIN


def dew_point_magnus_c(temperature_c: float, humidity_pct: float) -> float:
    """Dew point over liquid water [°C] by the WMO Magnus form; a second opinion.

    Raises
    ------
    RangeError
        for a temperature outside -45 to 60 °C or a humidity of 0 or above 100 %.

    Examples
    --------
    >>> round(dew_point_magnus_c(20.0, 50.0), 3)
    9.255
    """
    require_within("temperature [°C]", temperature_c, *_MAGNUS_C, _MAGNUS)
    require_within("relative humidity [%]", humidity_pct, 1e-9, 100.0, "definition")
    gamma = math.log(humidity_pct / 100.0) + 17.62 * temperature_c / (243.12 + temperature_c)
    return 243.12 * gamma / (17.62 - gamma)


def surface_humidity_pct(temperature_c: float, humidity_pct: float, surface_c: float) -> float:
    """Relative humidity [%] of the room's air right at a surface of ``surface_c``.

    Not clamped: above 100 means that water condenses there.

    Raises
    ------
    RangeError
        as :func:`vapor_pressure_pa` and :func:`saturation_pressure_pa`.
    """
    pressure = vapor_pressure_pa(temperature_c, humidity_pct)
    return 100.0 * pressure / saturation_pressure_pa(surface_c)


def condensation_margin_k(temperature_c: float, humidity_pct: float, surface_c: float) -> float:
    """How far the surface lies above the dew point of the room's air [K]; negative: it drips."""
    return surface_c - dew_point_c(temperature_c, humidity_pct)


def highest_humidity_pct(temperature_c: float, surface_c: float, margin_k: float) -> float:
    """Highest room humidity [%] at which the surface still keeps its margin [K]; at most 100.

    This is the target for a dehumidifier. 100 when the surface is warmer than the room by more
    than the margin: no humidity of the room can then wet it.
    """
    pressure = saturation_pressure_pa(surface_c - margin_k)
    return min(100.0, 100.0 * pressure / saturation_pressure_pa(temperature_c))


def absolute_humidity_g_m3(temperature_c: float, humidity_pct: float) -> float:
    """Water in a cubic meter of air [g/m³], by the ideal gas law."""
    pressure = vapor_pressure_pa(temperature_c, humidity_pct)
    return 1000.0 * pressure / (WATER_VAPOR_GAS_CONSTANT * (temperature_c + _KELVIN))


def humidity_ratio(
    temperature_c: float, humidity_pct: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Water per dry air [kg/kg]; ASHRAE Fundamentals, 0.621945 e/(p - e)."""
    vapor = vapor_pressure_pa(temperature_c, humidity_pct)
    return 0.621945 * vapor / (pressure_pa - vapor)


def _coefficients(temperature_c: float) -> Coefficients:
    return _OVER_ICE if temperature_c < _TRIPLE_POINT_C else _OVER_WATER


def _log_pressure(kelvin: float, c: Coefficients) -> float:
    polynomial = c[1] + kelvin * (c[2] + kelvin * (c[3] + kelvin * (c[4] + kelvin * c[5])))
    return c[0] / kelvin + polynomial + c[6] * math.log(kelvin)


def _log_slope(kelvin: float, c: Coefficients) -> float:
    polynomial = c[2] + kelvin * (2 * c[3] + kelvin * (3 * c[4] + kelvin * 4 * c[5]))
    return -c[0] / kelvin**2 + polynomial + c[6] / kelvin
