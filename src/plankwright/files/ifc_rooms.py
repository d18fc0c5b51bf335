"""Rooms from an IFC model: the foot of each IfcSpace, its doors, columns and stairs.

Needs the extra ``[ifc]``. The foot is what of a space's body lies level at its lowest height; so a
space whose body was made sideways, such as one below a stair, has its floor, too.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.errors import FileError, InputError, shorten
from plankwright.files.drawing_units import UNIT_WORDS
from plankwright.files.source import LARGEST_BYTES, read_bytes
from plankwright.files.standing_things import Foot, fixed_in
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.model.room import Doorway, Edge, FixedKind, Room
from plankwright.units import Unit

MOST_SPACES = 5_000
MOST_THINGS = 20_000

MM_PER_M = 1_000.0
LEVEL_MM = 1.0  # heights that differ by less are one
GRID_MM = 0.001
DOOR_REACH_MM = 600.0  # from a door's middle to the wall's face: half a thick wall
ABOVE_MM, BELOW_MM = 500.0, 300.0  # where a thing on a room's floor begins or a door stands
STANDS_MM = 1_000.0  # a thing that ends lower than this above the floor is no column
AREA_SLACK = 0.01  # of a written area
FIXED: tuple[tuple[str, FixedKind], ...] = (
    ("IfcColumn", "post"),
    ("IfcStairFlight", "stair"),
    ("IfcStair", "stair"),
)

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Body:
    """A body as triangles: corners (n, 3) [mm], and three numbers of corners for each (m, 3)."""

    corners: Floats
    triangles: npt.NDArray[np.int64]

    @property
    def low_mm(self) -> float:
        return float(self.corners[:, 2].min())

    @property
    def high_mm(self) -> float:
        return float(self.corners[:, 2].max())

    def foot(self) -> BaseGeometry:
        """What lies level at its lowest height."""
        heights = self.corners[:, 2][self.triangles]
        level = self.triangles[(heights < self.low_mm + LEVEL_MM).all(axis=1)]
        return _joined([self.corners[triangle, :2] for triangle in level])

    def shadow(self, low_mm: float, high_mm: float) -> BaseGeometry:
        """What it covers, seen from above, between two heights."""
        heights = self.corners[:, 2][self.triangles]
        between = (heights.min(axis=1) < high_mm) & (heights.max(axis=1) > low_mm)
        return _joined([self.corners[triangle, :2] for triangle in self.triangles[between]])


def _joined(triangles: Sequence[Floats]) -> BaseGeometry:
    shapes = [Polygon(corners) for corners in triangles]
    flat = [shape for shape in shapes if shape.area > 0.0]
    return shapely.union_all(flat, grid_size=GRID_MM)


@dataclass(frozen=True, slots=True)
class _Thing:
    """A column, stair or door."""

    kind: str
    name: str
    body: _Body
    width_mm: float = 0.0


def read_ifc_rooms(path: Path) -> FoundRooms:
    """The spaces of an IFC model as rooms.

    Raises
    ------
    FileError : the extra is not installed, or the file cannot be read or holds no space.
    """
    model, where = _open(path), path.name
    spaces = model.by_type("IfcSpace")
    if not spaces:
        raise FileError(
            "no space (IfcSpace) in this model",
            where=str(path),
            remedy="Export it again with rooms, or draw the outline.",
        )
    _refuse_many(len(spaces), MOST_SPACES, "spaces", path)
    unit = _unit(model)
    findings = [
        Finding(
            "import-took",
            where,
            f"{len(spaces)} spaces, in {UNIT_WORDS[unit]} as the model says; each room is the foot "
            "of its space's body",
        )
    ]
    things = _things(model, path)
    rooms = list(_rooms(spaces, things, findings))
    findings.append(_told_of_things(things, rooms, where))
    findings.extend(_other_areas(model, spaces, rooms, where))
    return FoundRooms(
        tuple(rooms),
        unit,
        tuple(findings),
        tuple(room.room.outline.boundary for room in rooms),
    )


def _open(path: Path) -> Any:
    where = str(path)
    head = read_bytes(path, LARGEST_BYTES["ifc"])[:2_000]
    if not head.strip():
        raise FileError("the file is empty", where=where, remedy="Export it again.")
    if b"ISO-10303-21" not in head:
        raise FileError(
            "this is not an IFC file", where=where, remedy="Export it as IFC (.ifc, STEP text)."
        )
    try:
        import ifcopenshell
    except ImportError:
        raise FileError(
            "reading IFC needs a part that is not installed",
            where=where,
            remedy="Install it: pip install 'plankwright[ifc]'.",
        ) from None
    try:
        return ifcopenshell.open(str(path))
    except MemoryError:
        raise
    except Exception as error:  # what the library raises is not foreseeable
        raise FileError(
            f"damaged: it cannot be read as IFC ({shorten(str(error))})",
            where=where,
            remedy="Export it again.",
        ) from None


def _refuse_many(count: int, most: int, what: str, path: Path) -> None:
    if count > most:
        raise FileError(
            f"more than {most} {what} in this model",
            where=str(path),
            remedy="Export the storey in question alone.",
        )


def _unit(model: Any) -> Unit:
    """The model's unit of length; millimeters where it names none that we know."""
    import ifcopenshell.util.unit

    names: dict[float, Unit] = {1.0: "m", 0.01: "cm", 0.001: "mm", 0.0254: "in", 0.3048: "ft"}
    try:
        scale = float(ifcopenshell.util.unit.calculate_unit_scale(model))
    except Exception:  # a damaged model: bodies come in meters all the same
        return "mm"
    return next((unit for size, unit in names.items() if math.isclose(size, scale)), "mm")


