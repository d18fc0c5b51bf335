"""The floor: the outline moved in by every edge's gap, less fixed things, plus recesses.

Proven from both sides. *Not too near*: no point of the floor, recesses apart, comes nearer to a
wall or fixed thing than its gap. *Not too far*: the floor covers the outline less the gap zones,
where a zone is the strip along an edge as wide as its gap, drawn out at both ends to where it
meets its neighbors' (mitered corners).
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import LinearRing, LineString, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.checker.verdict import Fault
from plankwright.checker.view import TOLERANCE_MM, wide_parts
from plankwright.model.plan import Laying, Plan
from plankwright.model.room import corner_name

NEARER_MM = 0.1  # a gap may be this much under its length: rounding, not carpentry
MITER_LIMIT = 5.0  # a mitered corner reaches at most this many gaps from its corner
THREAD_MM = 0.2  # floor in a gap zone thinner than this is rounding
CUT_OFF = 1.03  # a corner cut off squarely at the limit has its own corners at sqrt(26) / 5 of it
RECESS_OVERLAP_MM = 10.0  # how far a recess may begin inside the gap line

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Wall:
    """One edge of the outline: its name, its two corners, the floor's side and its gap."""

    name: str
    start: Point
    end: Point
    normal: Point
    gap: float

    @property
    def line(self) -> LineString:
        """The edge as a line."""
        return LineString([self.start, self.end])


def floor_faults(plan: Plan) -> Iterator[Fault]:
    """Gaps too narrow, floor missing, recesses that are none, gaps that the trim cannot cover."""
    walls = walls_of(plan)
    yield from _unknown_edges(plan, walls)
    yield from _odd_gaps(plan, walls)
    zone = shapely.union_all([strip for wall in _rings(walls) for strip in _zone(wall)])
    inset = plan.room.difference(zone)
    yield from _recess_faults(plan, zone, inset)
    yield from _too_near(plan, walls)
    yield from _too_far(plan, walls, inset)


def walls_of(plan: Plan) -> list[Wall]:
    """Every wall, named after its two corners, with its gap."""
    gaps = dict(plan.edges)
    walls: list[Wall] = []
    for number, ring in enumerate((plan.room.exterior, *plan.room.interiors)):
        walls.extend(_ring_walls(ring, str(number or ""), number > 0, gaps, plan.rules.gap_mm))
    return walls


def _ring_walls(
    ring: LinearRing, prefix: str, is_hole: bool, gaps: dict[str, float], usual: float
) -> Iterator[Wall]:
    corners = [(x, y) for x, y, *_ in ring.coords[:-1]]
    inside = 1.0 if ring.is_ccw != is_hole else -1.0
    for i, start in enumerate(corners):
        j = (i + 1) % len(corners)
        end = corners[j]
        name = f"{prefix}{corner_name(i)}-{prefix}{corner_name(j)}"
        length = math.dist(start, end)
        if length > 0.0:
            normal = (
                -inside * (end[1] - start[1]) / length,
                inside * (end[0] - start[0]) / length,
            )
            yield Wall(name, start, end, normal, gaps.get(name, usual))


def _rings(walls: list[Wall]) -> list[list[Wall]]:
    """Walls parted into closed rings: a ring ends where the next wall begins elsewhere."""
    rings: list[list[Wall]] = []
    for wall in walls:
        if rings and rings[-1][-1].end == wall.start and rings[-1][0].start != wall.start:
            rings[-1].append(wall)
        else:
            rings.append([wall])
    return rings


def _zone(ring: list[Wall]) -> Iterator[BaseGeometry]:
    """The gap zone of a ring of walls: a strip for each, and what their corners add."""
    for wall, after in zip(ring, ring[1:] + ring[:1], strict=True):
        if wall.gap > 0.0:
            yield Polygon([wall.start, wall.end, _off(wall.end, wall), _off(wall.start, wall)])
        yield from _miter(wall, after)


def _off(point: Point, wall: Wall) -> Point:
    return point[0] + wall.normal[0] * wall.gap, point[1] + wall.normal[1] * wall.gap


