"""The picture of an import: every room, its name where it fits, a sheet for each storey."""

import shapely
from shapely import LineString
from tests.drawing.look import faults

from plankwright.drawing.import_picture import compose_rooms
from plankwright.drawing.scene import Area, Polyline
from plankwright.drawing.svg import render_svg
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.model.room import Doorway, FixedThing, Room


def room(
    key: str, name: str, x: float, wide: float, storey: str = "", deep: float = 3000.0
) -> FoundRoom:
    outline = shapely.box(x, 0, x + wide, deep)
    post = FixedThing("post", shapely.box(x + 200, 200, x + 400, 400))
    doors = (Doorway("A-B", 500, 900),)
    return FoundRoom(key, Room(outline, (post,), doors, name=name), "by hand", storey)


FOUND = FoundRooms(
    (room("1", "Living room", 0, 5000), room("2", "Bath", 5100, 1500), room("3", "x", 6700, 1100)),
    "mm",
    backdrop=(LineString([(0, 0), (8000, 0)]),),
    closings=(LineString([(500, 0), (1400, 0)]),),
)


def test_every_room_is_told() -> None:
    (scene,) = compose_rooms(FOUND, "flat.dxf")
    words = [text.text for text in scene.texts()]
    # 5 x 3, 1.5 x 3 and 1.1 x 3 m: 15, 4.5 and 3.3 m2, 22.8 in all.
    assert {"Living room", "15.00 m²", "1", "2", "3"} <= {*words}
    assert any("3 rooms, 22.80 m² in all" in word for word in words)
    assert "Living room 15.00 m²" in scene.description


def test_what_was_added_is_marked() -> None:
    (scene,) = compose_rooms(FOUND, "flat.dxf")
    shapes = list(scene.shapes())
    styles = [shape.style for shape in shapes if isinstance(shape, Polyline)]
    assert styles.count("saw") == 2  # the closing, and its sample in the legend
    assert styles.count("rip") == 4  # three doors and their sample
    assert sum(isinstance(shape, Area) and shape.style == "fixed" for shape in shapes) == 4


def test_a_sheet_for_each_storey() -> None:
    found = FoundRooms(
        (room("1", "Den", 0, 4000, "Cellar"), room("2", "Den", 0, 4000, "Floor 1")), "mm"
    )
    scenes = compose_rooms(found, "house.ifc")
    assert [scene.title for scene in scenes] == [
        "Rooms found: house.ifc: Cellar",
        "Rooms found: house.ifc: Floor 1",
    ]


def test_inch_drawings_are_in_feet_and_true_scales() -> None:
    (scene,) = compose_rooms(FoundRooms(FOUND.rooms, "in"), "flat.dxf")
    # 15 m2 / 0.09290304 = 161.46 sq ft
    assert "161.5 sq ft" in {text.text for text in scene.texts()}
    assert scene.scale == 32.0  # 3/8 in to the foot: 7.8 m / 32 = 244 mm of the 277 there are


def test_nothing_stands_on_anything_and_the_same_bytes_come_out() -> None:
    for found in (
        FOUND,
        FoundRooms(
            tuple(room(str(i), f"Room with a name {i}", 900 * i, 800) for i in range(30)), "m"
        ),
    ):
        (scene,) = compose_rooms(found, "flat.dxf")
        assert faults(scene) == []
        assert render_svg(scene) == render_svg(compose_rooms(found, "flat.dxf")[0])
