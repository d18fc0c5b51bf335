"""Random rooms, boards and rules for property tests; needs the package ``hypothesis``.

Every strategy draws whole millimeters, so that a failing example can be read and drawn by hand.
"""

from dataclasses import replace

import shapely
from hypothesis import assume
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy
from shapely import Polygon, box

from plankwright.model.board import Board, EndLock, Hand, Laid, Profile
from plankwright.model.room import Doorway, FixedThing, Point, Room
from plankwright.model.rules import Rules
from plankwright.testing.moves import turned

HANDS: tuple[Hand, ...] = ("left", "right")
LAIDS: tuple[Laid, ...] = ("left-to-right", "right-to-left")
PROFILES: tuple[Profile, ...] = ("tongue", "groove")
END_LOCKS: tuple[EndLock, ...] = ("drop", "angle", "tap", "loose")

LEAST_AREA_MM2 = 1.0e6


@st.composite
def rectilinear(draw: DrawFn) -> Polygon:
    """One to four boxes that lie over each other: rectangles, L, T, U and worse."""
    boxes = [box(0, 0, draw(st.integers(1200, 5200)), draw(st.integers(900, 4200)))]
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(st.integers(-1500, 4000)), draw(st.integers(-1500, 3000))
        boxes.append(box(x, y, x + draw(st.integers(400, 2500)), y + draw(st.integers(400, 2500))))
    return _largest(shapely.union_all(boxes))


@st.composite
def skewed(draw: DrawFn) -> Polygon:
    """A rectilinear outline with every corner up to 60 mm out of its place."""
    corners = list(draw(rectilinear()).exterior.coords)[:-1]
    out = st.integers(-60, 60)
    outline = Polygon([(x + draw(out), y + draw(out)) for x, y in corners])
    assume(outline.is_valid and outline.area > LEAST_AREA_MM2)
    return outline


@st.composite
def slanted(draw: DrawFn) -> Polygon:
    """A rectilinear outline with one to three of its sides cut off at a slant."""
    outline = draw(rectilinear())
    for _ in range(draw(st.integers(1, 3))):
        cut = _corner_triangle(draw, outline)
        outline = _largest(outline.difference(cut))
    return outline


@st.composite
def holed(draw: DrawFn) -> Polygon:
    """A rectilinear outline with one or two holes: columns, shafts, walls that stand free."""
    outline = draw(rectilinear())
    holes: list[Polygon] = []
    for _ in range(draw(st.integers(1, 2))):
        x, y = draw(st.integers(100, 3000)), draw(st.integers(100, 2500))
        hole = box(x, y, x + draw(st.integers(60, 900)), y + draw(st.integers(60, 900)))
        if outline.buffer(-20).contains(hole) and not any(hole.distance(h) < 20 for h in holes):
            holes.append(hole)
    assume(holes)
    return Polygon(outline.exterior.coords, [hole.exterior.coords for hole in holes])


def outlines() -> SearchStrategy[Polygon]:
    """Rectilinear, skewed, slanted outlines and outlines with holes."""
    return st.one_of(rectilinear(), skewed(), slanted(), holed())


@st.composite
def rooms(draw: DrawFn, *, any_angle: bool = True) -> Room:
    """A room, often with a post, turned by any angle unless told otherwise."""
    outline = draw(outlines())
    fixed: tuple[FixedThing, ...] = ()
    if draw(st.booleans()):
        x, y = draw(st.integers(200, 2500)), draw(st.integers(200, 2000))
        post = box(x, y, x + draw(st.integers(40, 400)), y + draw(st.integers(40, 400)))
        fixed = (FixedThing("post", post, float(draw(st.integers(0, 15))), "post"),)
    room = Room(outline, fixed=fixed)
    return turned(room, draw(angles())) if any_angle else room


@st.composite
def furnished(draw: DrawFn, room: Room) -> Room:
    """The room with gaps of their own for some walls and with one or two doorways."""
    edges = [edge for edge in room.edges() if edge.length_mm > 300.0]
    few = st.lists(st.sampled_from(edges), max_size=2, unique_by=lambda edge: edge.name)
    gaps = tuple((edge.name, float(draw(st.integers(0, 30)))) for edge in draw(few))
    doorways: list[Doorway] = []
    for edge in draw(few):
        width = draw(st.integers(100, min(900, int(edge.length_mm) - 100)))
        doorways.append(
            Doorway(
                edge.name,
                float(draw(st.integers(0, int(edge.length_mm) - width))),
                float(width),
                depth_mm=float(draw(st.integers(0, 150))),
                stem_mm=float(draw(st.integers(0, 20))),
                undercut_mm=float(draw(st.sampled_from((0, 0, 10, 25)))),
            )
        )
    return replace(room, edge_gaps=gaps, doorways=tuple(doorways))


def angles() -> SearchStrategy[float]:
    """Any angle in degrees, quarter turns and nearly none among them."""
    some = st.sampled_from((0.0, 90.0, 180.0, 270.0, 0.1, 359.9, 45.0, 30.0))
    return st.one_of(some, st.integers(0, 359_999).map(lambda n: n / 1000.0))


@st.composite
def boards(draw: DrawFn) -> Board:
    """A board of any lock that can be laid."""
    width = draw(st.integers(60, 250))
    return Board(
        float(draw(st.integers(max(700, 2 * width), 2200))),
        float(width),
        per_pack=draw(st.integers(1, 12)),
        reversible=draw(st.integers(0, 9)) == 0,
        start_side=draw(st.sampled_from(PROFILES)),
        tongue_end=draw(st.sampled_from(HANDS)),
        end_lock=draw(st.sampled_from(END_LOCKS)),
        either_way=draw(st.booleans()),
    )


@st.composite
def rules_for(draw: DrawFn, board: Board) -> Rules:
    """Rules that rows of this board can keep."""
    third = int(board.length_mm / 3.0)
    return Rules(
        gap_mm=float(draw(st.integers(0, 16))),
        kerf_mm=float(draw(st.integers(0, 4))),
        allowance_mm=float(draw(st.integers(0, 5))),
        shortest_piece_mm=float(draw(st.integers(0, third))),
        joint_offset_mm=float(draw(st.integers(0, third))),
        narrowest_row_mm=float(draw(st.integers(0, int(board.width_mm / 3.0)))),
    )


def _corner_triangle(draw: DrawFn, outline: Polygon) -> Polygon:
    x0, y0, x1, y1 = (int(c) for c in outline.bounds)
    along, across = draw(st.integers(50, (x1 - x0) // 2)), draw(st.integers(50, (y1 - y0) // 2))
    right, top = draw(st.booleans()), draw(st.booleans())
    corner: Point = (x1 if right else x0, y1 if top else y0)
    inward = (-along if right else along, -across if top else across)
    return Polygon([corner, (corner[0] + inward[0], corner[1]), (corner[0], corner[1] + inward[1])])


def _largest(shape: shapely.Geometry) -> Polygon:
    """The largest part without its holes, corners in whole millimeters."""
    polygons = [part for part in shapely.get_parts(shape) if isinstance(part, Polygon)]
    assume(polygons)
    largest = max(polygons, key=lambda part: part.area)
    outline = Polygon([(round(x), round(y)) for x, y in largest.exterior.coords])
    outline = outline.simplify(0.0)
    assume(isinstance(outline, Polygon) and outline.is_valid and outline.area > LEAST_AREA_MM2)
    return outline
