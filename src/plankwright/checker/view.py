"""The plan as the checker sees it: outlines in plan axes, rows and stretches found from them.

Plan axes: u along the rows from near to far, v across them away from the start wall. Nothing
here trusts a number that the plan states about its pieces.
"""

import math
from dataclasses import dataclass
from typing import Any, SupportsIndex

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.model.plan import SCRAP_MM, SCRAP_MM2, Laying, Plan

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]
Shapes = npt.NDArray[np.object_]

TOLERANCE_MM = 0.5  # cracks, overlaps and misfits narrower than this are forgiven
HAIR_MM = 0.04  # a neck no wider joins nothing
WEDGE_MM = 20.0  # a part of a row no wider may be a wedge with a thin end
ROUNDING_MM = 0.05  # what rounding coordinates to 0.001 mm can do to any length, generously
LEAST_AREA_MM2 = 1.0  # less floor than this is not worth a piece


@dataclass(frozen=True, slots=True)
class View:
    """Everything the rules look at, computed once.

    Parameters
    ----------
    plan : the plan.
    floor : in plan axes.
    outlines : of the pieces, in plan axes, in the plan's order.
    boxes : u0, v0, u1, v1 of each outline.
    rows : row of each piece, found from its place.
    strips : the floor cut by each row's strip, with ``strip_rows`` their row numbers.
    stretches : connected parts of the strips, by row and from the near end.
    stretch_rows : row of each stretch.
    stretch_of : index of the stretch each piece lies in.
    scraps : parts of the strips that are too small for a piece, and have none.
    """

    plan: Plan
    floor: MultiPolygon
    outlines: Shapes
    boxes: Floats
    rows: Ints
    strips: Shapes
    strip_rows: Ints
    stretches: Shapes
    stretch_rows: Ints
    stretch_of: Ints
    scraps: Shapes

    def lines(self, rows: Ints) -> Floats:
        """Positions v of the rows' wall sides [mm]."""
        start, width = self.plan.laying.start_line_mm, self.plan.board.width_mm
        return np.asarray(start + (rows - 1) * width, dtype=np.float64)

    def name(self, index: SupportsIndex) -> str:
        """Id of a piece."""
        return self.plan.pieces[index].id

    def point(self, shape: BaseGeometry) -> str:
        """A point of a shape given in plan axes, told in room coordinates."""
        inside = to_room(shapely.point_on_surface(shape), self.plan.laying)
        return f"x {inside.x:.1f}, y {inside.y:.1f}"


def look_at(plan: Plan) -> View:
    """The view of a plan whose outlines are all valid."""
    floor = to_plan(plan.floor, plan.laying)
    floor = floor if floor.is_valid else floor.buffer(0.0)
    outlines = np.array([piece.outline for piece in plan.pieces], dtype=np.object_)
    outlines = to_plan(outlines, plan.laying)
    if not _is_square(plan.laying):
        outlines = _mended(outlines)
    boxes = shapely.bounds(outlines).reshape(-1, 4)
    middles = (boxes[:, 1] + boxes[:, 3]) / 2.0
    start, width = plan.laying.start_line_mm, plan.board.width_mm
    rows = np.floor((middles - start) / width).astype(np.int64) + 1
    strip_rows, strips = _strips(floor, start, width)
    stretches, stretch_rows, scraps = _stretches(strips, strip_rows, outlines)
    stretch_of = _stretch_of(outlines, rows, stretches, stretch_rows)
    return View(
        plan=plan,
        floor=floor,
        outlines=outlines,
        boxes=boxes,
        rows=rows,
        strips=strips,
        strip_rows=strip_rows,
        stretches=stretches,
        stretch_rows=stretch_rows,
        stretch_of=stretch_of,
        scraps=scraps,
    )


