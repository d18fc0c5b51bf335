"""Lays a plan piece by piece, and refuses what nobody could do on a floor.

Shares nothing with the laying order: it knows no rows, stretches or row lines. What lies beside a
piece it finds by moving the outline one millimeter and looking what it would run into.
"""

import math
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely import STRtree

from plankwright.model.plan import Piece, Plan

STEP_MM = 1.0
LEAST_MM2 = 0.6  # of a step's overlap: a joint shorter than this is rounding


@dataclass
class Laying:
    """What lies, and what was refused on the way."""

    plan: Plan
    refused: list[str] = field(default_factory=list)
    joined: int = 0

    def lay(
        self, piece: Piece, near: set[int], far: set[int], wall: set[int], room: set[int]
    ) -> None:
        """Put down a piece beside what lies already on its four sides."""
        turned, backwards = _kind(self.plan, piece)
        if turned:  # the board lies end for end
            near, far, wall, room = far, near, room, wall
        elif backwards:
            wall, room = room, wall
        if room and wall:
            self.refused.append(f"{piece.id} is pushed between two rows")
        elif room:
            self.refused.append(f"{piece.id} lies on the side where it cannot be joined")
        if near and far:
            self.refused.append(f"{piece.id} is pushed between two pieces of its row")
        elif far:
            self.refused.append(f"{piece.id} is joined at its far end")
        if (backwards and not turned and not self.plan.board.laid_backwards) or (
            turned and not self.plan.board.spline
        ):
            self.refused.append(f"{piece.id} lies as lock and leaflet do not allow")
        self.joined += bool(near) + bool(wall)


def lay_all(plan: Plan) -> Laying:
    """Lay a plan in its laying order."""
    laying = Laying(plan)
    axes = _axes(plan)
    shapes = np.array([piece.outline for piece in plan.pieces], dtype=np.object_)
    outlines = shapely.transform(shapes, lambda xy: xy @ axes.T)
    sides = [_beside(outlines, u, v) for u, v in ((-1, 0), (1, 0), (0, -1), (0, 1))]
    when = {index: piece.lay_order for index, piece in enumerate(plan.pieces)}
    for index in sorted(when, key=lambda index: when[index]):
        there = [{other for other in side[index] if when[other] < when[index]} for side in sides]
        laying.lay(plan.pieces[index], *there)
    return laying


def _beside(outlines: np.ndarray, u: int, v: int) -> list[set[int]]:
    """For each outline the others that it runs into when it is moved one step."""
    moved = shapely.transform(outlines, lambda uv: uv + np.array([u, v]) * STEP_MM)
    ones, others = STRtree(outlines).query(moved, predicate="intersects")
    apart = ones != others
    ones, others = ones[apart], others[apart]
    into = shapely.area(shapely.intersection(moved[ones], outlines[others]))
    before = shapely.area(shapely.intersection(outlines[ones], outlines[others]))
    found: list[set[int]] = [set() for _ in outlines]
    for i, j in zip(
        ones[into - before > LEAST_MM2], others[into - before > LEAST_MM2], strict=True
    ):
        found[int(i)].add(int(j))
    return found


def _axes(plan: Plan) -> np.ndarray:
    along = math.radians(plan.laying.row_angle_deg)
    across = along + math.radians(-90.0 if plan.laying.laid == "left-to-right" else 90.0)
    return np.array([[math.cos(along), math.sin(along)], [math.cos(across), math.sin(across)]])


def _kind(plan: Plan, piece: Piece) -> tuple[bool, bool]:
    """Whether a piece is turned end for end, and whether it is joined on its room side."""
    for row in plan.rows:
        if row.row == piece.row and (not row.stretches or piece.stretch in row.stretches):
            return row.turned, row.joined == "room-side"
    return False, False
