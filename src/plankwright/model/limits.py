"""How far a floor may float, and where its leaflet wants expansion breaks."""

import math
from dataclasses import dataclass

from plankwright.errors import InputError


@dataclass(frozen=True, slots=True)
class Limits:
    """The leaflet's word on long floors.

    Parameters
    ----------
    longest_along_mm, longest_across_mm : longest floating lengths along and across the boards;
        None where the leaflet names none.
    in_doorways : an expansion break in every doorway that the floor runs through.
    in_necks : one in every neck, too.
    neck_mm : a place narrower than this, with more floor on both sides, is a neck.
    stem_mm : width of the stem of the T-moldings.
    """

    longest_along_mm: float | None = None
    longest_across_mm: float | None = None
    in_doorways: bool = False
    in_necks: bool = False
    neck_mm: float = 1200.0
    stem_mm: float = 8.0

    def __post_init__(self) -> None:
        lengths = {
            "breaks.longest_along": self.longest_along_mm,
            "breaks.longest_across": self.longest_across_mm,
            "breaks.neck": self.neck_mm,
            "breaks.stem": self.stem_mm,
        }
        for where, length in lengths.items():
            if length is not None and not (math.isfinite(length) and length > 0.0):
                raise InputError(
                    "must be above 0",
                    where=where,
                    value=length,
                    remedy="Read it off the leaflet, or leave it out.",
                )

    @property
    def asks_for_breaks(self) -> bool:
        """Whether anything here can ask for a break."""
        bounds = (self.longest_along_mm, self.longest_across_mm)
        return self.in_doorways or self.in_necks or any(bound is not None for bound in bounds)
