"""The ``[room]`` table of a job file, with its fixed things, doorways and gaps."""

import math

from shapely import Polygon, affinity

from plankwright.errors import InputError, RoomError
from plankwright.files.rings import make_polygon, refuse_many
from plankwright.files.suggest import nearest_words
from plankwright.files.table import Corner, Length, Size, Table, described
from plankwright.model.room import Doorway, Edge, FixedKind, FixedThing, Point, Room

CIRCLE_SIDES = 32


class FixedTable(Table):
    """``[[room.fixed]]``: something the floor goes round, by its size, diameter or outline."""

    kind: FixedKind = described("What it is.", source="measured")
    name: str = described("How you call it.", "")
    at: Corner | None = described(
        "Where it stands, [x, y]: its corner of least x and y, or the center of a round thing.",
        None,
        unit="length",
        source="measured",
    )
    size: Size | None = described(
        "Its size along x and along y.", None, unit="length", source="measured"
    )
    turned: float = described(
        "Turned about `at`, anticlockwise.", 0.0, unit="degrees", source="measured"
    )
    diameter: Length | None = described("Of a round thing.", None, unit="length", source="measured")
    outline: list[Corner] | None = described(
        "Its corners [x, y] in order, in the room's coordinates.",
        None,
        unit="length",
        source="measured",
    )
    gap: Length | None = described(
        "Gap round it; without it the gap of [rules].", None, unit="length", source="leaflet"
    )


class DoorTable(Table):
    """``[[room.door]]``: an opening through which the floor runs as far as its transition."""

    wall: str = described("The wall it is in, as C-D.", source="measured")
    from_corner: Length = described(
        "From the wall's first corner to the opening.", unit="length", source="measured"
    )
    width: Length = described("Clear width between the jambs.", unit="length", source="measured")
    depth: Length = described(
        "From the wall's face to the middle of the transition; 0: the floor stops at the wall.",
        0.0,
        unit="length",
        source="measured",
    )
    stem: Length = described(
        "Width of the transition's stem; the floor stops half of it and a gap short.",
        0.0,
        unit="length",
        source="leaflet",
    )
    undercut: Length = described(
        "How far each jamb is undercut beyond the clear width.",
        0.0,
        unit="length",
        source="measured",
    )
    gap: Length | None = described(
        "Gap at the transition and behind the jambs; without it the gap of [rules].",
        None,
        unit="length",
        source="leaflet",
    )
    name: str = described("How you call it.", "")


class RoomTable(Table):
    """``[room]``: its walls, as corners in order or as a tape survey."""

    name: str = described("How you call it.", "")
    outline: list[Corner] | None = described(
        "Corners [x, y] in order round the room; the first is A, the next B.",
        None,
        unit="length",
        source="measured",
    )
    holes: list[list[Corner]] = described(
        "Parts inside the outline that are not floor, each as its corners.",
        [],
        unit="length",
        source="measured",
    )
    fixed: list[FixedTable] = described("What the floor goes round.", [], source="measured")
    door: list[DoorTable] = described("Openings in the walls.", [], source="measured")
    gaps: dict[str, Length] = described(
        'Gap at a wall where it differs from the rules, as "A-B" = "1/2 in".',
        {},
        unit="length",
        source="choice",
    )


def make_room(table: RoomTable, outline: Polygon, name: str) -> Room:
    """The room from its table and its outline (from corners or from the survey)."""
    try:
        edges = {edge.name: edge for edge in Room(outline).edges()}
        return Room(
            outline,
            fixed=tuple(_fixed(thing, number) for number, thing in enumerate(table.fixed, start=1)),
            doorways=tuple(
                _doorway(door, edges, number) for number, door in enumerate(table.door, start=1)
            ),
            edge_gaps=tuple(
                (_edge(wall, edges, "gaps"), gap_mm) for wall, gap_mm in table.gaps.items()
            ),
            name=table.name or name,
        )
    except InputError as error:
        raise error.at("room") from None


