"""Rooms from DXF drawings: outlines, blocks, curves, units, bare walls; and two real drawings."""

import json
import math
from pathlib import Path
from typing import Any

import pytest
from shapely import Polygon
from tests.data import data_file
from tests.files.dxf_maker import lines, rectangle, write_dxf

from plankwright.errors import FileError
from plankwright.files.dxf_rooms import FLAT_MM, read_dxf_rooms
from plankwright.model.found_rooms import FoundRooms


def codes(found: FoundRooms) -> list[str]:
    return [finding.code for finding in found.findings]


def told(found: FoundRooms, code: str) -> str:
    return " | ".join(finding.message for finding in found.findings if finding.code == code)


def test_a_rectangle_in_millimeters(tmp_path: Path) -> None:
    path = write_dxf(tmp_path / "a.dxf", lambda space: rectangle(space, 100, 200, 4000, 3000))
    found = read_dxf_rooms(path)
    (room,) = found.rooms
    assert found.unit == "mm"
    assert room.area_m2 == pytest.approx(12.0)
    assert room.extent_m == pytest.approx((4.0, 3.0))
    assert "layer 0" in told(found, "import-took")


@pytest.mark.parametrize(
    ("insunits", "per_mm", "unit"),
    [(4, 1.0, "mm"), (5, 0.1, "cm"), (6, 0.001, "m"), (1, 1 / 25.4, "in"), (2, 1 / 304.8, "ft")],
)
def test_units_of_the_header(tmp_path: Path, insunits: int, per_mm: float, unit: str) -> None:
    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 4000 * per_mm, 3000 * per_mm)

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw, insunits))
    assert found.unit == unit
    assert found.rooms[0].area_m2 == pytest.approx(12.0)
    assert "import-unit" not in codes(found)


def flat_with_doors(per_mm: float) -> Any:
    """Two rooms of 4 x 3 m and three doors of 800 mm."""

    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 4000 * per_mm, 3000 * per_mm, "ROOMS")
        rectangle(space, 4100 * per_mm, 0, 4000 * per_mm, 3000 * per_mm, "ROOMS")
        for number in range(3):
            spot = (1000 * number * per_mm, 3000 * per_mm)
            space.add_arc(spot, 800 * per_mm, 0, 90, dxfattribs={"layer": "DOORS"})

    return draw


@pytest.mark.parametrize("lie", [0, 1, 2, 4, 5, 6, 13])
@pytest.mark.parametrize(("per_mm", "unit"), [(1.0, "mm"), (0.1, "cm"), (0.001, "m")])
def test_doors_and_rooms_tell_the_unit_when_the_header_lies(
    tmp_path: Path, lie: int, per_mm: float, unit: str
) -> None:
    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", flat_with_doors(per_mm), lie))
    honest = {4: "mm", 5: "cm", 6: "m"}.get(lie) == unit
    assert found.unit == unit
    assert [round(room.area_m2, 6) for room in found.rooms] == [12.0, 12.0]
    assert ("import-unit" in codes(found)) is not honest


def test_the_person_knows_the_unit_best(tmp_path: Path) -> None:
    path = write_dxf(tmp_path / "a.dxf", flat_with_doors(1.0), 4)
    found = read_dxf_rooms(path, unit="cm")
    assert found.rooms[0].area_m2 == pytest.approx(1200.0)
    assert "as you said" in told(found, "import-took")


def test_no_header_and_nothing_to_hold_it_against(tmp_path: Path) -> None:
    path = write_dxf(tmp_path / "a.dxf", lambda s: lines(s, [(0, 0), (7, 0)], "X"), 0)
    with pytest.raises(FileError, match="neither its header nor its sizes"):
        read_dxf_rooms(path)


def test_size_labels_in_feet_settle_it(tmp_path: Path) -> None:
    # 13'8 x 14' is 164 x 168 in: drawn in inches, under a header that says centimeters.
    def draw(space: Any) -> None:
        for number in range(3):
            rectangle(space, 200 * number, 0, 164, 168, "ROOMS")
            space.add_text("13'8 x 14'").set_placement((200 * number + 60, 80))

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw, 5))
    assert found.unit == "in"
    assert "3 of 3 room sizes" in told(found, "import-unit")