def _miter(wall: Wall, after: Wall) -> Iterator[BaseGeometry]:
    """What two gaps add at their corner, up to the tip where their inner edges meet.

    Where the walls stand out into the room, both strips are drawn out to the tip, at most
    :data:`MITER_LIMIT` gaps far. Where they meet in an obtuse corner of the room, the strip of
    the wider gap is drawn out beyond its wall.
    """
    turn = wall.normal[0] * after.normal[1] - wall.normal[1] * after.normal[0]
    if abs(turn) < 1e-9:
        return
    corner = wall.end
    tip = (
        corner[0] + (wall.gap * after.normal[1] - after.gap * wall.normal[1]) / turn,
        corner[1] + (after.gap * wall.normal[0] - wall.gap * after.normal[0]) / turn,
    )
    beyond = _along(wall, corner, tip) > 0.0
    before = _along(after, corner, tip) < 0.0
    reach = MITER_LIMIT * max(wall.gap, after.gap)
    for side, drawn_out in ((wall, beyond), (after, before)):
        if drawn_out and side.gap > 0.0:
            part = Polygon([corner, _off(corner, side), tip])
            far = beyond and before and math.dist(tip, corner) > reach
            yield part.intersection(shapely.Point(corner).buffer(reach * CUT_OFF)) if far else part


def _along(wall: Wall, start: Point, end: Point) -> float:
    """How far a step leads along a wall."""
    u, v = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
    return ((end[0] - start[0]) * u + (end[1] - start[1]) * v) / math.hypot(u, v)


def _unknown_edges(plan: Plan, walls: list[Wall]) -> Iterator[Fault]:
    names = {wall.name for wall in walls}
    for name, _ in plan.edges:
        if name not in names:
            yield Fault("edge", name, "a gap is given for a wall that does not exist")
    if plan.laying.start_wall not in names:
        yield Fault("edge", plan.laying.start_wall, "is called the start wall, but does not exist")
    for wall in walls:
        if wall.name == plan.laying.start_wall and _across(plan.laying, wall) <= 0.0:
            yield Fault("start-wall", wall.name, "the rows do not lead away from this wall")


def _across(laying: Laying, wall: Wall) -> float:
    """How far one step into the room from a wall leads across the rows, away from row 1."""
    turn = math.radians(laying.row_angle_deg + (90.0 if laying.laid == "right-to-left" else -90.0))
    return wall.normal[0] * math.cos(turn) + wall.normal[1] * math.sin(turn)


def _odd_gaps(plan: Plan, walls: list[Wall]) -> Iterator[Fault]:
    cover, least = plan.rules.trim_cover_mm, plan.rules.least_gap_mm
    gaps = [(wall.name, wall.gap) for wall in walls]
    gaps += [(t.name or t.kind, t.gap_mm) for t in plan.fixed if t.kind != "panel"]
    for place, gap in gaps:
        if gap > cover + NEARER_MM:
            yield Fault(
                "gap-uncovered",
                place,
                f"its gap of {gap:g} mm is wider than trim covers ({cover:g})",
            )
        if least is not None and gap < least - NEARER_MM:
            yield Fault(
                "gap-too-small", place, f"its gap is {gap:g} mm, the leaflet wants {least:g} mm"
            )


def _recess_faults(plan: Plan, zone: BaseGeometry, inset: BaseGeometry) -> Iterator[Fault]:
    """A recess begins at the gap line, no farther inside, and goes through the wall's plane."""
    near_walls = shapely.buffer(plan.room.boundary, RECESS_OVERLAP_MM).union(
        shapely.buffer(zone, RECESS_OVERLAP_MM)
    )
    for number, recess in enumerate(plan.recesses, start=1):
        place = f"recess {number} ({recess.kind})"
        if not wide_parts(recess.outline.difference(plan.room)):
            yield Fault("recess", place, "does not go through the wall's plane")
        elif shapely.distance(recess.outline, inset) > TOLERANCE_MM:
            yield Fault("recess", place, "does not begin inside the gap line")
        elif wide_parts(recess.outline.intersection(plan.room).difference(near_walls)):
            yield Fault("recess", place, "reaches into the room, where the gaps rule")


