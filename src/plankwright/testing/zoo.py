"""The zoo of awkward rooms: every shape that has ever tripped a floor planner, by name.

All are small enough to be planned in a moment. Lengths in millimeters.
"""

import math
from collections.abc import Callable

from shapely import Polygon, box

from plankwright.model.room import Doorway, FixedThing, Point, Room
from plankwright.testing.moves import turned

Corners = list[Point]


def zoo() -> dict[str, Room]:
    """A fresh copy of every room in the zoo, by name."""
    return {name: make() for name, make in _ROOMS.items()}


def rectangle(width_mm: float = 4000.0, depth_mm: float = 3000.0) -> Room:
    """A plain rectangle with corner A at the origin and wall A-B along x."""
    return Room(_box(0, 0, width_mm, depth_mm), name="rectangle")


def with_post() -> Room:
    """A rectangle with a post that parts rows in two."""
    post = FixedThing("post", box(1900, 1200, 2050, 1650), 10.0, "post")
    return Room(_box(0, 0, 4000, 3000), fixed=(post,), name="with post")


def with_doorway() -> Room:
    """A rectangle with a doorway in its right wall, jambs undercut by 20."""
    doorway = Doorway("B-C", 900.0, 800.0, depth_mm=60.0, stem_mm=12.0, undercut_mm=20.0)
    return Room(_box(0, 0, 3600, 2600), doorways=(doorway,), name="with doorway")


def wide_gaps() -> Room:
    """An L whose long wall and inner walls keep gaps of their own."""
    gaps = (("A-B", 12.0), ("C-D", 20.0), ("D-E", 5.0))
    return Room(Polygon(_L), edge_gaps=gaps, name="wide gaps")


_L: Corners = [(0, 0), (4500, 0), (4500, 1700), (2500, 1700), (2500, 3200), (0, 3200)]
_U: Corners = [
    (0, 0), (4200, 0), (4200, 3000), (2900, 3000), (2900, 1250), (1300, 1250), (1300, 3000),
    (0, 3000),
]  # fmt: skip


def _box(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    return Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def _holed() -> Room:
    """Two holes that touch at a corner."""
    holes = [_box(1000, 800, 1400, 1200), _box(1400, 1200, 1700, 1500)]
    rings = [list(hole.exterior.coords) for hole in holes]
    return Room(Polygon(_box(0, 0, 3500, 2500).exterior.coords, rings))


def _noisy() -> Room:
    """A traced outline: jogs of a few millimeters along every wall."""
    steps = [i * 400.0 for i in range(11)]
    lower = [(x, 3.0 if i % 2 else 0.0) for i, x in enumerate(steps)]
    upper = [(x, 2600.0 - (4.0 if i % 3 else 0.0)) for i, x in enumerate(reversed(steps))]
    jog = [(4000.0, 1200.0), (4006.0, 1200.0), (4006.0, 1290.0), (4000.0, 1290.4)]
    return Room(Polygon([*lower, *jog, *upper]))


def _ngon(corners: int, radius: float) -> Room:
    angles = [math.tau * i / corners for i in range(corners)]
    return Room(Polygon([(radius * math.cos(a), radius * math.sin(a)) for a in angles]))


def _star() -> Room:
    """Five spikes."""
    radii = [2600.0 if i % 2 == 0 else 1100.0 for i in range(10)]
    angles = [math.tau * i / 10 + 0.3 for i in range(10)]
    corners = [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]
    return Room(Polygon(corners))


def _comb() -> Room:
    """A back with seven teeth of 240 and gaps of 260 between them."""
    corners: Corners = [(0, 0), (3240, 0)]
    for left in range(3000, -1, -500):
        corners += [(left + 240, 700), (left + 240, 1800), (left, 1800), (left, 700)]
    return Room(Polygon(corners[:2] + corners[3:-1]))


def _spiral() -> Room:
    """A corridor 700 wide that winds inward, walls 100 thick."""
    outer: Corners = [(0, 0), (4100, 0), (4100, 3300), (0, 3300), (0, 800), (2500, 800)]
    inner: Corners = [
        (2500, 1700), (1800, 1700), (1800, 1500), (700, 1500), (700, 2600), (3400, 2600),
        (3400, 700), (0, 700),
    ]  # fmt: skip
    return Room(Polygon([*outer, *inner]))


def _touching_spikes() -> Room:
    """A wall with a wedge that all but reaches the opposite wall: its gap parts the floor."""
    wedge: Corners = [(2100, 2200), (2000, 6), (1900, 2200)]
    return Room(Polygon([(0, 0), (4000, 0), (4000, 2200), *wedge, (0, 2200)]))


_ROOMS: dict[str, Callable[[], Room]] = {
    "rectangle": rectangle,
    "L": lambda: Room(Polygon(_L)),
    "U": lambda: Room(Polygon(_U)),
    "post": with_post,
    "doorway": with_doorway,
    "wide gaps": wide_gaps,
    "sliver": lambda: Room(_box(0, 0, 3000, 16.0 + 10 * 192.0 + 4.0)),
    "touching holes": _holed,
    "noise edges": _noisy,
    "turned by 0.1 degree": lambda: turned(Room(Polygon(_L)), 0.1),
    "huge": lambda: Room(_box(0, 0, 60_000, 4000)),
    "far away": lambda: Room(_box(9e6, -7e6, 9e6 + 3500, -7e6 + 2500)),
    "needle": lambda: Room(Polygon([(0, 0), (5000, 0), (5000, 300)])),
    "closet": lambda: Room(_box(0, 0, 1100, 800)),
    "narrower than a board": lambda: Room(_box(0, 0, 3000, 180)),
    "corridor": lambda: Room(_box(0, 0, 9000, 900)),
    "corridor across": lambda: Room(_box(0, 0, 900, 9000)),
    "almost round": lambda: _ngon(48, 1900.0),
    "triangle": lambda: _ngon(3, 2200.0),
    "slanted": lambda: Room(Polygon([(0, 0), (4000, 150), (3700, 2900), (250, 2600)])),
    "star": _star,
    "comb": _comb,
    "spiral": _spiral,
    "parted": _touching_spikes,
    "vanishing": lambda: Room(_box(0, 0, 2500, 12)),
}
