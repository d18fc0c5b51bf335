"""Strips of vapor barrier or underlayment over a floor and up its walls.

The region to cover is the floor with its upturn folded flat outward. Strips lie side by side, each
on its neighbor by the lap; every part of a strip is as long as the region is within the strip, so
that wherever two strips meet the lap is kept.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from plankwright.model.roll import Sheeting
from plankwright.units import SAME_MM

MITER_LIMIT = 5.0
CRUMB_MM2 = 1.0
BRIDGE_MM = 300.0  # a strip goes on across a hole shorter than this: less cutting than two strips


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip, in the turned frame of its :class:`StripPlan` [mm]: u along it, v across."""

    number: int
    u0: float
    u1: float
    v0: float
    v1: float

    @property
    def length_mm(self) -> float:
        """How long it is."""
        return self.u1 - self.u0


@dataclass(frozen=True, slots=True, eq=False)
class StripPlan:
    """All strips of one direction.

    Parameters
    ----------
    angle_deg : direction of the strips in room coordinates.
    strips : in the order in which they are laid.
    side_seam_mm : length of all seams between neighboring strips.
    region : floor and upturn folded flat, in room coordinates.
    """

    angle_deg: float
    strips: tuple[Strip, ...]
    side_seam_mm: float
    region: BaseGeometry

    def outline(self, strip: Strip) -> BaseGeometry:
        """A strip in room coordinates."""
        flat = shapely.box(strip.u0, strip.v0, strip.u1, strip.v1)
        turned: BaseGeometry = affinity.rotate(flat, self.angle_deg, origin=(0.0, 0.0))
        return turned


def strips_across(width_mm: float, roll_mm: float, lap_mm: float, upturn_mm: float = 0.0) -> int:
    """Strips side by side over a width with an upturn at both edges.

    ceil((width + 2 upturn - lap) / (roll - lap)), at least 1.

    >>> strips_across(3650, 2000, 200, 50), strips_across(3650, 1000, 200, 50)
    (2, 5)
    """
    over = width_mm + 2.0 * upturn_mm - lap_mm
    return max(1, math.ceil(over / (roll_mm - lap_mm) - SAME_MM))


def grown(floor: BaseGeometry, upturn_mm: float) -> BaseGeometry:
    """The floor with its upturn folded flat, corners mitered."""
    if upturn_mm <= 0.0:
        return floor
    flat: BaseGeometry = floor.buffer(upturn_mm, join_style="mitre", mitre_limit=MITER_LIMIT)
    return flat


def lay_strips(
    floor: BaseGeometry, sheeting: Sheeting, angle_deg: float, *, from_far: bool = False
) -> StripPlan:
    """Strips in one direction over a floor.

    Parameters
    ----------
    floor : what is to be covered, without the upturn [mm].
    angle_deg : direction of the strips, anticlockwise from x.
    from_far : begin at the other edge: the strip that sticks out lies at the first one.
    """
    region = grown(floor, sheeting.upturn_mm)
    flat = affinity.rotate(region, -angle_deg, origin=(0.0, 0.0))
    _, low, _, high = flat.bounds
    width, step = sheeting.roll.width_mm, sheeting.roll.width_mm - sheeting.lap_mm
    count = strips_across(high - low, width, sheeting.lap_mm)
    start = high - width - (count - 1) * step if from_far else low
    bands = [(start + k * step, start + k * step + width) for k in range(count)]
    rows = [list(_parts(flat, v0, v1)) for v0, v1 in bands]
    strips = [
        (u0, u1, v0, v1) for (v0, v1), parts in zip(bands, rows, strict=True) for u0, u1 in parts
    ]
    numbered = tuple(Strip(number, *corners) for number, corners in enumerate(strips, 1))
    return StripPlan(angle_deg, numbered, _side_seam(rows), region)


def _parts(flat: BaseGeometry, v0: float, v1: float) -> Iterator[tuple[float, float]]:
    """From where to where the strip between two lines is needed."""
    low, _, high, _ = flat.bounds
    band = shapely.intersection(flat, shapely.box(low - 1.0, v0, high + 1.0, v1))
    spans = sorted(
        (part.bounds[0], part.bounds[2])
        for part in shapely.get_parts(band)
        if part.area > CRUMB_MM2
    )
    joined: list[tuple[float, float]] = []
    for u0, u1 in spans:
        if joined and u0 <= joined[-1][1] + BRIDGE_MM:
            joined[-1] = (joined[-1][0], max(joined[-1][1], u1))
        else:
            joined.append((u0, u1))
    yield from joined


def _side_seam(rows: Sequence[Sequence[tuple[float, float]]]) -> float:
    """How long strips of neighboring bands lie beside each other, in all [mm]."""
    return sum(
        max(0.0, min(a1, b1) - max(a0, b0))
        for here, there in pairwise(rows)
        for a0, a1 in here
        for b0, b1 in there
    )
