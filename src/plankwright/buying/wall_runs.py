"""Runs of trim: every wall and fixed thing the floor meets, corner by corner, doorways left out.

A run is an unbroken stretch of trim from one end to the next: a corner, or a place where trim
stops (a door casing, a cabinet, a hearth). Looking at the wall, a run's near end is at the right
hand: runs follow each other with the floor at the left hand.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from plankwright.model.plan import Plan
from plankwright.model.room import Doorway, Edge, Point, Room

EndKind = Literal["inside", "outside", "square"]

STRAIGHT_DEG = 2.0  # edges that turn less run on as one wall
TOUCH_MM = 0.05
SHORTEST_MM = 5.0  # a run shorter than this is a crumb
NO_TRIM = frozenset({"cabinet", "hearth"})  # toe-kick panels and end caps cover there


@dataclass(frozen=True, slots=True)
class Opening:
    """A part of a wall without trim: from and to along the edge [mm]."""

    edge: str
    start_mm: float
    end_mm: float


@dataclass(frozen=True, slots=True)
class RunEnd:
    """An end of a run: the kind of corner and by how many degrees the wall turns there."""

    kind: EndKind
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Run:
    """An unbroken stretch of trim.

    Parameters
    ----------
    where : its wall, ``"A-B"``, or the fixed thing.
    length_mm : along the wall.
    near, far : its ends; near is at the right hand of a person who looks at the wall.
    start, end : its ends in room coordinates.
    """

    where: str
    length_mm: float
    near: RunEnd
    far: RunEnd
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class _Segment:
    """A straight part of the boundary; ``where`` empty when it bears no trim."""

    where: str
    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        return math.dist(self.start, self.end)

    @property
    def heading_deg(self) -> float:
        return math.degrees(math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0]))


def openings_of(doorways: Sequence[Doorway], casing_mm: float = 0.0) -> tuple[Opening, ...]:
    """The doorways as openings, their casings taken in."""
    return tuple(
        Opening(d.edge, d.from_corner_mm - casing_mm, d.from_corner_mm + d.width_mm + casing_mm)
        for d in doorways
    )


def openings_in_plan(plan: Plan) -> tuple[Opening, ...]:
    """The doorways that a plan file still tells: where the floor runs out through a wall."""
    found = []
    for edge in Room(plan.room).edges():
        line = shapely.LineString([edge.start, edge.end])
        for recess in plan.recesses:
            across = line.intersection(recess.outline)
            if across.length > SHORTEST_MM:
                ends = sorted(line.project(shapely.Point(xy)) for xy in _ends(across))
                found.append(Opening(edge.name, ends[0], ends[-1]))
    return tuple(found)


def wall_runs(
    outline: Polygon,
    fixed: Sequence[tuple[str, str, Polygon]] = (),
    openings: Sequence[Opening] = (),
) -> tuple[Run, ...]:
    """The runs of trim of a room.

    Parameters
    ----------
    outline : the walls' faces.
    fixed : kind, name and outline of what stands on the floor; round things left out.
    openings : parts of walls without trim.
    """
    free = shapely.difference(outline, shapely.union_all([shape for _, _, shape in fixed]))
    edges = {edge.name: edge for edge in Room(outline).edges()}
    labels = _Labels(tuple(edges.values()), fixed)
    runs: list[Run] = []
    for ring in _rings(free):
        segments = [
            part for segment in _labeled(ring, labels) for part in _opened(segment, edges,
                                                                                 openings)
        ]  # fmt: skip
        runs += _runs_of_ring(segments)
    return tuple(run for run in runs if run.length_mm >= SHORTEST_MM)


def edge_length_mm(
    outline: Polygon, fixed: Sequence[tuple[str, str, Polygon]], kind: str
) -> dict[str, float]:
    """How long the floor meets each fixed thing of a kind [mm], by name."""
    free = shapely.difference(outline, shapely.union_all([shape for _, _, shape in fixed]))
    inside = free.boundary.difference(outline.boundary.buffer(TOUCH_MM))
    return {
        name or kind: inside.intersection(shape.boundary.buffer(TOUCH_MM)).length
        for found, name, shape in fixed
        if found == kind
    }


def _rings(free: BaseGeometry) -> Iterator[list[Point]]:
    """Every ring, walked with the floor at the left hand."""
    for part in shapely.get_parts(free):
        if part.geom_type != "Polygon" or part.area < 1.0:
            continue
        turned = orient(part)  # outer ring anticlockwise, holes clockwise
        for ring in (turned.exterior, *turned.interiors):
            yield [(float(x), float(y)) for x, y, *_ in ring.coords]


def _labeled(ring: Sequence[Point], labels: "_Labels") -> Iterator[_Segment]:
    for start, end in pairwise(ring):
        if math.dist(start, end) > TOUCH_MM:
            middle = shapely.Point((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
            yield _Segment(labels.at(middle), start, end)


class _Labels:
    """Which wall or fixed thing a place on the boundary belongs to; walls go first."""

    def __init__(self, edges: Sequence[Edge], fixed: Sequence[tuple[str, str, Polygon]]) -> None:
        self._names = [
            *(edge.name for edge in edges),
            *("" if kind in NO_TRIM else name or kind for kind, name, _ in fixed),
        ]
        lines = [shapely.LineString([edge.start, edge.end]) for edge in edges]
        self._tree = shapely.STRtree([*lines, *(shape.boundary for _, _, shape in fixed)])

    def at(self, middle: shapely.Point) -> str:
        """The name; empty where there is no trim."""
        near = self._tree.query(middle, predicate="dwithin", distance=TOUCH_MM)
        return self._names[min(near)] if len(near) else ""


def _opened(
    segment: _Segment, edges: Mapping[str, Edge], openings: Sequence[Opening]
) -> Iterator[_Segment]:
    """The segment cut at the openings of its wall; the parts in them bear no trim."""
    edge = edges.get(segment.where)
    mine = [opening for opening in openings if edge is not None and opening.edge == edge.name]
    if edge is None or not mine:
        yield segment
        return
    here, there = (math.dist(edge.start, point) for point in (segment.start, segment.end))
    low, high = min(here, there), max(here, there)
    marks = {low, high}
    for opening in mine:
        marks |= {min(max(mark, low), high) for mark in (opening.start_mm, opening.end_mm)}
    parts = [
        (a, b, any(o.start_mm < (a + b) / 2.0 < o.end_mm for o in mine))
        for a, b in pairwise(sorted(marks))
        if b - a > TOUCH_MM
    ]
    if here > there:
        parts = [(b, a, is_open) for a, b, is_open in reversed(parts)]
    for a, b, is_open in parts:
        yield _Segment("" if is_open else segment.where, _along(edge, a), _along(edge, b))


def _along(edge: Edge, mm: float) -> Point:
    share = mm / edge.length_mm
    (x0, y0), (x1, y1) = edge.start, edge.end
    return x0 + share * (x1 - x0), y0 + share * (y1 - y0)


def _runs_of_ring(segments: Sequence[_Segment]) -> Iterator[Run]:
    """Neighboring segments that run straight on are one run."""
    groups: list[list[_Segment]] = []
    for segment in segments:
        if groups and _goes_on(groups[-1][-1], segment):
            groups[-1].append(segment)
        else:
            groups.append([segment])
    if len(groups) > 1 and _goes_on(groups[-1][-1], groups[0][0]):
        groups[0] = [*groups.pop(), *groups[0]]
    for number, group in enumerate(groups):
        if group[0].where:
            before, after = groups[number - 1][-1], groups[(number + 1) % len(groups)][0]
            longest = max(group, key=lambda part: round(part.length_mm, 3))
            yield Run(
                longest.where,
                sum(part.length_mm for part in group),
                _corner(before, group[0], before.where),
                _corner(group[-1], after, after.where),
                group[0].start,
                group[-1].end,
            )


def _goes_on(before: _Segment, after: _Segment) -> bool:
    both = bool(before.where) == bool(after.where)
    return both and abs(_turn(before, after)) < STRAIGHT_DEG


def _turn(before: _Segment, after: _Segment) -> float:
    """By how much the way turns, left positive: at an inside corner of the room."""
    return math.remainder(after.heading_deg - before.heading_deg, 360.0)


def _corner(before: _Segment, after: _Segment, neighbor: str) -> RunEnd:
    turn = _turn(before, after)
    if not neighbor or abs(turn) < STRAIGHT_DEG:
        return RunEnd("square")
    return RunEnd("inside" if turn > 0.0 else "outside", round(abs(turn), 2))


def _ends(shape: BaseGeometry) -> list[Point]:
    return [(float(x), float(y)) for part in shapely.get_parts(shape) for x, y, *_ in part.coords]
