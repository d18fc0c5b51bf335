"""Rooms from bare wall lines: where lines enclose a space, small gaps and openings closed.

Walls are drawn as their two faces, which stop at openings. A face that goes on in line beyond a gap
is the same wall: where the gap is as small as a slip of the pen it is closed, where it is as wide
as a door, or a door or window is drawn in it, it is closed as an opening. All lengths in mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import LineString, Point, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from plankwright.files.tangle import is_tangle

Spot = tuple[float, float]

GRID_MM = 0.1  # ends nearer than this are one
SLIP_MM = 60.0  # a gap that is no opening: common practice has none under a pipe's width
DOOR_MM = 1_350.0  # an opening of this width needs no door drawn in it
WIDEST_OPENING_MM = 6_000.0  # with a door or window drawn in it: a garage's
BESIDE_MM = 60.0  # a door or window touches the line that closes its opening
SIDEWAYS_MM = 8.0  # the faces on both sides of an opening are in line
STRAIGHT_COS = math.cos(math.radians(3.0))
SHORTEST_FACE_MM = 20.0
THICKEST_WALL_MM = 450.0  # what is narrower everywhere is the inside of a wall
SMALLEST_ROOM_MM2 = 400_000.0
MOST_LINES = 20_000


@dataclass(frozen=True, slots=True)
class Closing:
    """A line that was added over a gap: a slip of the pen, or an opening."""

    line: LineString
    gap_mm: float
    is_slip: bool


@dataclass(frozen=True, slots=True)
class Enclosed:
    """What wall lines enclose, and the lines that were added to make them do so."""

    rooms: tuple[Polygon, ...]
    closings: tuple[Closing, ...]


@dataclass(frozen=True, slots=True)
class _Tip:
    """An end of a wall's face: where it is, and the way on beyond it."""

    at: Spot
    way: Spot


def enclose(walls: Sequence[LineString], openings: Sequence[LineString] = ()) -> Enclosed:
    """The rooms that wall lines enclose; none where lines cross more often than walls do.

    Parameters
    ----------
    walls : faces of walls, as they were drawn.
    openings : what doors and windows were drawn with.
    """
    if not walls or len(walls) > MOST_LINES or is_tangle(walls):
        return Enclosed((), ())
    noded = _noded(walls)
    tips = _tips(noded)
    closings = _closings(tips, noded, _Openings(openings))
    lines = _noded([*shapely.get_parts(noded), *(closing.line for closing in closings)])
    faces = shapely.get_parts(shapely.polygonize([*shapely.get_parts(lines)]))
    rooms = tuple(sorted((f for f in map(_plain, faces) if is_room(f)), key=_place))
    return Enclosed(rooms, tuple(_used(closings, rooms)))


def is_room(face: Polygon) -> bool:
    """Whether a face is large and wide enough to be no inside of a wall."""
    return face.area >= SMALLEST_ROOM_MM2 and not face.buffer(-THICKEST_WALL_MM / 2.0).is_empty


def _noded(lines: Sequence[BaseGeometry]) -> BaseGeometry:
    return shapely.union_all(lines, grid_size=GRID_MM)


def _plain(face: Polygon) -> Polygon:
    """The face without the corners that lie on a straight wall."""
    plain = face.simplify(GRID_MM)
    kept = plain if isinstance(plain, Polygon) and plain.is_valid else face
    start_is_straight = _start_is_straight(kept)
    return _turned(kept).simplify(GRID_MM) if start_is_straight else kept


def _start_is_straight(face: Polygon) -> bool:
    ring = list(face.exterior.coords)
    before, here, after = ring[-2], ring[0], ring[1]
    return bool(LineString([before, after]).distance(Point(here)) <= GRID_MM)


def _turned(face: Polygon) -> Polygon:
    """The same face, beginning at its next corner."""
    ring = list(face.exterior.coords)[:-1]
    return Polygon([*ring[1:], ring[0]], [hole.coords for hole in face.interiors])


def _place(face: Polygon) -> tuple[float, float]:
    x0, _, _, y1 = face.bounds
    return (-round(y1), round(x0))


# --- ends of faces -----------------------------------------------------------------------------


def _tips(noded: BaseGeometry) -> list[_Tip]:
    """Every end from which no line goes on straight."""
    ways: dict[Spot, list[Spot]] = {}
    for line in shapely.get_parts(noded):
        for (xa, ya), (xb, yb) in pairwise(line.coords):
            length = math.hypot(xb - xa, yb - ya)
            if length > 0.0:
                step = ((xb - xa) / length, (yb - ya) / length)
                long_enough = length >= SHORTEST_FACE_MM
                for spot, way in (((xb, yb), step), ((xa, ya), (-step[0], -step[1]))):
                    ways.setdefault(spot, []).append(way if long_enough else (0.0, 0.0))
    return [
        _Tip(spot, way)
        for spot, found in sorted(ways.items())
        for way in found
        if way != (0.0, 0.0) and not any(_cos(way, other) < -STRAIGHT_COS for other in found)
    ]


