"""The tape survey in the ``[room]`` table of a job file, as a person would say it.

::

    [room]
    walls = { A-B = "14' 2", B-C = "11' 9 3/4", C-D = "14' 1 1/2", D-A = "11' 10" }
    diagonals = { A-C = "18' 5 1/4" }
    angles = "square"
"""

import re
from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from plankwright.errors import InputError, RoomError
from plankwright.files.table import Length, Table, described, read_table
from plankwright.model.room import corner_name
from plankwright.model.survey import (
    BelievedAngle,
    Distance,
    StringLine,
    Survey,
    Tape,
    WallDistance,
)
from plankwright.units import Unit, parse_length

Readings = tuple[float, ...]  # of one length; taken several times, it counts several times
UNKNOWN = ("unknown", "?", "")
ANGLE_WORDS = {"square": 90.0, "right": 90.0}
SEPARATORS = re.compile(r"\s*(?:-|–|—|/|\bto\b)\s*", re.IGNORECASE)


def _unit(info: ValidationInfo) -> Unit:
    unit: Unit = (info.context or {}).get("unit", "mm")
    return unit


def _readings(value: object, unit: Unit, where: str) -> Readings:
    values = value if isinstance(value, list) else [value]
    known = [v for v in values if not (isinstance(v, str) and v.strip().lower() in UNKNOWN)]
    return tuple(float(parse_length(v, unit, where=where)) for v in known)


def _read_named(value: object, info: ValidationInfo) -> dict[str, Readings]:
    """Lengths by name, in millimeters; those that were not measured are left out."""
    if not isinstance(value, Mapping):
        raise InputError(
            "expected lengths by name", value=value, remedy="Write { A-B = 4200, B-C = 3600 }."
        )
    return {str(name): _readings(v, _unit(info), str(name)) for name, v in value.items()}


def _read_walls(value: object, info: ValidationInfo) -> dict[str, Readings] | list[Readings]:
    if isinstance(value, list):
        return [_readings(v, _unit(info), f"#{i}") for i, v in enumerate(value, start=1)]
    return _read_named(value, info)


def _read_ties(value: object, info: ValidationInfo) -> dict[str, dict[str, Readings]]:
    if not isinstance(value, Mapping):
        raise InputError(
            "expected distances by point", value=value, remedy="Write { post = { A = 2100 } }."
        )
    return {str(name): _read_named(ties, info) for name, ties in value.items()}


def _read_angles(value: object) -> str | dict[str, float | None]:
    if isinstance(value, str):
        return value.strip().lower()
    if not isinstance(value, Mapping):
        raise InputError(
            "expected angles by corner", value=value, remedy='Write "square" or { A = "square" }.'
        )
    return {str(corner): _angle(angle, str(corner)) for corner, angle in value.items()}


