"""Factory joints: no cut edge where another piece joins, and no edge called what it is not."""

from collections.abc import Iterator

import numpy as np

from plankwright.checker.edges import Meetings
from plankwright.checker.placing import EDGES, Placings
from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, TOLERANCE_MM, Ints, View

WORDS = {
    "near_end": "near end",
    "far_end": "far end",
    "wall_side": "wall side",
    "room_side": "room side",
}


def factory_faults(view: View, meetings: Meetings, placings: Placings) -> Iterator[Fault]:
    """Edges that are joined but cut, and edges whose claim is not true."""
    joins, real, told = _joined(meetings, len(view.rows)), placings.factory, placings.claims
    wrong = (joins >= 0) & ~(real & told) | (real != told)
    for index, number in np.argwhere(wrong).tolist():
        piece, edge = view.plan.pieces[index], EDGES[number]
        other = joins[index, number]
        if other >= 0 and not real[index, number]:
            yield Fault(
                "factory-joint",
                piece.id,
                f"its {WORDS[edge]} is cut from the middle of the board, but "
                f"{view.name(other)} joins it",
            )
        elif other >= 0:
            yield Fault(
                "factory-joint",
                piece.id,
                f"its {WORDS[edge]} is called cut, but {view.name(other)} joins it",
            )
        elif told[index, number]:
            yield Fault(
                "edge-claim",
                piece.id,
                f"its {WORDS[edge]} is called factory, but does not lie at that edge of its board",
            )
        elif _is_straight(view, index, number):
            yield Fault(
                "edge-claim",
                piece.id,
                f"its {WORDS[edge]} is called cut, but lies at the edge of its board",
            )
    yield from _joints_inside(view, meetings)


def _joined(meetings: Meetings, pieces: int) -> Ints:
    """For each piece and each of ``EDGES`` a piece that is joined there, or -1."""
    joints, contacts = meetings.joints, meetings.contacts
    pairs = (
        (joints.after, joints.before),
        (joints.before, joints.after),
        (contacts.room_side, contacts.wall_side),
        (contacts.wall_side, contacts.room_side),
    )
    found = np.full((pieces, len(EDGES)), -1, np.int64)
    for edge, (one, other) in enumerate(pairs):
        real = one != other
        found[one[real], edge] = other[real]
    return found


def _joints_inside(view: View, meetings: Meetings) -> Iterator[Fault]:
    """End joints that lie inside a piece's rectangle, where no board has an end."""
    joints = meetings.joints
    short = np.abs(view.boxes[joints.before, 2] - joints.u)
    late = np.abs(view.boxes[joints.after, 0] - joints.u)
    for indices, distance, end in ((joints.before, short, "far"), (joints.after, late, "near")):
        for k in np.flatnonzero(distance > TOLERANCE_MM):
            yield Fault(
                "factory-joint",
                view.name(indices[k]),
                f"is joined {distance[k]:.1f} mm inside its {end} end, where a board has no lock",
            )


def _is_straight(view: View, index: int, edge: int) -> bool:
    """Whether an edge of the outline runs straight along the whole of its rectangle's edge.

    Where it does not, a wall or a fixed thing has shaped it, so it may be called cut although
    its farthest point lies at the board's own edge.
    """
    u0, v0, u1, v1 = view.boxes[index]
    axis, at = ((0, u0), (0, u1), (1, v0), (1, v1))[edge]
    low, high = (v0, v1) if axis == 0 else (u0, u1)
    corners = np.asarray(view.outlines[index].exterior.coords)[:, :2]
    on_edge = corners[np.abs(corners[:, axis] - at) <= ROUNDING_MM][:, 1 - axis]
    return bool(len(on_edge) > 1 and np.ptp(on_edge) >= high - low - ROUNDING_MM)
