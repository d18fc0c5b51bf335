"""Posts and stairs in somebody else's drawing, as fixed things of the rooms they stand in."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.files.job_fixed import circumscribed
from plankwright.model.room import FixedKind, FixedThing

THIN_MM = 5.0  # what reaches no farther into a room stands in its wall
LEAST_FOOT_MM2 = 2_000.0
STRAIGHT_MM = 0.5


@dataclass(frozen=True, slots=True)
class Foot:
    """What a post or a stair covers of the floor [mm].

    Parameters
    ----------
    circle : center x, center y and diameter where it is round.
    """

    kind: FixedKind
    shape: BaseGeometry
    circle: tuple[float, float, float] | None = None


def fixed_in(outline: Polygon, feet: Iterable[Foot]) -> Iterator[FixedThing]:
    """The feet that stand within a room's outline, cut at its walls; none lies on another."""
    inner = outline.buffer(-THIN_MM)
    taken: BaseGeometry = Polygon()
    for foot in feet:
        if not foot.shape.intersects(inner):
            continue
        if foot.circle and inner.contains(foot.shape) and not taken.intersects(foot.shape):
            parts = [circumscribed(foot.circle)]
        else:
            foot = Foot(foot.kind, foot.shape)
            parts = _wholes(foot.shape.intersection(outline).difference(taken))
        for part in parts:
            taken = taken.union(part)
            yield FixedThing(foot.kind, part, name=foot.kind, circle=foot.circle)


def _wholes(shape: BaseGeometry) -> list[Polygon]:
    """The parts that are large enough to be looked at, without holes."""
    return [
        Polygon(part.exterior).simplify(STRAIGHT_MM)
        for part in shapely.get_parts(shape)
        if isinstance(part, Polygon) and part.area >= LEAST_FOOT_MM2
    ]
