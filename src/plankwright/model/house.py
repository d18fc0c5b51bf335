"""What is asked of a house before anything in it is ground, scraped, drilled or pulled off."""

from dataclasses import dataclass
from datetime import date

from plankwright.errors import InputError
from plankwright.model.slab import Answer


@dataclass(frozen=True, slots=True)
class House:
    """The age of the house and what may lie hidden in it.

    Parameters
    ----------
    year : when it was built, or None when unknown.
    old_tile, black_mastic, old_paint : whether there is old tile or sheet floor, black mastic
        below it, old paint on baseboards and jambs.
    in_slab : whether pipes, cables, heating or post-tension tendons may lie in the slab.
    asbestos_free_on, lead_free_on : day of a laboratory's clear result, or None.
    slab_scanned_on : day on which the slab was scanned, or None.
    """

    year: int | None = None
    old_tile: Answer = "unknown"
    black_mastic: Answer = "unknown"
    old_paint: Answer = "unknown"
    in_slab: Answer = "unknown"
    asbestos_free_on: date | None = None
    lead_free_on: date | None = None
    slab_scanned_on: date | None = None

    def __post_init__(self) -> None:
        if self.year is not None and not 1000 <= self.year <= 3000:
            raise InputError("a year has four digits", where="slab.house.year", value=self.year)
