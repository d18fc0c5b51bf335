"""How the end joints of a plan look: counted on the plan itself, whoever made it.

An *H-joint* is two end joints of rows n and n + 2 less than 100 mm apart along the row, with the
row between them running through; a *stair* three joints of neighboring rows that march by equal
steps, within 30 mm; *close joints* keep the joint offset by less than a tenth of it. (Common
practice; the measures of ``optimize/looks.py``.)
"""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from plankwright.geometry.frame import Frame
from plankwright.model.plan import Plan

H_JOINT_MM = 100.0
STAIR_MM = 30.0

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class JointLooks:
    """Counts over the floor."""

    h_joints: int
    stairs: int
    close_joints: int

    @property
    def cost(self) -> int:
        """One figure to compare plans by: H-joints weigh 3, stairs 2, close joints 1."""
        return 3 * self.h_joints + 2 * self.stairs + self.close_joints


def joint_looks(plan: Plan) -> JointLooks:
    """The looks of a plan's end joints."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    floor = frame.to_plan(plan.floor)
    shapely.prepare(floor)
    joints = _joints(plan, frame)
    width, start = plan.board.width_mm, plan.laying.start_line_mm
    h_joints = stairs = close = 0
    for row, here in joints.items():
        above, beyond = joints.get(row + 1, np.empty(0)), joints.get(row + 2, np.empty(0))
        u, last = np.meshgrid(here, beyond, indexing="ij")
        in_line = np.abs(u - last) < H_JOINT_MM
        middles = (u + last)[in_line] / 2.0
        level = np.full_like(middles, start + (row + 0.5) * width)
        h_joints += int(shapely.contains_xy(floor, middles, level).sum())
        nearest = np.abs(here[:, None] - above[None, :]).min(initial=np.inf, axis=1)
        close += int((nearest < 1.1 * plan.rules.joint_offset_mm).sum())
        stairs += _stairs(here, above, beyond, plan.board.length_mm / 2.0)
    return JointLooks(h_joints, stairs, close)


def _stairs(one: Floats, two: Floats, three: Floats, longest: float) -> int:
    """Joints of the middle row that stand midway between one of each neighboring row."""
    first, last = one[:, None, None], three[None, None, :]
    into, out = two[None, :, None] - first, last - two[None, :, None]
    marching = (np.abs(into - out) < STAIR_MM) & (np.abs(into) < longest) & (into * out > 0.0)
    return int(marching.any(axis=(0, 2)).sum())


def _joints(plan: Plan, frame: Frame) -> dict[int, Floats]:
    """Where end joints lie along u, row by row."""
    if not plan.pieces:
        return {}
    ends = shapely.bounds(frame.to_plan(np.array([p.outline for p in plan.pieces])))[:, 2]
    last: dict[tuple[int, int], int] = defaultdict(int)
    for piece in plan.pieces:
        key = piece.row, piece.stretch
        last[key] = max(last[key], piece.seat)
    found: dict[int, dict[tuple[int, int], float]] = defaultdict(dict)
    for piece, end in zip(plan.pieces, ends.tolist(), strict=True):
        if piece.seat < last[piece.row, piece.stretch]:
            seat = piece.stretch, piece.seat
            found[piece.row][seat] = max(found[piece.row].get(seat, end), end)
    return {row: np.array(sorted(at.values())) for row, at in sorted(found.items())}
