"""What a plan leaves to saw: cuts across, rips, and tongues and lips to trim off at walls.

A gap is measured from whatever sticks out farthest. A tongue or lip of 5 to 8 mm that is left on at
a wall fills a gap of 8 mm, so at walls it is trimmed off, and that is a cut like any other.
"""

import math
from collections import defaultdict
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from plankwright.model.plan import Piece, Plan

Floats = npt.NDArray[np.float64]

ON_LINE_MM = 0.5
FREE_MM = 5.0  # a shorter free stretch of a long side is a rounded corner, not a wall


@dataclass(frozen=True, slots=True)
class SawWork:
    """Counts of what is to be cut.

    Parameters
    ----------
    crosscuts : ends cut across a board.
    rips : long sides cut along a board.
    trims : factory edges that lie at a wall, from which the tongue or lip is trimmed; none for a
        reversible board.
    """

    crosscuts: int
    rips: int
    trims: int


def saw_work(plan: Plan) -> SawWork:
    """The cuts of a plan, edge by edge."""
    crosscuts = sum(_cut(p.near_end) + _cut(p.far_end) for p in plan.pieces)
    rips = sum(_cut(p.wall_side) + _cut(p.room_side) for p in plan.pieces)
    trims = 0 if plan.board.reversible else _end_trims(plan) + _side_trims(plan)
    return SawWork(crosscuts, rips, trims)


def _cut(edge: str) -> int:
    return int(edge == "cut")


def _end_trims(plan: Plan) -> int:
    """Whole ends at walls: of first seats the near one, of last seats the far one."""
    last: dict[tuple[int, int], int] = defaultdict(int)
    for piece in plan.pieces:
        key = piece.row, piece.stretch
        last[key] = max(last[key], piece.seat)
    return sum(
        (piece.seat == 1 and piece.near_end == "factory")
        + (piece.seat == last[piece.row, piece.stretch] and piece.far_end == "factory")
        for piece in plan.pieces
    )


def _side_trims(plan: Plan) -> int:
    """Long sides with their tongue or groove that lie, wholly or in part, at a wall."""
    rows: dict[int, list[tuple[Piece, Floats]]] = defaultdict(list)
    for piece in plan.pieces:
        rows[piece.row].append((piece, _box(plan, piece)))
    count = 0
    for row, pieces in rows.items():
        for piece, box in pieces:
            for side, beside, edge in (
                (piece.wall_side, rows.get(row - 1, []), 1),
                (piece.room_side, rows.get(row + 1, []), 3),
            ):
                count += side == "factory" and _free(box, edge, beside) > FREE_MM
    return count


def _free(box: Floats, edge: int, beside: list[tuple[Piece, Floats]]) -> float:
    """Length of a long side beside which no other piece lies [mm]."""
    joined = sum(
        max(0.0, min(box[2], other[2]) - max(box[0], other[0]))
        for _, other in beside
        if abs(other[4 - edge] - box[edge]) <= ON_LINE_MM
    )
    return float(box[2] - box[0] - joined)


def _box(plan: Plan, piece: Piece) -> Floats:
    """Bounds of a piece in plan axes: least u, least v, greatest u, greatest v [mm]."""
    angle = math.radians(plan.laying.row_angle_deg)
    side = -1.0 if plan.laying.laid == "left-to-right" else 1.0
    u_axis = np.array([math.cos(angle), math.sin(angle)])
    v_axis = side * np.array([-math.sin(angle), math.cos(angle)])
    corners = np.asarray(piece.outline.exterior.coords)[:, :2]
    u, v = corners @ u_axis, corners @ v_axis
    return np.array([u.min(), v.min(), u.max(), v.max()])
