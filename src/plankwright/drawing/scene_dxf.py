"""Plays a scene as DXF: as it lies on its sheet, enlarged by its scale to measure true."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from plankwright.drawing.dxf_pen import DASHED, Pen, weight_of
from plankwright.drawing.hatching import hatch_lines
from plankwright.drawing.lettering import CAPITAL_EM, cap_shift_mm
from plankwright.drawing.scene import (
    Area,
    Dimension,
    Ellipse,
    Group,
    Item,
    Point,
    Polyline,
    Scene,
    Text,
    arrowheads,
)
from plankwright.drawing.style import PRINT, hatch_named, style_named


def draw_scene(pen: Pen, scene: Scene) -> None:
    """Everything in a scene, a layer for each of its named groups."""
    _SheetPlayer(pen, scene).play()


@dataclass(frozen=True, slots=True)
class _SheetPlayer:
    """A scene on its way into a document: y turned up, enlarged by the scale."""

    pen: Pen
    scene: Scene

    def play(self) -> None:
        self._items(self.scene.items, "drawing")

    def _items(self, items: Iterable[Item], layer: str) -> None:
        for item in items:
            match item:
                case Group():
                    self._items(item.items, item.layer or layer)
                case Dimension():
                    self._items(item.parts(), "dimensions")
                case Polyline():
                    self._polyline(item, layer)
                case Area():
                    self._area(item, layer)
                case Ellipse():
                    self._ellipse(item, layer)
                case Text():
                    self._text(item, layer)

    def _polyline(self, item: Polyline, layer: str) -> None:
        looks = _looks(item.style)
        self.pen.line(self._all(item.points), self._layer(layer), close=item.closed, **looks)
        for head in arrowheads(item):
            self.pen.line(self._all(head), self._layer(layer), **looks)

    def _area(self, item: Area, layer: str) -> None:
        for ring in (item.outline, *item.holes):
            self.pen.ring(self._all(ring), self._layer(layer), **_looks(item.style))
        if item.hatch is not None:
            for line in hatch_lines(item, hatch_named(item.hatch)):
                self.pen.line(self._all(line), self._layer(f"{layer}-hatch"), **_looks("hatch"))

    def _ellipse(self, item: Ellipse, layer: str) -> None:
        first, second = (axis * self._scale for axis in item.semi_axes_mm)
        long, short = max(first, second), min(first, second)
        if short <= 0.0:
            return
        angle = math.radians(item.angle_deg + (0.0 if first >= second else 90.0))
        major = (long * math.cos(angle), long * math.sin(angle))
        looks = _looks(item.style)
        self.pen.ellipse(self._at(item.center), major, short / long, self._layer(layer), **looks)

    def _text(self, item: Text, layer: str) -> None:
        align = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}[item.anchor]
        turn, shift = math.radians(item.angle_deg), cap_shift_mm(item)
        place = (item.at[0] + shift * math.sin(turn), item.at[1] + shift * math.cos(turn))
        self.pen.words(
            item.text,
            self._at(place),
            item.size_mm * CAPITAL_EM * self._scale,
            self._layer(f"{layer}-words"),
            turned_deg=item.angle_deg,
            align=align,
            **_looks(item.style),
        )

    @property
    def _scale(self) -> float:
        return self.scene.scale or 1.0

    def _layer(self, name: str) -> str:
        return self.pen.layer(name.upper())

    def _at(self, point: Point) -> Point:
        return point[0] * self._scale, (self.scene.height_mm - point[1]) * self._scale

    def _all(self, points: Iterable[Point]) -> list[Point]:
        return [self._at(point) for point in points]


def _looks(style: str) -> dict[str, Any]:
    """Color, weight and dashes of a style of the sheet."""
    found = style_named(style)
    color = PRINT[found.line or found.fill or "ink"]
    if found.line is None and found.fill in ("floor", "paper", "tint"):
        color = PRINT["pencil"]  # a white area still needs a rim that can be seen
    looks: dict[str, Any] = {
        "true_color": int(color.lstrip("#"), 16),
        "lineweight": weight_of(found.width_mm or 0.13),
    }
    return looks | ({"linetype": DASHED} if found.dash_mm else {})
