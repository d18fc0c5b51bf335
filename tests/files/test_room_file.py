"""Rooms found in files of three kinds, chosen by id or name, and written as GeoJSON again."""

import json
from pathlib import Path

import pytest
import shapely
from shapely import Polygon
from tests.files.dxf_maker import rectangle, write_dxf
from tests.files.ifc_maker import small_model

from plankwright import api
from plankwright.errors import FileError
from plankwright.files.geojson import read_rooms
from plankwright.files.geojson_rooms import dump_rooms
from plankwright.files.room_file import choose_room, find_rooms, is_drawing
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.model.room import FixedThing, Room


def found_room(key: str, name: str, shift: float = 0.0) -> FoundRoom:
    return FoundRoom(key, Room(shapely.box(shift, 0, shift + 4000, 3000), name=name), "by hand")


TWO = FoundRooms((found_room("1", "Den"), found_room("2", "Den", 5000)), "mm")


@pytest.mark.parametrize("name", ["a.dxf", "a.IFC"])
def test_what_is_a_drawing(name: str) -> None:
    assert is_drawing(Path(name))
    assert not is_drawing(Path("a.geojson"))


def test_one_of_each_kind(tmp_path: Path) -> None:
    dxf = write_dxf(tmp_path / "a.dxf", lambda space: rectangle(space, 0, 0, 4000, 3000))
    (tmp_path / "a.ifc").write_text(small_model())
    (tmp_path / "a.geojson").write_text(dump_rooms(find_rooms(dxf)))
    for name in ("a.dxf", "a.ifc", "a.geojson"):
        (room,) = find_rooms(tmp_path / name).rooms
        assert room.area_m2 == pytest.approx(12.0)


def test_a_job_file_is_no_drawing(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="a job file holds one room"):
        find_rooms(tmp_path / "a.toml")


def test_choosing() -> None:
    assert choose_room(TWO, "2", "a.dxf").id == "2"
    with pytest.raises(FileError, match=r"2 rooms .*--feature: 1 \(Den\), 2 \(Den\)"):
        choose_room(TWO, None, "a.dxf")
    with pytest.raises(FileError, match="2 rooms are called so"):
        choose_room(TWO, "Den", "a.dxf")
    with pytest.raises(FileError, match="no such room"):
        choose_room(TWO, "Bath", "a.dxf")
    with pytest.raises(FileError, match="no room was found"):
        choose_room(FoundRooms((), "mm"), None, "a.dxf")
    one = FoundRooms((found_room("7", "Bath"),), "mm")
    assert choose_room(one, None, "a.dxf").id == "7"
    assert choose_room(one, "Bath", "a.dxf").id == "7"


def test_a_job_is_told_the_doubts_about_its_room_alone() -> None:
    findings = tuple(
        Finding(code, where, f"{code} of {where}")
        for code, where in (
            ("import-took", "a.dxf"),
            ("import-unit", "a.dxf"),
            ("import-size", "1"),
            ("import-size", "2"),
        )
    )
    found = FoundRooms(TWO.rooms, "in", findings)
    job = api.found_job(found, "2")
    told = [(f.code, f.where) for f in job.findings]
    assert told == [("assumed-board", "board"), ("import-unit", "a.dxf"), ("import-size", "2")]
    assert job.unit == "in"


def test_geojson_gives_the_same_rooms_back() -> None:
    hole = shapely.box(1000, 1000, 1234.5678, 2000)
    holed = Polygon(shapely.box(0, 0, 4000.125, 3000).exterior.coords, [hole.exterior.coords])
    post = FixedThing("post", shapely.box(2000, 2000, 2100, 2100))
    room = FoundRoom("A/1", Room(holed, (post,), name="Den “two”"), "by hand", "Cellar")
    text = dump_rooms(FoundRooms((room, *TWO.rooms), "mm"))
    data = json.loads(text)
    back = list(read_rooms(data, "a.geojson"))
    for mine, theirs in zip((room, *TWO.rooms), back, strict=True):
        assert theirs.outline.symmetric_difference(mine.room.outline).area < 1e-3
    told = data["features"][0]
    assert told["id"] == "A/1"
    assert told["properties"]["name"] == "Den “two”"
    assert told["properties"]["storey"] == "Cellar"
    assert told["properties"]["fixed"][0]["kind"] == "post"


def test_geojson_rooms_that_cannot_be_are_left_and_said(tmp_path: Path) -> None:
    rings = {"good": [[0, 0], [4, 0], [4, 3]], "crossed": [[0, 0], [4, 0], [0, 3], [4, 3]]}
    features = [
        {"type": "Feature", "id": key, "geometry": {"type": "Polygon", "coordinates": [ring]}}
        for key, ring in rings.items()
    ]
    path = tmp_path / "a.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    found = find_rooms(path)
    assert [room.id for room in found.rooms] == ["good"]
    (finding,) = found.findings
    assert (finding.code, finding.where) == ("import-left", "crossed")
