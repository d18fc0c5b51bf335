"""The room's air, today and over the year."""

import math
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from plankwright.errors import InputError
from plankwright.model.sourced import Sourced

MarginRule = Literal["3 K", "5 F"]
# Two different rules: 3 K is 5.4 °F, 5 °F is 2.78 K.
MARGINS_K: dict[MarginRule, Sourced] = {
    "3 K": Sourced(3.0, "K", "ISO 8502-4, ISO 12944-7", "secondary"),
    "5 F": Sourced(5.0 / 1.8, "K", "installers' dew point chart, 5 °F", "secondary"),
}


@dataclass(frozen=True, slots=True)
class Air:
    """Air of a temperature [°C] and relative humidity [%]."""

    temperature_c: float
    humidity_pct: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.temperature_c) and -60.0 <= self.temperature_c <= 60.0):
            raise InputError(
                "no room's temperature", value=self.temperature_c, remedy="Check the unit: C or F."
            )
        if not 0.0 < self.humidity_pct <= 100.0:
            raise InputError("a humidity lies between 0 and 100 %", value=self.humidity_pct)


@dataclass(frozen=True, slots=True)
class Climate:
    """Limits of temperature [°C] and humidity [%] for the boards, or a yearly swing."""

    coldest_c: float
    warmest_c: float
    driest_pct: float
    dampest_pct: float

    def __post_init__(self) -> None:
        if self.coldest_c > self.warmest_c or self.driest_pct > self.dampest_pct:
            raise InputError("the lower limit lies above the upper one", value=self)

    def holds(self, air: Air) -> bool:
        """Whether air is within the limits."""
        return (
            self.coldest_c <= air.temperature_c <= self.warmest_c
            and self.driest_pct <= air.humidity_pct <= self.dampest_pct
        )


# The overlap of four ranges that are in use; common practice, a setting.
USUAL_LIMITS = Climate(18.0, 24.0, 40.0, 60.0)


@dataclass(frozen=True, slots=True)
class RoomAir:
    """What is known of the room's air.

    Parameters
    ----------
    now : the air today.
    outside : the air outdoors today, for the question of opening the windows.
    margin : which rule the slab's temperature is held against.
    swing : the room's year; None when not said.
    limits : the leaflet's limits for laying and living.
    boards_in : when the packs came into the room.
    hours : how long they wait (48 h is common practice).
    """

    now: Air | None = None
    outside: Air | None = None
    margin: MarginRule = "3 K"
    swing: Climate | None = None
    limits: Climate = field(default=USUAL_LIMITS)
    boards_in: datetime | None = None
    hours: float = 48.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.hours <= 1000.0:
            raise InputError("hours to wait must be from 0 to 1000", value=self.hours)
