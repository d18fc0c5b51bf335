"""Rooms from GeoJSON (RFC 7946 geometry in a plan's own frame, not longitude and latitude).

A room is a Feature with a Polygon; a MultiPolygon is several rooms, ``id/1``, ``id/2`` and so on.
Coordinates are meters unless the caller or a top-level ``"unit"`` (or ``"units"``) says otherwise.

A dwelling that is laid as one floor may name its inner doorways: a property ``thresholds``, a list
of ``{"seg": [[x, y], [x, y]], "depth_m": 0.1, "kind": "door"}``: from jamb to jamb along the middle
of the wall, how thick the wall is in meters, and ``open`` where there is no doorway at all.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from plankwright.errors import FileError, InputError, RoomError
from plankwright.files.rings import make_polygon, refuse_many
from plankwright.files.suggest import nearest_words
from plankwright.model.room import Opening, Point, Room
from plankwright.units import MM_PER, Unit, parse_unit

MOST_FEATURES = 100_000
MOST_THRESHOLDS = 1_000


@dataclass(frozen=True, slots=True)
class Outline:
    """One polygon of a file, not yet looked at: its name and its rings of coordinates."""

    name: str
    rings: Any
    thresholds: Any = None


def read_rooms(data: dict[str, Any], where: str, unit: Unit | None = None) -> Iterator[Room]:
    """Every room of a GeoJSON object, one by one, each checked when it is reached."""
    mm_per = float(MM_PER[unit or unit_of(data, where)])
    for outline in outlines(data, where):
        yield _room(outline, mm_per, where)


def read_room(
    data: dict[str, Any], where: str, *, feature: str | None = None, unit: Unit | None = None
) -> Room:
    """The one room of a GeoJSON object, or the one called ``feature``.

    Raises
    ------
    FileError
        when it is not GeoJSON, holds no such room, or several and none was chosen.
    RoomError
        when the outline cannot be a room.
    """
    mm_per = float(MM_PER[unit or unit_of(data, where)])
    return _room(_choose(list(outlines(data, where)), feature, where), mm_per, where)


def make_room(outline: Outline, unit: Unit, where: str) -> Room:
    """The room of one polygon of a file.

    Raises
    ------
    InputError : it cannot be a room.
    """
    return _room(outline, float(MM_PER[unit]), where)


def unit_of(data: dict[str, Any], where: str) -> Unit:
    """The unit a GeoJSON object names at its top, else meters."""
    named = data.get("unit", data.get("units"))
    return "m" if named is None else parse_unit(named, where=f"{where}: unit")


def outlines(data: dict[str, Any], where: str) -> list[Outline]:
    """The polygons of a GeoJSON object under their names."""
    if data.get("format") == "plankwright-plan":
        raise FileError(
            "this is a plan file, not a room",
            where=where,
            remedy="Give the job file or the outline it was made from.",
        )
    features = _features(data, where)
    found = [
        outline
        for number, feature in enumerate(features, start=1)
        for outline in _polygons(feature, number, where)
    ]
    if not found:
        raise FileError("no polygon in this file", where=where, remedy="Draw the room as Polygon.")
    return found


def _features(data: dict[str, Any], where: str) -> list[Any]:
    match data.get("type"):
        case "FeatureCollection":
            features = data.get("features")
            if not isinstance(features, list) or len(features) > MOST_FEATURES:
                raise FileError(
                    "expected a list of features",
                    where=f"{where}: features",
                    remedy="Export the rooms again as a FeatureCollection.",
                )
            return features
        case "Feature":
            return [data]
        case "Polygon" | "MultiPolygon":
            return [{"type": "Feature", "geometry": data}]
        case other:
            raise FileError(
                "not a GeoJSON room",
                where=f"{where}: type",
                value=other,
                remedy="Give a Feature or a FeatureCollection with a Polygon.",
            )


def _polygons(feature: Any, number: int, where: str) -> Iterator[Outline]:
    if not isinstance(feature, dict):
        raise FileError(
            "expected an object",
            where=f"{where}: feature #{number}",
            value=feature,
            remedy="Export the rooms again as GeoJSON.",
        )
    geometry = feature.get("geometry")
    if not isinstance(geometry, dict):
        return
    name, rings = _name(feature, number), geometry.get("coordinates")
    if geometry.get("type") == "Polygon":
        properties = feature.get("properties")
        own = properties if isinstance(properties, dict) else {}
        yield Outline(name, rings, own.get("thresholds"))
    elif geometry.get("type") == "MultiPolygon" and isinstance(rings, list):
        for part, part_rings in enumerate(rings, start=1):
            yield Outline(name if len(rings) == 1 else f"{name}/{part}", part_rings)


def _name(feature: dict[str, Any], number: int) -> str:
    properties = feature.get("properties")
    own = properties if isinstance(properties, dict) else {}
    for name in (feature.get("id"), own.get("id"), own.get("name")):
        if isinstance(name, str | int) and str(name).strip():
            return str(name)
    return f"#{number}"


def _choose(found: list[Outline], name: str | None, where: str) -> Outline:
    if name is None and len(found) == 1:
        return found[0]
    names = [outline.name for outline in found]
    if name is None:
        few = ", ".join(names[:6]) + (", …" if len(names) > 6 else "")
        raise FileError(
            f"{len(found)} rooms in this file",
            where=where,
            remedy=f"Choose one with --feature: {few}.",
        )
    for outline in found:
        if outline.name == name:
            return outline
    raise FileError(
        "no such room in this file",
        where=f"{where}: feature",
        value=name,
        remedy=nearest_words(name, names, most=6),
    )


def _room(outline: Outline, mm_per: float, where: str) -> Room:
    place = f"{where}: {outline.name}"
    if not isinstance(outline.rings, list) or not outline.rings:
        raise FileError(
            "a polygon without coordinates", where=place, remedy="List its corners, [[x, y], …]."
        )
    corners = sum(len(ring) for ring in outline.rings if isinstance(ring, list))
    refuse_many(corners - len(outline.rings), place)
    shell, *holes = [_ring(ring, mm_per, place) for ring in outline.rings]
    polygon = make_polygon(shell, holes, where=place)
    try:
        openings = tuple(_openings(outline.thresholds, mm_per, place))
        return Room(polygon, name=outline.name, openings=openings)
    except InputError as error:
        raise error.at(place) from None


def _openings(thresholds: Any, mm_per: float, place: str) -> Iterator[Opening]:
    if thresholds is None:
        return
    if not isinstance(thresholds, list) or len(thresholds) > MOST_THRESHOLDS:
        raise FileError("expected a list of thresholds", where=place, remedy="Leave them out.")
    for number, entry in enumerate(thresholds, start=1):
        where = f"{place}: threshold #{number}"
        ends = entry.get("seg") if isinstance(entry, dict) else None
        depth: Any = entry.get("depth_m", 0.0) if isinstance(entry, dict) else None
        if not isinstance(ends, list) or len(ends) != 2 or not _is_number(depth):
            raise FileError(
                "a threshold without its two ends", where=where, remedy="Write seg and depth_m."
            )
        start, end = _ring(ends, mm_per, where)
        yield Opening(start, end, float(depth) * 1000.0, is_door=entry.get("kind") != "open")


def _ring(ring: Any, mm_per: float, place: str) -> list[Point]:
    if not isinstance(ring, list):
        raise RoomError(
            "expected a list of corners", where=place, value=ring, remedy="Write [[x, y], …]."
        )
    return [_corner(corner, number, mm_per, place) for number, corner in enumerate(ring, start=1)]


def _corner(corner: Any, number: int, mm_per: float, place: str) -> Point:
    if not isinstance(corner, list) or len(corner) < 2 or not all(map(_is_number, corner[:2])):
        raise RoomError(
            f"corner #{number} is not two numbers",
            where=place,
            value=corner,
            remedy="Write [x, y].",
        )
    x, y = (float(c) * mm_per for c in corner[:2])
    if max(abs(x), abs(y)) > 1e12:
        raise RoomError(
            f"corner #{number} lies too far away",
            where=place,
            value=corner,
            remedy="Check the unit.",
        )
    return x, y


def _is_number(value: Any) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return abs(value) < 1e300  # an integer of 400 digits is no coordinate either
