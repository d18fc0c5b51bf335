"""How the end joints of a plan look: counted on the plan itself, whoever made it.

An *H-joint* is two end joints of rows n and n + 2 less than 100 mm apart along the row, with the
row between them running through; a *stair* three joints of neighboring rows that march by equal
steps, within 30 mm; *close joints* keep the joint offset by less than a tenth of it. (Common
practice; the measures of ``optimize/looks.py``.)
"""

from dataclasses import dataclass

import numpy as np
import shapely

from plankwright.application.end_joints import EndJoints, by_row, end_joints
from plankwright.geometry.frame import Floats, Frame
from plankwright.model.plan import Plan

H_JOINT_MM = 100.0
STAIR_MM = 30.0
NONE = np.zeros(0)


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


def joint_looks(plan: Plan, joints: EndJoints | None = None) -> JointLooks:
    """The looks of a plan's end joints, which may be known already."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    floor = frame.to_plan(plan.floor)
    shapely.prepare(floor)
    joints = joints or end_joints(plan)
    order = np.lexsort((joints.u, joints.row))
    rows = by_row(joints.row[order], joints.u[order])
    width, start = plan.board.width_mm, plan.laying.start_line_mm
    stairs = close = 0
    crossed: list[
        tuple[Floats, Floats]
    ] = []  # where the row between two joints in line should run through
    for row, here in rows.items():
        above, beyond = rows.get(row + 1, NONE), rows.get(row + 2, NONE)
        in_line = np.nonzero(np.abs(here[:, None] - beyond[None, :]) < H_JOINT_MM)
        middles = (here[in_line[0]] + beyond[in_line[1]]) / 2.0
        crossed.append((middles, np.full(len(middles), start + (row + 0.5) * width)))
        nearest = np.abs(here[:, None] - above[None, :]).min(initial=np.inf, axis=1)
        close += int((nearest < 1.1 * plan.rules.joint_offset_mm).sum())
        stairs += _stairs(here, above, beyond, plan.board.length_mm / 2.0)
    u, v = (np.concatenate(column) for column in zip((NONE, NONE), *crossed, strict=True))
    return JointLooks(int(shapely.contains_xy(floor, u, v).sum()), stairs, close)


def _stairs(one: Floats, two: Floats, three: Floats, longest: float) -> int:
    """Joints of the middle row that stand midway between one of each neighboring row."""
    into = two[:, None] - one[None, :]
    middle, first = np.nonzero(np.abs(into) < longest)
    step = into[middle, first][:, None]
    out = three[None, :] - two[middle][:, None]
    marching = (np.abs(step - out) < STAIR_MM) & (step * out > 0.0)
    return len(np.unique(middle[marching.any(axis=1)]))
