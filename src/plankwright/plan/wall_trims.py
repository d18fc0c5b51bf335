"""Tongues and lips that lie at a wall, to be trimmed off: otherwise they fill the gap.

A gap is measured from whatever sticks out farthest. A tongue or lip of 5 to 8 mm that is left on
at a wall fills a gap of 8 mm, so at walls it is trimmed off, and that is a cut like any other.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from shapely import Polygon

from plankwright.geometry.frame import Frame
from plankwright.model.plan import Piece, Plan

EdgeName = Literal["near", "far", "wall", "room"]
Floats = npt.NDArray[np.float64]

ON_LINE_MM = 0.5
OTHER_EDGE: dict[EdgeName, EdgeName] = {
    "near": "far",
    "far": "near",
    "wall": "room",
    "room": "wall",
}
FREE_MM = 5.0  # a shorter free stretch of a long side is a rounded corner, not a wall


def wall_trims(plan: Plan) -> dict[str, tuple[EdgeName, ...]]:
    """For each piece, by id, its board's factory edges that lie, wholly or in part, at a wall.

    Pieces with none are left out; a reversible board has neither tongue nor lip.
    """
    if plan.board.reversible:
        return {}
    last = _last_seats(plan)
    rows: dict[int, list[_Sides]] = defaultdict(list)
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    for piece in plan.pieces:
        rows[piece.row].append(_sides(piece, axes.to_plan(piece.outline)))
    found = {
        sides.piece.id: (*_ends(sides.piece, last), *_free_sides(sides, rows))
        for row in rows.values()
        for sides in row
    }
    turned = {piece.id for piece in plan.pieces if plan.is_turned(piece)} if plan.rows else set()
    return {
        name: tuple(OTHER_EDGE[edge] for edge in edges) if name in turned else edges
        for name, edges in found.items()
        if edges
    }


@dataclass(frozen=True, slots=True)
class _Sides:
    """A piece's long sides: the line of each, and the parts of it that the piece has, from to."""

    piece: Piece
    wall_line: float
    room_line: float
    on_wall: Floats
    on_room: Floats


def _sides(piece: Piece, outline: Polygon) -> _Sides:
    _, low, _, high = outline.bounds
    corners = np.asarray(outline.exterior.coords)
    return _Sides(piece, low, high, _on_line(corners, low), _on_line(corners, high))


def _on_line(corners: Floats, line: float) -> Floats:
    """Where an outline has an edge on a line along the boards: a row (from, to) for each."""
    on = np.abs(corners[:, 1] - line) <= ON_LINE_MM
    met = np.flatnonzero(on[:-1] & on[1:])
    return np.sort(np.stack([corners[met, 0], corners[met + 1, 0]], axis=1), axis=1)


def _last_seats(plan: Plan) -> dict[tuple[int, int], int]:
    last: dict[tuple[int, int], int] = defaultdict(int)
    for piece in plan.pieces:
        key = piece.row, piece.stretch
        last[key] = max(last[key], piece.seat)
    return last


def _ends(piece: Piece, last: dict[tuple[int, int], int]) -> list[EdgeName]:
    """Whole ends at walls: of first seats the near one, of last seats the far one."""
    found: list[EdgeName] = []
    if piece.seat == 1 and piece.near_end == "factory":
        found.append("near")
    if piece.seat == last[piece.row, piece.stretch] and piece.far_end == "factory":
        found.append("far")
    return found


def _free_sides(sides: _Sides, rows: dict[int, list[_Sides]]) -> list[EdgeName]:
    """Long sides with their tongue or groove beside which, for a while, no other piece lies."""
    piece = sides.piece
    found: list[EdgeName] = []
    if piece.wall_side == "factory":
        beside = [
            other.on_room
            for other in rows.get(piece.row - 1, [])
            if abs(other.room_line - sides.wall_line) <= ON_LINE_MM
        ]
        if _free(sides.on_wall, beside) > FREE_MM:
            found.append("wall")
    if piece.room_side == "factory":
        beside = [
            other.on_wall
            for other in rows.get(piece.row + 1, [])
            if abs(other.wall_line - sides.room_line) <= ON_LINE_MM
        ]
        if _free(sides.on_room, beside) > FREE_MM:
            found.append("room")
    return found


def _free(side: Floats, beside: Sequence[Floats]) -> float:
    """Length of a long side beside which no other piece lies [mm]; those beside lie apart."""
    length = float((side[:, 1] - side[:, 0]).sum())
    if not beside:
        return length
    others = np.concatenate(beside)
    low = np.maximum(side[:, None, 0], others[:, 0])
    high = np.minimum(side[:, None, 1], others[:, 1])
    return length - float(np.maximum(high - low, 0.0).sum())
