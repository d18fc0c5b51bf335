"""Posts and stairs from DXF drawings: small ones whose sums are in the comments, and a real one."""

import math
from pathlib import Path
from typing import Any

import pytest
from tests.data import data_file
from tests.files.dxf_maker import lines, rectangle, write_dxf

from plankwright.files.dxf_rooms import read_dxf_rooms
from plankwright.files.dxf_things import thing_kind
from plankwright.files.job import found_job
from plankwright.model.found_rooms import FoundRooms


def told(found: FoundRooms, code: str) -> str:
    return " | ".join(finding.message for finding in found.findings if finding.code == code)


def fixed(found: FoundRooms) -> list[tuple[str, float]]:
    """Kind and area [mm2] of every fixed thing."""
    return [(f.kind, round(f.outline.area, 3)) for r in found.rooms for f in r.room.fixed]


def room(space: Any) -> None:
    """6 x 4 m."""
    rectangle(space, 0, 0, 6000, 4000, "ROOMS")


def stair_block(space: Any, name: str = "Stair 1") -> str:
    """A flight of 1 x 3 m from (0, 0): two sides, eleven lines across, an arrow."""
    block = space.doc.blocks.new(name)
    lines(block, [(0, 0), (0, 3000)], "0")
    lines(block, [(1000, 0), (1000, 3000)], "0")
    for number in range(11):
        lines(block, [(0, 300 * number), (1000, 300 * number)], "0")
    lines(block, [(500, 100), (500, 2900)], "0")
    return name


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("A-COLS", "post"), ("S-COLS-CONC", "post"), ("Columns", "post"), ("post_150", "post"),
        ("STUETZEN", "post"), ("Stahlstütze HEA", "post"), ("Poteaux", "post"),
        ("house$0$A-COLS", "post"), ("A-FLOR-STRS", "stair"), ("Staircase", "stair"),
        ("STAIR FLIGHT", "stair"), ("E04_TREPPEN", "stair"), ("Escalier", "stair"),
        ("COLOR", None), ("COL-GRID", None), ("S-COLS-FOOTING", None), ("Stair text", None),
        ("POSTER", None), ("composite", None), ("post-tension", None), ("A-STRS-HRAL", None),
        ("stairs above", None), ("protocol", None), ("SCALE", None), ("columns$0$A-WALL", None),
    ],
)  # fmt: skip
def test_what_a_layer_is_called(name: str, kind: str | None) -> None:
    assert thing_kind(name) == kind


def test_a_square_post_and_a_round_one(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        room(space)
        rectangle(space, 2000, 1500, 150, 150, "A-COLS")
        lines(space, [(2000, 1500), (2150, 1650)], "A-COLS")  # crossed out, as posts are
        space.add_circle((4000, 2000), 100, dxfattribs={"layer": "A-COLS"})

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    square, round_one = sorted(found.rooms[0].room.fixed, key=lambda f: f.outline.area)
    assert (square.kind, round_one.kind) == ("post", "post")
    # 150 x 150 mm
    assert square.outline.bounds == (2000, 1500, 2150, 1650)
    assert square.outline.area == pytest.approx(22_500)
    # a polygon of 32 sides round a circle of 200 mm: 32 x 100² x tan(180°/32)
    assert round_one.circle == pytest.approx((4000, 2000, 200), abs=0.1)  # FLAT_MM is 0.5
    assert round_one.outline.area == pytest.approx(320_000 * math.tan(math.pi / 32), rel=1e-3)
    assert "2 posts, from layer A-COLS" in told(found, "import-took")


def test_a_stair_in_a_block_that_is_turned(tmp_path: Path) -> None:
    """Turned by 90° about (5000, 500) it covers x from 2000 to 5000 and y from 500 to 1500."""

    def draw(space: Any) -> None:
        room(space)
        space.add_blockref(stair_block(space), (5000, 500), dxfattribs={"rotation": 90})

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    (stair,) = found.rooms[0].room.fixed
    assert stair.kind == "stair"
    assert stair.outline.bounds == pytest.approx((2000, 500, 5000, 1500), abs=0.2)
    assert stair.outline.area == pytest.approx(3e6, rel=1e-4)
    assert "1 stair, from block Stair 1" in told(found, "import-took")
    [finding] = [f for f in found.findings if "1 stair" in f.message]
    assert "runs on under a stair" in finding.remedy


def test_two_blocks_are_two_posts_even_where_they_touch(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        room(space)
        block = space.doc.blocks.new("COLUMN-300")
        rectangle(block, 0, 0, 300, 300)
        space.add_blockref("COLUMN-300", (1000, 1000))
        space.add_blockref("COLUMN-300", (1300, 1000))

    assert fixed(read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))) == [("post", 90_000)] * 2


