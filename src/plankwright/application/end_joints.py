"""The end joints of a plan, found on the plan itself, whoever made it: in plan axes."""

from dataclasses import dataclass
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
    ends = shapely.bounds(outlines).reshape(-1, 4)[:, 2].tolist()
    seats: dict[tuple[int, int, int], list[int]] = {}
    for index, piece in enumerate(plan.pieces):
        seats.setdefault((piece.row, piece.stretch, piece.seat), []).append(index)
    last = {(row, stretch): seat for row, stretch, seat in sorted(seats)}
    before = [(key, own) for key, own in sorted(seats.items()) if key[2] < last[key[:2]]]
    after = [seats.get((row, stretch, seat + 1), []) for (row, stretch, seat), _ in before]
    return EndJoints(
        np.array([key[0] for key, _ in before], np.int64),
        np.array([max(ends[i] for i in own) for _, own in before]),
        outlines,
        _pairs([own for _, own in before]),
        _pairs(after),
    )


def _pairs(pieces: list[list[int]]) -> Ints:
    """(joint, piece) for the pieces of each joint, as two rows."""
    found = [(joint, piece) for joint, own in enumerate(pieces) for piece in own]
    return np.array(found, np.int64).reshape(-1, 2).T
