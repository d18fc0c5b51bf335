"""The ``[board]``, ``[rules]`` and ``[laying]`` tables of a job file."""

from typing import Any, Literal

from plankwright.errors import InputError
from plankwright.files.table import Length, LengthOrAuto, Table, Word, described
from plankwright.model.board import Board, EndLock, Hand, Laid, Profile
from plankwright.model.job import USUAL_BOARD
from plankwright.model.rules import Rules
from plankwright.model.wishes import Prefer, Wishes

Lock = Literal["handed", "reversible"]


class BoardTable(Table):
    """``[board]``: one plank of the product, from its leaflet or from the plank itself."""

    length: Length = described(
        "Cover length, face edge to face edge; the tongue is not counted.",
        USUAL_BOARD.length_mm,
        unit="length",
        source="leaflet",
    )
    width: Length = described(
        "Cover width, face edge to face edge; the tongue is not counted.",
        USUAL_BOARD.width_mm,
        unit="length",
        source="leaflet",
    )
    per_pack: int = described("Boards in a pack.", 8, unit="boards", source="leaflet")
    thickness: Length = described(
        "For heights at doors; 0 when unknown.", 0.0, unit="length", source="leaflet"
    )
    lock: Lock = described(
        "handed: two different ends and sides; reversible: square edges or loose lay.",
        "handed",
        source="leaflet",
    )
    start_side: Profile = described(
        "The long side that goes to the start wall.", "tongue", source="leaflet"
    )
    tongue_end: Hand = described(
        "The end that has the tongue while start_side is away from you.", "left", source="leaflet"
    )
    end_lock: EndLock = described(
        "How an end closes: drop (the new board's tongue end comes down on the laid board's "
        "lip), angle (slid in), tap (driven in), loose (only laid).",
        "drop",
        source="leaflet",
    )
    either_way: bool = described(
        "The leaflet allows the second laying direction (angle locks only).",
        False,
        source="leaflet",
    )
    laid_backwards_allowed: bool = described(
        "Lock and leaflet let a row be joined on its room side, so that rows can be laid backwards "
        "from an inner start line.",
        False,
        source="leaflet",
    )
    spline_allowed: bool = described(
        "Lock and leaflet take a spline, beyond which boards lie turned end for end; most click "
        "locks take none.",
        False,
        source="leaflet",
    )
    shave_and_glue_allowed: bool = described(
        "The leaflet lets the lip be shaved off and the joint be glued where a piece cannot be "
        "tilted.",
        False,
        source="leaflet",
    )
    tilt: float = described(
        "How far a piece is tilted to go into the long lock.",
        25.0,
        unit="degrees",
        source="common practice",
    )


class RulesTable(Table):
    """``[rules]``: what a plan must keep."""

    gap: Length = described(
        "Expansion gap at walls and fixed things.", 8.0, unit="length", source="leaflet"
    )
    kerf: Length = described("Width the saw takes.", 3.0, unit="length", source="common practice")
    allowance: Length = described(
        "What a piece cut to a real wall may differ from the plan.",
        3.0,
        unit="length",
        source="common practice",
    )
    shortest_piece: Length = described(
        "No piece shorter, except where the stretch itself is shorter.",
        300.0,
        unit="length",
        source="leaflet",
    )
    joint_offset: Length = described(
        "Least distance between end joints of neighboring rows.",
        300.0,
        unit="length",
        source="leaflet",
    )
    narrowest_row: Length = described(
        "No first, last or partial row narrower.", 50.0, unit="length", source="common practice"
    )
    trim_cover: Length = described(
        "The widest gap that the trim still covers.", 16.0, unit="length", source="measured"
    )
    least_gap: LengthOrAuto = described(
        "The least gap the leaflet allows, or auto: the planned one. What a crooked wall takes off "
        "a gap, and a wall's own gap, are held against it.",
        None,
        unit="length",
        source="leaflet",
    )