def _mended(outlines: Shapes) -> Shapes:
    """Outlines that turning has made invalid, by its rounding, with their threads cut off."""
    for i in np.flatnonzero(~shapely.is_valid(outlines)):
        parts = shapely.get_parts(shapely.buffer(outlines[i], 0.0))
        if len(parts):
            outlines[i] = max(parts, key=lambda part: part.area)
    return outlines


def to_plan(shapes: Any, laying: Laying) -> Any:
    """A shape, or an array of shapes, in plan axes."""
    matrix = _axes(laying)
    return shapely.transform(shapes, lambda xy: xy @ matrix.T)


def to_room(shapes: Any, laying: Laying) -> Any:
    """Shapes in room coordinates: the axes are at right angles, so the transpose turns back."""
    matrix = _axes(laying)
    return shapely.transform(shapes, lambda uv: uv @ matrix)


def _axes(laying: Laying) -> Floats:
    """Rows: u, then v, which is u turned by -90 degrees (left to right) or +90 degrees."""
    angle = math.radians(laying.row_angle_deg)
    if _is_square(laying):  # square rooms stay square
        quarters = round(laying.row_angle_deg / 90.0)
        cos, sin = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][quarters % 4]
    else:
        cos, sin = math.cos(angle), math.sin(angle)
    across = (sin, -cos) if laying.laid == "left-to-right" else (-sin, cos)
    return np.array([(cos, sin), across])


def _is_square(laying: Laying) -> bool:
    """Whether the rows run along x or y, so that turning rounds nothing."""
    return laying.row_angle_deg % 90.0 == 0.0


def are_rectangles(shapes: Shapes) -> Flags:
    """Whether each shape is the rectangle of its bounds, to a quarter of a hair.

    Of a valid shape with four corners: what it leaves open of its bounds are triangles on whole
    sides, so none is higher than twice their area over the shorter side.
    """
    u0, v0, u1, v1 = shapely.bounds(shapes).reshape(-1, 4).T
    length, width = u1 - u0, v1 - v0
    left_open = length * width - shapely.area(shapes)
    four = (shapely.get_num_coordinates(shapes) == 5) & (shapely.get_num_geometries(shapes) == 1)
    flags: Flags = four & (2.0 * left_open <= HAIR_MM / 4.0 * np.minimum(length, width))
    return flags


def wide_parts(shapes: Any, width_mm: float = TOLERANCE_MM) -> list[Polygon]:
    """Where leftover shapes are wide enough to hold a disc of that diameter.

    Leftovers that only touch, such as the two halves of a crack along a row line, are joined
    first; threads thinner than a quarter of the width are dropped before that.
    """
    parts = shapely.get_parts(np.asarray(shapes, dtype=np.object_).ravel())
    parts = parts[shapely.area(parts) > 0.1 * width_mm**2]
    if len(parts) == 0:
        return []
    parts = parts[~shapely.is_empty(shapely.buffer(parts, -width_mm / 4.0, quad_segs=2))]
    if len(parts) == 0:
        return []
    joint = 0.02
    joined = shapely.get_parts(shapely.union_all(shapely.buffer(parts, joint)))
    core = shapely.buffer(joined, -(width_mm / 2.0 + joint) * 0.999)
    area = shapely.area(joined) - joint * shapely.length(joined)
    wide = ~shapely.is_empty(core) & (area > LEAST_AREA_MM2)
    return [part for part in joined[wide].tolist() if isinstance(part, Polygon)]


def _strips(floor: MultiPolygon, start: float, width: float) -> tuple[Ints, Shapes]:
    """The floor in every row it reaches."""
    if floor.is_empty:
        return np.zeros(0, np.int64), np.zeros(0, np.object_)
    u0, v0, u1, v1 = floor.bounds
    first = math.floor((v0 - start) / width)
    last = math.ceil((v1 - start) / width)
    numbers = np.arange(first, last, dtype=np.int64)
    low = start + numbers * width
    boxes = shapely.box(u0 - 1.0, low, u1 + 1.0, low + width)
    return numbers + 1, shapely.intersection(floor, boxes)


