"""The display list: what is to be seen, in millimeters of paper, before any file format.

Axes as one reads a page: x to the right, y down, the origin in the upper left corner of the
sheet. Angles in degrees, anticlockwise as seen on the page. *Left* of a line means left of a
person who walks along it. Looks are names (``"wall"``, ``"joint"``, hatch ``"starter"``) that
:mod:`plankwright.drawing.style` gives a meaning; a player (SVG, PDF, DXF, screen) draws them.

Players need to know only four shapes: :class:`Polyline`, :class:`Area`, :class:`Ellipse` and
:class:`Text`, kept in :class:`Group` s. A :class:`Dimension` takes itself apart into them.
"""

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import PlankwrightError

Point = tuple[float, float]
Ring = tuple[Point, ...]
Anchor = Literal["start", "middle", "end"]
Level = Literal["baseline", "middle", "top"]

ARROW_MM = 2.6  # length of an open arrowhead
ARROW_SPREAD_DEG = 18.0  # half its opening
FIGURE_LIFT_MM = 0.9  # a dimension's figure stands this far above its line
STEEP_DEG = 85.0  # steeper words read from the right, whichever way they lean
# Line breaks, control characters, halves of pairs: XML allows most of them not at all.
_NO_LETTERS = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]+")
WITNESS_CLEAR_MM = 1.2  # witness lines keep clear of what is measured
WITNESS_OVER_MM = 1.2  # and run on beyond the dimension line


@dataclass(frozen=True, slots=True)
class Polyline:
    """A line through two or more points, closed if wanted, with open arrowheads if wanted."""

    points: tuple[Point, ...]
    style: str
    closed: bool = False
    arrow_start: bool = False
    arrow_end: bool = False
    arrow_mm: float = ARROW_MM

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise PlankwrightError("a line needs two points")
        _require_finite(self.points)


@dataclass(frozen=True, slots=True)
class Area:
    """A filled outline with holes; rings are not closed by repeating their first point.

    ``hatch`` names a hatch of the style sheet; its lines run on from area to area.
    """

    outline: Ring
    style: str
    holes: tuple[Ring, ...] = ()
    hatch: str | None = None

    def __post_init__(self) -> None:
        for ring in (self.outline, *self.holes):
            if len(ring) < 3:
                raise PlankwrightError("an area's ring needs three points")
            _require_finite(ring)


@dataclass(frozen=True, slots=True)
class Ellipse:
    """An ellipse; ``angle_deg`` turns its first semi-axis anticlockwise from x."""

    center: Point
    semi_axes_mm: tuple[float, float]
    style: str
    angle_deg: float = 0.0

    def __post_init__(self) -> None:
        _require_finite((self.center, self.semi_axes_mm))
        if min(self.semi_axes_mm) < 0.0:
            raise PlankwrightError("an ellipse's axes cannot be negative")


