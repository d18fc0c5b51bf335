"""An outline parted by lines: the faces that come of it, and which wall each of their sides is."""

from collections.abc import Sequence

import shapely
from shapely import LineString, Point, Polygon

from plankwright.geometry.floating import Line, drawn_out
from plankwright.model.room import Edge

ON_MM = 0.5  # a corner this near to a line lies on it


def faces(outline: Polygon, lines: Sequence[Line], reach_mm: float) -> list[Polygon]:
    """The parts of an outline that is cut along lines, the largest first.

    ``reach_mm``: a line that ends no farther than this before a wall goes on to it; one that parts
    nothing is left out.
    """
    cuts = [LineString(drawn_out(line, reach_mm)).intersection(outline) for line in lines]
    noded = shapely.union_all([outline.boundary, *cuts])
    found = shapely.get_parts(shapely.polygonize([noded]))
    inside = [face for face in found if outline.covers(face.representative_point())]
    return sorted(inside, key=lambda face: (-round(face.area, 3), face.bounds))


def lies_on(edge: Edge, line: Line, reach_mm: float = 0.0) -> bool:
    """Whether both ends of an edge lie on a line that is drawn out by ``reach_mm``."""
    drawn = LineString(drawn_out(line, reach_mm) if reach_mm else line)
    return all(drawn.distance(Point(end)) <= ON_MM for end in (edge.start, edge.end))


def place_on(edge: Edge, start: tuple[float, float], end: tuple[float, float]) -> float | None:
    """How far from an edge's first corner an opening on it begins [mm]; None if it is not on it."""
    line = LineString([edge.start, edge.end])
    if any(line.distance(Point(point)) > ON_MM for point in (start, end)):
        return None
    first, last = (float(line.project(Point(point))) for point in (start, end))
    return max(min(first, last), 0.0)
