"""Walls as a person sees them: edges that run on nearly straight count as one wall."""

import math
from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from plankwright.model.room import Edge, Room

WAVE_MM = 20.003  # jogs up to 20 mm do not end a wall; no round figure, which noise could decide


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall: the longest edge in it, and the direction of the whole.

    Parameters
    ----------
    edge : its longest edge.
    length_mm : from its first corner to its last.
    inward_deg : direction of its normal into the room, anticlockwise from x.
    """

    edge: Edge
    length_mm: float
    inward_deg: float


def walls(room: Room) -> list[Wall]:
    """The walls of the outer ring, longest first."""
    edges = [edge for edge in room.edges() if not edge.name[0].isdigit()]
    corners = _main_corners(room.outline)
    ccw = room.outline.exterior.is_ccw
    found: list[Wall] = []
    for first, last in zip(corners, [*corners[1:], corners[0] + len(edges)], strict=True):
        run = [edges[i % len(edges)] for i in range(first, last)]
        (x0, y0), (x1, y1) = run[0].start, run[-1].end
        along = math.degrees(math.atan2(y1 - y0, x1 - x0))
        inward = along + 90.0 if ccw else along - 90.0
        longest = max(run, key=lambda edge: round(edge.length_mm, 3))
        found.append(Wall(longest, math.dist((x0, y0), (x1, y1)), _turn(inward)))
    return sorted(found, key=lambda wall: (-round(wall.length_mm, 3), wall.edge.name))


def wall_of(room: Room, name: str) -> Wall:
    """The wall made of one named edge alone."""
    edge = next(edge for edge in room.edges() if edge.name == name)
    hole = int("".join(filter(str.isdigit, name.split("-")[0])) or 0)
    ring = room.outline.interiors[hole - 1] if hole else room.outline.exterior
    left = ring.is_ccw != (hole > 0)
    (x0, y0), (x1, y1) = edge.start, edge.end
    along = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return Wall(edge, edge.length_mm, _turn(along + 90.0 if left else along - 90.0))


def _main_corners(outline: Polygon) -> list[int]:
    """Indices of the outer ring's corners that remain when jogs are smoothed away."""
    ring = [(x, y) for x, y, *_ in outline.exterior.coords[:-1]]
    kept = {(x, y) for x, y, *_ in outline.simplify(WAVE_MM).exterior.coords}
    corners = [i for i, corner in enumerate(ring) if corner in kept and _turns(ring, i, kept)]
    return corners or list(range(len(ring)))


def _turns(ring: list[tuple[float, float]], index: int, kept: set[tuple[float, float]]) -> bool:
    """Whether the smoothed outline really turns here; its first corner may lie on a wall."""
    order = [corner for corner in ring if corner in kept]
    at = order.index(ring[index])
    before, after = order[at - 1], order[(at + 1) % len(order)]
    a = np.subtract(ring[index], before)
    b = np.subtract(after, ring[index])
    cross = float(a[0] * b[1] - a[1] * b[0])
    return abs(cross) > WAVE_MM * max(math.hypot(*a), math.hypot(*b)) * 0.2


def _turn(angle_deg: float) -> float:
    """An angle brought into (-180, 180] and rid of float noise."""
    turned = round(-((-angle_deg + 180.0) % 360.0 - 180.0), 9)
    return turned + 0.0
