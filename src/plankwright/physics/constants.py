"""Conversion factors and physical constants, each with its source on the same line."""

from fractions import Fraction

MM_PER_IN = 25.4  # exact, international inch of 1959
MM_PER_FT = 304.8  # exact
M2_PER_FT2 = 0.09290304  # exact, (0.3048 m)²
G_PER_LB = 453.59237  # exact, international pound of 1959
MG_PER_GRAIN = 64.79891  # exact, 1/7000 lb
PA_PER_INHG_0C = 3386.389  # conventional inch of mercury at 0 °C, NIST SP 811 appendix B
K_PER_F = 1.0 / 1.8  # exact, size of a Fahrenheit degree
SECONDS_PER_DAY = 86_400.0  # exact
WATER_VAPOR_GAS_CONSTANT = 461.52  # J/(kg·K), 8.314462618 / 0.018015268 (IAPWS molar mass)
STANDARD_PRESSURE_PA = 101_325.0  # standard atmosphere, exact by definition

# 1 lb/(1000 ft²·24 h) in µg/(s·m²) and g/(m²·24 h), from the exact definitions above.
UG_PER_S_M2_PER_LB = float(Fraction(28349523125, 501676416))
G_PER_M2_DAY_PER_LB = G_PER_LB / (1000.0 * M2_PER_FT2)

# 1 US perm = 1 grain/(h·ft²·inHg) in ng/(s·m²·Pa): 57.2135
NG_PER_S_M2_PA_PER_PERM = MG_PER_GRAIN * 1e6 / (3600.0 * M2_PER_FT2 * PA_PER_INHG_0C)


def c_from_f(temperature_f: float) -> float:
    """Temperature [°F] as [°C].

    >>> c_from_f(212.0)
    100.0
    """
    return (temperature_f - 32.0) * 5.0 / 9.0


def f_from_c(temperature_c: float) -> float:
    """Temperature [°C] as [°F].

    >>> f_from_c(-40.0)
    -40.0
    """
    return temperature_c * 9.0 / 5.0 + 32.0
