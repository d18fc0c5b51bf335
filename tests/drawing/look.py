"""What a person would see wrong with a drawing: words on words, words or lines off the sheet."""

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.lettering import overlapping_texts, text_box
from plankwright.drawing.scene import Area, Ellipse, Polyline, Scene, Shape, Text
from plankwright.drawing.style import TEXT_MM, hatch_named, style_named

MARGIN_MM = 5.0  # printers leave this much of a sheet blank


def faults(scene: Scene) -> list[str]:
    """Everything wrong with a drawing, in words; empty when it is good."""
    return [*_overlaps(scene), *_clipped(scene), *_unknown_looks(scene), *_small_print(scene)]


def _overlaps(scene: Scene) -> Iterator[str]:
    for one, other in overlapping_texts(scene.texts()):
        yield f"{one.text!r} stands on {other.text!r}"


def _clipped(scene: Scene) -> Iterator[str]:
    sheet = shapely.box(
        MARGIN_MM, MARGIN_MM, scene.width_mm - MARGIN_MM, scene.height_mm - MARGIN_MM
    )
    for shape in scene.shapes():
        if not sheet.covers(room_of(shape)):
            yield f"off the sheet: {shape}"


def _unknown_looks(scene: Scene) -> Iterator[str]:
    for shape in scene.shapes():
        style_named(shape.style)
        if isinstance(shape, Area) and shape.hatch:
            hatch_named(shape.hatch)
    yield from ()


def _small_print(scene: Scene) -> Iterator[str]:
    for text in scene.texts():
        if text.size_mm < TEXT_MM - 1e-9:
            yield f"under 10 points: {text.text!r}"


def room_of(shape: Shape) -> BaseGeometry:
    match shape:
        case Text():
            return text_box(shape)
        case Polyline():
            return shapely.LineString(shape.points)
        case Area():
            return shapely.Polygon(shape.outline)
        case Ellipse():
            return shapely.Point(shape.center).buffer(max(shape.semi_axes_mm))
