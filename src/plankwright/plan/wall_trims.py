"""Tongues and lips that lie at a wall, to be trimmed off: otherwise they fill the gap.

A gap is measured from whatever sticks out farthest. A tongue or lip of 5 to 8 mm that is left on
at a wall fills a gap of 8 mm, so at walls it is trimmed off, and that is a cut like any other.
"""

from collections import defaultdict
from typing import Literal

import numpy as np
import numpy.typing as npt

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
    rows: dict[int, list[tuple[Piece, Floats]]] = defaultdict(list)
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    for piece in plan.pieces:
        box = np.asarray(axes.to_plan(piece.outline).bounds)
        rows[piece.row].append((piece, box))
    found = {
        piece.id: (*_ends(piece, last), *_sides(piece, box, rows))
        for pieces in rows.values()
        for piece, box in pieces
    }
    turned = {piece.id for piece in plan.pieces if plan.is_turned(piece)} if plan.rows else set()
    return {
        name: tuple(OTHER_EDGE[edge] for edge in edges) if name in turned else edges
        for name, edges in found.items()
        if edges
    }


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


def _sides(
    piece: Piece, box: Floats, rows: dict[int, list[tuple[Piece, Floats]]]
) -> list[EdgeName]:
    """Long sides with their tongue or groove beside which, for a while, no other piece lies."""
    found: list[EdgeName] = []
    wall_row, room_row = rows.get(piece.row - 1, []), rows.get(piece.row + 1, [])
    if piece.wall_side == "factory" and _free(box, 1, wall_row) > FREE_MM:
        found.append("wall")
    if piece.room_side == "factory" and _free(box, 3, room_row) > FREE_MM:
        found.append("room")
    return found


def _free(box: Floats, edge: int, beside: list[tuple[Piece, Floats]]) -> float:
    """Length of a long side beside which no other piece lies [mm]."""
    joined = sum(
        max(0.0, min(box[2], other[2]) - max(box[0], other[0]))
        for _, other in beside
        if abs(other[4 - edge] - box[edge]) <= ON_LINE_MM
    )
    return float(box[2] - box[0] - joined)
