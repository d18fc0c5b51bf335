"""The floor as something that grows and shrinks: its kind, its runs and its gap."""

import math
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import InputError

BoardKind = Literal["laminate", "vinyl", "engineered", "solid"]


@dataclass(frozen=True, slots=True)
class FloorRun:
    """How far the floor floats, and what room it has to move.

    Parameters
    ----------
    along_mm, across_mm : longest run along and across the boards [mm].
    gaps_mm : pairs of an edge's name and its gap [mm].
    kind : what the boards are made of.
    species : wood of engineered and solid boards, as the table of coefficients has it.
    longest_along_mm, longest_across_mm : the leaflet's longest floating lengths; None when not
        given.
    laid_c : temperature of the room while laying [°C].
    """

    along_mm: float
    across_mm: float
    gaps_mm: tuple[tuple[str, float], ...]
    kind: BoardKind = "laminate"
    species: str = "red oak"
    longest_along_mm: float | None = None
    longest_across_mm: float | None = None
    laid_c: float = 20.0

    def __post_init__(self) -> None:
        lengths = (self.along_mm, self.across_mm)
        if not all(math.isfinite(run) and run > 0.0 for run in lengths) or not self.gaps_mm:
            raise InputError("a floor needs runs above 0 and its gaps", value=lengths)

    @property
    def narrowest_mm(self) -> float:
        """The narrowest gap on any edge [mm]."""
        return min(gap for _, gap in self.gaps_mm)
