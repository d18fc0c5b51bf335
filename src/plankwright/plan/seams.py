"""Which pieces and stretches of a plan lie side by side, found from the outlines of its pieces.

A *seam* is the part of a row line along which two stretches of neighboring rows are joined. The
stretches with their seams are what a laying order is made from.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
import shapely
from shapely import Polygon

from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import runs_on_lines
from plankwright.model.plan import Piece, Plan

ON_LINE_MM = 0.05  # outlines are rounded to 0.001 mm in the room's own axes
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
class Meeting:
    """Two pieces (by index in the plan) of neighboring rows that lie side by side."""

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
    meetings : the same, piece by piece.
    shapes : outlines of the plan's pieces in plan axes, in the plan's order.
    """

    stretches: tuple[LaidStretch, ...]
    seams: tuple[Seam, ...]
    meetings: tuple[Meeting, ...]
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
    outlines = np.array([piece.outline for piece in plan.pieces], dtype=np.object_)
    shapes: list[Polygon] = list(frame.to_plan(outlines)) if len(outlines) else []
    stretches, stretch_of = _stretches(plan.pieces, shapes)
    meetings = tuple(_meetings(plan, shapes))
    joined: dict[tuple[int, int], float] = {}
    for meeting in meetings:
        pair = stretch_of[meeting.wall_side], stretch_of[meeting.room_side]
        joined[pair] = joined.get(pair, 0.0) + meeting.length_mm
    seams = tuple(Seam(*pair, length) for pair, length in sorted(joined.items()))
    return Seams(stretches, seams, meetings, tuple(shapes))


def _stretches(
    pieces: Sequence[Piece], shapes: Sequence[Polygon]
) -> tuple[tuple[LaidStretch, ...], list[int]]:
    """The stretches, and for each piece the index of its own."""

    def place(index: int) -> tuple[int, int]:
        return pieces[index].row, pieces[index].stretch

    found: list[LaidStretch] = []
    stretch_of = [0] * len(pieces)
    order = sorted(range(len(pieces)), key=lambda i: (*place(i), pieces[i].seat, pieces[i].id))
    for (row, number), group in groupby(order, place):
        own = list(group)
        bounds = shapely.bounds([shapes[i] for i in own]).reshape(-1, 4)
        for i in own:
            stretch_of[i] = len(found)
        found.append(
            LaidStretch(
                row,
                number,
                tuple(pieces[i] for i in own),
                float(bounds[:, 0].min()),
                float(bounds[:, 2].max()),
            )
        )
    return tuple(found), stretch_of


Side = tuple[float, float, int]  # from, to, index of the piece


def _meetings(plan: Plan, shapes: Sequence[Polygon]) -> Iterator[Meeting]:
    rows = [piece.row for piece in plan.pieces]
    below = _sides(plan, shapes, rows)
    above = _sides(plan, shapes, [row - 1 for row in rows])
    for line in sorted(below.keys() & above.keys()):
        yield from _facing(sorted(below[line]), sorted(above[line]))


def _sides(plan: Plan, shapes: Sequence[Polygon], lines: Sequence[int]) -> dict[int, list[Side]]:
    """What lies on each row line, of pieces that each may lie on one line."""
    v = plan.laying.start_line_mm + np.array(lines) * plan.board.width_mm
    found: dict[int, list[Side]] = defaultdict(list)
    for index, runs in enumerate(runs_on_lines(shapes, v, ON_LINE_MM)):
        found[lines[index]] += [(low, high, index) for low, high in runs]
    return found


def _facing(below: Sequence[Side], above: Sequence[Side]) -> Iterator[Meeting]:
    """Pairs of sides of one row line that overlap; both lists sorted."""
    i = j = 0
    while i < len(below) and j < len(above):
        length = min(below[i][1], above[j][1]) - max(below[i][0], above[j][0])
        if length > LEAST_MM:
            yield Meeting(below[i][2], above[j][2], length)
        if below[i][1] < above[j][1]:
            i += 1
        else:
            j += 1
