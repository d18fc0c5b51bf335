"""The room: its outline with named corners, the fixed things in it and its doorways.

Coordinates are millimeters, x to the right and y up. A wall is called after its two corners,
``"A-B"``, in the order in which they follow each other round the room. Corners of a hole in the
outline carry the hole's number: ``"1A"``, ``"1B"``.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from shapely import Polygon
from shapely.validation import explain_validity

from plankwright.errors import RoomError

FixedKind = Literal["post", "pipe", "hearth", "stair", "cabinet", "drain", "hatch"]
FIXED_KINDS: tuple[FixedKind, ...] = (
    "post", "pipe", "hearth", "stair", "cabinet", "drain", "hatch",
)  # fmt: skip

MOST_CORNERS = 5_000
LARGEST_EXTENT_MM = 1_000_000.0
SMALLEST_AREA_MM2 = 10_000.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Edge:
    """One straight stretch of the outline, from one named corner to the next."""

    name: str
    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """Length [mm]."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class FixedThing:
    """Something the floor goes round, with its own gap.

    Parameters
    ----------
    kind : what it is.
    outline : its foot print [mm]; for a pipe a polygon drawn round the circle.
    gap_mm : its gap, or None for the gap of the rules.
    name : how the person calls it.
    circle : center x, center y and diameter [mm] when it is round, else None.
    """

    kind: FixedKind
    outline: Polygon
    gap_mm: float | None = None
    name: str = ""
    circle: tuple[float, float, float] | None = None

    def __post_init__(self) -> None:
        where = self.name or self.kind
        if self.kind not in FIXED_KINDS:
            raise RoomError(
                "unknown kind of fixed thing",
                where=where,
                value=self.kind,
                remedy="Use one of " + ", ".join(FIXED_KINDS) + ".",
            )
        _require_polygon(self.outline, where, smallest_mm2=1.0)
        if self.gap_mm is not None:
            _require_gap(self.gap_mm, where)


@dataclass(frozen=True, slots=True)
class Doorway:
    """An opening in a wall through which the floor runs as far as its transition.

    Parameters
    ----------
    edge : the wall, ``"C-D"``.
    from_corner_mm : from the wall's first corner to the opening.
    width_mm : clear width between the jambs.
    depth_mm : from the wall's face to the center line of the transition; 0 when the floor
        stops at the wall like anywhere else.
    stem_mm : width of the transition's stem; the floor stops half of it and a gap short.
    undercut_mm : how far the floor reaches under each jamb beyond the clear width, before the
        gap behind it is taken off; 0 when the jambs are not undercut.
    gap_mm : gap at the transition and behind the jambs, or None for the gap of the rules.
    name : how the person calls it.
    """

    edge: str
    from_corner_mm: float
    width_mm: float
    depth_mm: float = 0.0
    stem_mm: float = 0.0
    undercut_mm: float = 0.0
    gap_mm: float | None = None
    name: str = ""

    def __post_init__(self) -> None:
        where = self.name or f"doorway in {self.edge}"
        sizes = (self.from_corner_mm, self.depth_mm, self.stem_mm, self.undercut_mm)
        if not (math.isfinite(self.width_mm) and self.width_mm > 0.0):
            raise RoomError(
                "a doorway needs a width above 0",
                where=where,
                value=self.width_mm,
                remedy="Measure between the jambs.",
            )
        if not all(math.isfinite(size) and size >= 0.0 for size in sizes):
            raise RoomError(
                "a doorway's lengths cannot be negative",
                where=where,
                value=sizes,
                remedy="Measure from the wall's first corner and from the wall's face.",
            )
        if self.gap_mm is not None:
            _require_gap(self.gap_mm, where)