def _rooms(
    spaces: Sequence[Any], things: Sequence[_Thing], findings: list[Finding]
) -> Iterator[FoundRoom]:
    numbers = Counter(str(space.Name or "") for space in spaces)
    settings = _settings()
    for space in spaces:
        number = str(space.Name or "")
        key = number if number and numbers[number] == 1 else str(space.GlobalId)
        name = " ".join(dict.fromkeys(word for word in (space.LongName, number) if word)) or key
        try:
            body = _body(space, settings)
            outline = _whole(body.foot())
            doors = tuple(_doorways(outline, body.low_mm, things))
            fixed = tuple(fixed_in(outline, _feet(body.low_mm, things)))
            room = Room(outline, fixed, doors, name=name)
        except InputError as error:
            findings.append(Finding("import-left", key, f"space {name} was left: {error.message}"))
            continue
        origin = f"IfcSpace {space.GlobalId}"
        yield FoundRoom(key, room, origin, _storey(space), (str(space.LongName or ""), number))


def _settings() -> Any:
    import ifcopenshell.geom

    geometry: Any = ifcopenshell.geom
    settings = geometry.settings()
    settings.set("use-world-coords", True)
    return settings


def _body(product: Any, settings: Any) -> _Body:
    """The body of a product in the model's coordinates."""
    import ifcopenshell.geom

    try:
        shape: Any = ifcopenshell.geom.create_shape(settings, product)
    except MemoryError:
        raise
    except Exception:  # the library says only that it failed
        raise InputError("it has no body that can be made") from None
    corners = np.array(shape.geometry.verts, dtype=np.float64).reshape(-1, 3) * MM_PER_M
    triangles = np.array(shape.geometry.faces, dtype=np.int64).reshape(-1, 3)
    if not len(triangles) or not np.isfinite(corners).all():
        raise InputError("its body is empty")
    return _Body(corners, triangles)


def _whole(foot: BaseGeometry) -> Polygon:
    """The foot as one outline without the corners that triangles left on straight walls."""
    parts = [part for part in shapely.get_parts(foot) if isinstance(part, Polygon)]
    if not parts:
        raise InputError("nothing of its body lies level at its lowest height")
    largest = max(parts, key=lambda part: part.area)
    if largest.area < 0.999 * foot.area:
        raise InputError(f"its floor is in {len(parts)} parts")
    plain = shapely.remove_repeated_points(largest.simplify(0.05), 0.5)
    return plain if isinstance(plain, Polygon) and plain.is_valid else largest


def _storey(space: Any) -> str:
    import ifcopenshell.util.element

    try:
        storey: Any = ifcopenshell.util.element.get_aggregate(space)
        return str(storey.Name or "") if storey and storey.is_a("IfcBuildingStorey") else ""
    except Exception:  # a damaged relation
        return ""


def _other_areas(
    model: Any, spaces: Sequence[Any], rooms: Sequence[FoundRoom], where: str
) -> list[Finding]:
    """Where the area a model writes for a space is not that of the space's foot."""
    written = {f"IfcSpace {space.GlobalId}": _written_area_m2(model, space) for space in spaces}
    off = [
        (abs(area / room.area_m2 - 1.0), room, area)
        for room in rooms
        if (area := written[room.origin]) and abs(area / room.area_m2 - 1.0) > AREA_SLACK
    ]
    if not off:
        return []
    _, room, area = max(off, key=lambda one: (one[0], one[1].id))
    return [
        Finding(
            "import-size",
            where,
            f"the model writes other areas than the bodies have for {len(off)} of {len(rooms)} "
            f"rooms, such as {area:.2f} m2 for {room.id}, whose floor is {room.area_m2:.2f} m2",
            "The bodies were taken. Measure one room.",
        )
    ]


