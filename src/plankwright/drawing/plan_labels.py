"""Words and figures of the floor plan, each placed where nothing else stands.

Placed in order of need: row numbers on both walls, the start mark, corners, lengths of the walls,
names of fixed things, what to check, figures of cut pieces. What finds no room is left out; the
cut list has every figure.
"""

import math
from collections.abc import Iterable, Iterator

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import centered, half_extent_mm, text_width_mm
from plankwright.drawing.plan_names import draw_names
from plankwright.drawing.plan_start import draw_start
from plankwright.drawing.plan_view import WALL_MM, PlanView
from plankwright.drawing.scene import (
    Dimension,
    Group,
    Item,
    Point,
    Text,
    circle,
    moved,
    step_between,
)
from plankwright.drawing.style import TEXT_MM
from plankwright.model.room import Edge

RING_MM = 2.5  # radius of the ring round a corner's letter
DIMENSION_OFFS_MM = (10.5, 6.5, 14.0)  # tried in this order
OVERALL_OFFS_MM = (15.0, 12.0, 9.0, 6.0)
WITNESS_CLEARS_MM = (1.2, 4.0, 7.0, 9.5, 13.0)
NUDGES_MM = (0.0, 0.7, -0.7, 1.4, -1.4)


def draw_labels(view: PlanView, space: LabelSpace) -> Group:
    """Every label of a floor plan that finds room."""
    if not view.plan.pieces:
        return Group((), layer="labels")
    walls = view.grown(view.wall_shift_mm + WALL_MM)
    layers = (
        Group(tuple(_row_numbers(view, space, walls)), layer="numbers", title="Row numbers"),
        Group(tuple(draw_start(view, space)), layer="start", title="Start here, lay this way"),
        Group(tuple(_corners(view, space, walls)), layer="corners", title="Corners"),
        Group(tuple(_dimensions(view, space, walls)), layer="dimensions", title="Wall lengths"),
        *draw_names(view, space, walls),
    )
    return Group(layers, layer="labels")


# --- row numbers -----------------------------------------------------------------------------


def _row_numbers(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Text]:
    rows: dict[int, list[Polygon]] = {}
    for piece in view.plan.pieces:
        rows.setdefault(piece.row, []).append(view.axes.to_plan(piece.outline))
    high = 2.0 * half_extent_mm(str(max(rows)), TEXT_MM, view.across)
    for row in _numbered(sorted(rows), view.row_mm, high + 0.6):
        near = min(rows[row], key=lambda shape: shape.bounds[0])
        far = max(rows[row], key=lambda shape: shape.bounds[2])
        for shape, u, way in ((near, near.bounds[0], -1.0), (far, far.bounds[2], 1.0)):
            end = view.point(u, _end_level(shape, u))
            text = space.place(_number_places(view, str(row), end, way), keep_off=walls)
            if text:
                yield text


def _numbered(rows: list[int], row_mm: float, needed: float) -> list[int]:
    """The rows that get a number: all, or every second, fifth, tenth where rows are narrow.

    First and last come first, so that they find room.
    """
    step = next((n for n in (1, 2, 5, 10, 20, 50) if n * row_mm >= needed), 100)
    return [rows[0], rows[-1], *(row for row in rows[1:-1] if row % step == 0)]


def _end_level(shape: Polygon, u: float) -> float:
    """The middle of a piece at its end, across the row."""
    at_end = shape.intersection(shapely.box(u - 5.0, -1e9, u + 5.0, 1e9))
    _, v0, _, v1 = at_end.bounds
    return float(v0 + v1) / 2.0


def _number_places(view: PlanView, number: str, end: Point, way: float) -> Iterator[Text]:
    step = (view.along[0] * way, view.along[1] * way)
    half = half_extent_mm(number, TEXT_MM, step)
    for out in (1.0, 2.0, 3.5):
        for nudge in NUDGES_MM:
            off = view.wall_shift_mm + WALL_MM + out + half
            yield _word(moved(moved(end, step, off), view.across, nudge), number)


# --- corners and walls -----------------------------------------------------------------------


