"""Where pieces meet: end joints and contacts along row lines, found from the outlines alone.

Every outline is taken apart into its edges. An edge across the row is a near or a far end, an
edge on a row line is a wall side or a room side; where a far end faces a near end lies an end
joint, where a room side faces a wall side lies a contact.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from plankwright.checker.view import TOLERANCE_MM, Floats, Ints, View

Flags = npt.NDArray[np.bool_]

STRAIGHT_MM = 0.02  # an edge leaning less than this runs along or across the rows
SHORTEST_EDGE_MM = 0.1


@dataclass(frozen=True, slots=True)
class Edges:
    """Edges of pieces in one direction, seen from one side.

    ``piece`` whose edge it is; ``at`` its place across its own direction (u of an end, number of
    the row line of a side); ``low`` and ``high`` its extent; ``line`` exact v of a side, u of an
    end.
    """

    piece: Ints
    at: Ints
    low: Floats
    high: Floats
    line: Floats


@dataclass(frozen=True, slots=True)
class Joints:
    """End joints: the piece before, the piece after, the joint's u and its extent in v."""

    before: Ints
    after: Ints
    u: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True, slots=True)
class Contacts:
    """Parts of row lines with a piece on either side; ``line`` k lies between rows k and k+1."""

    wall_side: Ints
    room_side: Ints
    line: Ints
    u0: Floats
    u1: Floats


@dataclass(frozen=True, slots=True)
class Meetings:
    """All end joints and contacts of a plan, and the edges that are neither along nor across.

    ``stray_piece`` and ``stray_ends`` (u, v of both ends): edges that may only lie on the
    floor's boundary.
    """

    joints: Joints
    contacts: Contacts
    stray_piece: Ints
    stray_ends: Floats


def find_meetings(view: View) -> Meetings:
    """Every end joint and every contact along a row line."""
    piece, ends, left = _segments(view)
    (ua, va), (ub, vb) = ends[:, 0].T, ends[:, 1].T
    du, dv = ub - ua, vb - va
    across = (np.abs(du) <= STRAIGHT_MM) & (np.abs(dv) > SHORTEST_EDGE_MM)
    along = (np.abs(dv) <= STRAIGHT_MM) & (np.abs(du) > SHORTEST_EDGE_MM)
    width = view.plan.board.width_mm
    v = (va + vb) / 2.0
    line = np.rint((v - view.plan.laying.start_line_mm) / width).astype(np.int64)
    off_line = np.abs(v - view.plan.laying.start_line_mm - line * width)
    on_line = along & (off_line <= TOLERANCE_MM)
    is_far = (dv > 0) == left  # walking up with the inside on the left: the inside is nearer
    is_wall_side = (du > 0) == left
    row = view.rows[piece]

    def ends_of(chosen: Flags) -> Edges:
        low, high = np.minimum(va, vb)[chosen], np.maximum(va, vb)[chosen]
        return Edges(piece[chosen], row[chosen], low, high, ((ua + ub) / 2.0)[chosen])

    def sides_of(chosen: Flags) -> Edges:
        low, high = np.minimum(ua, ub)[chosen], np.maximum(ua, ub)[chosen]
        return Edges(piece[chosen], line[chosen], low, high, v[chosen])

    stray = ~across & ~on_line & (np.hypot(du, dv) > TOLERANCE_MM)
    return Meetings(
        _joints(ends_of(across & is_far), ends_of(across & ~is_far)),
        _contacts(sides_of(on_line & ~is_wall_side), sides_of(on_line & is_wall_side), view.rows),
        piece[stray],
        ends[stray],
    )


def _segments(view: View) -> tuple[Ints, Floats, Flags]:
    """Every edge of every outline: its piece, its two ends, whether the inside is on its left."""
    rings, piece_of_ring = shapely.get_rings(view.outlines, return_index=True)
    corners, ring_of = shapely.get_coordinates(rings, return_index=True)
    same = ring_of[1:] == ring_of[:-1]
    a, b, ring = corners[:-1][same], corners[1:][same], ring_of[:-1][same]
    twice_area = np.bincount(ring, a[:, 0] * b[:, 1] - b[:, 0] * a[:, 1], minlength=len(rings))
    outer = np.ones(len(rings), np.bool_)
    outer[1:] = piece_of_ring[1:] != piece_of_ring[:-1]
    left = ((twice_area > 0) == outer)[ring]
    return piece_of_ring[ring], np.stack([a, b], axis=1), left


def _joints(far: Edges, near: Edges) -> Joints:
    half = TOLERANCE_MM / 2.0
    i, j = overlapping(
        (far.at, far.line - half, far.line + half), (near.at, near.line - half, near.line + half)
    )
    low, high = np.maximum(far.low[i], near.low[j]), np.minimum(far.high[i], near.high[j])
    real = (high - low > TOLERANCE_MM) & (far.piece[i] != near.piece[j])
    i, j = i[real], j[real]
    u = (far.line[i] + near.line[j]) / 2.0
    return Joints(far.piece[i], near.piece[j], u, low[real], high[real])


def _contacts(below: Edges, above: Edges, rows: Ints) -> Contacts:
    i, j = overlapping((below.at, below.low, below.high), (above.at, above.low, above.high))
    u0, u1 = np.maximum(below.low[i], above.low[j]), np.minimum(below.high[i], above.high[j])
    # A thread of floor along a row line has both its sides on that line: no contact with itself.
    real = (u1 - u0 > TOLERANCE_MM) & (rows[below.piece[i]] < rows[above.piece[j]])
    i, j = i[real], j[real]
    return Contacts(below.piece[i], above.piece[j], below.at[i], u0[real], u1[real])


Intervals = tuple[Ints, Floats, Floats]


def overlapping(first: Intervals, second: Intervals) -> tuple[Ints, Ints]:
    """Index pairs of intervals (key, low, high) that have the same key and overlap.

    Two intervals overlap when one of them begins inside the other; keys are told apart by laying
    them out one after another on one long line.
    """
    if len(first[0]) == 0 or len(second[0]) == 0:
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    least = min(first[1].min(), second[1].min())
    span = max(first[2].max(), second[2].max()) - least + 1.0
    a0, a1 = (edge - least + first[0] * span for edge in first[1:])
    b0, b1 = (edge - least + second[0] * span for edge in second[1:])
    i, j = _beginning_inside(b0, a0, a1, "left")
    k, m = _beginning_inside(a0, b0, b1, "right")
    return np.concatenate([i, m]), np.concatenate([j, k])


def _beginning_inside(begins: Floats, low: Floats, high: Floats, side: str) -> tuple[Ints, Ints]:
    """Pairs (interval, beginning) with low <= beginning < high; ``right``: low < beginning."""
    order = np.argsort(begins, kind="stable")
    ordered = begins[order]
    first = np.searchsorted(ordered, low, side="left" if side == "left" else "right")
    count = np.maximum(np.searchsorted(ordered, high, side="left") - first, 0)
    interval = np.repeat(np.arange(len(low)), count)
    start = np.repeat(first - np.concatenate([[0], np.cumsum(count)[:-1]]), count)
    return interval.astype(np.int64), order[start + np.arange(len(interval))]
