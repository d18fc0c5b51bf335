"""Joint offsets between neighboring rows.

Two end joints are neighbors when the stretch of row line between them lies inside the floor; a
post or a wall between them parts them. Since the pieces cover the floor, the row line lies
inside it exactly where there are contacts.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from plankwright.checker.edges import Contacts, Joints, Meetings, overlapping
from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, TOLERANCE_MM, Floats, Ints, View


@dataclass(frozen=True, slots=True)
class Runs:
    """Unbroken parts of row lines inside the floor, with the stretches on their two sides."""

    line: Ints
    u0: Floats
    u1: Floats
    wall_side: Ints
    room_side: Ints


def offset_faults(view: View, meetings: Meetings) -> Iterator[Fault]:
    """Pairs of neighboring end joints that lie closer than the joint offset."""
    least = view.plan.rules.joint_offset_mm
    joints = meetings.joints
    if least <= 0.0 or len(joints.u) == 0:
        return
    below, above = neighbors(view, meetings, least)
    distance = np.abs(joints.u[below] - joints.u[above])
    for k in np.flatnonzero(distance < least - ROUNDING_MM):
        names = [view.name(i) for i in _pieces(joints, below[k], above[k])]
        yield Fault(
            "joint-offset",
            " ".join(names),
            f"the end joints of {names[0]} with {names[1]} and {names[2]} with {names[3]} lie "
            f"{distance[k]:.1f} mm apart, at least {least:g} mm are needed",
        )


def _pieces(joints: Joints, below: int, above: int) -> tuple[int, int, int, int]:
    return (
        joints.before[below],
        joints.after[below],
        joints.before[above],
        joints.after[above],
    )


def neighbors(view: View, meetings: Meetings, within: float) -> tuple[Ints, Ints]:
    """Index pairs of neighboring end joints no farther apart than ``within``, each pair once."""
    joints, runs = meetings.joints, runs_of(view, meetings.contacts)
    row = view.rows[joints.before]
    stretch = view.stretch_of[joints.before]
    wall_run, wall_joint = _joints_on(runs, runs.wall_side, runs.line, joints, row, stretch)
    room_run, room_joint = _joints_on(runs, runs.room_side, runs.line + 1, joints, row, stretch)
    half = within / 2.0
    i, j = overlapping(
        (wall_run, joints.u[wall_joint] - half, joints.u[wall_joint] + half),
        (room_run, joints.u[room_joint] - half, joints.u[room_joint] + half),
    )
    pairs = np.unique(np.stack([wall_joint[i], room_joint[j]], axis=1), axis=0)
    return pairs[:, 0], pairs[:, 1]


def _joints_on(
    runs: Runs, side: Ints, rows: Ints, joints: Joints, row: Ints, stretch: Ints
) -> tuple[Ints, Ints]:
    """Pairs (run, joint): joints of the stretch on one side of a run that lie on it."""
    run, joint = overlapping(
        (rows, runs.u0 + ROUNDING_MM, runs.u1 - ROUNDING_MM), (row, joints.u, joints.u)
    )
    same = side[run] == stretch[joint]
    return run[same], joint[same]


def runs_of(view: View, contacts: Contacts) -> Runs:
    """Contacts joined end to end."""
    order = np.lexsort((contacts.u0, contacts.line))
    line, u0, u1 = contacts.line[order], contacts.u0[order], contacts.u1[order]
    if len(line) == 0:
        none = np.zeros(0, np.int64)
        return Runs(none, u0, u1, none, none)
    breaks = np.ones(len(line), np.bool_)
    breaks[1:] = (line[1:] != line[:-1]) | (u0[1:] - u1[:-1] > 2.0 * TOLERANCE_MM)
    first = np.flatnonzero(breaks)
    wall = view.stretch_of[contacts.wall_side[order][first]]
    room = view.stretch_of[contacts.room_side[order][first]]
    return Runs(line[first], u0[first], np.maximum.reduceat(u1, first), wall, room)
