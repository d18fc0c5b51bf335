"""Use case: which last pieces to measure in place, because the survey does not know them well.

A piece between the last joint of a stretch and a wall is as uncertain as the stretch is long. The
cut lengths' allowance forgives some of it; what it does not forgive is measured on the floor.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import LineString, Point, affinity

from plankwright.application.measured_room import MeasuredRoom
from plankwright.errors import InputError
from plankwright.model.plan import Piece, Plan
from plankwright.survey.equations import Floats
from plankwright.survey.span import Wall, span_sure_mm

FAR_MM = 1e6


@dataclass(frozen=True, slots=True)
class InPlace:
    """A piece whose length the survey knows worse than the allowance forgives.

    Parameters
    ----------
    piece : its number.
    row : its row.
    length_mm : as planned.
    sure_mm : the 95 % error of the stretch's length, from the survey.
    """

    piece: str
    row: int
    length_mm: float
    sure_mm: float


def pieces_to_measure(plan: Plan, room: MeasuredRoom) -> tuple[InPlace, ...]:
    """The last pieces to measure in place, in the order of laying.

    The plan must have been made for this room, in its coordinates.

    Raises
    ------
    InputError : the plan belongs to another room.
    """
    if plan.room.symmetric_difference(room.outline).area > 0.01 * room.outline.area:
        raise InputError("the plan was made for another room, or for an older survey of this one")
    found = sorted(_uncertain(plan, room), key=lambda pair: pair[0])
    return tuple(in_place for _, in_place in found)


def _uncertain(plan: Plan, room: MeasuredRoom) -> Iterator[tuple[int, InPlace]]:
    xy = np.array([(corner.x_mm, corner.y_mm) for corner in room.corners])
    for piece in _last_pieces(plan):
        walls = _walls_met(plan, room, piece)
        if walls is None:
            continue
        at = piece.outline.centroid
        sure = span_sure_mm(xy, room.covariance, walls, (at.x, at.y), _along(plan))
        if sure > plan.rules.allowance_mm:
            yield piece.lay_order, InPlace(piece.id, piece.row, piece.length_mm, sure)


def _last_pieces(plan: Plan) -> list[Piece]:
    """The cut piece at the end of every stretch."""
    last: dict[tuple[int, int], Piece] = {}
    for piece in plan.pieces:
        key = (piece.row, piece.stretch)
        if key not in last or piece.seat > last[key].seat:
            last[key] = piece
    return [piece for piece in last.values() if piece.far_end == "cut"]


def _along(plan: Plan) -> Floats:
    turn = math.radians(plan.laying.row_angle_deg)
    return np.array([math.cos(turn), math.sin(turn)])


def _walls_met(plan: Plan, room: MeasuredRoom, piece: Piece) -> tuple[Wall, Wall] | None:
    """The walls that the row's line meets before and after the piece, as pairs of corners.

    None where a fixed thing or a doorway ends the stretch: its own distance counts there.
    """
    at = piece.outline.centroid
    line = affinity.rotate(
        LineString([(at.x - FAR_MM, at.y), (at.x + FAR_MM, at.y)]),
        plan.laying.row_angle_deg,
        origin=(at.x, at.y),
    )
    along = _along(plan)
    met: list[tuple[float, str]] = []
    ring = list(room.outline.exterior.coords)
    for (start, end), wall in zip(pairwise(ring), room.edge_walls, strict=True):
        point = line.intersection(LineString([start, end]))
        if isinstance(point, Point) and not point.is_empty:
            met.append((float(np.array([point.x - at.x, point.y - at.y]) @ along), wall))
    before = [m for m in met if m[0] < 0.0]
    after = [m for m in met if m[0] > 0.0]
    if not before or not after or _is_fixed_beyond(plan, piece, min(after)[0], along):
        return None
    return _corners(room, max(before)[1]), _corners(room, min(after)[1])


def _is_fixed_beyond(plan: Plan, piece: Piece, to_wall_mm: float, along: Floats) -> bool:
    """Whether something fixed stands between the piece and the wall."""
    at = piece.outline.centroid
    way = LineString([(at.x, at.y), tuple(np.array([at.x, at.y]) + to_wall_mm * along)])
    return any(way.intersects(fixed.outline) for fixed in plan.fixed)


def _corners(room: MeasuredRoom, wall: str) -> Wall:
    names = [corner.name for corner in room.corners]
    start, end = wall.split("-")
    return names.index(start), names.index(end)