def test_a_size_that_is_not_what_is_drawn_is_said(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 4000, 3000, "ROOMS")
        space.add_text("4.50 m x 3.00 m").set_placement((1000, 1000))

    assert "4.50 m x 3.00 m is written" in told(
        read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw)), "import-size"
    )


# --- curves and blocks -------------------------------------------------------------------------


def test_bulges_are_flattened_to_the_stated_tolerance(tmp_path: Path) -> None:
    # A slot: 4 m long, half circles of 1 m radius at both ends (bulge 1): 4 * 2 + pi * 1 m2.
    def draw(space: Any) -> None:
        corners = [(0, 0, 0, 0, 0), (4000, 0, 0, 0, 1), (4000, 2000, 0, 0, 0), (0, 2000, 0, 0, 1)]
        space.add_lwpolyline(corners, close=True)

    (room,) = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw)).rooms
    exact = 8.0 + math.pi
    # Chords within FLAT_MM of the arc lose at most two thirds of that along its length.
    assert 0.0 <= exact - room.area_m2 <= 2 * math.pi * 1.0 * FLAT_MM / 1000
    assert room.area_m2 == pytest.approx(exact, rel=1e-3)


CONTROL = [(20000.0, 0.0), (24000.0, 0.0), (24000.0, 3000.0), (20000.0, 3000.0)]


