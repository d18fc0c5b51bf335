"""Lanes of a floor: a few lines along the boards that show all that lies side by side in a board.

Every stretch keeps its place across its boards. It is widened by half a cut wherever a long side
is sawn, so that two pieces that no line meets both lie a cut apart across; and lengthened where an
end slants, so that a cut along the line is a cut square to the slant. A line that meets nothing
that another does not meet is left out. If still more than a few are left, those most alike become
one that meets what both of them meet, which can only ask for more than there is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from plankwright.geometry.profile import Interval, Profile, profile_of
from plankwright.geometry.rows import Stretch
from plankwright.model.board import Board
from plankwright.model.rules import Rules

MOST_LANES = 4
MARGIN_MM = 0.1  # rounding of the plan file, generously
SLIGHT_MM = 4.0  # a stretch of which the lanes miss no more is met whole
ALIKE_MM = 20.0  # lines that differ by no more in all are one
EDGE_MM = 0.05  # a long side this near a board's is not sawn
MOST_LINES = 64  # looked at

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]


MetParts = tuple[tuple[int, float, float], ...]
"""Lane, from and to [mm from the near end] of what lanes meet of a stretch."""


@dataclass(frozen=True, slots=True)
class LaneParts:
    """For every lane and stretch what the lane meets [mm from the stretch's near end].

    ``parts[stretch]`` is None where every lane meets the whole stretch.
    """

    count: int
    parts: tuple[MetParts | None, ...]


def one_lane(stretches: Sequence[Stretch]) -> LaneParts:
    """A single lane that meets the whole of every stretch."""
    return LaneParts(1, (None,) * len(stretches))


def lanes_of(stretches: Sequence[Stretch], board: Board, rules: Rules) -> LaneParts:
    """The lanes of a floor; a single one where nothing can lie side by side."""
    odd = [i for i, stretch in enumerate(stretches) if not _is_full(stretch, board.width_mm)]
    if board.reversible or not odd:
        return one_lane(stretches)
    cut = rules.cut_mm + MARGIN_MM
    profiles = [profile_of(stretches[i]) for i in odd]
    lines = _lines(profiles, board.width_mm, cut / 2.0)
    met = [[profile.met(y, cut / 2.0, cut) for profile in profiles] for y in lines]
    cells = _Cells(met, [stretches[i].length for i in odd], cut)
    chosen = _reduced(cells.matrix, cells.length)
    parts: list[MetParts | None] = [None] * len(stretches)
    for column, i in enumerate(odd):
        found = [
            (lane, low, high)
            for lane, row in enumerate(chosen)
            for low, high in cells.intervals(row, column)
        ]
        missing = stretches[i].length * len(chosen) - sum(high - low for _, low, high in found)
        if missing > SLIGHT_MM * len(chosen):
            parts[i] = tuple(found)
    return LaneParts(len(chosen), tuple(parts))


def _is_full(stretch: Stretch, width: float) -> bool:
    _, v0, _, v1 = stretch.polygon.bounds
    return stretch.is_rectangle and v1 - v0 > width - EDGE_MM


def _lines(profiles: Sequence[Profile], width: float, reach: float) -> list[float]:
    """Lines just inside both ends of every band in which the same widened sides are met."""
    heights = np.array([y for profile in profiles for y in profile.heights()])
    sawn = heights[(heights > EDGE_MM) & (heights < width - EDGE_MM)]
    ends = np.concatenate([sawn - reach, sawn + reach, [0.0, width]])
    ends = np.unique(np.round(np.clip(ends, 0.0, width), 1))
    if len(ends) > MOST_LINES // 2:
        ends = ends[np.linspace(0, len(ends) - 1, MOST_LINES // 2).round().astype(int)]
    low, high = ends[:-1], ends[1:]
    inset = np.minimum(0.06, (high - low) / 4.0)
    found: list[float] = np.unique(np.concatenate([low + inset, high - inset])).tolist()
    return found


class _Cells:
    """What lines meet, as a table: a row for each line, a column for each cell of a stretch."""

    def __init__(
        self, met: Sequence[Sequence[Sequence[Interval]]], lengths: Sequence[float], cut: float
    ) -> None:
        self._cut = cut
        self._ends: list[Floats] = []
        self._slices: list[slice] = []
        tables: list[Bools] = []
        for column, length in enumerate(lengths):
            runs = [[_coarse(part, length) for part in line[column]] for line in met]
            ends = np.unique([0.0, length, *(x for run in runs for part in run for x in part)])
            middle = (ends[:-1] + ends[1:]) / 2.0
            table = np.zeros((len(met), len(middle)), dtype=np.bool_)
            for row, run in enumerate(runs):
                for low, high in run:
                    table[row] |= (middle > low) & (middle < high)
            begin = self._slices[-1].stop if self._slices else 0
            self._slices.append(slice(begin, begin + len(middle)))
            self._ends.append(ends)
            tables.append(table)
        self.matrix = np.concatenate(tables, axis=1)
        self.length = np.concatenate([np.diff(ends) for ends in self._ends])

    def intervals(self, row: Bools, column: int) -> list[Interval]:
        """What a row meets of a stretch; gaps no wider than a cut are closed."""
        ends, met = self._ends[column], row[self._slices[column]]
        found: list[Interval] = []
        for k in np.flatnonzero(met):
            if found and ends[k] - found[-1][1] <= self._cut:
                found[-1] = (found[-1][0], float(ends[k + 1]))
            else:
                found.append((float(ends[k]), float(ends[k + 1])))
        return found


def _coarse(part: Interval, length: float) -> Interval:
    """A part put out to whole millimeters, so that there are not too many different ones."""
    return float(np.floor(part[0])), min(float(np.ceil(part[1])), length)


def _reduced(table: Bools, length: Floats) -> list[Bools]:
    """Few rows of which every row of a table meets no more than one; the longest first."""
    rows = np.unique(table, axis=0)
    shared = (rows * length) @ rows.T  # what each two rows both meet
    living = _undominated(shared, list(range(len(rows))))
    while len(living) > 1:
        within = shared[np.ix_(living, living)]
        each = within.diagonal()
        apart = each[:, None] + each - 2.0 * within
        np.fill_diagonal(apart, np.inf)
        one, other = (living[k] for k in divmod(int(apart.argmin()), len(living)))
        if len(living) <= MOST_LANES and apart.min() > ALIKE_MM:
            break
        rows[one] |= rows[other]
        shared[one] = shared[:, one] = rows @ (rows[one] * length)
        living = _undominated(shared, [i for i in living if i != other])
    order = sorted(living, key=lambda i: (-round(float(shared[i, i]), 3), i))
    return [rows[i] for i in order]


def _undominated(shared: Floats, living: list[int]) -> list[int]:
    """The rows that no other row meets all of; of equal ones the first."""
    within = shared[np.ix_(living, living)]
    inside = within >= within.diagonal()[:, None] - 1e-6
    equal = inside & inside.T
    later = np.tri(len(living), k=-1, dtype=np.bool_)
    worse = np.where(equal, later, inside)
    np.fill_diagonal(worse, False)
    return [living[k] for k in np.flatnonzero(~worse.any(axis=1))]
