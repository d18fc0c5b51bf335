"""``[[room.door]]``: the doorways of the job file."""

from plankwright.errors import RoomError
from plankwright.files.job_walls import NamedWalls
from plankwright.files.table import Length, Table, described
from plankwright.model.room import Bridged, Doorway
from plankwright.units import at_least, at_most


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
    undercut_height: Length | None = described(
        "How high the jambs are undercut above what the boards lie on; without it just enough for "
        "a board.",
        None,
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
    transition: Bridged = described(
        "What bridges it; between two parts of one floor a T-molding, or none to be bought, as it "
        "is on the list of the other part.",
        "by the heights",
    )


def make_doorway(door: DoorTable, number: int, walls: NamedWalls) -> Doorway:
    """The doorway of the ``number``-th table."""
    where = f"door #{number}"
    wall = walls.find(door.wall, f"{where}.wall")
    edge, from_corner_mm = wall.place(door.from_corner, door.width)
    if not (at_least(from_corner_mm, 0.0) and at_most(from_corner_mm + door.width, edge.length_mm)):
        raise RoomError(
            "the doorway reaches beyond its wall, which is {0} long here",
            lengths_mm=(edge.length_mm,),
            where=f"{where}.width",
            value_mm=door.width,
            remedy="Check its width and its distance from the corner.",
        )
    return Doorway(
        edge=edge.name,
        from_corner_mm=max(0.0, from_corner_mm),
        width_mm=door.width,
        depth_mm=door.depth,
        stem_mm=door.stem,
        undercut_mm=door.undercut,
        gap_mm=door.gap,
        name=door.name,
        undercut_height_mm=door.undercut_height,
        transition=door.transition,
    )
