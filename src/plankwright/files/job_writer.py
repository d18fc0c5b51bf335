"""A job written out as a job document: room, board, rules, wishes and limits, in millimeters.

What a job has only in its file (slab, air, buying) is not in it. Keys that hold what they would be
without them are left out.
"""

from decimal import Decimal
from typing import Any

from plankwright.files.job_document import Document
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.limits import Limits
from plankwright.model.room import Break, Doorway, FixedThing, Opening, Point, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes


def job_document(job: Job) -> Document:
    """The document of a job that was not measured by tape, or whose corners are settled."""
    board = _board(job.board)
    if not job.knows_tongue_end:
        board.pop("tongue_end", None)
    return {
        "job": {"name": job.name, "unit": job.unit},
        "board": board,
        "rules": _rules(job.rules),
        "laying": _wishes(job.wishes),
        "breaks": _limits(job.limits),
        "room": _room(job.room),
    }


def _mm(length: float) -> str:
    """Every digit of a length, never as a power of ten."""
    return f"{Decimal(repr(length)):f} mm"


def _length(length: float | None) -> str | None:
    return None if length is None else _mm(length)


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
        "door": [_door(doorway) for doorway in room.doorways],
        "opening": [_opening(opening) for opening in room.openings],
        "break": [_break(line) for line in room.breaks],
    }


def _fixed(thing: FixedThing) -> Document:
    place: Document = {"outline": _ring(thing.outline.exterior.coords)}
    if thing.circle is not None:
        x, y, diameter = thing.circle
        place = {"at": _point((x, y)), "diameter": _mm(diameter)}
    return {
        "kind": thing.kind,
        "name": thing.name,
        **place,
        "gap": _length(thing.gap_mm),
        "clearance": _length(thing.clearance_mm),
    }


def _door(doorway: Doorway) -> Document:
    return {
        "wall": doorway.edge,
        "from_corner": _mm(doorway.from_corner_mm),
        "width": _mm(doorway.width_mm),
        "depth": _mm(doorway.depth_mm),
        "stem": _mm(doorway.stem_mm),
        "undercut": _mm(doorway.undercut_mm),
        "undercut_height": _length(doorway.undercut_height_mm),
        "gap": _length(doorway.gap_mm),
        "name": doorway.name,
        "transition": doorway.transition,
    }


def _opening(opening: Opening) -> Document:
    return {
        "from": _point(opening.start),
        "to": _point(opening.end),
        "depth": _mm(opening.depth_mm),
        "leaf": opening.leaf,
        "door": opening.is_door,
        "name": opening.name,
    }


def _break(line: Break) -> Document:
    return {
        "from": _point(line.start),
        "to": _point(line.end),
        "stem": _mm(line.stem_mm),
        "gap": _length(line.gap_mm),
        "name": line.name,
    }


def _board(board: Board) -> Document:
    return {
        "length": _mm(board.length_mm),
        "width": _mm(board.width_mm),
        "per_pack": board.per_pack,
        "thickness": _mm(board.thickness_mm),
        "lock": "reversible" if board.reversible else "handed",
        "start_side": board.start_side,
        "tongue_end": board.tongue_end,
        "end_lock": board.end_lock,
        "either_way": board.either_way,
        "laid_backwards_allowed": board.laid_backwards,
        "spline_allowed": board.spline,
        "shave_and_glue_allowed": board.shave_and_glue,
        "tilt": board.tilt_deg,
    }


def _rules(rules: Rules) -> Document:
    return {
        "gap": _mm(rules.gap_mm),
        "kerf": _mm(rules.kerf_mm),
        "allowance": _mm(rules.allowance_mm),
        "shortest_piece": _mm(rules.shortest_piece_mm),
        "joint_offset": _mm(rules.joint_offset_mm),
        "narrowest_row": _mm(rules.narrowest_row_mm),
        "trim_cover": _mm(rules.trim_cover_mm),
        "least_gap": _length(rules.least_gap_mm),
    }


def _wishes(wishes: Wishes) -> Document:
    angle = None if wishes.row_angle_deg is None else repr(wishes.row_angle_deg)
    return {
        "row_angle": wishes.row_wall or angle,
        "start_wall": wishes.start_wall,
        "first_row": _length(wishes.first_row_mm),
        "laid": wishes.laid,
        "window_wall": wishes.window_wall,
        "prefer": wishes.prefer,
        "spend_boards": wishes.spend_boards,
        "way_out": wishes.way_out,
        "longest_alone": _mm(wishes.longest_alone_mm),
        "first_rows_together": wishes.first_rows_together,
        "half_at_a_time": wishes.half_at_a_time,
        "begin_row": wishes.begin_row,
    }


def _limits(limits: Limits) -> Document:
    return {
        "longest_along": _length(limits.longest_along_mm),
        "longest_across": _length(limits.longest_across_mm),
        "in_doorways": limits.in_doorways,
        "in_necks": limits.in_necks,
        "neck": _mm(limits.neck_mm),
        "stem": _mm(limits.stem_mm),
    }
