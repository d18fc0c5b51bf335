"""The plan's axes: room coordinates turned into u (along the rows) and v (across them).

Left to right: v is u turned by -90 degrees (the frame is mirrored); right to left: by +90.
"""

import math
from dataclasses import dataclass
from typing import TypeVar, cast

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.model.board import Laid

Geometry = TypeVar("Geometry", bound=BaseGeometry)
Floats = npt.NDArray[np.float64]

GRID_DECIMALS = 3  # of a coordinate [mm]: the plan file's


@dataclass(frozen=True, slots=True)
class Frame:
    """Axes of a plan.

    Parameters
    ----------
    row_angle_deg : direction of u in room coordinates, anticlockwise from x.
    laid : the laying direction, which decides on which side of u the axis v lies.
    """

    row_angle_deg: float
    laid: Laid

    def _matrix(self) -> Floats:
        cos, sin = _cos_sin(self.row_angle_deg)
        side = 1.0 if self.laid == "right-to-left" else -1.0
        return np.array([[cos, sin], [-side * sin, side * cos]])

    def to_plan(self, geometry: Geometry) -> Geometry:
        """The geometry in (u, v) [mm]."""
        matrix = self._matrix()
        turned: Geometry = shapely.transform(geometry, lambda xy: xy @ matrix.T)
        return turned

    def to_plan_grid(self, geometry: Geometry) -> Geometry:
        """The geometry in (u, v) to 0.001 mm, free of the float noise of turning it.

        So a room gives the same rows, stretches and plan whichever way it is turned.
        """
        return on_grid(self.to_plan(geometry))

    def to_room(self, geometry: Geometry) -> Geometry:
        """The geometry in room coordinates (x, y) [mm]: the inverse of :meth:`to_plan`."""
        matrix = self._matrix()  # orthogonal, so its inverse is its transpose
        turned: Geometry = shapely.transform(geometry, lambda uv: uv @ matrix)
        return turned


def on_grid(geometry: Geometry) -> Geometry:
    """Every coordinate rounded to 0.001 mm; a thread of no width that crosses itself is mended."""
    rounded: Geometry = shapely.transform(geometry, lambda xy: np.round(xy, GRID_DECIMALS) + 0.0)
    if isinstance(rounded, MultiPolygon) and not rounded.is_valid:
        snapped = shapely.set_precision(rounded.buffer(0.0), 10.0**-GRID_DECIMALS)
        parts = [part for part in shapely.get_parts(snapped) if isinstance(part, Polygon)]
        return cast(Geometry, MultiPolygon(parts))
    return rounded


def _cos_sin(angle_deg: float) -> tuple[float, float]:
    """Cosine and sine, exact at multiples of 90 degrees so that square rooms stay square."""
    quarter, rest = divmod(angle_deg, 90.0)
    if rest == 0.0:
        return [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][int(quarter) % 4]
    angle = math.radians(angle_deg)
    return math.cos(angle), math.sin(angle)
