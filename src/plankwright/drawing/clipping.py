"""A drawing cut to a window: areas and lines end at its edge, words are whole or left out."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import shapely
from shapely import LineString, Polygon

from plankwright.drawing.lettering import text_box
from plankwright.drawing.scene import (
    Area,
    Dimension,
    Ellipse,
    Group,
    Item,
    Polyline,
    Text,
)
from plankwright.drawing.sheet import Frame, areas


def clipped(items: Iterable[Item], window: Frame) -> tuple[Item, ...]:
    """The items as they are seen through a window of the sheet."""
    box = shapely.box(window.left, window.top, window.right, window.bottom)
    shapely.prepare(box)
    return tuple(part for item in items for part in _clipped(item, box))


def _clipped(item: Item, box: Polygon) -> Iterator[Item]:
    match item:
        case Group():
            inside = tuple(part for one in item.items for part in _clipped(one, box))
            if inside:
                yield replace(item, items=inside)
        case Dimension():
            for part in item.parts():
                yield from _clipped(part, box)
        case Text():
            if box.covers(text_box(item)):
                yield item
        case Ellipse():
            if box.covers(shapely.Point(item.center).buffer(max(item.semi_axes_mm))):
                yield item
        case Area():
            yield from _area(item, box)
        case Polyline():
            yield from _line(item, box)


def _area(area: Area, box: Polygon) -> Iterator[Area]:
    shape = Polygon(area.outline, area.holes)
    if box.covers(shape):
        yield area
    elif box.intersects(shape):
        yield from areas(shapely.make_valid(shape).intersection(box), area.style, area.hatch)


def _line(line: Polyline, box: Polygon) -> Iterator[Polyline]:
    points = (*line.points, line.points[0]) if line.closed else line.points
    shape = LineString(points)
    if box.covers(shape):
        yield line
    elif box.intersects(shape):
        for part in shapely.get_parts(shape.intersection(box)):
            if part.geom_type == "LineString" and part.length > 0.0:
                yield Polyline(tuple((float(x), float(y)) for x, y in part.coords), line.style)
