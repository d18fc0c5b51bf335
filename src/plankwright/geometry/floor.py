"""The floor: the outline moved in by the gap of each edge, less fixed things, plus recesses.

Corners are mitered. A recess reaches from inside the gap line through the wall's plane to the
transition, less the transition's setback (half its stem and its gap) and less the gaps behind
the jambs.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.errors import RoomError
from plankwright.model.findings import Finding
from plankwright.model.plan import Overhang, PlanFixed, Recess
from plankwright.model.room import (
    HANGING,
    PANEL_GAP_MM,
    Break,
    Doorway,
    Edge,
    FixedThing,
    Point,
    Room,
)
from plankwright.model.rules import Rules
from plankwright.units import Unit, format_area, format_length

MITER_LIMIT = 5.0
THREAD_MM = 0.02
THINNEST_MM = 0.2  # a scrap that vanishes when moved in by this is no floor


@dataclass(frozen=True, slots=True)
class Floor:
    """What the pieces must cover, with what it was made of.

    Parameters
    ----------
    parts : the floor [mm], one polygon for each part that is planned by itself.
    fixed : the fixed things with the gaps that were kept.
    recesses : what was added beyond the inset outline.
    overhangs : what hangs over the floor.
    findings : what was odd.
    """

    parts: MultiPolygon
    fixed: tuple[PlanFixed, ...]
    recesses: tuple[Recess, ...]
    findings: tuple[Finding, ...]
    overhangs: tuple[Overhang, ...] = ()


def build_floor(room: Room, rules: Rules, unit: Unit = "mm") -> Floor:
    """The floor of a room (design section 3); it may be empty, which is a finding.

    A room that its gaps part into several floors gives several parts and a finding. Findings tell
    lengths in ``unit``.

    Raises
    ------
    RoomError : a doorway leads into the room itself.
    """
    fixed = (
        *(_fixed(thing, rules) for thing in room.fixed if thing.kind not in HANGING),
        *(_break(line, rules) for line in room.breaks),
    )
    edges = {edge.name: edge for edge in room.edges()}
    recesses = tuple(
        recess
        for doorway in room.doorways
        for recess in _recesses(doorway, edges[doorway.edge], room, rules)
    )
    floor = inset(room, rules.gap_mm)
    for recess in recesses:
        floor = floor.union(recess.outline)
    for thing in fixed:
        floor = floor.difference(grow(thing.outline, thing.gap_mm))
    parts = _parts(floor)
    findings = (*_findings(room, parts, unit), *_odd_gaps(room, fixed, rules, unit))
    return Floor(MultiPolygon(parts), fixed, recesses, findings, tuple(_overhangs(room, rules)))


def _fixed(thing: FixedThing, rules: Rules) -> PlanFixed:
    """A fixed thing with its gap; of a panel the cut round it."""
    if thing.kind == "panel":
        cut = max(PANEL_GAP_MM if thing.gap_mm is None else thing.gap_mm, THINNEST_MM)
        round_it = thing.outline.difference(grow(thing.outline, -cut))
        return PlanFixed(thing.kind, max(_parts(round_it), key=_size), 0.0, thing.name)
    gap = rules.gap_mm if thing.gap_mm is None else thing.gap_mm
    return PlanFixed(thing.kind, thing.outline, gap, thing.name)


def _size(part: Polygon) -> float:
    return float(part.area)


def _break(line: Break, rules: Rules) -> PlanFixed:
    """The strip that a molding's stem takes, drawn out into the walls at both its ends."""
    gap = rules.gap_mm if line.gap_mm is None else line.gap_mm
    (ax, ay), (bx, by) = line.start, line.end
    length = math.dist(line.start, line.end)
    dx, dy = (bx - ax) / length, (by - ay) / length
    reach = gap + line.stem_mm
    along = LineString([(ax - dx * reach, ay - dy * reach), (bx + dx * reach, by + dy * reach)])
    strip = along.buffer(line.stem_mm / 2.0, cap_style="flat")
    return PlanFixed("expansion break", strip, gap, line.name)


def _overhangs(room: Room, rules: Rules) -> Iterator[Overhang]:
    """What hangs over the floor: toe-kicks, radiators and undercut jambs."""
    for thing in room.fixed:
        if thing.kind in HANGING:
            yield Overhang(thing.kind, thing.outline, thing.clearance_mm, thing.name)
    edges = {edge.name: edge for edge in room.edges()}
    for doorway in room.doorways:
        gap = rules.gap_mm if doorway.gap_mm is None else doorway.gap_mm
        reach = doorway.depth_mm - doorway.stem_mm / 2.0 - gap
        aside = doorway.undercut_mm - gap
        first, last = doorway.from_corner_mm, doorway.from_corner_mm + doorway.width_mm
        if reach > 0.0 and aside > 0.0:
            for low, high in ((first - aside, first), (last, last + aside)):
                outline = _beyond_wall(edges[doorway.edge], room, low, high, 0.0, reach)
                name = f"jamb of the {doorway.name}" if doorway.name else ""
                yield Overhang("jamb", outline, doorway.undercut_height_mm, name)