def circle(center: Point, radius_mm: float, style: str) -> Ellipse:
    """A circle: an ellipse with two equal axes."""
    return Ellipse(center, (radius_mm, radius_mm), style)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words or a figure.

    Parameters
    ----------
    at : the anchor's place on the sheet.
    text : what is written, not empty; line breaks and control characters become spaces.
    size_mm : the type size (em), :func:`points_to_mm` of the points.
    style : color and weight.
    anchor : which part of the line ``at`` is along it.
    level : which height of the letters ``at`` is: their baseline, the middle or the top of a
        capital.
    angle_deg : turned anticlockwise about ``at``.
    clear : keep a rim of paper round the letters, where they stand on hatches.
    """

    at: Point
    text: str
    size_mm: float
    style: str = "label"
    anchor: Anchor = "start"
    level: Level = "baseline"
    angle_deg: float = 0.0
    clear: bool = False

    def __post_init__(self) -> None:
        _require_finite((self.at,))
        object.__setattr__(self, "text", one_line(self.text))
        if not self.text.strip():
            raise PlankwrightError("a text is one line of words")
        if not self.size_mm > 0.0:
            raise PlankwrightError("a text needs a size above 0")


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured distance: witness lines, an arrow at each end, the figure above the line.

    Parameters
    ----------
    start, end : the measured points.
    text : the figure, as a carpenter writes it.
    offset_mm : how far left of the way from start to end the line stands; negative: right.
    size_mm : type size of the figure.
    clear_mm : witness lines begin this far from what is measured, past what stands there.
    """

    start: Point
    end: Point
    text: str
    offset_mm: float = 0.0
    size_mm: float = 3.6
    style: str = "dimension"
    clear_mm: float = WITNESS_CLEAR_MM

    def __post_init__(self) -> None:
        _require_finite((self.start, self.end))
        if math.dist(self.start, self.end) <= 0.0:
            raise PlankwrightError("a dimension needs two places")

    def parts(self) -> "tuple[Polyline | Text, ...]":
        """The dimension as lines and a figure, readable from below or from the right."""
        along = step_between(self.start, self.end)
        left = (along[1], -along[0])
        first, last = (moved(p, left, self.offset_mm) for p in (self.start, self.end))
        witnesses = [
            witness
            for foot, head in ((self.start, first), (self.end, last))
            for witness in self._witness(foot, head)
        ]
        line = Polyline((first, last), self.style, arrow_start=True, arrow_end=True)
        return (*witnesses, line, self._figure(first, last))

    def _witness(self, foot: Point, head: Point) -> list[Polyline]:
        if math.dist(foot, head) <= self.clear_mm:
            return []
        way = step_between(foot, head)
        ends = moved(foot, way, self.clear_mm), moved(head, way, WITNESS_OVER_MM)
        return [Polyline(ends, self.style)]

    def _figure(self, first: Point, last: Point) -> Text:
        angle = upright(math.degrees(math.atan2(first[1] - last[1], last[0] - first[0])))
        middle = ((first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0)
        above = (-math.sin(math.radians(angle)), -math.cos(math.radians(angle)))
        place = moved(middle, above, FIGURE_LIFT_MM)
        return Text(place, self.text, self.size_mm, "figure", "middle", "baseline", angle)


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together.

    Parameters
    ----------
    items : drawn in this order.
    layer : name of the layer, such as ``"walls"``; empty for none.
    title, description : for people who hear the drawing instead of seeing it.
    key : what a screen program calls it by, such as a piece's number.
    """

    items: "tuple[Item, ...]"
    layer: str = ""
    title: str = ""
    description: str = ""
    key: str = ""


Shape = Polyline | Area | Ellipse | Text
Item = Shape | Dimension | Group


@dataclass(frozen=True, slots=True)
class Scene:
    """A sheet with a drawing on it.

    Parameters
    ----------
    width_mm, height_mm : the sheet.
    items : drawn in this order, later ones on top.
    title, description : what it is and what it shows, in words.
    scale : millimeters of room for a millimeter of paper (50 for 1:50); None for no scale.
    """

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    title: str
    description: str = ""
    scale: float | None = None

    def __post_init__(self) -> None:
        if not (0.0 < self.width_mm < 1e5 and 0.0 < self.height_mm < 1e5):
            raise PlankwrightError("a sheet needs a width and a height")
        if not self.title.strip():
            raise PlankwrightError("a drawing needs a title")

    def shapes(self) -> Iterator[Shape]:
        """Every shape in drawing order; groups opened, dimensions taken apart."""
        return shapes_of(self.items)

    def texts(self) -> Iterator[Text]:
        """Every text in drawing order."""
        return (shape for shape in self.shapes() if isinstance(shape, Text))


def shapes_of(items: Iterable[Item]) -> Iterator[Shape]:
    """Every shape of some items; groups opened, dimensions taken apart."""
    for item in items:
        if isinstance(item, Group):
            yield from shapes_of(item.items)
        elif isinstance(item, Dimension):
            yield from item.parts()
        else:
            yield item


def arrowheads(line: Polyline) -> Iterator[tuple[Point, Point, Point]]:
    """The open arrowheads of a line, each from barb over tip to barb."""
    if line.arrow_start:
        yield _arrowhead(line.points[1], line.points[0], line.arrow_mm)
    if line.arrow_end:
        yield _arrowhead(line.points[-2], line.points[-1], line.arrow_mm)


def moved(point: Point, way: Point, by_mm: float) -> Point:
    """A point moved along a unit step."""
    return point[0] + way[0] * by_mm, point[1] + way[1] * by_mm


def step_between(start: Point, end: Point) -> Point:
    """The unit step from one point toward another; the points differ."""
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def one_line(words: str) -> str:
    """Words as one line: what no letter stands for becomes a space.

    >>> one_line("Den\\nof \\x07 old")
    'Den of old'
    """
    return " ".join(_NO_LETTERS.sub(" ", words).split()) if _NO_LETTERS.search(words) else words


def points_to_mm(points: float) -> float:
    """A type size in millimeters: a point is 1/72 in.

    >>> round(points_to_mm(10), 3)
    3.528
    """
    return points * 25.4 / 72.0


def upright(angle_deg: float) -> float:
    """The angle at which words along a line read from below or, where it is steep, from the right.

    >>> upright(180.0), upright(-90.0), upright(135.0)
    (0.0, 90.0, -45.0)
    """
    turned = math.remainder(angle_deg, 180.0)
    return turned + 180.0 if turned < -STEEP_DEG else turned + 0.0


def _arrowhead(tail: Point, tip: Point, arrow_mm: float) -> tuple[Point, Point, Point]:
    length = min(arrow_mm, 0.45 * math.dist(tail, tip))
    back = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    spread = math.radians(ARROW_SPREAD_DEG)
    barbs = [
        (tip[0] + length * math.cos(back + turn), tip[1] + length * math.sin(back + turn))
        for turn in (-spread, spread)
    ]
    return barbs[0], tip, barbs[1]


def _require_finite(points: Iterable[tuple[float, ...]]) -> None:
    if not all(math.isfinite(number) for point in points for number in point):
        raise PlankwrightError("a drawing's coordinates must be numbers")
