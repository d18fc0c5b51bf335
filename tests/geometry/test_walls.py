"""Walls as a person sees them."""

import math

import pytest
from shapely import Polygon

from plankwright.geometry.walls import wall_of, walls
from plankwright.model.room import Room
from plankwright.testing.moves import mirrored, turned
from plankwright.testing.zoo import rectangle, zoo


def test_a_rectangle_has_four_walls_longest_first() -> None:
    found = walls(rectangle())
    assert [(wall.edge.name, wall.length_mm) for wall in found] == [
        ("A-B", 4000.0), ("C-D", 4000.0), ("B-C", 3000.0), ("D-A", 3000.0),
    ]  # fmt: skip
    # into the room: up from A-B, down from C-D, left from B-C, right from D-A
    assert [wall.inward_deg for wall in found] == [90.0, -90.0, 180.0, 0.0]


def test_clockwise_corners_give_the_same_directions() -> None:
    room = Room(Polygon([(0, 0), (0, 3000), (4000, 3000), (4000, 0)]))
    inward = {wall.edge.name: wall.inward_deg for wall in walls(room)}
    assert inward == {"A-B": 0.0, "B-C": -90.0, "C-D": 180.0, "D-A": 90.0}


def test_a_jog_of_twenty_is_still_one_wall() -> None:
    def jogged(jog: float) -> Room:
        corners = [(0, 0), (2000, 0), (2000, jog), (4000, jog), (4000, 3000), (0, 3000)]
        return Room(Polygon(corners))

    # A-B and the two after it are one wall of sqrt(4000² + 20²) = 4000.05
    assert len(walls(jogged(20.0))) == 4
    longest = walls(jogged(20.0))[0]
    assert longest.length_mm == pytest.approx(math.hypot(4000, 20))
    assert longest.edge.length_mm == 2000.0
    assert len(walls(jogged(300.0))) == 6


def test_a_corner_in_the_middle_of_a_wall_is_none() -> None:
    room = Room(Polygon([(2000, 0), (4000, 0), (4000, 3000), (0, 3000), (0, 0)]))  # A on a wall
    assert sorted(wall.length_mm for wall in walls(room)) == [3000, 3000, 4000, 4000]


def test_a_named_wall() -> None:
    assert wall_of(rectangle(), "B-C").inward_deg == 180.0
    holed = zoo()["touching holes"]
    # the hole 1000 to 1400: whichever way it is listed, its walls look away from it
    for edge in holed.edges():
        if edge.name.startswith("1"):
            wall = wall_of(holed, edge.name)
            angle = math.radians(wall.inward_deg)
            x = (edge.start[0] + edge.end[0]) / 2.0 + math.cos(angle)
            y = (edge.start[1] + edge.end[1]) / 2.0 + math.sin(angle)
            assert not (1000 < x < 1400 and 800 < y < 1200)


@pytest.mark.parametrize("name", zoo())
def test_the_zoo_turned_and_mirrored(name: str) -> None:
    room = zoo()[name]
    found = walls(room)
    assert found
    for moved in (turned(room, 123.4), mirrored(room)):
        again = walls(moved)
        if name != "almost round":  # which of its walls are one is a matter of noise
            assert [wall.edge.name for wall in again] == [wall.edge.name for wall in found]
        assert [wall.length_mm for wall in again] == pytest.approx(
            [wall.length_mm for wall in found]
        )
    if name == "almost round":
        return
    turn = [
        (b.inward_deg - a.inward_deg) % 360.0
        for a, b in zip(found, walls(turned(room, 90.0)), strict=True)
    ]
    assert turn == pytest.approx([90.0] * len(found))