def inset(room: Room, gap_mm: float) -> BaseGeometry:
    """The outline moved in by the gap of each edge, mitered corners."""
    own = dict(room.edge_gaps)
    gaps = {edge.name: own.get(edge.name, gap_mm) for edge in room.edges()}
    least = min(gaps.values())
    floor: BaseGeometry = room.outline
    if least > 0.0:
        floor = floor.buffer(-least, join_style="mitre", mitre_limit=MITER_LIMIT)
    if max(gaps.values()) > least:
        floor = _without_threads(floor.difference(_wide_gaps(room, gaps, least)))
    return floor


def _without_threads(floor: BaseGeometry) -> BaseGeometry:
    """The same floor without the threads that rounding leaves between strips."""
    thin = THREAD_MM
    inner = floor.buffer(-thin, join_style="mitre", mitre_limit=MITER_LIMIT)
    opened: BaseGeometry = inner.buffer(thin, join_style="mitre", mitre_limit=MITER_LIMIT)
    return opened


def grow(outline: Polygon, gap_mm: float) -> BaseGeometry:
    """A fixed thing with its gap round it, mitered corners."""
    if gap_mm == 0.0:
        return outline
    return outline.buffer(gap_mm, join_style="mitre", mitre_limit=MITER_LIMIT)


def _wide_gaps(room: Room, gaps: dict[str, float], least: float) -> BaseGeometry:
    """The gaps of the edges whose gap is more than the least one, with their mitered corners."""
    edges = list(room.edges())
    outgoing = {edge.start: edge for edge in edges}
    strips: list[BaseGeometry] = []
    for edge in edges:
        after = outgoing[edge.end]
        if gaps[edge.name] > least:
            strips.append(_strip(edge, room, gaps[edge.name]))
        if max(gaps[edge.name], gaps[after.name]) > least:
            strips.extend(_corner(edge, after, room, gaps[edge.name], gaps[after.name]))
    return shapely.union_all(strips)


def _inward(edge: Edge, room: Room) -> Point:
    """Unit normal of an edge, pointing into the room."""
    (x0, y0), (x1, y1) = edge.start, edge.end
    length = edge.length_mm
    left = (-(y1 - y0) / length, (x1 - x0) / length)
    is_hole = edge.name[0].isdigit()
    ring = (
        room.outline.interiors[int("".join(filter(str.isdigit, edge.name.split("-")[0]))) - 1]
        if is_hole
        else room.outline.exterior
    )
    inside_is_left = ring.is_ccw != is_hole
    return left if inside_is_left else (-left[0], -left[1])


def _strip(edge: Edge, room: Room, gap_mm: float) -> Polygon:
    (nx, ny), (ax, ay), (bx, by) = _inward(edge, room), edge.start, edge.end
    return Polygon(
        [
            (ax, ay),
            (bx, by),
            (bx + nx * gap_mm, by + ny * gap_mm),
            (ax + nx * gap_mm, ay + ny * gap_mm),
        ]
    )


def _corner(edge: Edge, after: Edge, room: Room, gap: float, gap_after: float) -> list[Polygon]:
    """What two gaps need at their corner beyond their strips, so that the offset lines meet.

    The lines meet at the tip. A strip is drawn out to it wherever the tip lies beyond the strip's
    end: at both walls where these stand out into the room, and at the wall with the wider gap
    where an obtuse corner parts two unequal gaps. A tip too far off is cut off squarely.
    """
    n1, n2 = _inward(edge, room), _inward(after, room)
    cross = n1[0] * n2[1] - n1[1] * n2[0]
    if abs(cross) < 1e-9:
        return []
    corner = edge.end
    tip = (
        corner[0] + (gap * n2[1] - gap_after * n1[1]) / cross,
        corner[1] + (gap_after * n1[0] - gap * n2[0]) / cross,
    )
    beyond = _along(edge, tip) > edge.length_mm
    before = _along(after, tip) < 0.0
    far = math.dist(tip, corner) / (MITER_LIMIT * max(gap, gap_after))
    if beyond and before and far > 1.0:
        feet = _off(corner, n1, gap), _off(corner, n2, gap_after)
        cut = [_toward(foot, tip, _share_to_limit(corner, foot, tip, far)) for foot in feet]
        return [Polygon([corner, feet[0], *cut, feet[1]])]
    drawn_out = []
    if beyond:
        drawn_out.append(Polygon([corner, _off(corner, n1, gap), tip]))
    if before:
        drawn_out.append(Polygon([corner, _off(corner, n2, gap_after), tip]))
    return [part for part in drawn_out if part.area > 0.0]


def _share_to_limit(corner: Point, foot: Point, tip: Point, far: float) -> float:
    """Where the way from a foot to a tip ``far`` limits off is as far out as the limit."""
    out = (tip[0] - corner[0], tip[1] - corner[1])
    length = math.hypot(*out)
    begun = ((foot[0] - corner[0]) * out[0] + (foot[1] - corner[1]) * out[1]) / length
    return max((length / far - begun) / (length - begun), 0.0)