def _too_near(plan: Plan, walls: list[Wall]) -> Iterator[Fault]:
    """Walls and fixed things to which the floor comes nearer than their gap."""
    recesses = shapely.buffer([recess.outline for recess in plan.recesses], NEARER_MM / 2.0)
    inner = plan.floor.difference(shapely.union_all(recesses)) if plan.recesses else plan.floor
    for part in wide_parts(inner.difference(plan.room)):
        yield Fault("gap", _nearest(part, walls), f"the floor reaches beyond it near {_at(part)}")
    shapely.prepare(inner)
    lines = np.array([wall.line for wall in walls])
    gaps = np.array([wall.gap for wall in walls])
    near = shapely.dwithin(inner, lines, np.maximum(gaps - NEARER_MM, 0.0)) & (gaps > NEARER_MM)
    if near.any():
        near &= shapely.dwithin(_in_gap_zone(inner, walls), lines, gaps)
    for i in np.flatnonzero(near):
        distance = shapely.distance(inner, lines[i])
        yield Fault("gap", walls[i].name, f"its gap is {distance:.1f} mm, not {gaps[i]:g} mm")
    for thing in plan.fixed:
        place = thing.name or thing.kind
        distance = shapely.distance(plan.floor, thing.outline)
        if distance < thing.gap_mm - NEARER_MM:
            yield Fault("gap", place, f"its gap is {distance:.1f} mm, not {thing.gap_mm:g} mm")
        elif thing.gap_mm <= NEARER_MM and wide_parts(plan.floor.intersection(thing.outline)):
            yield Fault("gap", place, "the floor runs under it")


def _in_gap_zone(floor: BaseGeometry, walls: list[Wall]) -> BaseGeometry:
    """The floor that lies in a gap.

    Where a narrower gap meets a wider one at a corner that stands out into the room, the floor
    may come nearer to the wider one's wall than its gap: past the wall's end, beside the other.
    """
    tight = [replace(wall, gap=max(wall.gap - NEARER_MM, 0.0)) for wall in walls]
    zones = [strip for ring in _rings(tight) for strip in _zone(ring)]
    return shapely.union_all(wide_parts(floor.intersection(shapely.union_all(zones)), THREAD_MM))


def _too_far(plan: Plan, walls: list[Wall], inset: BaseGeometry) -> Iterator[Fault]:
    """Where the floor should be and is not."""
    full = shapely.union_all([inset, *(recess.outline for recess in plan.recesses)])
    zones = [zone for thing in plan.fixed for zone in _fixed_zone(thing.outline, thing.gap_mm)]
    missing = full.difference(plan.floor).difference(shapely.union_all(zones))
    for part in wide_parts(missing):
        yield Fault(
            "floor-short",
            _nearest(part, walls, plan),
            f"the floor stops short of its gap by {part.area:.0f} mm² near {_at(part)}",
        )


def _fixed_zone(outline: Polygon, gap: float) -> Iterator[BaseGeometry]:
    """A fixed thing with its gap round it, seen as a ring of walls that stand in the room."""
    yield outline
    if gap > 0.0:
        yield from _zone(list(_ring_walls(outline.exterior, "", True, {}, gap)))


def _nearest(part: Polygon, walls: list[Wall], plan: Plan | None = None) -> str:
    """Name of the wall or fixed thing nearest to a place."""
    middle = shapely.point_on_surface(part)
    places: list[tuple[str, BaseGeometry]] = [(wall.name, wall.line) for wall in walls]
    places += [(thing.name or thing.kind, thing.outline) for thing in plan.fixed] if plan else []
    return min(places, key=lambda place: float(shapely.distance(middle, place[1])))[0]


def _at(part: Polygon) -> str:
    point = shapely.point_on_surface(part)
    return f"x {point.x:.1f}, y {point.y:.1f}"