@dataclass(frozen=True, slots=True)
class Room:
    """A room to be floored.

    Parameters
    ----------
    outline : the walls' faces [mm], with holes where the outline was given with holes.
    fixed : what stands in it.
    doorways : its openings.
    edge_gaps : pairs of an edge's name and its gap [mm], where it differs from the rules.
    name : how the person calls it.
    """

    outline: Polygon
    fixed: tuple[FixedThing, ...] = ()
    doorways: tuple[Doorway, ...] = ()
    edge_gaps: tuple[tuple[str, float], ...] = ()
    name: str = "room"

    def __post_init__(self) -> None:
        _require_polygon(self.outline, "outline", SMALLEST_AREA_MM2)
        edges = {edge.name: edge for edge in self.edges()}
        for name, gap_mm in self.edge_gaps:
            _require_edge(name, edges, "edges")
            _require_gap(gap_mm, f"edge {name}")
        for doorway in self.doorways:
            self._require_fit(doorway, edges)

    def _require_fit(self, doorway: Doorway, edges: dict[str, Edge]) -> None:
        where = doorway.name or f"doorway in {doorway.edge}"
        edge = _require_edge(doorway.edge, edges, where)
        if doorway.from_corner_mm + doorway.width_mm > edge.length_mm + 0.5:
            raise RoomError(
                f"the doorway ends {doorway.from_corner_mm + doorway.width_mm:.0f} mm along a "
                f"wall that is {edge.length_mm:.0f} mm long",
                where=where,
                value=doorway.width_mm,
                remedy="Check its width and its distance from the corner.",
            )

    def edges(self) -> Iterator[Edge]:
        """Every edge of the outline, outer ring first, each with its name."""
        rings = [self.outline.exterior, *self.outline.interiors]
        for number, ring in enumerate(rings):
            corners = [(x, y) for x, y, *_ in ring.coords[:-1]]
            names = [f"{number or ''}{corner_name(i)}" for i in range(len(corners))]
            for i, start in enumerate(corners):
                j = (i + 1) % len(corners)
                yield Edge(f"{names[i]}-{names[j]}", start, corners[j])


def corner_name(index: int) -> str:
    """A, B, … Z, AA, AB, … for 0, 1, … 25, 26, 27, …

    >>> [corner_name(i) for i in (0, 25, 26, 701, 702)]
    ['A', 'Z', 'AA', 'ZZ', 'AAA']
    """
    name = ""
    index += 1
    while index:
        index, letter = divmod(index - 1, 26)
        name = chr(ord("A") + letter) + name
    return name


def _require_edge(name: str, edges: dict[str, Edge], where: str) -> Edge:
    if name not in edges:
        known = ", ".join(list(edges)[:12])
        raise RoomError(
            "there is no such wall", where=where, value=name, remedy=f"Walls here: {known}."
        )
    return edges[name]


def _require_gap(gap_mm: float, where: str) -> None:
    if not (math.isfinite(gap_mm) and 0.0 <= gap_mm <= 1000.0):
        raise RoomError(
            "a gap must be from 0 to 1000 mm",
            where=where,
            value=gap_mm,
            remedy="Check the number and its unit.",
        )


def _require_polygon(outline: Polygon, where: str, smallest_mm2: float) -> None:
    rings = [outline.exterior, *outline.interiors] if not outline.is_empty else []
    corners = sum(len(ring.coords) - 1 for ring in rings)
    if corners < 3:
        raise RoomError(
            "an outline needs at least three corners",
            where=where,
            value=corners,
            remedy="List every corner of the walls.",
        )
    if corners > MOST_CORNERS:
        raise RoomError(
            f"more than {MOST_CORNERS} corners",
            where=where,
            value=corners,
            remedy="Simplify the outline first.",
        )
    if not all(math.isfinite(c) for ring in rings for xy in ring.coords for c in xy):
        raise RoomError(
            "a coordinate is not a number", where=where, remedy="Write every corner as two lengths."
        )
    low_x, low_y, high_x, high_y = outline.bounds
    if max(abs(c) for c in outline.bounds) > 100 * LARGEST_EXTENT_MM:
        raise RoomError(
            "the room lies too far from the origin",
            where=where,
            value=outline.bounds,
            remedy="Move it near the origin, or check the unit.",
        )
    if max(high_x - low_x, high_y - low_y) > LARGEST_EXTENT_MM:
        raise RoomError(
            "the room is more than a kilometer long",
            where=where,
            value=max(high_x - low_x, high_y - low_y),
            remedy="Check the unit.",
        )
    if not outline.is_valid:
        raise RoomError(
            "the outline crosses or touches itself",
            where=where,
            value=explain_validity(outline),
            remedy="List the corners in the order in which you pass them walking along the walls.",
        )
    if outline.area < smallest_mm2:
        raise RoomError(
            "the outline encloses almost nothing",
            where=where,
            value=f"{outline.area:.0f} mm2",
            remedy="Check the unit.",
        )