def _written_area_m2(model: Any, space: Any) -> float | None:
    """The floor area among a space's quantities, the net one where there are several."""
    import ifcopenshell.util.element
    import ifcopenshell.util.unit

    try:
        sets = ifcopenshell.util.element.get_psets(space, qtos_only=True)
        scale = float(ifcopenshell.util.unit.calculate_unit_scale(model, "AREAUNIT"))
    except Exception:  # a damaged relation
        return None
    areas = {
        str(name): float(value)
        for one in sets.values()
        for name, value in one.items()
        if "Area" in str(name) and isinstance(value, int | float) and math.isfinite(value)
    }
    for name in ("NetFloorArea", "GrossFloorArea", *sorted(areas)):
        if name in areas and not any(word in name for word in ("Wall", "Ceiling", "Opening")):
            return areas[name] * scale
    return None


# --- doors, columns, stairs --------------------------------------------------------------------


def _things(model: Any, path: Path) -> list[_Thing]:
    settings, found = _settings(), []
    for kind in ("IfcDoor", *(kind for kind, _ in FIXED)):
        products = model.by_type(kind)
        _refuse_many(len(products), MOST_THINGS, f"things of the kind {kind}", path)
        for product in products:
            try:
                body = _body(product, settings)
            except InputError:
                continue
            scale = _scale(model) if kind == "IfcDoor" else 0.0
            width = getattr(product, "OverallWidth", None) if kind == "IfcDoor" else None
            found.append(_Thing(kind, str(product.Name or ""), body, float(width or 0.0) * scale))
    return found


def _scale(model: Any) -> float:
    import ifcopenshell.util.unit

    return float(ifcopenshell.util.unit.calculate_unit_scale(model)) * MM_PER_M


def _feet(floor_mm: float, things: Sequence[_Thing]) -> Iterator[Foot]:
    """What columns and stairs cover of a floor at a height."""
    kinds = dict(FIXED)
    for thing in things:
        if thing.kind != "IfcDoor" and _stands_on(thing, floor_mm):
            shadow = thing.body.shadow(floor_mm - BELOW_MM, floor_mm + STANDS_MM)
            yield Foot(kinds[thing.kind], shadow)


def _stands_on(thing: _Thing, floor_mm: float) -> bool:
    low, high = thing.body.low_mm - floor_mm, thing.body.high_mm - floor_mm
    return low < ABOVE_MM and high > STANDS_MM


def _doorways(outline: Polygon, floor_mm: float, things: Sequence[_Thing]) -> Iterator[Doorway]:
    """Doors whose middle stands beside a wall of the room, on its floor."""
    edges = list(Room(outline).edges())
    for thing in things:
        if thing.kind != "IfcDoor" or abs(thing.body.low_mm - floor_mm) > ABOVE_MM:
            continue
        corners = MultiPoint(thing.body.corners[:, :2])
        middle = shapely.Point(corners.minimum_rotated_rectangle.centroid)
        edge = min(edges, key=lambda e: LineString([e.start, e.end]).distance(middle))
        line = LineString([edge.start, edge.end])
        if line.distance(middle) > DOOR_REACH_MM:
            continue
        span = _span(edge, line, corners, thing.width_mm, middle)
        if span is not None:
            yield Doorway(edge.name, span[0], span[1] - span[0], name=thing.name or "door")


def _span(
    edge: Edge, line: LineString, corners: MultiPoint, width_mm: float, middle: shapely.Point
) -> tuple[float, float] | None:
    """From where to where an opening lies along a wall [mm]; None when it is beside its ends."""
    along = [line.project(corner) for corner in corners.geoms]
    center = line.project(middle)
    wide = width_mm or max(along) - min(along)
    first, last = max(center - wide / 2.0, 0.0), min(center + wide / 2.0, edge.length_mm)
    return (first, last) if last - first >= wide / 2.0 else None


def _told_of_things(things: Sequence[_Thing], rooms: Sequence[FoundRoom], where: str) -> Finding:
    doors = sum(thing.kind == "IfcDoor" for thing in things)
    in_rooms = sum(len(room.room.doorways) for room in rooms)
    fixed = sum(len(room.room.fixed) for room in rooms)
    return Finding(
        "import-took",
        where,
        f"of {doors} doors those beside a room's wall ({in_rooms} places), their depth not "
        f"told, and {fixed} columns and stairs that stand on a room's floor",
        "Whether trim, hearths and cabinets are in the model is not known: look.",
    )