def _angle(value: object, corner: str) -> float | None:
    """Degrees, or None for an angle that is not known."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    word = str(value).strip().lower().removesuffix("°").removesuffix("degrees").strip()
    if word in UNKNOWN:
        return None
    if word in ANGLE_WORDS:
        return ANGLE_WORDS[word]
    try:
        return float(word)
    except ValueError:
        raise InputError(
            "cannot read this as an angle",
            where=corner,
            value=value,
            remedy='Write "square", "unknown" or degrees, such as 135.',
        ) from None


_LENGTHS = WithJsonSchema({"type": "object"})
Named = Annotated[dict[str, Readings], BeforeValidator(_read_named), _LENGTHS]
Walls = Annotated[
    dict[str, Readings] | list[Readings],
    BeforeValidator(_read_walls),
    WithJsonSchema({"type": ["object", "array"]}),
]
Ties = Annotated[dict[str, dict[str, Readings]], BeforeValidator(_read_ties), _LENGTHS]
Angles = Annotated[
    str | dict[str, float | None],
    BeforeValidator(_read_angles),
    WithJsonSchema({"type": ["string", "object"]}),
]


class TapeTable(Table):
    """How well the tape measures."""

    sd: Length = described(
        "Standard deviation of one reading.", 2.0, unit="length", source="common practice"
    )
    sd_per_m: float = described(
        "What it grows by for each meter.", 0.3, unit="mm/m", source="common practice"
    )


class StringTable(Table):
    """A string line along a wall."""

    block: Length = described(
        "How far blocks hold the string off the wall at both corners.",
        0.0,
        unit="length",
        source="measured",
    )
    offsets: list[Any] = described(
        "Pairs [along, gap]: from the wall's first corner, and from string to wall there.",
        unit="length",
        source="measured",
    )


class SurveyTable(Table):
    """The part of ``[room]`` that is a tape survey."""

    corners: list[str] | None = described(
        "Names of the corners in the order in which you pass them; A, B, C, … when left out.",
        None,
        source="measured",
    )
    order: str = described(
        "anticlockwise: facing wall A-B from inside, A is at your right hand; "
        "clockwise: at your left.",
        "anticlockwise",
        source="measured",
    )
    walls: Walls | None = described(
        'Lengths of the walls, { A-B = 4200 } or in order [4200, "unknown", …]; '
        "a list of readings counts each.",
        None,
        unit="length",
        source="measured",
    )
    diagonals: Named = described(
        "Lengths across the room, { A-C = 5545 }.", {}, unit="length", source="measured"
    )
    angles: Angles = described(
        'What you believe of the corners: "square", or { A = "square", B = 135, C = "unknown" }.',
        "unknown",
        unit="degrees",
        source="measured",
    )
    string_lines: dict[str, StringTable] = described(
        "Bowed walls, by a string from corner to corner.", {}, source="measured"
    )
    ties: Ties = described(
        "Posts and other points: distances from corners or walls, "
        "{ post = { A = 2100, B-C = 900 } }.",
        {},
        unit="length",
        source="measured",
    )
    tape: TapeTable = described("How well the tape measures.", TapeTable())


SURVEY_KEYS = tuple(SurveyTable.model_fields)


def read_survey(room_table: Mapping[str, Any], unit: Unit) -> Survey | None:
    """The survey in a ``[room]`` table as read from TOML, or None when nothing was measured.

    Raises
    ------
    InputError
        with place, value and remedy.
    """
    own = {key: value for key, value in room_table.items() if key in SURVEY_KEYS}
    table = read_table(SurveyTable, own, unit=unit, where="room")
    return make_survey(table, unit)


def make_survey(table: SurveyTable, unit: Unit) -> Survey | None:
    """The survey in a table that was read, or None when it holds no walls and no diagonals."""
    if table.walls is None and not table.diagonals:
        return None
    try:
        return _make(table, unit)
    except InputError as error:
        raise error.at("room") from None


def _make(table: SurveyTable, unit: Unit) -> Survey:
    corners = _corners(table)
    points = tuple(table.ties)
    split = _Splitter(corners)
    distances = [*_walls(table.walls, corners, split), *_diagonals(table.diagonals, split)]
    tied, from_walls = _ties(table.ties, split)
    return Survey(
        corners=corners,
        distances=(*distances, *tied),
        angles=_angles(table.angles, corners),
        string_lines=tuple(
            _string(name, line, split, unit) for name, line in table.string_lines.items()
        ),
        points=points,
        wall_distances=from_walls,
        tape=Tape(table.tape.sd, table.tape.sd_per_m),
        clockwise=_clockwise(table.order),
    )


def _clockwise(order: str) -> bool:
    word = order.strip().lower().replace("-", "")
    if word not in ("clockwise", "anticlockwise", "counterclockwise"):
        raise RoomError(
            "the corners run clockwise or anticlockwise",
            where="order",
            value=order,
            remedy="Facing wall A-B from inside, A is at your left hand: clockwise.",
        )
    return word == "clockwise"


def _corners(table: SurveyTable) -> tuple[str, ...]:
    if table.corners is not None:
        return tuple(name.strip() for name in table.corners)
    if isinstance(table.walls, list):
        return tuple(corner_name(i) for i in range(len(table.walls)))
    names: dict[str, None] = {}
    for wall in (*(table.walls or {}), *table.diagonals):
        for name in SEPARATORS.split(wall.strip()):
            names.update(dict.fromkeys([*name] if "-" not in wall and len(wall) == 2 else [name]))
    usual = [corner_name(i) for i in range(len(names))]
    if set(usual) != set(names):
        raise RoomError(
            "the corners are not named A, B, C, … without a gap",
            where="corners",
            value=list(names),
            remedy='Write corners = ["A", "B", …] in the order in which you pass them.',
        )
    return tuple(usual)


class _Splitter:
    """Reads ``A-B``, ``A to B`` or ``AB`` as two names."""

    def __init__(self, corners: tuple[str, ...]) -> None:
        self.corners = corners

    def pair(self, name: str, where: str) -> tuple[str, str]:
        """The two corners of a wall or diagonal."""
        parts = [part for part in SEPARATORS.split(name.strip()) if part]
        if len(parts) == 1 and len(name) == 2 and set(name) <= set(self.corners):
            parts = list(name)
        if len(parts) != 2:
            raise RoomError(
                "expected two corners", where=where, value=name, remedy="Write them as A-B."
            )
        return parts[0], parts[1]


def _walls(
    walls: dict[str, Readings] | list[Readings] | None,
    corners: tuple[str, ...],
    split: _Splitter,
) -> list[Distance]:
    following = [*corners[1:], *corners[:1]]
    names = list(zip(corners, following, strict=True))
    if isinstance(walls, list):
        if len(walls) != len(corners):
            raise RoomError(
                f"{len(walls)} walls for {len(corners)} corners",
                where="walls",
                value=len(walls),
                remedy='Write one length for each wall in order, "unknown" where you have none.',
            )
        return [Distance(*pair, mm) for pair, read in zip(names, walls, strict=True) for mm in read]
    distances = []
    for name, read in (walls or {}).items():
        start, end = split.pair(name, f"walls.{name}")
        known = start in corners and end in corners
        if known and start != end and {start, end} not in [set(pair) for pair in names]:
            raise RoomError(
                f"{name} is no wall: {start} and {end} do not follow each other",
                where=f"walls.{name}",
                value=name,
                remedy="Put it under diagonals, or check the order of the corners.",
            )
        distances += [Distance(start, end, mm) for mm in read]
    return distances


def _diagonals(diagonals: dict[str, Readings], split: _Splitter) -> list[Distance]:
    return [
        Distance(*split.pair(name, f"diagonals.{name}"), mm)
        for name, read in diagonals.items()
        for mm in read
    ]


def _angles(
    angles: str | dict[str, float | None], corners: tuple[str, ...]
) -> tuple[BelievedAngle, ...]:
    if isinstance(angles, dict):
        return tuple(BelievedAngle(c, a) for c, a in angles.items() if a is not None)
    if angles in UNKNOWN:
        return ()
    if angles in ANGLE_WORDS:
        return tuple(BelievedAngle(corner, ANGLE_WORDS[angles]) for corner in corners)
    raise RoomError(
        "cannot read this as a belief about all corners",
        where="angles",
        value=angles,
        remedy='Write "square", "unknown", or a table such as { A = "square", B = 135 }.',
    )


def _ties(
    ties: dict[str, dict[str, Readings]], split: _Splitter
) -> tuple[list[Distance], tuple[WallDistance, ...]]:
    lengths: list[Distance] = []
    from_walls: list[WallDistance] = []
    for point, places in ties.items():
        for place, read in places.items():
            if place in split.corners or place in ties:
                lengths += [Distance(place, point, mm) for mm in read]
            else:
                start, end = split.pair(place, f"ties.{point}.{place}")
                from_walls += [WallDistance(point, start, end, mm) for mm in read]
    return lengths, tuple(from_walls)


def _string(name: str, table: StringTable, split: _Splitter, unit: Unit) -> StringLine:
    where = f"string_lines.{name}"
    offsets = []
    for pair in table.offsets:
        if not isinstance(pair, list) or len(pair) != 2:
            raise RoomError(
                "expected pairs [along, gap]", where=where, value=pair, remedy="Write [1200, 15]."
            )
        along = float(parse_length(pair[0], unit, where=where))
        offsets.append((along, float(parse_length(pair[1], unit, where=where, signed=True))))
    return StringLine(*split.pair(name, where), tuple(offsets), table.block)
