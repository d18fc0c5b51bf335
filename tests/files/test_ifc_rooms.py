"""Rooms from IFC models, held against areas that two other methods gave (see truth.json)."""

import json
import sys
from pathlib import Path

import pytest
from tests.data import data_file
from tests.files.ifc_maker import COLUMN, DOOR, PROJECT, SPACE, body, model

from plankwright.errors import FileError
from plankwright.files.ifc_rooms import read_ifc_rooms


@pytest.mark.parametrize(
    ("file", "unit"), [("duplex_architecture.ifc", "m"), ("large_building_rooms_mm.ifc", "mm")]
)
def test_spaces_of_two_models(file: str, unit: str) -> None:
    truth = json.loads(data_file("imports/truth.json").read_text(encoding="utf-8"))[file]
    found = read_ifc_rooms(data_file(f"imports/{file}"))
    assert found.unit == unit
    spaces = {space["space"]: space for space in truth["spaces"]}
    assert {room.id for room in found.rooms} == spaces.keys()
    for room in found.rooms:
        space = spaces[room.id]
        assert room.area_m2 == pytest.approx(space["area_m2_mesh"], rel=1e-3)
        if space["area_m2_profile"] is not None:
            assert room.area_m2 == pytest.approx(space["area_m2_profile"], rel=1e-3)
        assert room.extent_m == pytest.approx(space["bbox_m"], rel=1e-3)
        assert space["name"] in room.room.name
        assert room.storey == space["storey"]


def test_areas_that_a_model_writes_wrong_are_said() -> None:
    # truth.json: the property of the duplex is larger than the floor, that of the other agrees.
    duplex = read_ifc_rooms(data_file("imports/duplex_architecture.ifc"))
    (told,) = (f.message for f in duplex.findings if f.code == "import-size")
    assert "for 21 of 21 rooms" in told
    large = read_ifc_rooms(data_file("imports/large_building_rooms_mm.ifc"))
    assert "import-size" not in {f.code for f in large.findings}


def test_doors_and_stairs_of_the_duplex() -> None:
    rooms = {r.id: r for r in read_ifc_rooms(data_file("imports/duplex_architecture.ifc")).rooms}
    # The doors' overall widths as the model writes them: 762 mm to the bathroom, 1250 the front.
    assert [round(d.width_mm) for d in rooms["A104"].room.doorways] == [762]
    assert sorted(round(d.width_mm) for d in rooms["A101"].room.doorways) == [762, 1250]
    assert [thing.kind for thing in rooms["A105"].room.fixed] == ["stair"]


def test_a_small_model_by_hand(tmp_path: Path) -> None:
    path = tmp_path / "den.ifc"
    path.write_text(
        model(
            *PROJECT,
            *body(10, 0, 0, 4000, 3000, SPACE),
            *body(20, 1000, 1000, 300, 400, COLUMN),
            *body(30, 4000, 1000, 100, 800, DOOR),  # in the wall beyond x = 4 m
            *body(40, 9000, 9000, 300, 300, COLUMN),  # in no room
        )
    )
    found = read_ifc_rooms(path)
    (room,) = found.rooms
    assert (room.id, room.room.name, found.unit) == ("7", "Den 7", "mm")
    assert room.area_m2 == pytest.approx(12.0)
    (post,) = room.room.fixed
    assert post.kind == "post"
    assert post.outline.bounds == pytest.approx((1000, 1000, 1300, 1400))
    (door,) = room.room.doorways
    assert door.width_mm == pytest.approx(800.0)
    edge = next(edge for edge in room.room.edges() if edge.name == door.edge)
    assert {edge.start[0], edge.end[0]} == {4000.0}


def test_no_space(tmp_path: Path) -> None:
    path = tmp_path / "den.ifc"
    path.write_text(model(*PROJECT))
    with pytest.raises(FileError, match="no space"):
        read_ifc_rooms(path)


def test_the_extra_is_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "den.ifc"
    path.write_text(model(*PROJECT))
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)  # import raises ImportError
    with pytest.raises(FileError, match=r"pip install 'plankwright\[ifc\]'"):
        read_ifc_rooms(path)
