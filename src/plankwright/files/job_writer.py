"""A job written out as a job document: room, board, rules, wishes and limits, in millimeters.

What a job has only in its file (slab, air, buying) is not in it. Keys that hold what they would be
without them are left out.
"""

from dataclasses import fields
from decimal import Decimal
from typing import Any

from plankwright.files.job_document import Document
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.room import FixedThing, Point, Room
from plankwright.model.wishes import Wishes

# Keys that are called otherwise than the field of the noun without its unit.
KEYS = {
    "edge": "wall",
    "start": "from",
    "end": "to",
    "is_door": "door",
    "laid_backwards": "laid_backwards_allowed",
    "spline": "spline_allowed",
    "shave_and_glue": "shave_and_glue_allowed",
}


def job_document(job: Job) -> Document:
    """The document of a job that was not measured by tape, or whose corners are settled."""
    board = _board(job.board)
    if not job.knows_tongue_end:
        board.pop("tongue_end", None)
    return {
        "job": {"name": job.name, "unit": job.unit},
        "board": board,
        "rules": _table(job.rules),
        "laying": _wishes(job.wishes),
        "breaks": _table(job.limits),
        "room": _room(job.room),
    }


def _mm(length: float) -> str:
    """Every digit of a length, never as a power of ten."""
    return f"{Decimal(repr(length)):f} mm"


def _point(point: Point) -> list[str]:
    return [_mm(point[0]), _mm(point[1])]


def _ring(coords: Any) -> list[list[str]]:
    return [_point((x, y)) for x, y, *_ in list(coords)[:-1]]


def _room(room: Room) -> Document:
    return {
        "name": room.name,
        "outline": _ring(room.outline.exterior.coords),
        "holes": [_ring(hole.coords) for hole in room.outline.interiors],
        "gaps": {name: _mm(gap) for name, gap in room.edge_gaps},
        "fixed": [_fixed(thing) for thing in room.fixed],
        "door": [_table(doorway) for doorway in room.doorways],
        "opening": [_table(opening) for opening in room.openings],
        "break": [_table(line) for line in room.breaks],
    }


def _fixed(thing: FixedThing) -> Document:
    place: Document = {"outline": _ring(thing.outline.exterior.coords)}
    if thing.circle is not None:
        x, y, diameter = thing.circle
        place = {"at": _point((x, y)), "diameter": _mm(diameter)}
    return {**_table(thing, "outline", "circle"), **place}


def _board(board: Board) -> Document:
    lock = "reversible" if board.reversible else "handed"
    return {**_table(board, "reversible"), "lock": lock}


def _wishes(wishes: Wishes) -> Document:
    angle = None if wishes.row_angle_deg is None else repr(wishes.row_angle_deg)
    return {
        "row_angle": wishes.row_wall or angle,
        **_table(wishes, "row_angle_deg", "row_wall"),
    }


def _table(noun: Any, *apart: str) -> Document:
    """The fields of a noun by the keys of the file, but for those that are written apart."""
    return {
        _key(field.name): _value(field.name, getattr(noun, field.name))
        for field in fields(noun)
        if field.name not in apart
    }


def _key(field: str) -> str:
    return KEYS.get(field) or field.removesuffix("_mm").removesuffix("_deg")


def _value(field: str, value: Any) -> Any:
    if isinstance(value, tuple):
        return _point(value)
    return _mm(value) if field.endswith("_mm") and value is not None else value
