"""Which pieces and stretches of a plan lie side by side, found from the outlines of its pieces.

A *seam* is the part of a row line along which two stretches of neighboring rows are joined. The
stretches with their seams are what a laying order is made from.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon

from plankwright.geometry.frame import Floats, Frame
from plankwright.geometry.rows import line_runs
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import LARGEST_EXTENT_MM

Ints = npt.NDArray[np.int64]
Shapes = npt.NDArray[np.object_]

ON_LINE_MM = 0.05  # outlines are rounded to 0.001 mm in the room's own axes
APART_MM = 10.0 * LARGEST_EXTENT_MM  # between lines that are laid end to end
LEAST_MM = 0.5  # side by side for less is rounding


@dataclass(frozen=True, slots=True)
class LaidStretch:
    """A stretch of a plan: its pieces from near to far, and its extent along the row [mm]."""

    row: int
    number: int
    pieces: tuple[Piece, ...]
    u0: float
    u1: float

    @property
    def length_mm(self) -> float:
        """From its near end to its far end [mm]."""
        return self.u1 - self.u0


@dataclass(frozen=True, slots=True)
class Seam:
    """Two stretches (by index) of neighboring rows, and how long they are joined [mm]."""

    wall_side: int
    room_side: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class Seams:
    """The stretches of a plan by row and from the near end, and how they lie side by side.

    Parameters
    ----------
    stretches : every stretch.
    seams : every pair of stretches that are joined along a row line.
    meetings : the same, piece by piece: indices in the plan of the pieces on the line's wall side
        and room side.
    shapes : outlines of the plan's pieces in plan axes, in the plan's order.
    """

    stretches: tuple[LaidStretch, ...]
    seams: tuple[Seam, ...]
    meetings: tuple[tuple[int, int], ...]
    shapes: tuple[Polygon, ...]

    def walls_of(self, index: int) -> Iterator[Seam]:
        """Seams on the wall side of a stretch."""
        return (seam for seam in self.seams if seam.room_side == index)

    def rooms_of(self, index: int) -> Iterator[Seam]:
        """Seams on the room side of a stretch."""
        return (seam for seam in self.seams if seam.wall_side == index)


def find_seams(plan: Plan) -> Seams:
    """The stretches of a plan and their seams."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    shapes = frame.to_plan(np.array([piece.outline for piece in plan.pieces], dtype=np.object_))
    stretches, stretch_of = _stretches(plan.pieces, shapes)
    wall_side, room_side, lengths = _meetings(plan, shapes)
    joined: dict[tuple[int, int], float] = {}
    pairs = zip(stretch_of[wall_side].tolist(), stretch_of[room_side].tolist(), strict=True)
    for pair, length in zip(pairs, lengths.tolist(), strict=True):
        joined[pair] = joined.get(pair, 0.0) + length
    seams = tuple(Seam(*pair, length) for pair, length in sorted(joined.items()))
    meetings = tuple(zip(wall_side.tolist(), room_side.tolist(), strict=True))
    return Seams(stretches, seams, meetings, tuple(shapes.tolist()))


def _stretches(pieces: Sequence[Piece], shapes: Shapes) -> tuple[tuple[LaidStretch, ...], Ints]:
    """The stretches, and for each piece the index of its own."""
    keys = [(piece.row, piece.stretch, piece.seat, piece.id) for piece in pieces]
    order = sorted(range(len(pieces)), key=keys.__getitem__)
    bounds = shapely.bounds(shapes).reshape(-1, 4)
    found: list[LaidStretch] = []
    stretch_of = np.zeros(len(pieces), np.int64)
    for (row, number), group in groupby(order, lambda i: keys[i][:2]):
        own = list(group)
        stretch_of[own] = len(found)
        u0, u1 = float(bounds[own, 0].min()), float(bounds[own, 2].max())
        found.append(LaidStretch(row, number, tuple(pieces[i] for i in own), u0, u1))
    return tuple(found), stretch_of


def _meetings(plan: Plan, shapes: Shapes) -> tuple[Ints, Ints, Floats]:
    """Pieces on the wall side and on the room side of a row line, and how long they are joined."""
    rows = np.array([piece.row for piece in plan.pieces], np.int64)
    (wall_side, *below), (room_side, *above) = (_sides(plan, shapes, k) for k in (rows, rows - 1))
    (a0, a1, a_line), (b0, b1, b_line) = below, above
    first = np.searchsorted(b1 + b_line, a0 + a_line + LEAST_MM, side="right")
    count = np.maximum(np.searchsorted(b0 + b_line, a1 + a_line - LEAST_MM) - first, 0)
    i = np.repeat(np.arange(len(first)), count)
    j = np.arange(len(i)) + np.repeat(first - np.cumsum(count) + count, count)
    length = np.minimum(a1[i], b1[j]) - np.maximum(a0[i], b0[j])
    return wall_side[i], room_side[j], length


def _sides(plan: Plan, shapes: Shapes, lines: Ints) -> tuple[Ints, Floats, Floats, Floats]:
    """What lies on the row line of each piece: piece, from, to, and how far on its line begins
    when all lines are laid end to end."""
    line = lines.astype(np.float64)
    v = plan.laying.start_line_mm + line * plan.board.width_mm
    piece, low, high = line_runs(shapes.tolist(), v, ON_LINE_MM)
    along = line[piece] * APART_MM
    order = np.argsort(low + along, kind="stable")
    return piece[order], low[order], high[order], along[order]
