"""How tight a film is: US perms, the European sd value, classes, and what passes through.

The two worlds use different rulers and different limits; a film that passes one does not by
itself pass the other, so both are always told.
"""

from plankwright.model.sourced import Sourced
from plankwright.physics.constants import NG_PER_S_M2_PA_PER_PERM, SECONDS_PER_DAY
from plankwright.physics.psychrometrics import require_within, vapor_pressure_pa

# Vapor permeability of still air at 23 °C, kg/(m·s·Pa); 1.95e-10 is in use too (2.5 % less).
AIR_PERMEABILITY = 2.0e-10

CLASS_LIMITS_PERM = {"I": 0.1, "II": 1.0, "III": 10.0}  # US building code classes, ASTM E96
CLASS_SOURCE = "US building code classes, ASTM E96"
EUROPEAN_SD_M = Sourced(75.0, "m", "DIN EN 16354:2019 clause 4.4.8", "retrieved")
WOOD_TRADE_PERM = Sourced(
    0.15, "perm", "National Wood Flooring Association, film under floating floors", "retrieved"
)


def permeance_si(perms: float) -> float:
    """US perms as ng/(s·m²·Pa).

    >>> round(permeance_si(1.0), 4)
    57.2135
    """
    require_within("permeance [perm]", perms, 0.0, 1e4, "no film is more open")
    return perms * NG_PER_S_M2_PA_PER_PERM


def sd_from_perms_m(perms: float, air_permeability: float = AIR_PERMEABILITY) -> float:
    """Thickness of still air as tight as the film [m].

    Raises
    ------
    RangeError
        for a permeance that is not above 0.

    Examples
    --------
    >>> round(sd_from_perms_m(0.06), 1)
    58.3
    """
    require_within("permeance [perm]", perms, 1e-6, 1e4, "a perfect film has no sd")
    return air_permeability / (permeance_si(perms) * 1e-12)


def perms_from_sd(sd_m: float, air_permeability: float = AIR_PERMEABILITY) -> float:
    """US perms of a film of an sd value [m].

    >>> round(perms_from_sd(75.0), 4)
    0.0466
    """
    require_within("sd value [m]", sd_m, 1e-4, 1e7, "definition")
    return air_permeability * 1e12 / (sd_m * NG_PER_S_M2_PA_PER_PERM)


def vapor_class(perms: float) -> str:
    """US class of a film: ``"I"`` (tightest), ``"II"``, ``"III"`` or ``"open"``.

    >>> [vapor_class(p) for p in (0.06, 0.1, 0.11, 5, 20)]
    ['I', 'I', 'II', 'III', 'open']
    """
    for name, limit in CLASS_LIMITS_PERM.items():
        if perms <= limit:
            return name
    return "open"


def vapor_flux_g_m2_day(perms: float, slab_c: float, room_c: float, room_pct: float) -> float:
    """Water [g/(m²·24 h)] that a whole film lets through from a saturated slab into the room.

    Negative when the room is the wetter side.

    >>> round(vapor_flux_g_m2_day(0.06, 12.0, 20.0, 50.0), 4)
    0.0692
    """
    difference_pa = vapor_pressure_pa(slab_c, 100.0) - vapor_pressure_pa(room_c, room_pct)
    return permeance_si(perms) * 1e-9 * difference_pa * SECONDS_PER_DAY
