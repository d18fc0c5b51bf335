"""The room: its outline with named corners, the fixed things in it and its doorways.

Coordinates are millimeters, x to the right and y up. A wall is called after its two corners,
``"A-B"``, in the order in which they follow each other round the room. Corners of a hole in the
outline carry the hole's number: ``"1A"``, ``"1B"``.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, get_args

from shapely import Polygon
from shapely.validation import explain_validity

from plankwright.errors import RoomError

FixedKind = Literal[
    "post", "pipe", "hearth", "stair", "cabinet", "drain", "hatch", "panel", "toe-kick", "radiator"
]
FIXED_KINDS: tuple[FixedKind, ...] = get_args(FixedKind)
HANGING: tuple[FixedKind, ...] = ("toe-kick", "radiator")  # the floor runs under them
PANEL_GAP_MM = 1.5  # a saw's width round a panel that must come out

MOST_CORNERS = 5_000
LARGEST_EXTENT_MM = 1_000_000.0
SMALLEST_AREA_MM2 = 10_000.0

USUAL_STEM_MM = 8.0  # of a T-molding (common practice)
LEAF_MM = 40.0  # a door's leaf is about this thick (common practice)

Point = tuple[float, float]
Leaf = Literal["left", "middle", "right"]
Bridged = Literal["by the heights", "T-molding", "none"]


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
    """Something the floor goes round, with its own gap, or something that hangs over it.

    A *panel* is a part of the floor that can be lifted out, over a sump or a clean-out: it is
    floored, and joints lie on its edges. A *toe-kick* and a *radiator* hang over the floor, which
    runs under them.

    Parameters
    ----------
    kind : what it is.
    outline : its foot print [mm]; for a pipe a polygon drawn round the circle.
    gap_mm : its gap, or None for the gap of the rules; of a panel the saw's width round it.
    name : how the person calls it.
    clearance_mm : of what hangs over the floor: free height above what the boards lie on; None
        when unknown: just enough for a board.
    circle : center x, center y and diameter [mm] when it is round, else None.
    """

    kind: FixedKind
    outline: Polygon
    gap_mm: float | None = None
    name: str = ""
    circle: tuple[float, float, float] | None = None
    clearance_mm: float | None = None

    def __post_init__(self) -> None:
        where = self.name or self.kind
        _require_height(self.clearance_mm, where)
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
    undercut_height_mm : how high the jambs are undercut above what the boards lie on; None: just
        enough for a board.
    transition : what bridges it: what the heights of both floors ask for; a T-molding, between two
        parts of one floor; none to be bought, as it is on the list of the other part.
    """

    edge: str
    from_corner_mm: float
    width_mm: float
    depth_mm: float = 0.0
    stem_mm: float = 0.0
    undercut_mm: float = 0.0
    gap_mm: float | None = None
    name: str = ""
    undercut_height_mm: float | None = None
    transition: Bridged = "by the heights"

    def __post_init__(self) -> None:
        where = self.name or f"doorway in {self.edge}"
        sizes = (self.from_corner_mm, self.depth_mm, self.stem_mm, self.undercut_mm)
        if not (math.isfinite(self.width_mm) and self.width_mm > 0.0):
            raise RoomError(
                "a doorway needs a width above 0",
                where=where,
                value_mm=self.width_mm,
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
        _require_height(self.undercut_height_mm, where)


@dataclass(frozen=True, slots=True)
class Opening:
    """Where two rooms meet that are laid as one floor: a doorway inside the floor.

    Parameters
    ----------
    start, end : from jamb to jamb along the middle of the wall [mm].
    depth_mm : how thick the wall is.
    leaf : where a closed door's leaf stands, seen from start to end: in the wall's left or right
        face, or in its middle. A seam lies under the leaf.
    is_door : whether there is a doorway; False where two spaces only meet.
    name : how the person calls it.
    """

    start: Point
    end: Point
    depth_mm: float = 0.0
    leaf: Leaf = "middle"
    is_door: bool = True
    name: str = ""

    def __post_init__(self) -> None:
        where = self.name or "opening"
        _require_line(self.start, self.end, where)
        _require_height(self.depth_mm, where)

    @property
    def width_mm(self) -> float:
        """From jamb to jamb [mm]."""
        return math.dist(self.start, self.end)

    def seam(self) -> tuple[Point, Point]:
        """The line under the closed door's leaf, from jamb to jamb."""
        off = max(self.depth_mm - LEAF_MM, 0.0) / 2.0
        off = {"left": off, "middle": 0.0, "right": -off}[self.leaf]
        (x0, y0), (x1, y1) = self.start, self.end
        nx, ny = -(y1 - y0) / self.width_mm * off, (x1 - x0) / self.width_mm * off
        return (x0 + nx, y0 + ny), (x1 + nx, y1 + ny)


@dataclass(frozen=True, slots=True)
class Break:
    """An expansion break: a gap across the floor that a T-molding bridges.

    Parameters
    ----------
    start, end : its middle line, from wall to wall [mm].
    stem_mm : width of the molding's stem.
    gap_mm : gap on either side of the stem, or None for the gap of the rules.
    name : how the person calls it.
    """

    start: Point
    end: Point
    stem_mm: float = USUAL_STEM_MM
    gap_mm: float | None = None
    name: str = ""

    def __post_init__(self) -> None:
        where = self.name or "expansion break"
        _require_line(self.start, self.end, where)
        if not (math.isfinite(self.stem_mm) and 0.1 <= self.stem_mm <= 200.0):
            raise RoomError(
                "the stem of a T-molding must be from {0} to {1}",
                lengths_mm=(0.1, 200.0),
                where=where,
                value_mm=self.stem_mm,
                remedy="Measure the part that goes down between the floors.",
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
    openings : where rooms meet that are laid as one floor.
    breaks : expansion breaks across the floor.
    """

    outline: Polygon
    fixed: tuple[FixedThing, ...] = ()
    doorways: tuple[Doorway, ...] = ()
    edge_gaps: tuple[tuple[str, float], ...] = ()
    name: str = "room"
    openings: tuple[Opening, ...] = ()
    breaks: tuple[Break, ...] = ()

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
                "the doorway ends {0} along a wall that is {1} long",
                lengths_mm=(doorway.from_corner_mm + doorway.width_mm, edge.length_mm),
                where=where,
                value_mm=doorway.width_mm,
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
            "a gap must be from 0 to {0}",
            lengths_mm=(1000.0,),
            where=where,
            value_mm=gap_mm,
            remedy="Check the number and its unit.",
        )


def _require_height(height_mm: float | None, where: str) -> None:
    if height_mm is not None and not (math.isfinite(height_mm) and height_mm >= 0.0):
        raise RoomError(
            "a height or depth cannot be negative",
            where=where,
            value_mm=height_mm,
            remedy="Check the number and its unit.",
        )


def _require_line(start: Point, end: Point, where: str) -> None:
    if not (all(map(math.isfinite, (*start, *end))) and math.dist(start, end) > 1.0):
        raise RoomError(
            "needs two different points",
            where=where,
            value=(start, end),
            remedy="Write from and to, each as [x, y].",
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
