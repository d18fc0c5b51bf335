"""Sizes: no piece too short, no row or part of one too narrow."""

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon

from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, Flags, Floats, Shapes, View

# A wall steeper than this across the rows ends them; it does not make a row narrow. The tip it
# leaves is thinner than the narrowest row for at most narrowest / tan(10°).
STEEPEST = math.tan(math.radians(10.0))


def size_faults(view: View) -> Iterator[Fault]:
    """Pieces under the shortest piece, rows and parts of rows under the narrowest row."""
    yield from _short_pieces(view)
    yield from _narrow_rows(view)


def _short_pieces(view: View) -> Iterator[Fault]:
    shortest = view.plan.rules.shortest_piece_mm
    lengths = view.boxes[:, 2] - view.boxes[:, 0]
    extents = shapely.bounds(view.stretches).reshape(-1, 4)
    for i in np.flatnonzero(lengths < shortest - ROUNDING_MM):
        u0, _, u1, _ = extents[view.stretch_of[i]] if view.stretch_of[i] >= 0 else view.boxes[i]
        if u1 - u0 >= shortest - ROUNDING_MM:
            yield Fault(
                "short-piece",
                view.name(i),
                f"is {lengths[i]:.1f} mm long in a stretch of {u1 - u0:.0f} mm, at least "
                f"{shortest:g} mm are needed",
            )


def _narrow_rows(view: View) -> Iterator[Fault]:
    narrowest = view.plan.rules.narrowest_row_mm
    widths = view.boxes[:, 3] - view.boxes[:, 1]
    lengths = view.boxes[:, 2] - view.boxes[:, 0]
    rectangles = widths * lengths - shapely.area(view.outlines) <= ROUNDING_MM * lengths
    for i in np.flatnonzero(widths < narrowest - ROUNDING_MM):
        yield Fault(
            "narrow-row",
            view.name(i),
            f"is {widths[i]:.1f} mm wide, at least {narrowest:g} mm are needed",
        )
    doubtful = np.flatnonzero((widths >= narrowest - ROUNDING_MM) & ~rectangles)
    for i in doubtful[~_are_full(view.outlines[doubtful], narrowest)]:
        run = thin_run(view.outlines[i], narrowest - ROUNDING_MM)
        if run > narrowest / STEEPEST:
            yield Fault(
                "narrow-row",
                view.name(i),
                f"is narrower than {narrowest:g} mm for {run:.0f} mm of its length",
            )


def _are_full(shapes: Shapes, narrowest: float) -> Flags:
    """Whether each shape is convex and fills its bounds too well to be narrow for a long run.

    A convex shape has one width at every u: where that is less than the narrowest row's, the rest
    of its bounds' width is open.
    """
    u0, v0, u1, v1 = shapely.bounds(shapes).reshape(-1, 4).T
    areas = shapely.area(shapes)
    is_convex = shapely.area(shapely.convex_hull(shapes)) - areas < ROUNDING_MM
    left_open = (u1 - u0) * (v1 - v0) - areas
    flags: Flags = is_convex & (left_open < (v1 - v0 - narrowest) * narrowest / STEEPEST)
    return flags


def thin_run(outline: Polygon, narrow: float) -> float:
    """The longest run along u [mm] in which some part of an outline is narrower than ``narrow``.

    >>> from shapely import Polygon
    >>> thin_run(Polygon([(0, 0), (100, 0), (100, 20)]), 10.0)  # a wedge, 10 thick halfway
    50.0
    """
    edges = np.concatenate(
        [_edges(ring) for ring in (outline.exterior, *outline.interiors)]
    )  # rows: u0, v0, u1, v1 with u0 < u1
    cuts = np.unique(edges[:, [0, 2]])
    longest, begun, reached = 0.0, math.nan, math.nan
    for low, high in pairwise(cuts):
        for start, end in _thin_parts(edges, low, high, narrow):
            if not start <= reached + ROUNDING_MM:
                begun = start
            reached = end
            longest = max(longest, reached - begun)
    return float(longest)


def _edges(ring: shapely.LinearRing) -> Floats:
    corners = np.asarray(ring.coords)[:, :2]
    edges = np.hstack([corners[:-1], corners[1:]])
    backwards = edges[:, 0] > edges[:, 2]
    edges[backwards] = edges[backwards][:, [2, 3, 0, 1]]
    return edges


def _thin_parts(
    edges: Floats, low: float, high: float, narrow: float
) -> Iterator[tuple[float, float]]:
    """Between two neighboring corners: where the widths between edges fall below ``narrow``."""
    middle = (low + high) / 2.0
    u0, v0, u1, v1 = edges[(edges[:, 0] < middle) & (edges[:, 2] > middle)].T
    slope = (v1 - v0) / (u1 - u0)
    order = np.argsort(v0 + slope * (middle - u0))
    at_low, at_high = (v0 + slope * (low - u0))[order], (v0 + slope * (high - u0))[order]
    for w0, w1 in zip(np.diff(at_low)[::2], np.diff(at_high)[::2], strict=True):
        if max(w0, w1) < narrow:
            yield low, high
        elif min(w0, w1) < narrow:
            crossing = low + (high - low) * (narrow - w0) / (w1 - w0)
            yield (low, crossing) if w0 < narrow else (crossing, high)