class LayingTable(Table):
    """``[laying]``: wishes; what is left out the planner chooses."""

    row_angle: Word = described(
        "auto, degrees anticlockwise from x, or a wall such as A-B along which the rows run.",
        "auto",
        unit="degrees",
    )
    start_wall: str | None = described("Row 1 lies along this wall, such as A-B.", None)
    first_row: LengthOrAuto = described(
        "Width of the first row, or auto: first and last row balanced.", None, unit="length"
    )
    laid: Laid | None = described(
        "Laying direction, standing in the room and facing the start wall.", None
    )
    window_wall: str | None = described(
        "The wall with the main window, such as A-B; choices tell how far rows are off its light.",
        None,
    )
    prefer: Prefer = described(
        "What to do with boards below the next pack: keep them as spares, or spend them on looks "
        "or on fewer cuts and waiting offcuts.",
        "spares",
    )
    spend_boards: int | None = described(
        "How many boards more than the fewest may be spent so; left out: what the last pack has "
        "left.",
        None,
    )

    way_out: str | None = described(
        "The door by which you leave when the floor is laid: its name or its wall.", None
    )
    longest_alone: Length = described(
        "The longest row one person can tilt in as a whole (angle locks).",
        4000.0,
        unit="length",
        source="common practice",
    )
    begin_row: int | None = described(
        "Begin with this row, from a snapped line, and lay those before it backwards; counted from "
        "the start wall.",
        None,
    )
    first_rows_together: bool = described(
        "Lay rows 1 and 2 side by side, piece by piece, to keep them straight.", False
    )
    half_at_a_time: bool = described(
        "Furniture stays in one half of the room: stop on the row joint nearest to the middle.",
        False,
    )


def make_board(table: BoardTable) -> Board:
    """The board of the table."""
    if ("length" in table.model_fields_set) != ("width" in table.model_fields_set):
        raise InputError(
            "give length and width, both or neither",
            where="board",
            remedy="Measure the face from edge to edge, without the tongue.",
        )
    return Board(
        length_mm=table.length,
        width_mm=table.width,
        per_pack=table.per_pack,
        thickness_mm=table.thickness,
        reversible=table.lock == "reversible",
        start_side=table.start_side,
        tongue_end=table.tongue_end,
        end_lock=table.end_lock,
        either_way=table.either_way,
        laid_backwards=table.laid_backwards_allowed,
        spline=table.spline_allowed,
        shave_and_glue=table.shave_and_glue_allowed,
        tilt_deg=table.tilt,
    )


def make_rules(table: RulesTable) -> Rules:
    """The rules of the table."""
    return Rules(**{f"{name}_mm": value for name, value in table.model_dump().items()})


def make_wishes(table: LayingTable) -> Wishes:
    """The wishes of the table."""
    return Wishes(
        **read_row_angle(table.row_angle, "laying.row_angle"),
        start_wall=table.start_wall,
        first_row_mm=table.first_row,
        laid=table.laid,
        window_wall=table.window_wall,
        prefer=table.prefer,
        spend_boards=table.spend_boards,
        way_out=table.way_out,
        longest_alone_mm=table.longest_alone,
        first_rows_together=table.first_rows_together,
        half_at_a_time=table.half_at_a_time,
        begin_row=table.begin_row,
    )


def read_row_angle(value: str, where: str) -> dict[str, Any]:
    """``auto``, degrees or a wall, as the fields of :class:`Wishes` that say it.

    >>> read_row_angle("A-B", ""), read_row_angle("12.5", ""), read_row_angle("auto", "")
    ({'row_wall': 'A-B'}, {'row_angle_deg': 12.5}, {})
    """
    text = value.strip()
    if text.lower() == "auto":
        return {}
    if _is_wall(text):
        return {"row_wall": text.upper()}
    try:
        return {"row_angle_deg": float(text.removesuffix("°"))}
    except ValueError:
        raise InputError(
            "not a row angle",
            where=where,
            value=value,
            remedy="Write auto, degrees, or a wall such as A-B.",
        ) from None


def _is_wall(text: str) -> bool:
    first, dash, second = text.partition("-")
    return bool(dash) and all(
        corner.isalnum() and corner[-1].isalpha() for corner in (first, second)
    )