def _toward(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _along(edge: Edge, point: Point) -> float:
    """How far along an edge the foot of a point lies [mm]."""
    (x0, y0), (x1, y1) = edge.start, edge.end
    return ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / edge.length_mm


def _off(point: Point, normal: Point, gap: float) -> Point:
    return point[0] + normal[0] * gap, point[1] + normal[1] * gap


def _recesses(doorway: Doorway, edge: Edge, room: Room, rules: Rules) -> list[Recess]:
    """What a doorway adds: the opening, and the place under its jambs where they are undercut."""
    gap = rules.gap_mm if doorway.gap_mm is None else doorway.gap_mm
    wall_gap = dict(room.edge_gaps).get(edge.name, rules.gap_mm)
    reach = doorway.depth_mm - doorway.stem_mm / 2.0 - gap
    first, last = doorway.from_corner_mm, doorway.from_corner_mm + doorway.width_mm
    if reach <= 0.0:  # the transition lies within the gap: the floor stops at the wall
        return []
    aside = max(doorway.undercut_mm - gap, 0.0) if doorway.undercut_mm > 0.0 else -gap
    outline = _beyond_wall(edge, room, first - aside, last + aside, wall_gap + 1.0, reach)
    _require_wall(doorway, _beyond_wall(edge, room, first - aside, last + aside, 0.0, reach), room)
    kind = "doorway" if doorway.undercut_mm <= 0.0 else "doorway with undercut jambs"
    return [Recess(kind, outline)] if outline.area > 0.0 else []


def _require_wall(doorway: Doorway, beyond: Polygon, room: Room) -> None:
    """Refuse a doorway that comes out in the room again: deeper than its wall is thick."""
    if beyond.intersection(room.outline).area > 1.0:
        raise RoomError(
            "the doorway leads through its wall, or past its end, into the room again",
            where=doorway.name or f"doorway in {doorway.edge}",
            value_mm=doorway.depth_mm,
            remedy="Measure its depth from the wall's face to the middle of the transition, and "
            "look whether it stands in the right wall.",
        )


def _beyond_wall(
    edge: Edge, room: Room, first: float, last: float, inside: float, outside: float
) -> Polygon:
    """A rectangle on a wall: from ``first`` to ``last`` along it, ``outside`` beyond its face."""
    if last <= first:
        return Polygon()
    (nx, ny), (ax, ay), (bx, by) = _inward(edge, room), edge.start, edge.end
    dx, dy = (bx - ax) / edge.length_mm, (by - ay) / edge.length_mm

    def at(along: float, into: float) -> Point:
        return ax + dx * along + nx * into, ay + dy * along + ny * into

    return Polygon([at(first, inside), at(last, inside), at(last, -outside), at(first, -outside)])


def _parts(floor: BaseGeometry) -> list[Polygon]:
    """The polygons of a floor, largest first, without scraps that are no floor."""
    polygons = [part for part in shapely.get_parts(floor) if isinstance(part, Polygon)]
    whole = [part for part in polygons if not part.buffer(-THINNEST_MM).is_empty]
    cleaned = [part.simplify(0.0) for part in whole]
    return sorted(cleaned, key=lambda part: (-round(part.area, 3), part.bounds))


def _findings(room: Room, parts: list[Polygon], unit: Unit) -> tuple[Finding, ...]:
    panels = [thing.outline for thing in room.fixed if thing.kind == "panel"]
    parts = [part for part in parts if not any(panel.covers(part) for panel in panels)]
    if not parts:
        return (
            Finding(
                "floor-vanishes",
                "room",
                "the gaps leave no floor",
                "Check the gap and the unit of the room.",
            ),
        )
    if len(parts) > 1 and not room.breaks:
        areas = ", ".join(format_area(part.area / 1e6, unit) for part in parts[:6])
        return (
            Finding(
                "floor-split",
                "room",
                f"the gaps part the room into {len(parts)} floors ({areas})",
                "Each is planned by itself, on the same row lines.",
            ),
        )
    return ()


def _odd_gaps(
    room: Room, fixed: tuple[PlanFixed, ...], rules: Rules, unit: Unit
) -> Iterator[Finding]:
    """A finding for every gap that trim does not cover, or that the leaflet does not allow."""
    own = dict(room.edge_gaps)
    gaps = [(edge.name, own.get(edge.name, rules.gap_mm)) for edge in room.edges()]
    gaps += [(thing.name or thing.kind, thing.gap_mm) for thing in fixed if thing.kind != "panel"]
    for place, gap in gaps:
        if gap > rules.trim_cover_mm:
            yield Finding(
                "gap-uncovered",
                place,
                f"its gap of {format_length(gap, unit, rounding='up')} is wider than the "
                f"{format_length(rules.trim_cover_mm, unit)} that the trim covers",
                "Take wider trim, or a smaller gap if the leaflet allows it.",
            )
        if rules.least_gap_mm is not None and gap < rules.least_gap_mm:
            yield Finding(
                "gap-too-small",
                place,
                f"its gap of {format_length(gap, unit, rounding='down')} is narrower than the "
                f"{format_length(rules.least_gap_mm, unit)} that the leaflet wants at the least",
                "Leave a wider gap there, or ask the maker whether this one will do.",
            )
