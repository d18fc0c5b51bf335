"""How much a floating floor grows and shrinks, by kind of board, against its gap.

Laminate and wood move with humidity, vinyl with temperature. What a standard or a material table
gives stands beside the trade's rule of thumb, whose two readings differ by a factor of two.
"""

from dataclasses import dataclass

from plankwright.model.sourced import Sourced
from plankwright.physics.psychrometrics import require_within

# EN 13329 annex C: variation after humidity change, average, read as mm per meter (from memory).
LAMINATE_MM_PER_M = Sourced(0.9, "mm/m", "EN 13329 annex C, read per meter", "from memory")
LAMINATE_RANGE_PCT = (30.0, 90.0)  # humidity range of annex C at 23 °C (from memory)
VINYL_PER_K = (
    Sourced(5e-5, "1/K", "unplasticized PVC, lower", "secondary"),
    Sourced(7e-5, "1/K", "unplasticized PVC, usual", "secondary"),
    Sourced(8e-5, "1/K", "unplasticized PVC, upper", "secondary"),
)
THUMB_MM_PER_M = Sourced(1.5, "mm/m", "rule of thumb", "common practice")
# Longest floating length without an expansion break [mm], along and across the boards.
LONGEST_RUN_MM: dict[str, tuple[Sourced, Sourced]] = {
    "laminate": (
        Sourced(10_000.0, "mm", "usual leaflets", "common practice"),
        Sourced(8_000.0, "mm", "usual leaflets", "common practice"),
    ),
    "engineered": (
        Sourced(10_000.0, "mm", "usual leaflets", "common practice"),
        Sourced(8_000.0, "mm", "usual leaflets", "common practice"),
    ),
    "vinyl": (
        Sourced(15_000.0, "mm", "usual leaflets", "common practice"),
        Sourced(15_000.0, "mm", "usual leaflets", "common practice"),
    ),
}


@dataclass(frozen=True, slots=True)
class Thumb:
    """The rule of thumb's gap at each side [mm], by its two readings."""

    per_side_mm: float
    in_total_mm: float


def rule_of_thumb(run_mm: float) -> Thumb:
    """1.5 mm per meter of run, on each side or in total: sources disagree.

    >>> rule_of_thumb(6000.0)
    Thumb(per_side_mm=9.0, in_total_mm=4.5)
    """
    growth = THUMB_MM_PER_M.value * run_mm / 1000.0
    return Thumb(growth, growth / 2.0)


def laminate_growth_mm(
    run_mm: float,
    driest_pct: float = LAMINATE_RANGE_PCT[0],
    dampest_pct: float = LAMINATE_RANGE_PCT[1],
    rate_mm_per_m: float = LAMINATE_MM_PER_M.value,
) -> float:
    """Most that a laminate run grows [mm] between two humidities [%].

    The standard's limit holds for its whole humidity range; a smaller swing moves it less, by an
    unknown share, so the whole is told.

    Raises
    ------
    RangeError
        when the room's swing leaves the test's range of 30 to 90 %.

    Examples
    --------
    >>> round(laminate_growth_mm(6000.0), 6)
    5.4
    """
    for humidity in (driest_pct, dampest_pct):
        require_within(
            "relative humidity [%]", humidity, *LAMINATE_RANGE_PCT, "EN 13329 annex C, from memory"
        )
    return run_mm / 1000.0 * rate_mm_per_m


def vinyl_growth_mm(run_mm: float, warming_k: float, per_k: float = VINYL_PER_K[1].value) -> float:
    """How much a vinyl run grows [mm] when it warms by some kelvin.

    Raises
    ------
    RangeError
        for a coefficient outside 1e-5 to 1e-4 per kelvin, or a warming beyond 60 K.

    Examples
    --------
    >>> round(vinyl_growth_mm(8000.0, 15.0), 2)
    8.4
    """
    require_within("expansion coefficient [1/K]", per_k, 1e-5, 1e-4, "plastics")
    require_within("warming [K]", warming_k, -60.0, 60.0, "PVC tables, around room temperature")
    return run_mm * per_k * warming_k