def _stretches(strips: Shapes, rows: Ints, outlines: Shapes) -> tuple[Shapes, Ints, Shapes]:
    """The connected parts of the strips, their rows, and the scraps among them.

    Threads of floor and scraps that hold no piece are left out of the stretches.

    What hangs together by no more than a hair of rounding, where a corner of the floor lies on a
    row line, is apart.
    """
    parts, of_strip = _without_hairs(*shapely.get_parts(strips, return_index=True))
    if len(parts) == 0:
        return parts, np.zeros(0, np.int64), parts
    rows = rows[of_strip]
    across = np.diff(shapely.bounds(parts).reshape(-1, 4)[:, 1::2], axis=1)[:, 0]
    small = shapely.area(parts) < SCRAP_MM2 + LEAST_AREA_MM2
    small |= across < SCRAP_MM + ROUNDING_MM
    thin = ~small & (shapely.area(parts) < 2.0 * shapely.length(parts))
    solid = ~thin & ~small
    solid[thin] = [len(wide_parts(part)) > 0 for part in parts[thin]]
    if not solid.all():
        points = shapely.point_on_surface(outlines)
        _, held = shapely.STRtree(parts).query(points, predicate="intersects")
        solid[held] = True
    scraps = parts[small & ~solid]
    parts, rows = parts[solid], rows[solid]
    boxes = shapely.bounds(parts).reshape(-1, 4)
    order = np.lexsort((boxes[:, 1], np.round(boxes[:, 0], 2), rows))
    return parts[order], rows[order], scraps


def _without_hairs(parts: Shapes, of_strip: Ints) -> tuple[Shapes, Ints]:
    """The same shapes without the hairs that join two of them or hang on one.

    Of a narrow wedge the end that is too thin for a joint counts as a hair. A rectangle has none.
    """
    plain = are_rectangles(parts)
    whole, of_whole = parts[plain], of_strip[plain]
    parts, of_strip = parts[~plain], of_strip[~plain]
    across = np.diff(shapely.bounds(parts).reshape(-1, 4)[:, 1::2], axis=1)[:, 0]
    half = np.where(across <= WEDGE_MM, 0.998 * TOLERANCE_MM, HAIR_MM) / 2.0
    shrunk = shapely.buffer(parts, -half, join_style="mitre", mitre_limit=100.0)
    cores, of_part = shapely.get_parts(shrunk, return_index=True)
    large = shapely.area(cores) > LEAST_AREA_MM2
    cores, of_part = cores[large], of_part[large]
    grown = np.where(
        across[of_part] <= WEDGE_MM,
        shapely.buffer(cores, half[of_part], join_style="mitre"),
        shapely.buffer(cores, half[of_part], join_style="mitre", mitre_limit=100.0),
    )
    count = np.bincount(of_part, minlength=len(parts))
    moved = np.abs(shapely.bounds(grown) - shapely.bounds(parts)[of_part]).max(axis=-1, initial=0.0)
    hairy = count > 1
    hairy[of_part[moved > TOLERANCE_MM]] = True
    new = hairy[of_part]
    return (
        np.concatenate([whole, parts[~hairy], grown[new]]),
        np.concatenate([of_whole, of_strip[~hairy], of_strip[of_part[new]]]),
    )


def _stretch_of(outlines: Shapes, rows: Ints, stretches: Shapes, stretch_rows: Ints) -> Ints:
    """The stretch each piece lies in, -1 when it lies in none of its row."""
    found = np.full(len(outlines), -1, np.int64)
    if len(stretches) == 0 or len(outlines) == 0:
        return found
    points = shapely.point_on_surface(outlines)
    piece, stretch = shapely.STRtree(stretches).query(points, predicate="dwithin", distance=1.0)
    fits = stretch_rows[stretch] == rows[piece]
    found[piece[fits]] = stretch[fits]
    return found
