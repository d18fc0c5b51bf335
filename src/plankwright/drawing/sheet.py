"""Sheets of paper, drawing scales, and where a room comes to lie on the sheet."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.scene import Area, Point, Ring
from plankwright.errors import PlankwrightError
from plankwright.units import Unit

Paper = Literal["A4", "A3", "Letter"]

# ISO 216:2007 (A4, A3) and ANSI/ASME Y14.1 (Letter is its size A); portrait [mm].
PAPERS: dict[Paper, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "Letter": (215.9, 279.4),
}
MARGIN_MM = 10.0  # what a printer cannot be trusted with

# Scales of metric drawings and rulers, and of an architect's ruler (3 in = 1 ft is 1:4); common
# practice. ISO 5455 names 1:5, 10, 20, 50 and so on; those between make the drawing larger.
METRIC_SCALES = (5, 10, 20, 25, 30, 40, 50, 75, 100, 125, 150, 200, 250, 500, 1000, 2000, 5000)
INCH_SCALES = (4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768, 1536, 3072)
_INCHES_PER_FOOT = {
    4: "3", 8: "1 1/2", 12: "1", 16: "3/4", 24: "1/2", 32: "3/8", 48: "1/4", 64: "3/16",
    96: "1/8", 128: "3/32", 192: "1/16",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Placement:
    """How room coordinates come to lie on the sheet: turned, scaled, moved, y turned down.

    Parameters
    ----------
    scale : millimeters of room for one of paper.
    turn_deg : the room is turned by this, anticlockwise, before it is drawn.
    origin : place of the room's origin on the sheet [mm].
    """

    scale: float
    turn_deg: float
    origin: Point

    def _matrix(self) -> npt.NDArray[np.float64]:
        angle = math.radians(self.turn_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        return np.array([[cos, -sin], [-sin, -cos]]) / self.scale

    def geometry(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape of the room on the sheet."""
        matrix, origin = self._matrix(), np.array(self.origin)
        placed: BaseGeometry = shapely.transform(shape, lambda xy: xy @ matrix.T + origin)
        return placed

    def point(self, point: Point) -> Point:
        """A point of the room on the sheet."""
        x, y = self._matrix() @ np.array(point[:2]) + np.array(self.origin)
        return float(x), float(y)

    def direction(self, angle_deg: float) -> Point:
        """A direction of the room, anticlockwise from x, as a unit step on the sheet."""
        angle = math.radians(angle_deg + self.turn_deg)
        return math.cos(angle), -math.sin(angle)


@dataclass(frozen=True, slots=True)
class Frame:
    """A rectangle on the sheet [mm], y down."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Its width."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Its height."""
        return self.bottom - self.top


def scales_for(unit: Unit) -> tuple[int, ...]:
    """The scales to choose from, largest drawing first."""
    return INCH_SCALES if unit in ("in", "ft") else METRIC_SCALES


def scale_words(scale: float, unit: Unit) -> str:
    """A scale as the trade says it.

    >>> scale_words(50, "mm"), scale_words(48, "in")
    ('1:50', '1/4" = 1\\' (1:48)')
    """
    inches = _INCHES_PER_FOOT.get(round(scale)) if unit in ("in", "ft") else None
    return f"{inches}\" = 1' (1:{scale:g})" if inches else f"1:{scale:g}"


def fitting_scale(size: Sequence[float], frame: Frame, scales: Sequence[int]) -> int:
    """The largest scale at which something of a size [mm] fits in a frame."""
    for scale in scales:
        if size[0] / scale <= frame.width and size[1] / scale <= frame.height:
            return scale
    raise PlankwrightError(f"{size[0]:.0f} x {size[1]:.0f} mm fits on no sheet")


def place(shape: BaseGeometry, frame: Frame, scale: float, turn_deg: float) -> Placement:
    """A shape in the middle of a frame."""
    flat = Placement(scale, turn_deg, (0.0, 0.0))
    x0, y0, x1, y1 = flat.geometry(shape).bounds
    middle = ((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0)
    return Placement(scale, turn_deg, (middle[0] - (x0 + x1) / 2.0, middle[1] - (y0 + y1) / 2.0))


def turned_size(shape: BaseGeometry, turn_deg: float) -> tuple[float, float]:
    """Width and height [mm of room] of a shape turned by an angle."""
    x0, y0, x1, y1 = Placement(1.0, turn_deg, (0.0, 0.0)).geometry(shape).bounds
    return x1 - x0, y1 - y0


def areas(shape: BaseGeometry, style: str, hatch: str | None = None) -> tuple[Area, ...]:
    """Every polygon of a shape on the sheet as an area."""
    return tuple(
        Area(_ring(part.exterior), style, tuple(_ring(hole) for hole in part.interiors), hatch)
        for part in shapely.get_parts(shape)
        if part.geom_type == "Polygon" and not part.is_empty
    )


def _ring(ring: shapely.LinearRing) -> Ring:
    return tuple((float(x), float(y)) for x, y, *_ in ring.coords[:-1])