def make_outline(table: RoomTable) -> Polygon:
    """The outline from the corners that were typed."""
    if table.outline is None:
        raise RoomError(
            "the room has no walls yet",
            where="room.outline",
            remedy="Write outline = [[x, y], …], or corners and walls of a tape survey.",
        )
    refuse_many(len(table.outline) + sum(map(len, table.holes)), "room.outline")
    return make_polygon(table.outline, table.holes, where="room.outline")


def _edge(wall: str, edges: dict[str, Edge], where: str) -> str:
    """The wall's name as the room has it: A-B may be written B-A."""
    turned = "-".join(reversed(wall.split("-")))
    for name in (wall, turned):
        if name in edges:
            return name
    raise RoomError(
        "there is no such wall", where=where, value=wall, remedy=nearest_words(wall, edges)
    )


def _doorway(door: DoorTable, edges: dict[str, Edge], number: int) -> Doorway:
    where = f"door #{number}"
    wall = _edge(door.wall, edges, f"{where}.wall")
    from_corner = door.from_corner
    if wall != door.wall:  # measured from the other corner
        from_corner = edges[wall].length_mm - door.from_corner - door.width
        if from_corner < 0.0:
            raise RoomError(
                "the doorway is longer than its wall",
                where=f"{where}.width",
                value=door.width,
                remedy="Check its width and its distance from the corner.",
            )
    return Doorway(
        edge=wall,
        from_corner_mm=from_corner,
        width_mm=door.width,
        depth_mm=door.depth,
        stem_mm=door.stem,
        undercut_mm=door.undercut,
        gap_mm=door.gap,
        name=door.name,
    )


def _fixed(table: FixedTable, number: int) -> FixedThing:
    where = f"fixed #{number}"
    given = [key for key in ("size", "diameter", "outline") if getattr(table, key) is not None]
    if len(given) != 1:
        raise RoomError(
            "needs one of size, diameter or outline",
            where=where,
            value=given or None,
            remedy='Write at = [x, y] and size = ["6 in", "6 in"].',
        )
    if table.outline is None and table.at is None:
        raise RoomError("no place is given", where=where, remedy="Write at = [x, y].")
    try:
        circle = _circle(table)
        return FixedThing(
            kind=table.kind,
            outline=_circumscribed(circle) if circle else _outline(table),
            gap_mm=table.gap,
            name=table.name,
            circle=circle,
        )
    except InputError as error:
        raise error.at(where) from None


def _circle(table: FixedTable) -> tuple[float, float, float] | None:
    if table.diameter is None or table.at is None:
        return None
    if table.diameter <= 0.0:
        raise RoomError(
            "must be above 0",
            where="diameter",
            value=table.diameter,
            remedy="Measure it.",
        )
    return (*table.at, table.diameter)


def _outline(table: FixedTable) -> Polygon:
    if table.outline is not None:
        refuse_many(len(table.outline), "outline")
        return make_polygon(table.outline, where="outline")
    assert table.at is not None
    assert table.size is not None
    (x, y), (along, across) = table.at, table.size
    if along <= 0.0 or across <= 0.0:
        raise RoomError("must be above 0", where="size", value=table.size, remedy="Measure it.")
    corners: list[Point] = [
        (x, y), (x + along, y), (x + along, y + across), (x, y + across),
    ]  # fmt: skip
    return (
        affinity.rotate(Polygon(corners), table.turned, origin=(x, y))
        if table.turned
        else Polygon(corners)
    )


def _circumscribed(circle: tuple[float, float, float]) -> Polygon:
    """A polygon round the circle: nowhere nearer to the center than the thing itself."""
    x, y, diameter = circle
    radius = diameter / 2.0 / math.cos(math.pi / CIRCLE_SIDES)
    angles = [2.0 * math.pi * (i + 0.5) / CIRCLE_SIDES for i in range(CIRCLE_SIDES)]
    return Polygon([(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles])
