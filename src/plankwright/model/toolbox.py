"""The tools a person owns, and how fast that person works."""

import math
from dataclasses import dataclass, fields

from plankwright.errors import InputError


@dataclass(frozen=True, slots=True)
class Toolbox:
    """What is at hand.

    Parameters
    ----------
    owned : names of tools, as the job file has them.
    rips : a saw that rips is at hand or will be lent; False: none will be.
    reach_mm : widest board the crosscut saw cuts in one pass; None when not measured.
    """

    owned: tuple[str, ...] = ()
    rips: bool = True
    reach_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Rates:
    """Minutes that things take this person, and the hours of a working day.

    The defaults are a first guess for one person who has never laid a floor (common practice has
    no figure); after an hour of laying, write your own.
    """

    set_up: float = 60.0
    board: float = 3.0
    crosscut: float = 3.0
    rip: float = 6.0
    odd_piece: float = 12.0
    row: float = 3.0
    jamb: float = 20.0
    film_strip: float = 15.0
    trim_piece: float = 10.0
    day_hours: float = 7.0

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            low = 1.0 if field.name == "day_hours" else 0.0
            if not (math.isfinite(value) and low <= value <= 1000.0):
                raise InputError(
                    f"must be from {low:g} to 1000",
                    where=f"buy.rates.{field.name}",
                    value=value,
                    remedy="Write minutes; day_hours in hours.",
                )
