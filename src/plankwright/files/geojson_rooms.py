"""Rooms as GeoJSON: one Feature each, in meters in the drawing's own frame.

The format is that of RFC 7946, the coordinates are not longitude and latitude; reading the file
again with :mod:`plankwright.files.geojson` gives the same outlines.
"""

import json
from pathlib import Path
from typing import Any

from shapely import LinearRing, Polygon
from shapely.geometry.polygon import orient

from plankwright.errors import InputError
from plankwright.files import geojson
from plankwright.files.source import LARGEST_BYTES, parse_json, read_text
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.units import Unit

DIGITS = 7  # of a meter: finer than the thousandth of a millimeter that a plan keeps


def find_geojson_rooms(path: Path, unit: Unit | None) -> FoundRooms:
    """Every polygon of a file that can be a room; the others are said."""
    where = str(path)
    data = parse_json(read_text(path, LARGEST_BYTES["json"]), where)
    settled = unit or geojson.unit_of(data, where)
    rooms, findings = [], []
    for outline in geojson.outlines(data, where):
        try:
            room = geojson.make_room(outline, settled, where)
        except InputError as error:
            findings.append(Finding("import-left", outline.name, error.message, error.remedy))
            continue
        rooms.append(FoundRoom(outline.name, room, f"feature {outline.name}"))
    return FoundRooms(tuple(rooms), settled, tuple(findings))


def dump_rooms(found: FoundRooms) -> str:
    """A FeatureCollection, a line for each room."""
    features = ",\n".join(
        json.dumps(_feature(room), ensure_ascii=False, allow_nan=False) for room in found.rooms
    )
    return f'{{"type": "FeatureCollection", "unit": "m", "features": [\n{features}\n]}}\n'


def _feature(room: FoundRoom) -> dict[str, Any]:
    properties = {
        "id": room.id,
        "name": room.room.name,
        "area_m2": round(room.area_m2, 4),
        "storey": room.storey,
        "origin": room.origin,
        "doorways": [
            {"wall": door.edge, "from_corner_mm": door.from_corner_mm, "width_mm": door.width_mm}
            for door in room.room.doorways
        ],
        "fixed": [
            {"kind": thing.kind, "outline": _rings(thing.outline)} for thing in room.room.fixed
        ],
    }
    kept = {key: value for key, value in properties.items() if value not in ("", [])}
    geometry = {"type": "Polygon", "coordinates": _rings(room.room.outline)}
    return {"type": "Feature", "id": room.id, "properties": kept, "geometry": geometry}


def _rings(outline: Polygon) -> list[list[list[float]]]:
    """Rings in meters: the outer one anticlockwise, holes clockwise."""
    turned = orient(outline)
    return [_ring(ring) for ring in (turned.exterior, *turned.interiors)]


def _ring(ring: LinearRing) -> list[list[float]]:
    return [[round(x / 1e3, DIGITS), round(y / 1e3, DIGITS)] for x, y, *_ in ring.coords]
