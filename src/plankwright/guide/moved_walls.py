"""Walls that were measured elsewhere than planned: the room with its outline corrected."""

import math
from collections.abc import Sequence
from dataclasses import replace

from shapely import Polygon

from plankwright.errors import InputError
from plankwright.guide.as_laid import WallShift
from plankwright.model.room import Doorway, Edge, Point, Room

SAME_DIRECTION = math.sin(math.radians(5.0))  # walls this near in direction have no corner


def with_walls_moved(room: Room, shifts: Sequence[WallShift]) -> Room:
    """The room with walls moved into it or out of it, each along its own normal.

    The neighbors of a moved wall keep their direction and grow or shrink; a neighbor in line with
    it turns a little. Doorways stay where they are along their walls.

    Raises
    ------
    InputError : there is no such wall, or the room could not be so.
    """
    edges = list(room.edges())
    nearer = {shift.wall: shift.nearer_mm for shift in shifts}
    if unknown := [name for name in nearer if name not in {edge.name for edge in edges}]:
        raise InputError(
            "there is no such wall", where="walls", value=unknown[0], remedy="Name it like A-B."
        )
    rings = [
        _moved(ring.is_ccw != (number > 0), _of_ring(edges, number), nearer)
        for number, ring in enumerate([room.outline.exterior, *room.outline.interiors])
    ]
    try:
        moved = replace(room, outline=Polygon(rings[0], rings[1:]), doorways=())
    except InputError as error:
        raise InputError(
            "with that wall there the room's outline would cross itself",
            where="walls",
            value=", ".join(nearer),
            remedy="Measure the walls beside it, too, and plan the room afresh.",
        ) from error
    after = {edge.name: edge for edge in moved.edges()}
    before = {edge.name: edge for edge in edges}
    doorways = tuple(_kept(door, before[door.edge], after[door.edge]) for door in room.doorways)
    return replace(moved, doorways=doorways)


def _of_ring(edges: Sequence[Edge], number: int) -> list[Edge]:
    prefix = str(number or "")
    digits = len(prefix)
    return [e for e in edges if e.name[:digits] == prefix and not e.name[digits].isdigit()]


def _moved(inside_is_left: bool, edges: Sequence[Edge], nearer: dict[str, float]) -> list[Point]:
    """The corners of a ring with its edges moved."""
    corners: list[Point] = []
    for before, edge in zip([edges[-1], *edges[:-1]], edges, strict=True):
        shifts = nearer.get(before.name, 0.0), nearer.get(edge.name, 0.0)
        corners.append(_corner(before, edge, shifts, 1.0 if inside_is_left else -1.0))
    return corners


def _corner(before: Edge, edge: Edge, shifts: tuple[float, float], left: float) -> Point:
    """Where two walls meet once each is moved toward the inside."""
    (x, y), (a, b) = edge.start, shifts
    if a == 0.0 and b == 0.0:
        return x, y
    m, n = _normal(before, left), _normal(edge, left)
    turn = m[0] * n[1] - m[1] * n[0]
    if abs(turn) < SAME_DIRECTION:
        normal, shift = (m, a) if abs(a) > abs(b) else (n, b)
        return round(x + normal[0] * shift, 3), round(y + normal[1] * shift, 3)
    return (
        round(x + (a * n[1] - b * m[1]) / turn, 3),
        round(y + (b * m[0] - a * n[0]) / turn, 3),
    )


def _normal(edge: Edge, left: float) -> Point:
    (x0, y0), (x1, y1) = edge.start, edge.end
    return -left * (y1 - y0) / edge.length_mm, left * (x1 - x0) / edge.length_mm


def _kept(door: Doorway, before: Edge, after: Edge) -> Doorway:
    """A doorway at the same place of a wall whose first corner may have moved."""
    (x0, y0), (x1, y1) = after.start, after.end
    along = (
        (before.start[0] - x0) * (x1 - x0) + (before.start[1] - y0) * (y1 - y0)
    ) / after.length_mm
    return replace(door, from_corner_mm=round(max(door.from_corner_mm + along, 0.0), 3))
