"""How far a floor floats along and across its rows, where it is narrow, and how it is parted.

A floor that hangs together grows and shrinks as one plate, so its floating length is the extent of
the whole connected part, not the longest straight line in it. All in plan axes, millimeters.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.geometry.frame import Floats

Line = tuple[tuple[float, float], tuple[float, float]]

CUT_MM = 0.02  # half of what a cut takes away, for the geometry's sake
REACH_MM = 60.0  # a cut is drawn out by this at both ends, into the walls
SPOT_MM = 20.0  # between places along a cut at which its two sides are looked at
BESIDE_MM = 2.0  # this far from a cut lies what is on its two sides
LEAST_SIDE_MM2 = 1.5e6  # less floor than this behind a narrow place is a niche
MERGE_MM = 600.0  # narrow places nearer to each other than this are one neck


@dataclass(frozen=True, slots=True)
class Extent:
    """Floating length of a connected floor along and across its rows [mm]."""

    along_mm: float
    across_mm: float


def extent_of(part: BaseGeometry) -> Extent:
    """The extent of a connected floor, or of several that float as one."""
    u0, v0, u1, v1 = part.bounds
    return Extent(u1 - u0, v1 - v0)


def cut_apart(floor: BaseGeometry, lines: Iterable[Line]) -> list[Polygon]:
    """The parts of a floor that is cut along some lines, drawn out a little at their ends."""
    strips = [LineString(drawn_out(line)).buffer(CUT_MM, cap_style="flat") for line in lines]
    rest = floor.difference(shapely.union_all(strips)) if strips else floor
    parts = [part for part in shapely.get_parts(rest) if isinstance(part, Polygon)]
    return [part for part in parts if part.area > 1.0]


def drawn_out(line: Line, by_mm: float = REACH_MM) -> Line:
    """The same line, longer at both ends."""
    (x0, y0), (x1, y1) = line
    length = math.dist(*line)
    dx, dy = (x1 - x0) / length * by_mm, (y1 - y0) / length * by_mm
    return (x0 - dx, y0 - dy), (x1 + dx, y1 + dy)


def from_rim_to_rim(floor: BaseGeometry, line: Line) -> Line:
    """A line drawn out, or shortened, to where the floor ends, if it ends within reach."""
    inside = floor.intersection(LineString(drawn_out(line)))
    middle = shapely.Point((np.array(line[0]) + np.array(line[1])) / 2.0)
    for part in shapely.get_parts(inside):
        if isinstance(part, LineString) and part.distance(middle) < 1.0:
            (x0, y0, *_), (x1, y1, *_) = part.coords[0], part.coords[-1]
            if math.dist((x0, y0), (x1, y1)) > 1.0:
                return (x0, y0), (x1, y1)
    return line


def sides_of(line: Line, parts: Sequence[Polygon]) -> list[tuple[int, int]]:
    """Pairs of parts (by index) that face each other across a cut; none where there is no floor."""
    start, end = np.array(line)
    step = (end - start) / math.dist(*line)
    normal = np.array([-step[1], step[0]]) * BESIDE_MM
    count = math.ceil(math.dist(*line) / SPOT_MM) + 1
    spots = start + np.linspace(0.0, 1.0, count + 2)[1:-1, None] * (end - start)
    tree = shapely.STRtree(list(parts))
    facing: list[dict[int, int]] = []
    for side in (spots + normal, spots - normal):
        at, part = tree.query(shapely.points(side), predicate="covered_by")
        facing.append(dict(zip(at.tolist(), part.tolist(), strict=True)))
    left, right = facing
    return sorted({(left[at], right[at]) for at in left.keys() & right.keys()})


def chords(floor: BaseGeometry, axis: int, at: float) -> list[Line]:
    """Where a line across an axis (0: u, 1: v) lies inside a floor, as chords in order."""
    low, high = floor.bounds[1 - axis] - 1.0, floor.bounds[3 - axis] + 1.0
    ends = [(at, low), (at, high)] if axis == 0 else [(low, at), (high, at)]
    inside = floor.intersection(LineString(ends))
    lines = [part for part in shapely.get_parts(inside) if isinstance(part, LineString)]
    found: list[Line] = []
    for part in lines:
        (x0, y0, *_), (x1, y1, *_) = part.coords[0], part.coords[-1]
        found.append(min(((x0, y0), (x1, y1)), ((x1, y1), (x0, y0))))
    return sorted(line for line in found if math.dist(*line) > 1.0)


def necks(floor: Polygon, narrow_mm: float) -> list[Line]:
    """Narrow places along or across the rows, with more floor on both sides; shortest first.

    Looked for at every corner that stands out into the floor. Of several that lie close to each
    other, as the two faces of a wall do, the middle one is kept.
    """
    found: list[Line] = []
    for u, v in _corners_in(floor):
        for axis, at in ((0, u), (1, v)):
            found += [
                line
                for line in chords(floor, axis, at)
                if math.dist(*line) <= narrow_mm and _touches(line, (u, v))
            ]
    distinct = sorted(set(found), key=lambda line: (round(math.dist(*line), 1), line))
    groups: list[list[Line]] = []
    for line in distinct:
        for group in groups:
            if _near(group[0], line):
                group.append(line)
                break
        else:
            groups.append([line])
    middles = [_middle(group) for group in groups]
    return [line for line in middles if _parts_floor(floor, line)]


def _corners_in(floor: Polygon) -> Iterator[tuple[float, float]]:
    """Corners at which the floor's rim turns round something that stands out into it."""
    for number, ring in enumerate((floor.exterior, *floor.interiors)):
        points = shapely.get_coordinates(ring)[:-1]
        before, after = np.roll(points, 1, axis=0), np.roll(points, -1, axis=0)
        inward, outward = points - before, after - points
        turn = inward[:, 0] * outward[:, 1] - inward[:, 1] * outward[:, 0]
        left = ring.is_ccw == (number == 0)
        hollow = turn < 0.0 if left else turn > 0.0
        yield from ((float(u), float(v)) for u, v in points[hollow])


def _touches(line: Line, point: tuple[float, float]) -> bool:
    return any(math.dist(end, point) < 1.0 for end in line)


def _near(one: Line, other: Line) -> bool:
    """Whether two chords run the same way, close to each other and beside each other."""
    a, b = np.array(one), np.array(other)
    if abs(np.dot(_way(a), _way(b))) < 0.99:
        return False
    middle = b.mean(axis=0) - a.mean(axis=0)
    aside = abs(np.dot(middle, _way(a)))
    return bool(np.linalg.norm(middle) < MERGE_MM and aside < math.dist(*one) / 2.0)


def _way(line: Floats) -> Floats:
    step = line[1] - line[0]
    return np.asarray(step / np.linalg.norm(step))


def _middle(group: Sequence[Line]) -> Line:
    """The shortest of a group, moved to the middle between it and the others as short."""
    shortest = math.dist(*group[0])
    alike = np.array([line for line in group if math.dist(*line) < shortest + 1.0])
    low, high = alike.min(axis=0), alike.max(axis=0)
    (x0, y0), (x1, y1) = ((low + high) / 2.0).tolist()
    return (x0, y0), (x1, y1)


def _parts_floor(floor: Polygon, line: Line) -> bool:
    """Whether a cut there leaves some floor on both sides."""
    parts = cut_apart(floor, [line])
    return len(parts) > 1 and sorted(part.area for part in parts)[-2] >= LEAST_SIDE_MM2
