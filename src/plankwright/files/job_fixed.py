"""``[[room.fixed]]``: what the floor goes round, from the job file."""

import math
from collections.abc import Mapping

from shapely import Polygon, affinity, box

from plankwright.errors import InputError, RoomError
from plankwright.files.rings import make_polygon, refuse_many
from plankwright.files.suggest import nearest_words
from plankwright.files.table import Corner, Length, Size, Table, described
from plankwright.model.room import FixedKind, FixedThing, Point

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
    tie: str = described(
        "Instead of `at`: its middle is this point of `ties` under [room].", "", source="measured"
    )
    size: Size | None = described(
        "Its size along x and along y.", None, unit="length", source="measured"
    )
    turned: float = described(
        "Turned anticlockwise, about `at` or about its middle.",
        0.0,
        unit="degrees",
        source="measured",
    )
    diameter: Length | None = described("Of a round thing.", None, unit="length", source="measured")
    outline: list[Corner] | None = described(
        "Its corners [x, y] in order, in the room's coordinates.",
        None,
        unit="length",
        source="measured",
    )
    gap: Length | None = described(
        "Gap round it; without it the gap of [rules]. Of a panel, which is floor that can be "
        "lifted out: the saw's width round it.",
        None,
        unit="length",
        source="leaflet",
    )
    clearance: Length | None = described(
        "Of a toe-kick or radiator, under which the floor runs: free height above what the boards "
        "lie on; without it just enough for a board.",
        None,
        unit="length",
        source="measured",
    )


def make_fixed(table: FixedTable, number: int, points: Mapping[str, Point]) -> FixedThing:
    """The fixed thing of the ``number``-th table; ``points`` are those the survey placed [mm]."""
    where = f"fixed #{number}"
    given = [key for key in ("size", "diameter", "outline") if getattr(table, key) is not None]
    if len(given) != 1:
        raise RoomError(
            "needs one of size, diameter or outline",
            where=where,
            value=given or None,
            remedy='Write at = [x, y] and size = ["6 in", "6 in"].',
        )
    try:
        at = _place(table, points)
        circle = _circle(table, at)
        return FixedThing(
            kind=table.kind,
            outline=circumscribed(circle) if circle else _outline(table, at),
            gap_mm=table.gap,
            name=table.name,
            circle=circle,
            clearance_mm=table.clearance,
        )
    except InputError as error:
        raise error.at(where) from None


def _place(table: FixedTable, points: Mapping[str, Point]) -> Point:
    """Where it stands: its corner or center, or the middle that the survey placed."""
    if table.outline is not None:
        return 0.0, 0.0
    if table.tie:
        if table.tie not in points:
            raise RoomError(
                "the survey has no such point",
                where="tie",
                value=table.tie,
                remedy=nearest_words(table.tie, points) or "Write it under ties in [room].",
            )
        return points[table.tie]
    if table.at is None:
        raise RoomError("no place is given", remedy="Write at = [x, y], or tie = its name.")
    return table.at


def _circle(table: FixedTable, at: Point) -> tuple[float, float, float] | None:
    if table.diameter is None:
        return None
    if table.diameter <= 0.0:
        raise RoomError(
            "must be above 0", where="diameter", value=table.diameter, remedy="Measure it."
        )
    return (*at, table.diameter)


def _outline(table: FixedTable, at: Point) -> Polygon:
    if table.outline is not None:
        refuse_many(len(table.outline), "outline")
        return make_polygon(table.outline, where="outline")
    along, across = table.size or (0.0, 0.0)
    if along <= 0.0 or across <= 0.0:
        raise RoomError("must be above 0", where="size", value=table.size, remedy="Measure it.")
    x, y = (at[0] - along / 2, at[1] - across / 2) if table.tie else at
    outline = box(x, y, x + along, y + across)
    return affinity.rotate(outline, table.turned, origin=at) if table.turned else outline


def circumscribed(circle: tuple[float, float, float]) -> Polygon:
    """A polygon round the circle: nowhere nearer to the center than the thing itself."""
    x, y, diameter = circle
    radius = diameter / 2.0 / math.cos(math.pi / CIRCLE_SIDES)
    angles = [2.0 * math.pi * (i + 0.5) / CIRCLE_SIDES for i in range(CIRCLE_SIDES)]
    return Polygon([(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles])
