"""The slab and its moisture book: what its water has done, and every reading taken of it."""

import math
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from plankwright.errors import InputError
from plankwright.model.air import Air
from plankwright.model.sourced import Sourced

TestKind = Literal[
    "calcium chloride", "humidity probe", "surface hygrometer", "carbide", "plastic sheet", "meter"
]
TEST_UNITS: dict[TestKind, str] = {
    "calcium chloride": "lb/(1000 ft²·24 h)",
    "humidity probe": "% RH",
    "surface hygrometer": "% RH",
    "carbide": "CM-%",
    "plastic sheet": "",
    "meter": "",
}
Answer = Literal["yes", "no", "unknown"]
Drying = Literal["one face", "both faces"]

# Instrument errors where the person gives none; common practice, settings.
USUAL_ERRORS: dict[TestKind, float] = {
    "calcium chloride": 0.2,
    "humidity probe": 2.0,
    "surface hygrometer": 3.0,
    "carbide": 0.1,
}


@dataclass(frozen=True, slots=True)
class WaterHistory:
    """What the person has seen; any of it overrides every reading."""

    standing_water: bool = False
    salt_crystals: bool = False
    failed_sump: bool = False
    musty_smell: bool = False
    damp_in_wet_season: bool = False

    def signs(self) -> tuple[str, ...]:
        """What was seen, in words."""
        told = (
            (self.standing_water, "water has stood on it"),
            (self.salt_crystals, "it shows salt crystals"),
            (self.failed_sump, "the sump has failed"),
            (self.musty_smell, "it smells musty"),
            (self.damp_in_wet_season, "it gets damp in the wet season"),
        )
        return tuple(words for seen, words in told if seen)


@dataclass(frozen=True, slots=True)
class Dish:
    """A dish of calcium chloride: what was weighed, over what area, for how long."""

    gain_g: float
    area_ft2: float
    hours: float


@dataclass(frozen=True, slots=True)
class MoistureReading:
    """One reading, in the unit of its own kind (:data:`TEST_UNITS`).

    Parameters
    ----------
    kind : the test.
    place : where on the slab, in the person's words.
    on : the day it was read.
    value : the figure read; for a plastic sheet 1 when wet beneath and 0 when dry; None when a
        ``dish`` is given.
    dish : grams, area and hours of a calcium chloride test.
    error : instrument error, or None for the usual one.
    depth_mm : depth of a humidity probe.
    waited_h : hours between drilling and reading of a humidity probe.
    air : the air while it was taken.
    """

    kind: TestKind
    place: str
    on: date
    value: float | None = None
    dish: Dish | None = None
    error: float | None = None
    depth_mm: float | None = None
    waited_h: float | None = None
    air: Air | None = None

    def __post_init__(self) -> None:
        if (self.value is None) == (self.dish is None):
            raise InputError(
                "a reading needs a value, or grams, area and hours of a dish",
                where=f"reading at {self.place}",
            )
        if self.dish is not None and self.kind != "calcium chloride":
            raise InputError("only a calcium chloride test has a dish", where=self.place)
        if self.value is not None and not (math.isfinite(self.value) and self.value >= 0.0):
            raise InputError("a reading is a number of 0 or more", value=self.value)

    @property
    def instrument_error(self) -> float:
        """Its error in its own unit."""
        return USUAL_ERRORS.get(self.kind, 0.0) if self.error is None else self.error


@dataclass(frozen=True, slots=True)
class MoistureLimit:
    """The highest reading of one kind of test, by the product's leaflet or a standard.

    Parameters
    ----------
    kind : the test it is for; it holds for no other.
    bare : highest reading without a vapor barrier.
    with_barrier : highest reading with one, where the leaflet says so; else None.
    """

    kind: TestKind
    bare: Sourced
    with_barrier: Sourced | None = None


# Where the leaflet names none. ASTM F710 is written for resilient floors and widely borrowed.
USUAL_LIMITS: tuple[MoistureLimit, ...] = (
    MoistureLimit(
        "calcium chloride",
        Sourced(3.0, TEST_UNITS["calcium chloride"], "ASTM F710 default", "secondary"),
    ),
    MoistureLimit("humidity probe", Sourced(75.0, "% RH", "ASTM F710 default", "secondary")),
    MoistureLimit("surface hygrometer", Sourced(75.0, "% RH", "BS 8203, BS 8204", "secondary")),
)


@dataclass(frozen=True, slots=True)
class Film:
    """A vapor barrier: its permeance, and what the leaflet says about it.

    Parameters
    ----------
    perms : permeance [US perm], or None when unknown.
    thickness_mm : thickness [mm].
    required : the leaflet asks for one in any case.
    required_perms : the most open film the leaflet takes [US perm].
    required_sd_m : the least sd value the leaflet takes [m].
    attached : the board has a film or pad attached.
    second : whether the leaflet takes a second barrier or pad.
    """

    perms: float | None = None
    thickness_mm: float = 0.15
    required: bool = False
    required_perms: float | None = None
    required_sd_m: float | None = None
    attached: bool = False
    second: Literal["allowed", "forbidden", "not said"] = "not said"


@dataclass(frozen=True, slots=True)
class Slab:
    """A concrete slab, its history and its moisture book.

    Parameters
    ----------
    area_m2 : floor area [m²].
    thickness_mm : thickness [mm], or None when unknown.
    drying : from one face (on the ground) or both.
    below_grade : on or below the ground.
    barrier_below : whether there is a vapor barrier under the slab.
    painted, leveled : coated, or under patch or leveling compound.
    temperature_c : its surface at its coldest corner, early in the morning [°C].
    wet_months : months in which the ground is wettest here; empty when not said.
    """

    area_m2: float
    thickness_mm: float | None = None
    drying: Drying = "one face"
    below_grade: bool = True
    barrier_below: Answer = "unknown"
    painted: bool = False
    leveled: bool = False
    temperature_c: float | None = None
    wet_months: tuple[int, ...] = ()
    history: WaterHistory = field(default_factory=WaterHistory)
    readings: tuple[MoistureReading, ...] = ()
    limits: tuple[MoistureLimit, ...] = ()
    film: Film = field(default_factory=Film)

    def __post_init__(self) -> None:
        if not (math.isfinite(self.area_m2) and 0.0 < self.area_m2 < 1e5):
            raise InputError(
                "the slab's area must be above 0", where="slab.area", value=self.area_m2
            )
        if any(not 1 <= month <= 12 for month in self.wet_months):
            raise InputError(
                "months are numbers from 1 to 12", where="slab.wet_months", value=self.wet_months
            )

    def limit_for(self, kind: TestKind) -> MoistureLimit | None:
        """The leaflet's limit for a kind of test, else the usual one, else None."""
        for limit in (*self.limits, *USUAL_LIMITS):
            if limit.kind == kind:
                return limit
        return None
