"""A slab's face as flat triangles between the measured heights, and sections through it.

Heights between readings are interpolated: in a straight line along a profile, in flat triangles
over an area. Lengths and heights in millimeters; heights count upward.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import MultiPoint, delaunay_triangles, get_coordinates

from plankwright.errors import InputError
from plankwright.physics.arrays import Floats, Ints

ON_LINE_MM = 1e-7  # a point nearer to a line than this lies on it: float noise only
MOST_POINTS = 2_500
_NEXT = [1, 2, 0]  # the corner after each of a triangle's three


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """Measured points, their heights and the triangles between them.

    Parameters
    ----------
    points : (n, 2) coordinates [mm].
    heights : (n,) heights [mm], upward.
    triangles : (m, 3) indices of points.
    """

    points: Floats
    heights: Floats
    triangles: Ints

    def with_heights(self, heights: Floats) -> "Surface":
        """The same points at other heights."""
        return Surface(self.points, heights, self.triangles)

    def edges(self) -> Ints:
        """(e, 2) indices of the triangles' sides, each once."""
        sides = np.concatenate([self.triangles[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
        unique: Ints = np.unique(np.sort(sides, axis=1), axis=0)
        return unique

    def triangle_areas_mm2(self) -> Floats:
        """Area of each triangle [mm²]."""
        a, b, c = (self.points[self.triangles[:, k]] for k in range(3))
        ab, ac = b - a, c - a
        areas: Floats = np.abs(ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]) / 2.0
        return areas

    def point_areas_mm2(self) -> Floats:
        """Area each point stands for [mm²]: heights times these sum to the volume."""
        shares = np.zeros(len(self.points))
        np.add.at(shares, self.triangles.ravel(), np.repeat(self.triangle_areas_mm2() / 3.0, 3))
        return shares


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """A straight cut through a surface, as points between two of its nodes.

    Parameters
    ----------
    places : (k,) distances along the cut [mm], growing.
    first, second, share : the height of point p is
        ``(1 - share[p]) * heights[first[p]] + share[p] * heights[second[p]]``.
    """

    places: Floats
    first: Ints
    second: Ints
    share: Floats

    def heights(self, node_heights: Floats) -> Floats:
        """Heights along the cut [mm]."""
        cut: Floats = (1.0 - self.share) * node_heights[self.first]
        cut += self.share * node_heights[self.second]
        return cut


def profile_section(places_mm: Sequence[float] | Floats) -> Section:
    """A section that is a measured profile itself: its nodes are its readings."""
    places = np.asarray(places_mm, dtype=float)
    if len(places) < 3 or not np.all(np.diff(places) > 0.0):
        raise InputError(
            "a profile needs three readings at growing distances", value=places.tolist()
        )
    index = np.arange(len(places))
    return Section(places, index, index, np.zeros(len(places)))


def grid_surface(
    heights_mm: Sequence[Sequence[float | None]],
    step_mm: float | tuple[float, float],
    origin_mm: tuple[float, float] = (0.0, 0.0),
) -> Surface:
    """The surface of a grid of readings.

    Parameters
    ----------
    heights_mm : rows of readings; the first row lies at the least y, the first reading of a row
        at the least x; None where nothing could be read (a post, a stair).
    step_mm : distance of readings, one for both ways or (along x, along y).
    origin_mm : place of the first reading of the first row.

    The diagonals of the cells alternate, so that no direction is preferred.
    """
    rows, columns = len(heights_mm), len(heights_mm[0]) if heights_mm else 0
    if rows < 2 or columns < 2 or any(len(row) != columns for row in heights_mm):
        raise InputError("a grid of heights needs two rows or more, all of the same length")
    step_x, step_y = step_mm if isinstance(step_mm, tuple) else (step_mm, step_mm)
    if min(step_x, step_y) <= 0.0:
        raise InputError("the step between readings must be above 0", value=step_mm)
    number = np.full((rows, columns), -1)
    points: list[tuple[float, float]] = []
    heights: list[float] = []
    for r, row in enumerate(heights_mm):
        for c, height in enumerate(row):
            if height is not None:
                number[r, c] = len(points)
                points.append((origin_mm[0] + c * step_x, origin_mm[1] + r * step_y))
                heights.append(height)
    triangles = [
        t for r in range(rows - 1) for c in range(columns - 1) for t in _cell(number, r, c)
    ]
    return _checked(np.array(points), np.array(heights), np.array(triangles, dtype=np.int64))


def _cell(number: Ints, r: int, c: int) -> Iterator[tuple[int, int, int]]:
    """The triangles of one cell; one triangle where a corner is missing."""
    a, b, d, e = (int(number[r + i, c + j]) for i, j in ((0, 0), (0, 1), (1, 1), (1, 0)))
    missing = (a, b, d, e).count(-1)
    if missing > 1:
        return
    rising = (r + c) % 2 == 0 if missing == 0 else -1 in (b, e)
    for triangle in ((a, b, d), (a, d, e)) if rising else ((a, b, e), (b, d, e)):
        if -1 not in triangle:
            yield triangle


def scattered_surface(
    points_mm: Sequence[tuple[float, float]] | Floats, heights_mm: Sequence[float] | Floats
) -> Surface:
    """The surface of readings anywhere, by Delaunay triangles."""
    points, heights = np.asarray(points_mm, dtype=float), np.asarray(heights_mm, dtype=float)
    if len(points) != len(heights) or len(points) < 3:
        raise InputError("scattered heights need three places or more, each with one height")
    if len(np.unique(points, axis=0)) != len(points):
        raise InputError("two heights were read at the same place", remedy="Keep one of them.")
    index = {(x, y): i for i, (x, y) in enumerate(points.tolist())}
    collection = delaunay_triangles(MultiPoint(points))
    triangles = [
        [index[x, y] for x, y in get_coordinates(triangle)[:3].tolist()]
        for triangle in collection.geoms
    ]
    return _checked(points, heights, np.array(triangles, dtype=np.int64))


def _checked(points: Floats, heights: Floats, triangles: Ints) -> Surface:
    if len(points) > MOST_POINTS:
        raise InputError(f"more than {MOST_POINTS} heights", value=len(points))
    if not (np.all(np.isfinite(points)) and np.all(np.isfinite(heights))):
        raise InputError("a height or its place is not a number")
    if triangles.size == 0:
        raise InputError(
            "the heights lie on one line", remedy="Read heights along two lines or more."
        )
    return Surface(points, heights, triangles)


def is_whole(surface: Surface) -> bool:
    """Whether the triangles fill their convex hull: no jog, no post, one section for each line."""
    hull = MultiPoint(surface.points).convex_hull.area
    return bool(abs(hull - surface.triangle_areas_mm2().sum()) <= 1e-6 * hull)


def sections_along(
    surface: Surface, edges: Ints, start: tuple[float, float], angle: float, *, whole: bool = False
) -> Iterator[Section]:
    """The parts of a straight line that lie on the surface.

    A line over a jog or a post falls into several parts: a straightedge reaches over neither.

    Parameters
    ----------
    edges : ``surface.edges()``, made once.
    start : a point of the line [mm]; places count from it.
    angle : direction of the line [radians], anticlockwise from x.
    whole : what :func:`is_whole` says, asked once: spares looking for breaks.
    """
    along = np.array([np.cos(angle), np.sin(angle)])
    offset = surface.points - np.asarray(start)
    t = offset @ along
    s = offset @ np.array([-along[1], along[0]])
    s[np.abs(s) < ON_LINE_MM] = 0.0
    places, first, second, share = _crossings(t, s, edges)
    stretches = [(-np.inf, np.inf)] if whole else _covered(t, s, surface.triangles)
    for low, high in stretches:
        inside = (places >= low - ON_LINE_MM) & (places <= high + ON_LINE_MM)
        if inside.sum() >= 3:
            yield Section(places[inside], first[inside], second[inside], share[inside])


def _crossings(t: Floats, s: Floats, edges: Ints) -> tuple[Floats, Ints, Ints, Floats]:
    """Where the line crosses sides or meets nodes, in order along it."""
    i, j = edges[s[edges[:, 0]] * s[edges[:, 1]] < 0.0].T
    share = s[i] / (s[i] - s[j])
    nodes = np.flatnonzero(s == 0.0)
    places = np.concatenate([t[i] + share * (t[j] - t[i]), t[nodes]])
    first, second = np.concatenate([i, nodes]), np.concatenate([j, nodes])
    share = np.concatenate([share, np.zeros(len(nodes))])
    order = np.argsort(places, kind="stable")
    placed = places[order]
    apart = np.ones(len(order), dtype=bool)
    apart[1:] = placed[1:] - placed[:-1] > ON_LINE_MM
    order = order[apart]
    return places[order], first[order], second[order], share[order]


def _covered(t: Floats, s: Floats, triangles: Ints) -> list[tuple[float, float]]:
    """The stretches of the line that run over triangles."""
    corner_t, corner_s = t[triangles], s[triangles]
    next_t, next_s = corner_t[:, _NEXT], corner_s[:, _NEXT]
    crossing = corner_s * next_s < 0.0
    fall = np.where(crossing, corner_s - next_s, 1.0)
    cross_t = np.where(crossing, corner_t + corner_s / fall * (next_t - corner_t), np.nan)
    meets = np.concatenate([cross_t, np.where(corner_s == 0.0, corner_t, np.nan)], axis=1)
    low, high = np.fmin.reduce(meets, axis=1), np.fmax.reduce(meets, axis=1)
    kept = high - low > ON_LINE_MM
    low, high = low[kept], high[kept]
    if len(low) == 0:
        return []
    order = np.argsort(low, kind="stable")
    low, reach = low[order], np.maximum.accumulate(high[order])
    breaks = np.flatnonzero(low[1:] > reach[:-1] + ON_LINE_MM)
    starts = np.concatenate([[0], breaks + 1])
    ends = np.concatenate([breaks, [len(low) - 1]])
    return [(float(low[a]), float(reach[b])) for a, b in zip(starts, ends, strict=True)]