def _cos(a: Spot, b: Spot) -> float:
    return a[0] * b[0] + a[1] * b[1]


# --- closing ----------------------------------------------------------------------------------


class _Openings:
    """What doors and windows were drawn with, to be asked whether something lies beside it."""

    def __init__(self, lines: Sequence[LineString]) -> None:
        self._lines = list(lines)
        self._tree = STRtree(self._lines)
        self.known = bool(self._lines)

    def beside(self, line: LineString) -> bool:
        """Whether a door or window is drawn within a line's reach, not only at its ends."""
        if not self.known:
            return False
        inner = shapely.buffer(line, BESIDE_MM, cap_style="flat")
        return len(self._tree.query(inner, predicate="intersects")) > 0


def _closings(tips: list[_Tip], noded: BaseGeometry, openings: _Openings) -> list[Closing]:
    lines = list(shapely.get_parts(noded))
    walls = STRtree(lines)
    spots = STRtree([Point(tip.at) for tip in tips])
    found: dict[tuple[Spot, Spot], Closing] = {}
    for tip in tips:
        closing = _to_tip(tip, tips, spots, openings) or _to_wall(tip, lines, walls, openings)
        if closing is not None and not _is_crossed(closing.line, walls):
            a, b = sorted(closing.line.coords)
            found.setdefault((a, b), closing)
    return [found[key] for key in sorted(found)]


def _to_tip(tip: _Tip, tips: list[_Tip], spots: STRtree, openings: _Openings) -> Closing | None:
    """Across to the nearest end that comes the other way in line."""
    (x, y), (dx, dy) = tip.at, tip.way
    ray = LineString([(x, y), (x + dx * WIDEST_OPENING_MM, y + dy * WIDEST_OPENING_MM)])
    best: tuple[float, Spot] | None = None
    for index in spots.query(ray.buffer(SIDEWAYS_MM)):
        other = tips[int(index)]
        ahead = (other.at[0] - x) * dx + (other.at[1] - y) * dy
        aside = abs((other.at[0] - x) * dy - (other.at[1] - y) * dx)
        opposed = _cos(tip.way, other.way) < -STRAIGHT_COS
        if opposed and aside <= SIDEWAYS_MM and 2 * GRID_MM < ahead <= WIDEST_OPENING_MM:
            best = min(best or (math.inf, other.at), (ahead, other.at))
    if best is None:
        return None
    return _closing(LineString([tip.at, best[1]]), best[0], DOOR_MM, WIDEST_OPENING_MM, openings)


def _to_wall(
    tip: _Tip, lines: list[LineString], walls: STRtree, openings: _Openings
) -> Closing | None:
    """On to the wall that stands across the way: a line that was stopped short, or a door beside
    a corner."""
    (x, y), (dx, dy) = tip.at, tip.way
    ray = LineString(
        [(x + dx * 2 * GRID_MM, y + dy * 2 * GRID_MM), (x + dx * DOOR_MM, y + dy * DOOR_MM)]
    )
    reached = [
        spot
        for index in walls.query(ray, predicate="intersects")
        for spot in _spots(ray.intersection(lines[int(index)]))
    ]
    if not reached:
        return None
    nearest = min(reached, key=lambda spot: (math.dist(spot, tip.at), spot))
    beyond = (nearest[0] + dx * 2 * GRID_MM, nearest[1] + dy * 2 * GRID_MM)
    gap_mm = math.dist(nearest, tip.at)
    return _closing(LineString([tip.at, beyond]), gap_mm, SLIP_MM, DOOR_MM, openings)


def _closing(
    line: LineString, gap_mm: float, unseen_mm: float, seen_mm: float, openings: _Openings
) -> Closing | None:
    """A closing, if its gap is small enough, with or without a door drawn in it."""
    if gap_mm <= SLIP_MM:
        return Closing(line, gap_mm, is_slip=True)
    if gap_mm <= unseen_mm or (gap_mm <= seen_mm and openings.beside(line)):
        return Closing(line, gap_mm, is_slip=False)
    return None


def _is_crossed(line: LineString, walls: STRtree) -> bool:
    """Whether a wall lies across the way of a closing."""
    inner = shapely.line_interpolate_point(line, [3 * GRID_MM, max(line.length - 3 * GRID_MM, 0.0)])
    between = LineString(inner)
    if line.length <= 6 * GRID_MM:
        return False
    return len(walls.query(between, predicate="intersects")) > 0


def _spots(shape: BaseGeometry) -> Iterator[Spot]:
    for x, y in shapely.get_coordinates(shape):
        yield float(x), float(y)


def _used(closings: Sequence[Closing], rooms: Sequence[Polygon]) -> Iterator[Closing]:
    """The closings that a room has in its outline."""
    rims = STRtree([room.boundary for room in rooms])
    for closing in closings:
        middle = closing.line.interpolate(0.5, normalized=True)
        if len(rims.query(middle, predicate="dwithin", distance=SIDEWAYS_MM)):
            yield closing
