"""Where the row lines lie: one offset for the whole floor, clear of slivers where that can be.

A wall that runs nearly along the rows leaves a partial row at its side. Its width follows from
the offset alone, so every offset is judged by arithmetic on the floor's edges, without cutting
rows: the length of wall along which the partial row is narrower than the narrowest row.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt
from shapely import MultiPolygon

from plankwright.model.plan import SCRAP_MM, SCRAP_MM2

Floats = npt.NDArray[np.float64]

STEEPEST = math.tan(math.radians(10.0))  # beyond this a wall ends rows, it does not border one
NOISE_MM = 1e-6  # of floats: a row just as wide as the narrowest row is no sliver
FLUSH_MM = SCRAP_MM - 0.01  # a partial row thinner than this is none
SHORTEST_EDGE_MM = 1.0
JOG_MM = 100.0  # in all, between two edges that count as one wall
TIP_MM = 100.0  # where lines are tried a tip counts like a wall of this length
SHORTEST_SIDE_MM = 300.0  # beside a shorter wall nobody sees how wide the row is
MOST_EDGES = 24  # more of them add candidates, not better ones
MOST_TIPS = 60
SPREAD_LINES = 64


@dataclass(frozen=True, slots=True)
class SideEdges:
    """The floor's edges that run nearly along the rows.

    ``v0`` and ``v1`` are the ends' positions across, ``run`` the length along [mm]; ``above`` is
    True where the floor lies on the far side of the edge (the edge is a start). Edges that follow
    each other with no more than small jogs between them have one number in ``wall``. A tip has
    ``spread`` above 0: how much longer along the rows it gets with each millimeter across.
    """

    v0: Floats
    v1: Floats
    run: Floats
    above: npt.NDArray[np.bool_]
    wall: npt.NDArray[np.int64]
    spread: Floats


def side_edges(floor: MultiPolygon) -> SideEdges:
    """The edges of a floor in plan axes along which a partial row can lie.

    A tip, where two walls across the rows meet in a corner of the floor, counts as a short one:
    cut too near to it, it is a piece of its own.
    """
    rows: list[tuple[float, float, float, bool, float]] = []
    wall: list[int] = []
    for part in floor.geoms:
        for number, ring in enumerate((part.exterior, *part.interiors)):
            ccw = ring.is_ccw
            inside_left = ccw == (number == 0)
            corners = np.asarray(ring.coords)[:, :2]
            number_of_wall, since = len(rows), 0.0
            for (ua, va), (ub, vb) in pairwise(corners):
                run = abs(ub - ua)
                if run <= SHORTEST_EDGE_MM or abs(vb - va) > run * STEEPEST:
                    since += math.hypot(ub - ua, vb - va)
                    continue
                above = (ub > ua) == inside_left
                if since > JOG_MM or (wall and rows[-1][3] != above):
                    number_of_wall = len(rows)
                rows.append((va, vb, run, above, 0.0))
                wall.append(number_of_wall)
                since = 0.0
            rows.extend(_tips(corners[:-1], inside_left))
            wall.extend(range(len(wall), len(rows)))
    table = np.array([row[:3] for row in rows], dtype=np.float64).reshape(-1, 3)
    above = np.array([row[3] for row in rows], dtype=np.bool_)
    numbers = np.array(wall, dtype=np.int64)
    spread = np.array([row[4] for row in rows], dtype=np.float64)
    return SideEdges(table[:, 0], table[:, 1], table[:, 2], above, numbers, spread)


def _tips(corners: Floats, inside_left: bool) -> list[tuple[float, float, float, bool, float]]:
    """Corners of a ring at which the floor begins or ends across the rows, between steep walls."""
    into = corners - np.roll(corners, 1, axis=0)
    out = np.roll(into, -1, axis=0)
    steep = np.abs(into[:, 1]) > np.abs(into[:, 0]) * STEEPEST
    turned_back = into[:, 1] * out[:, 1] < 0.0
    cross = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
    found = steep & np.roll(steep, -1) & turned_back & ((cross > 0.0) == inside_left)
    into, out = into[found], out[found]
    spread = abs(out[:, 0] / out[:, 1] - into[:, 0] / into[:, 1])
    return [
        (v, v, TIP_MM, up > 0.0, wide)
        for v, up, wide in zip(corners[found, 1], out[:, 1], spread, strict=True)
    ]


def narrow_lengths(edges: SideEdges, width: float, narrowest: float, offsets: Floats) -> Floats:
    """For each offset the length of edge [mm] beside which the row is narrower than allowed.

    Along a slanted edge the partial width changes evenly; it is sampled at the middles of
    eight equal parts. Of a tip it is the length of the piece that is parted from it, unless that
    is a scrap.
    """
    partial, narrow = _narrow(edges, width, narrowest, offsets)
    walls = narrow.mean(axis=2) * np.where(edges.spread > 0.0, 0.0, edges.run)
    lengths: Floats = (walls + _tip_lengths(edges, partial, narrow)).sum(axis=1)
    return lengths


def _tip_lengths(edges: SideEdges, partial: Floats, narrow: npt.NDArray[np.bool_]) -> Floats:
    thick = partial[:, :, 0]
    is_piece = narrow[:, :, 0] & (thick**2 * edges.spread / 2.0 >= SCRAP_MM2)
    lengths: Floats = np.where(is_piece, thick * edges.spread, 0.0)
    return lengths


def _narrow(
    edges: SideEdges, width: float, narrowest: float, offsets: Floats
) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Widths of partial rows by offset, edge and part of it, and whether they are too narrow."""
    parts = (np.arange(8) + 0.5) / 8.0
    v = edges.v0[:, None] + (edges.v1 - edges.v0)[:, None] * parts
    past_line = np.mod(v[None, :, :] - offsets[:, None, None], width)
    partial = np.where(edges.above[None, :, None], width - past_line, past_line)
    narrow = (partial > FLUSH_MM) & (partial < narrowest - NOISE_MM) & (width - partial > FLUSH_MM)
    return partial, narrow


