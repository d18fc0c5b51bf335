"""``[breaks]``, ``[[room.opening]]`` and ``[[room.break]]``: long floors and several rooms."""

from plankwright.errors import InputError
from plankwright.files.job_slab_tables import SlabTable
from plankwright.files.table import Corner, Length, Table, described
from plankwright.model.limits import Limits
from plankwright.model.room import USUAL_STEM_MM, Break, Leaf, Opening


class BreaksTable(Table):
    """``[breaks]``: how far the floor may float, and where the leaflet wants expansion breaks."""

    longest_along: Length | None = described(
        "Longest floating length along the boards; without it that of [slab.movement].",
        None,
        unit="length",
        source="leaflet",
    )
    longest_across: Length | None = described(
        "Longest floating length across the boards; without it that of [slab.movement].",
        None,
        unit="length",
        source="leaflet",
    )
    in_doorways: bool = described(
        "The leaflet wants a break in every doorway that the floor runs through.",
        False,
        source="leaflet",
    )
    in_necks: bool = described(
        "The leaflet wants a break in every neck of the floor.", False, source="leaflet"
    )
    neck: Length = described(
        "A place narrower than this, with more floor on both sides, is a neck.",
        1200.0,
        unit="length",
        source="common practice",
    )
    stem: Length = described(
        "Width of the stem of the T-moldings.",
        USUAL_STEM_MM,
        unit="length",
        source="common practice",
    )


class OpeningTable(Table):
    """``[[room.opening]]``: where two rooms meet that are laid as one floor."""

    start: Corner = described(
        "One jamb, [x, y], in the middle of the wall.", unit="length", source="measured",
        alias="from",
    )  # fmt: skip
    end: Corner = described("The other jamb, [x, y].", unit="length", source="measured", alias="to")
    depth: Length = described("How thick the wall is.", 0.0, unit="length", source="measured")
    leaf: Leaf = described(
        "Where the closed door stands, seen from the first jamb to the other: in the left or right "
        "face of the wall, or in its middle. A seam lies under it.",
        "middle",
        source="measured",
    )
    is_door: bool = described(
        "Whether there is a doorway; false where two spaces only meet.",
        True,
        source="measured",
        alias="door",
    )
    name: str = described("How you call it.", "")


class BreakTable(Table):
    """``[[room.break]]``: an expansion break of your own."""

    start: Corner = described(
        "Where it begins, [x, y].", unit="length", source="choice", alias="from"
    )
    end: Corner = described("Where it ends, [x, y].", unit="length", source="choice", alias="to")
    stem: Length = described(
        "Width of the T-molding's stem.", USUAL_STEM_MM, unit="length", source="leaflet"
    )
    gap: Length | None = described(
        "Gap on either side of the stem; without it the gap of [rules].",
        None,
        unit="length",
        source="leaflet",
    )
    name: str = described("How you call it.", "")


def make_limits(table: BreaksTable, slab: SlabTable | None) -> Limits:
    """The limits of the table; longest lengths that it leaves out are those of the slab's."""
    movement = slab.movement if slab else None
    along, across = table.longest_along, table.longest_across
    return Limits(
        longest_along_mm=movement.longest_along if along is None and movement else along,
        longest_across_mm=movement.longest_across if across is None and movement else across,
        in_doorways=table.in_doorways,
        in_necks=table.in_necks,
        neck_mm=table.neck,
        stem_mm=table.stem,
    )


def make_opening(table: OpeningTable, number: int) -> Opening:
    """The opening of the ``number``-th table."""
    try:
        return Opening(
            table.start, table.end, table.depth, table.leaf, is_door=table.is_door, name=table.name
        )
    except InputError as error:
        raise error.at(f"opening #{number}") from None


def make_break(table: BreakTable, number: int) -> Break:
    """The expansion break of the ``number``-th table."""
    try:
        return Break(table.start, table.end, table.stem, table.gap, table.name)
    except InputError as error:
        raise error.at(f"break #{number}") from None
