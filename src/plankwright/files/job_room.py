"""The ``[room]`` table of a job file, with its fixed things, doorways and gaps."""

from collections.abc import Mapping, Sequence

from shapely import Polygon

from plankwright.errors import InputError, RoomError
from plankwright.files.job_breaks import BreakTable, OpeningTable, make_break, make_opening
from plankwright.files.job_door import DoorTable, make_doorway
from plankwright.files.job_fixed import FixedTable, make_fixed
from plankwright.files.job_survey import SurveyTable
from plankwright.files.job_walls import NamedWalls
from plankwright.files.rings import make_polygon, refuse_many
from plankwright.files.table import Corner, Length, described
from plankwright.model.room import Point, Room


class RoomTable(SurveyTable):
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
    opening: list[OpeningTable] = described(
        "Where rooms meet that are laid as one floor.", [], source="measured"
    )
    breaks: list[BreakTable] = described(
        "Expansion breaks of your own.", [], source="choice", alias="break"
    )
    gaps: dict[str, Length] = described(
        'Gap at a wall where it differs from the rules, as "A-B" = "1/2 in".',
        {},
        unit="length",
        source="choice",
    )


def make_room(
    table: RoomTable,
    outline: Polygon,
    name: str,
    *,
    walls: Sequence[str] | None = None,
    points: Mapping[str, Point] | None = None,
) -> Room:
    """The room from its table and its outline.

    Parameters
    ----------
    outline : from corners or from the survey [mm].
    name : of the job, where the room has none.
    walls : the survey's wall of each edge of the outer ring.
    points : what the survey placed beside the corners [mm].
    """
    try:
        named = NamedWalls(list(Room(outline).edges()), walls)
        gaps = [(named.find(wall, "gaps"), gap_mm) for wall, gap_mm in table.gaps.items()]
        return Room(
            outline,
            fixed=tuple(make_fixed(t, i, points or {}) for i, t in enumerate(table.fixed, start=1)),
            doorways=tuple(make_doorway(t, i, named) for i, t in enumerate(table.door, start=1)),
            edge_gaps=tuple((edge.name, gap) for wall, gap in gaps for edge in wall.edges),
            name=table.name or name,
            openings=tuple(make_opening(t, i) for i, t in enumerate(table.opening, start=1)),
            breaks=tuple(make_break(t, i) for i, t in enumerate(table.breaks, start=1)),
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
