"""Heights read off a slab, and gaps read under a straightedge."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plankwright.errors import InputError


@dataclass(frozen=True, slots=True)
class HeightGrid:
    """Heights at equal steps.

    Parameters
    ----------
    rows : the first row at the least y; None where nothing could be read. Heights [mm], upward.
    step_mm : step along x and along y.
    origin_mm : place of the first reading of the first row, in room coordinates.
    """

    rows: tuple[tuple[float | None, ...], ...]
    step_mm: tuple[float, float]
    origin_mm: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        if len(self.rows) < 2 or len({len(row) for row in self.rows}) != 1 or len(self.rows[0]) < 2:
            raise InputError(
                "a grid of heights needs two rows or more, all of the same length",
                where="slab.heights.rows",
                remedy='Write "" where nothing could be read.',
            )
        if min(self.step_mm) <= 0.0:
            raise InputError("the step must be above 0", where="slab.heights.step")
        _require_numbers([h for row in self.rows for h in row if h is not None])


@dataclass(frozen=True, slots=True)
class ScatteredHeights:
    """Heights at any places: ``(x, y, height)`` [mm], heights upward."""

    readings: tuple[tuple[float, float, float], ...]

    def __post_init__(self) -> None:
        if len(self.readings) < 3:
            raise InputError("scattered heights need three readings", where="slab.heights.readings")
        _require_numbers([number for reading in self.readings for number in reading])


@dataclass(frozen=True, slots=True)
class GapReading:
    """A gap read under a straightedge that was laid on the slab."""

    place: str
    edge_mm: float
    gap_mm: float

    def __post_init__(self) -> None:
        if not (self.edge_mm > 0.0 and 0.0 <= self.gap_mm < self.edge_mm):
            raise InputError(
                "a gap is shorter than the edge it is read under",
                where=f"slab.gap at {self.place}",
                value=(self.edge_mm, self.gap_mm),
            )


def _require_numbers(numbers: Sequence[float]) -> None:
    if not all(math.isfinite(number) for number in numbers):
        raise InputError("a height is not a number", where="slab.heights")
