"""The rooms in a file that holds some: GeoJSON, DXF or IFC; and the one a person chose."""

from pathlib import Path

from plankwright.errors import FileError
from plankwright.files.geojson_rooms import find_geojson_rooms
from plankwright.files.reader_process import read_apart
from plankwright.files.source import LARGEST_BYTES, kind_of, read_text
from plankwright.files.suggest import nearest_words
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.units import Unit

MOST_NAMED = 6


def is_drawing(path: Path) -> bool:
    """Whether a file is somebody's drawing, out of which rooms must be found first."""
    return kind_of(path) in ("dxf", "ifc")


def find_rooms(path: Path, *, unit: Unit | None = None, layer: str | None = None) -> FoundRooms:
    """The rooms in a GeoJSON, DXF or IFC file.

    Parameters
    ----------
    unit : of the file's coordinates, instead of what it says.
    layer : with DXF, of the rooms' outlines or of the walls, instead of a guess.

    Raises
    ------
    FileError : it cannot be read, or is a job file.
    """
    kind, where = kind_of(path), str(path)
    if kind == "toml":
        raise FileError(
            "a job file holds one room", where=where, remedy="Plan it: plankwright plan."
        )
    if kind == "json":
        return find_geojson_rooms(path, unit)
    if not path.is_file():
        read_text(path, LARGEST_BYTES[kind])  # says which file was meant
    return read_apart(path, unit=unit, layer=layer)


def choose_room(found: FoundRooms, feature: str | None, where: str) -> FoundRoom:
    """The only room, or the one of an id or a name.

    Raises
    ------
    FileError : there is none, or several and none was chosen, or no such one.
    """
    rooms = found.rooms
    if not rooms:
        told = "; ".join(finding.message for finding in found.findings[:3])
        raise FileError(
            f"no room was found ({told})",
            where=where,
            remedy="Choose a layer with --layer, or draw the outline.",
        )
    if feature is None:
        if len(rooms) == 1:
            return rooms[0]
        more = ", …" if len(rooms) > MOST_NAMED else ""
        few = ", ".join(_called(room) for room in rooms[:MOST_NAMED])
        raise FileError(
            f"{len(rooms)} rooms in this file",
            where=where,
            remedy=f"Choose one with --feature: {few}{more}.",
        )
    for key in (_id, _name):
        fitting = [room for room in rooms if key(room) == feature]
        if len(fitting) == 1:
            return fitting[0]
    raise FileError(
        "no such room in this file" if not fitting else f"{len(fitting)} rooms are called so",
        where=f"{where}: feature",
        value=feature,
        remedy=nearest_words(feature, [_id(room) for room in rooms], most=MOST_NAMED),
    )


def _id(room: FoundRoom) -> str:
    return room.id


def _name(room: FoundRoom) -> str:
    return room.room.name


def _called(room: FoundRoom) -> str:
    return room.id if room.room.name == room.id else f"{room.id} ({room.room.name})"
