"""Hatch lines clipped to an area: plain lines that every player and printer can draw."""

import math
from collections.abc import Iterator

from plankwright.drawing.scene import Area, Point
from plankwright.drawing.style import Hatch

Segment = tuple[Point, Point]


def hatch_lines(area: Area, hatch: Hatch) -> Iterator[Segment]:
    """The lines of a hatch inside an area, holes left out.

    The lines lie on one grid for the whole sheet, so that areas side by side show one pattern.
    """
    for angle_deg in hatch.angles_deg:
        yield from _family(area, angle_deg, hatch.spacing_mm)


def _family(area: Area, angle_deg: float, spacing_mm: float) -> Iterator[Segment]:
    """Lines of one angle: the area is turned until they lie level, then cut at each level."""
    angle = math.radians(angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    rings = [
        [(x * cos - y * sin, x * sin + y * cos) for x, y in ring]
        for ring in (area.outline, *area.holes)
    ]
    levels = [y for ring in rings for _, y in ring]
    for step in range(
        math.ceil(min(levels) / spacing_mm), math.floor(max(levels) / spacing_mm) + 1
    ):
        level = step * spacing_mm
        crossings = sorted(x for ring in rings for x in _crossings(ring, level))
        for first, last in zip(crossings[::2], crossings[1::2], strict=True):
            if last - first > 0.05:
                yield (
                    (first * cos + level * sin, -first * sin + level * cos),
                    (last * cos + level * sin, -last * sin + level * cos),
                )


def _crossings(ring: list[Point], level: float) -> Iterator[float]:
    """Where a ring crosses a level; a corner on it belongs to the edge above, so pairs match."""
    for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (ya <= level) != (yb <= level):
            yield xa + (xb - xa) * (level - ya) / (yb - ya)