def uniform_cubic(control: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Points of the closed uniform cubic B-spline, by its blending functions.

    Farin, Curves and Surfaces for CAGD, 5th ed., chapter on B-splines: (1-t)^3, 3t^3-6t^2+4,
    -3t^3+3t^2+3t+1 and t^3, each over 6.
    """
    points = []
    for i in range(len(control)):
        four = [control[(i + k) % len(control)] for k in range(4)]
        for t in (k / 50 for k in range(50)):
            b = ((1 - t) ** 3, 3 * t**3 - 6 * t**2 + 4, -3 * t**3 + 3 * t**2 + 3 * t + 1, t**3)
            points.append(
                tuple(sum(w * p[c] for w, p in zip(b, four, strict=True)) / 6 for c in (0, 1))
            )
    return [(x, y) for x, y in points]


def test_circles_ellipses_and_splines(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        space.add_circle((0, 0), 2000)
        space.add_ellipse((9000, 0), (3000, 0), 0.5)
        spline = space.add_spline()
        spline.set_closed([(x, y, 0) for x, y in CONTROL])

    round_one, long_one, spline = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw)).rooms
    assert round_one.area_m2 == pytest.approx(4 * math.pi, rel=1e-3)
    assert long_one.area_m2 == pytest.approx(3 * 1.5 * math.pi, rel=1e-3)
    assert spline.area_m2 == pytest.approx(Polygon(uniform_cubic(CONTROL)).area / 1e6, rel=1e-3)


def test_blocks_are_opened_in_their_place(tmp_path: Path) -> None:
    # A block of 1 x 1 m, inside a block that doubles it, set down scaled by 2 x 1.5, turned by 90:
    # 4 x 3 m, standing 3 wide and 4 deep.
    def draw(space: Any) -> None:
        inner = space.doc.blocks.new("INNER")
        rectangle(inner, 0, 0, 1000, 1000)
        outer = space.doc.blocks.new("OUTER")
        outer.add_blockref("INNER", (0, 0), dxfattribs={"xscale": 2, "yscale": 2})
        look = {"xscale": 2, "yscale": 1.5, "rotation": 90, "layer": "ROOMS"}
        space.add_blockref("OUTER", (5000, 5000), dxfattribs=look)

    (room,) = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw)).rooms
    assert room.area_m2 == pytest.approx(12.0)
    assert room.extent_m == pytest.approx((3.0, 4.0))
    assert room.room.outline.bounds == pytest.approx((2000, 5000, 5000, 9000))
    assert room.origin.endswith("layer ROOMS")  # layer 0 in a block is that of the block


def test_a_block_that_contains_itself_is_opened_once(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        block = space.doc.blocks.new("SELF")
        rectangle(block, 0, 0, 4000, 3000)
        block.add_blockref("SELF", (1, 1))
        space.add_blockref("SELF", (0, 0))

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert len(found.rooms) == 1
    assert "SELF contains itself" in told(found, "import-damaged")


def test_blocks_nested_too_deep_are_left_and_that_is_said(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 4000, 3000)
        rectangle(space.doc.blocks.new("N0"), 5000, 0, 4000, 3000)
        for level in range(1, 30):
            space.doc.blocks.new(f"N{level}").add_blockref(f"N{level - 1}", (0, 0))
        space.add_blockref("N29", (0, 0))

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert len(found.rooms) == 1
    assert "nested more than 12 deep" in told(found, "import-damaged")


# --- layers and names -------------------------------------------------------------------------


def two_layers(space: Any) -> None:
    rectangle(space, 0, 0, 4000, 3000, "NET-AREA")
    rectangle(space, 4200, 0, 3000, 3000, "NET-AREA")
    rectangle(space, -200, -200, 7600, 3400, "FOOTPRINT")
    space.add_text("BEDROOM").set_placement((1500, 1500))
    space.add_text("12").set_placement((1500, 1200))
    space.add_text("BATH").set_placement((5000, 1500))
    space.add_text("13").set_placement((5000, 1200))


def test_the_layer_is_guessed_with_reasons(tmp_path: Path) -> None:
    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", two_layers))
    assert [room.id for room in found.rooms] == ["12", "13"]
    assert [room.room.name for room in found.rooms] == ["BEDROOM 12", "BATH 13"]
    assert "layer NET-AREA" in told(found, "import-took")
    assert "called like rooms" in told(found, "import-took")
    assert "FOOTPRINT" in told(found, "import-left")


def test_the_layer_is_chosen(tmp_path: Path) -> None:
    path = write_dxf(tmp_path / "a.dxf", two_layers)
    (room,) = read_dxf_rooms(path, layer="footprint").rooms
    assert room.area_m2 == pytest.approx(7.6 * 3.4)
    with pytest.raises(FileError, match="no such layer"):
        read_dxf_rooms(path, layer="FOOTPRNT")


def test_outlines_round_others_are_left_and_small_ones_within_are_holes(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        rectangle(space, -100, -100, 9000, 3200, "ROOMS")
        rectangle(space, 0, 0, 4000, 3000, "ROOMS")
        rectangle(space, 4500, 0, 4000, 3000, "ROOMS")
        rectangle(space, 5000, 1000, 1000, 1000, "ROOMS")

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert sorted(round(room.area_m2, 6) for room in found.rooms) == [11.0, 12.0]
    assert "lie round others: 1 outline" in told(found, "import-left")


# --- bare walls ---------------------------------------------------------------------------------


def double_walls(space: Any) -> None:
    """A room of 4 x 3 m within walls of 100 mm, a door of 900 mm, and a slip of 5 mm."""
    lines(space, [(0, 0), (4000, 0), (4000, 1000)])
    lines(space, [(4000, 1000), (4100, 1000), (4100, -100), (-100, -100), (-100, 3100)])
    lines(space, [(4000, 1900), (4100, 1900), (4100, 3100), (-100, 3100)])
    lines(space, [(4000, 1900), (4000, 3000), (5, 3000)])
    lines(space, [(0, 3000), (0, 0)])
    space.add_arc((4000, 1000), 900, 90, 180, dxfattribs={"layer": "DOORS"})
    space.add_line((4000, 1000), (3100, 1000), dxfattribs={"layer": "DOORS"})
    space.add_text("DEN").set_placement((2000, 1500))
    space.add_text("PORCH").set_placement((9000, 1500))


def test_a_room_between_bare_walls(tmp_path: Path) -> None:
    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", double_walls))
    (room,) = found.rooms
    assert room.room.name == "DEN"
    assert room.area_m2 == pytest.approx(12.0, rel=1e-6)
    assert len(room.room.outline.exterior.coords) - 1 == 4
    (door,) = room.room.doorways
    assert door.width_mm == pytest.approx(900.0, abs=0.2)
    assert "5 mm at" in told(found, "import-gap-closed")
    assert "1 opening in" in told(found, "import-gap-closed")
    assert "PORCH" in told(found, "import-no-room")
    assert "4.200 x 3.200 m" in told(found, "import-took")


# --- drawings that nobody here made: shared test data, see its README and truth.json ------------


@pytest.fixture(scope="module")
def truth() -> dict[str, Any]:
    read: dict[str, Any] = json.loads(data_file("imports/truth.json").read_text(encoding="utf-8"))
    return read


def test_flats_in_centimeters(truth: dict[str, Any]) -> None:
    found = read_dxf_rooms(data_file("imports/flats_net_area_polygons_cm.dxf"))
    expected = truth["flats_net_area_polygons_cm.dxf"]["rooms"]
    assert found.unit == "cm"
    assert "import-unit" not in codes(found)
    by_handle = {room.origin.split()[1]: room for room in found.rooms}
    assert by_handle.keys() == {room["handle"] for room in expected}
    for room in expected:
        mine = by_handle[room["handle"]]
        assert mine.area_m2 == pytest.approx(room["area_m2_library"], rel=1e-3)
        assert mine.area_m2 == pytest.approx(room["area_m2_raw"], rel=1e-3)
        assert mine.extent_m == pytest.approx(room["bbox_m"], rel=1e-3)
        # The stamp's number is the room's; a stamp of the flat (G-…) may stand in it, too.
        numbers = [stamp["Attribute1"] for stamp in room["stamp"]]
        assert mine.id in numbers
        assert {*room["texts_inside"], *numbers} <= {*mine.texts}
        words = [text for text in room["texts_inside"] if text.isalpha()]
        assert all(word in mine.room.name for word in words)


def test_a_house_of_bare_walls_in_inches_whose_header_says_millimeters(
    truth: dict[str, Any],
) -> None:
    path = data_file("imports/house_line_walls_inches.dxf")
    expected = truth["house_line_walls_inches.dxf"]
    found = read_dxf_rooms(path)
    assert found.unit == "in"
    assert "the header says millimeters" in told(found, "import-unit")
    wide, deep = expected["wall_extent_m"]
    assert f"{wide:.3f} x {deep:.3f} m" in told(found, "import-took")
    # Two of the file's wall lines end where they begin.
    layer = expected["wall_layer"]
    assert f"lines without a length were left out: 2 on {layer}" in told(found, "import-left")
    assert f"between {expected['wall_entities'] - 2} wall lines" in told(found, "import-took")
    sizes = {room.room.name: room.extent_m for room in found.rooms}
    # The sizes that are written in the drawing: 13'8 x 14', 13'6 x 11', 11'6 x 13', 5' x 8'1.
    inch = 0.0254
    assert sizes["MASTER BEDROOM"] == pytest.approx((164 * inch, 168 * inch), rel=1e-3)
    assert sizes["BEDROOM 2"] == pytest.approx((162 * inch, 132 * inch), rel=1e-3)
    assert sizes["BEDROOM 3"] == pytest.approx((138 * inch, 156 * inch), rel=1e-3)
    assert sizes["BATH"] == pytest.approx((60 * inch, 97 * inch), rel=1e-3)
    assert "GREAT ROOM" in told(found, "import-open")  # what no wall parts is said


def test_the_footprints_of_the_house(truth: dict[str, Any]) -> None:
    path = data_file("imports/house_line_walls_inches.dxf")
    found = read_dxf_rooms(path, layer="A-FOOTPRINT")
    expected = truth["house_line_walls_inches.dxf"]["footprint_polylines_m2"]
    assert sorted(room.area_m2 for room in found.rooms) == pytest.approx(sorted(expected), rel=1e-3)
