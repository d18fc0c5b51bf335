"""Rooms from GeoJSON."""

import json
from typing import Any

import pytest
from tests.data import data_file

from plankwright.errors import FileError, InputError, RoomError
from plankwright.files.geojson import read_room, read_rooms, unit_of
from plankwright.files.source import LARGEST_BYTES, parse_json, read_text

SQUARE = [[0, 0], [4, 0], [4, 3], [0, 3], [0, 0]]


def feature(name: str, *rings: Any) -> dict[str, Any]:
    geometry = {"type": "Polygon", "coordinates": list(rings)}
    return {"type": "Feature", "id": name, "properties": {}, "geometry": geometry}


def collection(*features: Any, **top: Any) -> dict[str, Any]:
    return {"type": "FeatureCollection", "features": list(features), **top}


def test_meters_unless_told_otherwise() -> None:
    # 4 m x 3 m = 12e6 mm2
    assert read_room(feature("a", SQUARE), "f").outline.area == pytest.approx(12e6)
    assert read_room({**feature("a", SQUARE), "unit": "ft"}, "f").outline.area == pytest.approx(
        12 * 304.8**2
    )
    in_cm = [[100 * x, 100 * y] for x, y in SQUARE]
    assert read_room(feature("a", in_cm), "f", unit="cm").outline.area == pytest.approx(12e6)
    assert unit_of({"units": "metre"}, "f") == "m"


def test_bare_geometry_open_ring_and_height() -> None:
    ring = [[x, y, 2.4] for x, y in SQUARE[:-1]]
    assert read_room({"type": "Polygon", "coordinates": [ring]}, "f").outline.area == 12e6


def test_repeated_corners_count_once() -> None:
    ring = [[0, 0], [0, 0], [4, 0], [4, 3], [4, 3], [0, 3], [0, 0]]
    assert len(list(read_room(feature("a", ring), "f").edges())) == 4


def test_chooses_by_name() -> None:
    data = collection(feature("den", SQUARE), feature("hall", SQUARE))
    assert read_room(data, "f", feature="hall").name == "hall"
    with pytest.raises(FileError, match=r"2 rooms.*--feature: den, hall"):
        read_room(data, "f")
    with pytest.raises(FileError, match="Did you mean 'hall'"):
        read_room(data, "f", feature="hal")


def test_a_multipolygon_is_several_rooms() -> None:
    far = [[x + 9, y] for x, y in SQUARE]
    geometry = {"type": "MultiPolygon", "coordinates": [[SQUARE], [far]]}
    data = {"type": "Feature", "id": "flat", "properties": None, "geometry": geometry}
    assert [room.name for room in read_rooms(data, "f")] == ["flat/1", "flat/2"]
    assert read_room(data, "f", feature="flat/2").outline.bounds[0] == 9000
    with pytest.raises(FileError, match="2 rooms in this file"):
        read_room(data, "f")


BROKEN: list[tuple[dict[str, Any], str]] = [
    ({"type": "Topology"}, "not a GeoJSON room"),
    ({"type": "FeatureCollection", "features": {}}, "expected a list of features"),
    (collection(), "no polygon in this file"),
    (collection(17), "expected an object"),
    (collection({"type": "Feature", "geometry": {"type": "Point"}}), "no polygon"),
    (feature("a", [[0, 0], [4, 0]]), "three different corners"),
    (feature("a", [[0, 0], [4, 0], [0, 0]]), "three different corners"),
    (feature("a", [[0, 0], [4, 0], [4, 3], ["x", 3]]), "corner #4 is not two numbers"),
    (feature("a", [[0, 0], [4, 0], [4, 3], [True, 3]]), "corner #4 is not two numbers"),
    (feature("a", [[0, 0], [4, 0], [4, 3], [10**400, 3]]), "corner #4 is not two numbers"),
    (feature("a", [[0, 0], [4, 0], [4, 3], [1e200, 3]]), "corner #4 lies too far away"),
    (feature("a", [[0, 0], [4, 0], [0, 3], [4, 3]]), "crosses or touches itself"),
    (feature("a", SQUARE, [[9, 9], [9.5, 9], [9.5, 9.5]]), "Hole lies outside"),
    (feature("a", [[0, 0], [4000, 0], [4000, 3], [0, 3]]), "more than a kilometer"),
    (feature("a", [[0, 0], [0.004, 0], [0.004, 0.003]]), "encloses almost nothing"),
    (feature("a", "corners"), "expected a list of corners"),
    (feature("a"), "without coordinates"),
    ({**feature("a", SQUARE), "unit": "furlong"}, "unknown unit"),
    ({"format": "plankwright-plan"}, "this is a plan file"),
]


@pytest.mark.parametrize(("data", "words"), BROKEN, ids=[words for _, words in BROKEN])
def test_says_what_is_wrong(data: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        read_room(data, "room.geojson")
    assert caught.value.where.startswith("room.geojson")


def test_too_many_corners_are_refused_before_they_are_read() -> None:
    with pytest.raises(RoomError, match="more than 5000 corners"):
        read_room(feature("a", [[i, None] for i in range(100_000)]), "f")


def test_json_has_no_nan() -> None:
    with pytest.raises(FileError, match="NaN is not a number"):
        parse_json('{"type": "Polygon", "coordinates": [[[NaN, 0]]]}', "f")
    with pytest.raises(FileError, match="nested too deeply"):
        parse_json("[" * 100_000, "f")
    with pytest.raises(FileError, match="object at the top"):
        parse_json("[1, 2]", "f")


@pytest.mark.parametrize(
    ("name", "count"),
    [("rooms.geojson", 105), ("rooms_agpl.geojson", 1003), ("dwellings_agpl.geojson", 135)],
)
def test_reads_every_real_room(name: str, count: int) -> None:
    """The area that each feature states [m2], rounded there to 4 decimals, is the area we read."""
    data = parse_json(read_text(data_file(name), LARGEST_BYTES["json"]), name)
    rooms = list(read_rooms(data, name))
    stated = [f["properties"]["area_m2"] for f in data["features"]]
    assert len(rooms) == count
    assert [room.outline.area / 1e6 for room in rooms] == pytest.approx(stated, abs=0.006)
    assert [room.name for room in rooms] == [f["id"] for f in data["features"]]


def test_reading_what_was_written_is_the_same_room() -> None:
    data = collection(feature("den", SQUARE), unit="m")
    again = parse_json(json.dumps(data), "f")
    assert read_room(again, "f") == read_room(data, "f")