def test_a_post_within_a_block_of_another_name(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        room(space)
        rectangle(space.doc.blocks.new("Pillar"), 0, 0, 200, 400)
        space.doc.blocks.new("axis 3").add_blockref("Pillar", (100, 0))
        space.add_blockref("axis 3", (3000, 1000))

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert found.rooms[0].room.fixed[0].outline.bounds == (3100, 1000, 3300, 1400)


def test_a_post_half_in_the_wall_is_cut_at_the_wall(tmp_path: Path) -> None:
    """300 x 300 mm about (0, 2000): 150 x 300 mm of it stand in the room."""

    def draw(space: Any) -> None:
        room(space)
        rectangle(space, -150, 1850, 300, 300, "Stützen")
        rectangle(space, -300, 3000, 300, 300, "Stützen")  # its face is the wall's

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert fixed(found) == [("post", 45_000)]
    assert "1 posts or stairs that stand in no room" in told(found, "import-left")


def test_lines_that_enclose_nothing_are_told_and_not_taken(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        room(space)
        for number in range(9):
            lines(space, [(5000, 300 * number), (6000, 300 * number)], "STAIRS")
        rectangle(space, 1000, 1000, 20, 20, "COLUMNS")  # 400 mm²

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert fixed(found) == []
    left = told(found, "import-left")
    assert "layer STAIRS: 9 lines that enclose nothing" in left
    assert "layer COLUMNS: 1 outline too small or too large for a post" in left


def test_posts_are_no_rooms_and_part_no_room(tmp_path: Path) -> None:
    """Bare walls of 6 x 4 m with a pier of 1 x 1 m, which alone is a closed outline."""

    def draw(space: Any) -> None:
        lines(space, [(0, 0), (6000, 0), (6000, 4000), (0, 4000), (0, 0)])
        rectangle(space, 2000, 1000, 1000, 1000, "PIERS")

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert [one.area_m2 for one in found.rooms] == pytest.approx([24.0])
    assert fixed(found) == [("post", 1e6)]


def test_a_whole_plan_in_a_block_called_after_its_stairs_is_no_stair(tmp_path: Path) -> None:
    """10 x 8 m: larger than any stair."""

    def draw(space: Any) -> None:
        block = space.doc.blocks.new("Floor with stairs")
        rectangle(block, 0, 0, 10_000, 8_000, "ROOMS")
        rectangle(block, 4000, 4000, 200, 200, "COLUMNS")
        space.add_blockref("Floor with stairs", (0, 0))

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw))
    assert [one.area_m2 for one in found.rooms] == pytest.approx([80.0])
    assert fixed(found) == [("post", 40_000)]


def test_a_layer_that_the_person_chose_is_taken_for_rooms(tmp_path: Path) -> None:
    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 3000, 2000, "STAIRS")

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw), layer="STAIRS")
    assert [one.area_m2 for one in found.rooms] == pytest.approx([6.0])
    assert fixed(found) == []


@pytest.mark.parametrize(("insunits", "per_mm"), [(5, 0.1), (1, 1 / 25.4)])
def test_in_other_units_and_on_to_the_job(tmp_path: Path, insunits: int, per_mm: float) -> None:
    """A post of 200 x 100 mm in a drawing in centimeters or inches."""

    def draw(space: Any) -> None:
        rectangle(space, 0, 0, 6000 * per_mm, 4000 * per_mm, "ROOMS")
        rectangle(space, 1000 * per_mm, 1000 * per_mm, 200 * per_mm, 100 * per_mm, "POSTS")

    found = read_dxf_rooms(write_dxf(tmp_path / "a.dxf", draw, insunits))
    job = found_job(found, found.rooms[0])
    assert [thing.outline.area for thing in job.room.fixed] == pytest.approx([20_000])


def test_the_stairwell_of_a_real_drawing() -> None:
    """The layer E04_TREPPEN_UND_RAMPEN holds one stair, in the hall H-0008."""
    found = read_dxf_rooms(data_file("imports/flats_net_area_polygons_cm.dxf"))
    with_stairs = [one for one in found.rooms if one.room.fixed]
    assert [one.id for one in with_stairs] == ["H-0008"]
    (stair,) = with_stairs[0].room.fixed
    assert stair.kind == "stair"
    assert 4e6 < stair.outline.area < 8e6