def likely_slivers(edges: SideEdges, width: float, narrowest: float, offsets: Floats) -> Floats:
    """For each offset what :func:`sliver_length` of the rows will about be [mm].

    As :func:`narrow_lengths`, but along a wall that is narrow for less than a wall at 10 degrees
    would make it nothing is counted, except at tips.
    """
    by_wall = np.zeros((len(offsets), 1 + int(edges.wall.max(initial=0))))
    tips = np.zeros(len(offsets))
    for index, number in enumerate(edges.wall.tolist()):
        one = slice(index, index + 1)
        edge = SideEdges(*(getattr(edges, name)[one] for name in _FIELDS))
        narrow = narrow_lengths(edge, width, narrowest, offsets)
        if edges.spread[index] > 0.0:
            tips += narrow
        else:
            by_wall[:, number] += narrow
    by_wall[by_wall <= narrowest / STEEPEST] = 0.0
    likely: Floats = by_wall.sum(axis=1) + tips
    return likely


_FIELDS = ("v0", "v1", "run", "above", "wall", "spread")


def wasted_areas(edges: SideEdges, width: float, offsets: Floats) -> Floats:
    """For each offset the area of board [mm²] that partial rows lose beside walls.

    Beside an edge where the floor begins a row loses what lies before the edge, beside one where
    it ends what lies beyond.
    """
    middle = (edges.v0 + edges.v1) / 2.0
    past_line = np.mod(middle[None, :] - offsets[:, None] + FLUSH_MM, width) - FLUSH_MM
    lost = np.where(edges.above[None, :], past_line, width - past_line)
    lost[lost >= width - FLUSH_MM] = 0.0
    areas: Floats = (np.maximum(lost, 0.0) * edges.run).sum(axis=1)
    return areas


def least_partials(edges: SideEdges, width: float, offsets: Floats) -> Floats:
    """For each offset the width [mm] of the narrowest partial row beside a wall.

    Walls shorter than :data:`SHORTEST_SIDE_MM` are left out; a whole row counts full.
    """
    sides = edges.run >= SHORTEST_SIDE_MM
    v = np.stack([edges.v0[sides], edges.v1[sides]], axis=1)
    past_line = np.mod(v[None, :, :] - offsets[:, None, None] + FLUSH_MM, width) - FLUSH_MM
    partial = np.where(edges.above[sides][None, :, None], width - past_line, past_line)
    partial[partial <= FLUSH_MM] = width
    least: Floats = partial.min(axis=(1, 2), initial=width)
    return least


def candidates(edges: SideEdges, width: float, narrowest: float, lowest: float) -> list[float]:
    """Offsets of the row lines [mm, from 0 to ``width``] at which something changes.

    The line at ``lowest`` (row 1 whole). For every edge: the line on either of its ends, and the
    line just far enough to leave the narrowest row. For every pair of a start and an end: the
    two outer rows made equal. Where there are many, those of the longest edges; and of the tips
    that spread most the first two.
    """
    v0, v1, above = _longest(edges)
    ends = np.concatenate([v0, v1, _widest_tips(edges)])
    starts, stops = np.maximum(v0, v1)[above], np.minimum(v0, v1)[~above]
    shared = ((starts[:, None] + stops[None, :]) / 2.0).ravel()
    offsets = np.concatenate(
        [[lowest], ends, ends + narrowest, ends - narrowest, shared, shared + width / 2.0]
    )
    return _within(offsets, width)


def further_candidates(edges: SideEdges, width: float) -> list[float]:
    """Offsets for floors where none of :func:`candidates` is clear of slivers [mm].

    The line so near to an edge's end that what lies between them is a scrap, and lines spread
    over the width.
    """
    v0, v1, _ = _longest(edges)
    ends = np.concatenate([v0, v1, _widest_tips(edges)])
    spread = np.arange(SPREAD_LINES) * width / SPREAD_LINES
    return _within(np.concatenate([ends + FLUSH_MM, ends - FLUSH_MM, spread]), width)


def _longest(edges: SideEdges) -> tuple[Floats, Floats, npt.NDArray[np.bool_]]:
    order = np.lexsort((edges.v1, edges.v0, -np.round(edges.run, 3)))[:MOST_EDGES]
    return edges.v0[order], edges.v1[order], edges.above[order]


def _widest_tips(edges: SideEdges) -> Floats:
    order = np.lexsort((edges.v0, -np.round(edges.spread, 6)))[:MOST_TIPS]
    tips: Floats = edges.v0[order[edges.spread[order] > 0.0]]
    return tips


def _within(offsets: Floats, width: float) -> list[float]:
    return sorted({round(float(offset) % width, 4) % width for offset in offsets})