def _corners(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Item]:
    """A letter in a ring outside each corner, those of long walls first."""
    edges = view.edges()
    before = {edge.end: edge for edge in edges}
    ordered = sorted(
        edges, key=lambda edge: -round(max(edge.length_mm, before[edge.start].length_mm))
    )
    for edge in ordered:
        name = edge.name.split("-")[0]
        radius = max(RING_MM, text_width_mm(name, TEXT_MM) / 2.0 + 0.5)
        for spot in _corner_places(view, before[edge.start], edge, radius):
            ring = shapely.Point(spot).buffer(radius)
            if space.is_free(ring, walls) and not _crosses_room(view, edge.start, spot):
                space.take(ring)
                yield circle(spot, radius, "ring")
                yield _word(spot, name)
                break


def _crosses_room(view: PlanView, corner: Point, spot: Point) -> bool:
    """Whether the way from a corner to its letter leads through the room."""
    way = shapely.LineString([view.placement.point(corner), spot])
    return bool(way.intersection(view.outline).length > 0.2)


def _corner_places(view: PlanView, before: Edge, after: Edge, radius: float) -> Iterator[Point]:
    """Places round a corner, straight out of it first."""
    corner = view.placement.point(after.start)
    ways = [
        step_between(corner, view.placement.point(other)) for other in (before.start, after.end)
    ]
    inner = (ways[0][0] + ways[1][0], ways[0][1] + ways[1][1])
    straight = math.hypot(*inner) < 0.2
    out = math.atan2(-inner[1], -inner[0]) if not straight else math.atan2(ways[0][0], -ways[0][1])
    start = view.wall_shift_mm + WALL_MM + 0.8 + radius
    for distance in (start, start + 1.5, start + 3.5):
        for turn in (0.0, 30.0, -30.0, 60.0, -60.0, 180.0, 150.0, -150.0):
            angle = out + math.radians(turn)
            yield corner[0] + distance * math.cos(angle), corner[1] + distance * math.sin(angle)


def _dimensions(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Dimension]:
    """The length of each wall outside it, then the room over all where walls do not tell it."""
    told: list[tuple[float, float]] = []
    for edge in sorted(view.edges(), key=lambda edge: -round(edge.length_mm)):
        words = view.figure(edge.length_mm, down=False)
        start, end = (view.placement.point(point) for point in (edge.start, edge.end))
        if math.dist(start, end) < text_width_mm(words, TEXT_MM) + 3.0:
            continue
        side = _outside(view, start, end)
        placed = space.place_dimension(_at_offs(start, end, words, side, DIMENSION_OFFS_MM), walls)
        if placed:
            told.append((end[0] - start[0], end[1] - start[1]))
            yield placed
    yield from _overall(view, space, walls, told)


def _at_offs(
    start: Point, end: Point, words: str, side: float, offs: Iterable[float]
) -> Iterator[Dimension]:
    for off in offs:
        for clear in WITNESS_CLEARS_MM:
            if clear < off:
                yield Dimension(start, end, words, side * off, TEXT_MM, clear_mm=clear)


def _overall(
    view: PlanView, space: LabelSpace, walls: BaseGeometry, told: list[tuple[float, float]]
) -> Iterator[Dimension]:
    """Width and height of the whole room, unless a wall as long has its figure."""
    x0, y0, x1, y1 = view.outline.bounds
    sides = (
        (((x0, y1), (x1, y1)), -1.0, 0), (((x0, y0), (x1, y0)), 1.0, 0),
        (((x0, y1), (x0, y0)), 1.0, 1), (((x1, y1), (x1, y0)), -1.0, 1),
    )  # fmt: skip
    done = {
        axis for axis in (0, 1) for way in told if abs(way[axis]) > 0.97 * (x1 - x0, y1 - y0)[axis]
    }
    for (start, end), side, axis in sides:
        if axis in done:
            continue
        words = view.figure(math.dist(start, end) * view.placement.scale, down=False)
        placed = space.place_dimension(_at_offs(start, end, words, side, OVERALL_OFFS_MM), walls)
        if placed:
            done.add(axis)
            yield placed


def _outside(view: PlanView, start: Point, end: Point) -> float:
    """1 when the outside of a wall is on the left of the way along it, else -1."""
    way = step_between(start, end)
    left = (way[1], -way[0])
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    return -1.0 if view.outline.covers(shapely.Point(moved(middle, left, 0.05))) else 1.0


def _word(spot: Point, words: str) -> Text:
    return centered(spot, words, TEXT_MM)
