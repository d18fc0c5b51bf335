"""Cover: the pieces fill the floor, do not overlap and do not reach beyond it.

Proven to 0.5 mm everywhere, not as a share of the area: what is left over after subtracting may
hold no disc of that diameter, so a 1 mm crack or overlap of any length is found. A part of
a row that is too small for a piece (a scrap, see ``model/plan.py``) may stay open.
"""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely import Polygon

from plankwright.checker.edges import Meetings
from plankwright.checker.verdict import Fault
from plankwright.checker.view import (
    HAIR_MM,
    TOLERANCE_MM,
    Flags,
    Ints,
    Shapes,
    View,
    are_rectangles,
    wide_parts,
)

FLUSH_MM = 0.002  # edges of pieces side by side that differ by no more are in line


def cover_faults(view: View) -> Iterator[Fault]:
    """Cracks, overlaps and pieces beyond the floor or across row lines."""
    yield from _across_rows(view)
    yield from _overlaps(view)
    covered = _covered(view)
    tree = shapely.STRtree(view.outlines)
    if len(view.scraps):
        covered = shapely.union(covered, shapely.union_all(view.scraps))
    # all but a hair along its edges: where that is covered, no disc fits into the rest
    inner = shapely.buffer(view.strips, -HAIR_MM / 2.0, join_style="mitre")
    is_open = ~shapely.covers(covered, inner)
    for part in wide_parts(shapely.difference(view.strips[is_open], covered[is_open])):
        yield Fault(
            "crack",
            _pieces_at(view, tree, part),
            f"{part.area:.0f} mm² of floor are not covered near {view.point(part)}",
        )
    grown = shapely.buffer(view.floor, HAIR_MM)  # what is wide enough reaches beyond a hair
    shapely.prepare(grown)
    doubtful = view.outlines[~_in_plain_rows(view)]
    doubtful = doubtful[~shapely.contains_properly(grown, doubtful)]
    for part in wide_parts(shapely.difference(doubtful, view.floor)):
        yield Fault(
            "outside",
            _pieces_at(view, tree, part),
            f"reaches {part.area:.0f} mm² beyond the floor near {view.point(part)}",
        )


def _across_rows(view: View) -> Iterator[Fault]:
    low = view.lines(view.rows)
    high = low + view.plan.board.width_mm
    beyond = np.maximum(low - view.boxes[:, 1], view.boxes[:, 3] - high)
    for index in np.flatnonzero(beyond > TOLERANCE_MM):
        yield Fault(
            "row-lines",
            view.name(index),
            f"reaches {beyond[index]:.1f} mm over a line of row {view.rows[index]}",
        )


def _overlaps(view: View) -> Iterator[Fault]:
    """Pairs whose outlines share more than a thread; boxes that hardly overlap are skipped."""
    trim = 0.48 * TOLERANCE_MM
    u0, v0, u1, v1 = view.boxes.T
    small = shapely.box(u0 + trim, v0 + trim, u1 - trim, v1 - trim)
    first, second = shapely.STRtree(small).query(small, predicate="intersects")
    once = first < second
    first, second = first[once], second[once]
    shared = shapely.intersection(view.outlines[first], view.outlines[second])
    for i, j, part in zip(first, second, shared, strict=True):
        for wide in wide_parts(part):
            yield Fault(
                "overlap",
                f"{view.name(i)} {view.name(j)}",
                f"{wide.area:.0f} mm² lie over each other near {view.point(wide)}",
            )


def _in_plain_rows(view: View) -> Flags:
    """Which pieces lie within the bounds of their row's strip, where that is a rectangle."""
    if len(view.strips) == 0:
        return np.zeros(len(view.rows), np.bool_)
    strip = np.clip(view.rows - view.strip_rows[0], 0, len(view.strips) - 1)
    within = shapely.bounds(view.strips)[strip] - view.boxes
    inside = (within[:, :2] <= 0.0).all(axis=1) & (within[:, 2:] >= 0.0).all(axis=1)
    flags: Flags = (
        inside & are_rectangles(view.strips)[strip] & (view.strip_rows[strip] == view.rows)
    )
    return flags


def _covered(view: View) -> Shapes:
    """For each row's strip the union of the pieces that lie in that row."""
    rows, shapes = _runs(view)
    first = np.searchsorted(rows, view.strip_rows, side="left")
    last = np.searchsorted(rows, view.strip_rows, side="right")
    unions = np.empty(len(first), np.object_)
    for i, (a, b) in enumerate(zip(first.tolist(), last.tolist(), strict=True)):
        unions[i] = shapes[a] if b == a + 1 else shapely.union_all(shapes[a:b])
    return unions


def _runs(view: View) -> tuple[Ints, Shapes]:
    """Rows and shapes of all pieces, by row; rectangles that lie end to end are made one.

    What is thinner than a hair between them is no crack, and need not be looked for by shape.
    """
    order = np.lexsort((view.boxes[:, 0], view.rows))
    rows, boxes, shapes = view.rows[order], view.boxes[order], view.outlines[order]
    (u0, v0, u1, v1), plain = boxes.T, are_rectangles(shapes)
    begins = np.ones(len(rows), np.bool_)
    begins[1:] = ~(plain[1:] & plain[:-1]) | (rows[1:] != rows[:-1])
    begins[1:] |= (u0[1:] - u1[:-1] > HAIR_MM / 2.0) | (u1[1:] < u1[:-1])
    begins[1:] |= np.maximum(np.abs(np.diff(v0)), np.abs(np.diff(v1))) > FLUSH_MM
    first = np.flatnonzero(begins)
    if len(first) == len(rows):
        return rows, shapes
    last = np.append(first[1:], len(rows)) - 1
    low, high = np.maximum.reduceat(v0, first), np.minimum.reduceat(v1, first)
    runs = np.where(first == last, shapes[first], shapely.box(u0[first], low, u1[last], high))
    return rows[first], runs


def _pieces_at(view: View, tree: shapely.STRtree, part: Polygon) -> str:
    """Ids of the pieces nearest to a place."""
    near = tree.query(part, predicate="dwithin", distance=2.0 * TOLERANCE_MM)
    if len(near) == 0:
        near = np.atleast_1d(tree.nearest(part))
    return " ".join(view.name(i) for i in sorted(near)[:6])


def inner_cut_faults(view: View, meetings: Meetings) -> Iterator[Fault]:
    """Edges neither along nor across the rows that do not lie on the floor's boundary."""
    if len(meetings.stray_piece) == 0:
        return
    boundary = view.floor.boundary
    shapely.prepare(boundary)
    middle = meetings.stray_ends.mean(axis=1, keepdims=True)
    points = shapely.points(np.concatenate([meetings.stray_ends, middle], axis=1))
    inside = ~shapely.dwithin(boundary, points, TOLERANCE_MM * 1.1).all(axis=1)
    for index in sorted(set(meetings.stray_piece[inside].tolist())):
        yield Fault(
            "inner-cut",
            view.name(index),
            "an edge inside the floor is neither an end joint nor on a row line",
        )
