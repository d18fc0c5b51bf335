"""The end joints of a plan, found on the plan itself, whoever made it: in plan axes."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from plankwright.geometry.frame import Floats, Frame
from plankwright.model.plan import Plan

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]
Shapes = npt.NDArray[np.object_]

REACH_MM = 0.5  # an outline this near to a point reaches it


@dataclass(frozen=True, slots=True)
class EndJoints:
    """End joints by row, stretch and seat.

    Parameters
    ----------
    row, u : row of each joint, and where it lies along the row [mm].
    outlines : of the plan's pieces in plan axes, in the plan's order.
    near, far : pairs (joint, piece) of the pieces before and after each joint, as two rows.
    """

    row: Ints
    u: Floats
    outlines: Shapes
    near: Ints
    far: Ints

    def reach(self, v: npt.NDArray[np.floating[Any]]) -> Flags:
        """Whether the pieces on both sides of each joint reach the point of it at ``v`` [mm]."""
        points = shapely.points(self.u, v)
        return self._any(self.near, points) & self._any(self.far, points)

    def _any(self, pairs: Ints, points: Shapes) -> Flags:
        joint, piece = pairs
        found = np.zeros(len(self.row), np.bool_)
        found[joint[shapely.dwithin(self.outlines[piece], points[joint], REACH_MM)]] = True
        return found


def end_joints(plan: Plan) -> EndJoints:
    """Every end joint of a plan: where one seat of a stretch ends and the next begins."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    outlines = frame.to_plan(np.array([piece.outline for piece in plan.pieces], dtype=np.object_))
    seats = np.array([(p.row, p.stretch, p.seat) for p in plan.pieces], np.int64).reshape(-1, 3)
    order = np.lexsort(seats.T[::-1])
    seats, ends = seats[order], shapely.bounds(outlines).reshape(-1, 4)[order, 2]
    is_next = (np.diff(seats, axis=0) != 0).any(axis=1)  # the first piece of another seat
    first = np.flatnonzero(np.append(True, is_next)[: len(seats)])
    goes_on = np.append((np.diff(seats[first, :2], axis=0) == 0).all(axis=1), False)[: len(first)]
    joint_of = np.where(goes_on, np.cumsum(goes_on) - 1, -1)  # at the far end of each seat
    seat_of = np.cumsum(np.append(0, is_next))[: len(seats)]
    before = joint_of[seat_of]
    after = np.append(-1, joint_of)[seat_of]
    return EndJoints(
        seats[first, 0][goes_on],
        np.maximum.reduceat(ends, first)[goes_on] if len(first) else ends,
        outlines,
        np.stack([before, order])[:, before >= 0],
        np.stack([after, order])[:, after >= 0],
    )


def by_row(row: Ints, u: Floats) -> dict[int, Floats]:
    """Places along u, row by row, of joints whose rows rise."""
    rows, first = np.unique(row, return_index=True)
    bounds = [*first.tolist(), len(row)]
    parts = zip(rows.tolist(), pairwise(bounds), strict=True)
    return {number: u[begin:end] for number, (begin, end) in parts}
