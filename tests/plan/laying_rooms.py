"""Rooms whose laying order is not plain: legs that meet, closets, posts, lines inside the room."""

import random

from shapely import Polygon, box

from plankwright.model.room import FixedThing, Room

WIDTH = 192.0


def u_room(leg: float = 2000.0, base: float = 1500.0, left: float = 1300.0, right: float = 1400.0,
           between: float = 1200.0) -> Room:  # fmt: skip
    """Two legs that point down to the start wall and meet in a base above; gap-free numbers.

    Wall A-B is the end of the left leg, E-F that of the right one.
    """
    x1, x2, x3 = left, left + between, left + between + right
    corners = [(0, 0), (x1, 0), (x1, leg), (x2, leg), (x2, 0), (x3, 0), (x3, leg + base),
               (0, leg + base)]  # fmt: skip
    return Room(Polygon(corners), name="U")


def closet_room(deep: float = 800.0, wide: float = 900.0, at: float = 2600.0) -> Room:
    """A room of 4200 x 3000 with a closet behind its start wall; the closet has no door.

    Wall A-B and E-F lie on either side of the closet, C-D is its back.
    """
    corners = [(0, 0), (at, 0), (at, -deep), (at + wide, -deep), (at + wide, 0), (4200, 0),
               (4200, 3000), (0, 3000)]  # fmt: skip
    return Room(Polygon(corners), name="closet behind the start wall")


def l_room(chance: random.Random) -> Room:
    """An L of random size, its notch in any corner."""
    x, y = chance.uniform(3000, 6000), chance.uniform(2500, 5000)
    a, b = chance.uniform(0.25, 0.7) * x, chance.uniform(0.25, 0.7) * y
    notch = chance.choice(
        [box(0, 0, a, b), box(x - a, 0, x, b), box(0, y - b, a, y), box(x - a, y - b, x, y)]
    )
    outline = box(0, 0, x, y).difference(notch)
    assert isinstance(outline, Polygon)
    return Room(outline, name="L")


def any_u(chance: random.Random) -> Room:
    """A U of random size whose legs point to the start wall."""
    return u_room(*(chance.uniform(900, 2400) for _ in range(5)))


def post_room(chance: random.Random) -> Room:
    """A rectangle with one to three posts or a hearth."""
    x, y = chance.uniform(3500, 6000), chance.uniform(2800, 4500)
    posts = []
    for number in range(chance.randint(1, 3)):
        wide, deep = chance.uniform(80, 700), chance.uniform(80, 700)
        at_x = (number + 0.3) * x / 3.5
        at_y = chance.uniform(500, y - 500 - deep)
        posts.append(FixedThing("post", box(at_x, at_y, at_x + wide, at_y + deep), 10.0))
    return Room(box(0, 0, x, y), fixed=tuple(posts), name="posts")
