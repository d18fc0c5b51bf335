"""Equilibrium moisture content of wood, and how much a solid board moves with it.

Source of both: USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010; FPL-GTR-282,
2021): chapter 4 for the moisture content, equation 13-2 and table 13-5 for the movement.
"""

from dataclasses import dataclass

from plankwright.physics.psychrometrics import require_within

_EMC = "Wood Handbook chapter 4, two-hydrate Hailwood-Horrobin"
# 30 to 180 °F: within 0.5 points of table 4-2 there (a US university's extension page).
_EMC_C = (-1.2, 82.3)
_EMC_RH = (5.0, 95.0)  # the columns of table 4-2; the first and last from memory
_MOVEMENT = "Wood Handbook equation 13-2"
_MOVEMENT_PCT = (6.0, 14.0)

Quadratic = tuple[float, float, float]

# W, K, K1, K2 as a + b·T + c·T². FPL-RN-0268 and Wood Handbook, chapter 4.
_CELSIUS: tuple[Quadratic, ...] = (
    (349.0, 1.29, 0.0135),
    (0.805, 0.000736, -0.00000273),
    (6.27, -0.00938, -0.000303),
    (1.91, 0.0407, -0.000293),
)
# A wrong K2 of 1.09 + 0.0171 T - 0.0000905 T² is in circulation; it does not turn into the
# Celsius set.
_FAHRENHEIT: tuple[Quadratic, ...] = (
    (330.0, 0.452, 0.00415),
    (0.791, 0.000463, -0.000000844),
    (6.34, 0.000775, -0.0000935),
    (1.09, 0.0284, -0.0000904),
)


@dataclass(frozen=True, slots=True)
class Species:
    """Change coefficients of a wood, per percent of moisture content (table 13-5)."""

    name: str
    radial: float | None
    tangential: float


# Wood Handbook FPL-GTR-190 table 13-5 (retrieved); true hickory from Agriculture Handbook 72
SPECIES: dict[str, Species] = {
    wood.name: wood
    for wood in (
        Species("red oak", 0.00158, 0.00369),
        Species("white oak", 0.00180, 0.00365),
        Species("sugar maple", 0.00165, 0.00353),
        Species("American beech", 0.00190, 0.00431),
        Species("yellow birch", 0.00256, 0.00338),
        Species("white ash", 0.00169, 0.00274),
        Species("black walnut", 0.00190, 0.00274),
        Species("black cherry", 0.00126, 0.00248),
        Species("pecan hickory", 0.00169, 0.00315),
        Species("true hickory", None, 0.00411),
    )
}


def wood_moisture_pct(temperature_c: float, humidity_pct: float) -> float:
    """Equilibrium moisture content of wood [%] in air of a temperature [°C] and humidity [%].

    Range -1.1 to 82.2 °C (30 to 180 °F), 5 to 95 %.

    Raises
    ------
    RangeError
        outside that range.

    Examples
    --------
    >>> round(wood_moisture_pct(20.0, 50.0), 2)
    9.27
    """
    return _moisture_pct(temperature_c, temperature_c, humidity_pct, _CELSIUS)


def wood_moisture_fahrenheit_pct(temperature_f: float, humidity_pct: float) -> float:
    """The same by the handbook's Fahrenheit coefficients; differs by at most 0.014 points."""
    celsius = (temperature_f - 32.0) / 1.8
    return _moisture_pct(celsius, temperature_f, humidity_pct, _FAHRENHEIT)


def _moisture_pct(
    celsius: float, degrees: float, humidity_pct: float, sets: tuple[Quadratic, ...]
) -> float:
    require_within("temperature [°C]", celsius, *_EMC_C, _EMC)
    require_within("relative humidity [%]", humidity_pct, *_EMC_RH, _EMC)
    w, k, k1, k2 = (a + b * degrees + c * degrees**2 for a, b, c in sets)
    kh = k * humidity_pct / 100.0
    dissolved = kh / (1.0 - kh)
    hydrated = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800.0 / w * (dissolved + hydrated)


def solid_width_change_mm(
    width_mm: float, coefficient: float, from_pct: float, to_pct: float
) -> float:
    """Change of a solid board's width [mm] between two moisture contents [%].

    An upper bound for cross-ply engineered boards.

    Parameters
    ----------
    width_mm : width at ``from_pct``.
    coefficient : tangential (flat-sawn) or radial (quarter-sawn), per percent.
    from_pct, to_pct : moisture contents, each 6 to 14 %.

    Raises
    ------
    RangeError
        for a moisture content outside 6 to 14 %.

    Examples
    --------
    >>> round(solid_width_change_mm(127.0, SPECIES["white oak"].tangential, 6.0, 9.0), 2)
    1.39
    """
    for moisture in (from_pct, to_pct):
        require_within("moisture content [%]", moisture, *_MOVEMENT_PCT, _MOVEMENT)
    return width_mm * coefficient * (to_pct - from_pct)
