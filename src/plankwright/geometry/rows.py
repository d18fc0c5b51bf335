"""Rows and stretches: the floor in plan axes, cut into strips one board wide.

A *row* is a strip from wall to wall, counted from the start wall. Its connected parts are its
*stretches*, counted from the near end. A *contact* is an unbroken part of a row line that lies
inside the floor: along it the pieces of two stretches of neighboring rows are joined.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon
from shapely.errors import GEOSException
from shapely.geometry.base import BaseGeometry

from plankwright.geometry.frame import Floats
from plankwright.geometry.slabs import Trapezoid, slabs
from plankwright.model.plan import SCRAP_MM, SCRAP_MM2

Ints = npt.NDArray[np.int64]

ON_LINE_MM = 1e-3  # a corner this near a row line lies on it
THREAD_MM = 0.04  # floor thinner than this beside a row line is rounding
NEAR_LINE_MM = 0.2  # a slanted thread beside a row line begins no farther from it
SHARPEST = 100.0  # a sharp tip keeps its length when a thread is cut off
GRID_MM = 0.001  # of coordinates in the plan file
SHORTEST_MM = 0.499  # a part shorter, or an end thinner, than this is rounding, not floor
WEDGE_MM = 20.0  # a part no wider may have an end that is thin over a piece's length

Run = tuple[float, float]
"""From and to, along the row [mm]."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """An unbroken part of a row.

    Parameters
    ----------
    row, number : counted from 1; the number from the near end.
    polygon : its shape in plan axes (u, v) [mm].
    wall_line, room_line : v of its row's wall side and room side [mm].
    u0, u1 : where it begins and ends along the row [mm].
    is_rectangle : whether its shape is its own bounding box.
    """

    row: int
    number: int
    polygon: Polygon
    wall_line: float
    room_line: float
    u0: float = field(init=False, repr=False, compare=False)
    u1: float = field(init=False, repr=False, compare=False)
    is_rectangle: bool = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Look at the shape once: it is asked for these all the time."""
        u0, v0, u1, v1 = self.polygon.bounds
        four = shapely.get_num_coordinates(self.polygon) == 5
        left_open = (u1 - u0) * (v1 - v0) - self.polygon.area
        object.__setattr__(self, "u0", float(u0))
        object.__setattr__(self, "u1", float(u1))
        object.__setattr__(self, "is_rectangle", bool(four and abs(left_open) < 1e-3))

    @property
    def length(self) -> float:
        """Extent along the row [mm]."""
        return self.u1 - self.u0

    def slabs(self) -> list[list[Trapezoid]]:
        """The stretch cut at its corners; see :mod:`plankwright.geometry.slabs`."""
        return slabs(self.polygon)


@dataclass(frozen=True, slots=True)
class Contact:
    """Part of a row line, from ``u0`` to ``u1``, with stretch indices on its two sides."""

    wall_side: int
    room_side: int
    u0: float
    u1: float


def cut_rows(floor: MultiPolygon, width: float, start_line: float) -> list[Stretch]:
    """Every stretch of a floor in plan axes, by row and then from the near end.

    ``start_line`` is v of row 1's wall side; the floor must not reach below it. Parts that are
    scraps (:data:`plankwright.model.plan.SCRAP_MM2`) are left out.
    """
    if floor.is_empty:
        return []
    u_low, v_low, u_high, v_high = floor.bounds
    first = math.floor((v_low - start_line + ON_LINE_MM) / width)
    last = math.ceil((v_high - start_line - ON_LINE_MM) / width)
    found: list[Stretch] = []
    for index in range(first, last):
        low, high = start_line + index * width, start_line + (index + 1) * width
        parts = _strip_parts(floor, (u_low - 1.0, low, u_high + 1.0, high))
        parts.sort(key=lambda part: (part.bounds[0], part.bounds[1]))
        found.extend(
            Stretch(index + 1, number, part, low, high)
            for number, part in enumerate(parts, start=1)
        )
    return found


def _strip_parts(floor: MultiPolygon, box: tuple[float, float, float, float]) -> list[Polygon]:
    try:
        clipped = shapely.clip_by_rect(floor, *box)
        if not clipped.is_valid:
            clipped = floor.intersection(shapely.box(*box))
    except GEOSException:
        clipped = floor.intersection(shapely.box(*box))
    parts = shapely.get_parts(clipped).tolist()
    if _is_near_line(clipped, box[1], box[3]):
        parts = [whole for part in parts for whole in _without_threads(part, box)]
    parts = [whole for part in parts for whole in _without_thin_end(part)]
    return [part for part in parts if isinstance(part, Polygon) and not _is_scrap(part)]


def _is_scrap(part: Polygon) -> bool:
    u0, v0, u1, v1 = part.bounds
    return bool(v1 - v0 < SCRAP_MM - ON_LINE_MM or u1 - u0 <= SHORTEST_MM or part.area < SCRAP_MM2)


def _without_threads(
    part: BaseGeometry, box: tuple[float, float, float, float]
) -> list[BaseGeometry]:
    """The parts of a part that more than a thread joins, without threads that hang on them."""
    half = THREAD_MM / 2.0
    cores = part.buffer(-half, join_style="mitre", mitre_limit=SHARPEST)
    apart = shapely.get_parts(cores)
    grown = shapely.buffer(apart, half, join_style="mitre", mitre_limit=SHARPEST)
    if len(grown) == 1 and np.allclose(grown[0].bounds, part.bounds, rtol=0.0, atol=THREAD_MM):
        return [part]
    whole = shapely.set_precision(shapely.intersection(grown, shapely.box(*box)), GRID_MM)
    return list(shapely.get_parts(whole))


def _without_thin_end(part: BaseGeometry) -> list[BaseGeometry]:
    """A narrow wedge without the end where it is too thin for a joint."""
    u0, v0, u1, v1 = part.bounds
    if not v1 - v0 <= WEDGE_MM or (v1 - v0) * (u1 - u0) - part.area < 1.0:
        return [part]
    half = SHORTEST_MM / 2.0
    opened = part.buffer(-half, join_style="mitre").buffer(half, join_style="mitre")
    whole = shapely.get_parts(shapely.set_precision(opened.intersection(part), GRID_MM))
    solid = [end for end in whole if isinstance(end, Polygon) and not _is_scrap(end)]
    return solid or [part]


def _is_near_line(strip: BaseGeometry, low: float, high: float) -> bool:
    """Whether a wall comes so near a row line that only a thread may lie between them."""
    v = shapely.get_coordinates(strip)[:, 1]
    off = np.minimum(np.abs(v - low), np.abs(v - high))
    return bool(((off > 0.0) & (off < NEAR_LINE_MM)).any())


def contacts(stretches: Sequence[Stretch]) -> list[Contact]:
    """Every contact between stretches of neighboring rows; indices into ``stretches``."""
    by_row: dict[int, list[int]] = {}
    for index, stretch in enumerate(stretches):
        by_row.setdefault(stretch.row, []).append(index)
    polygons = [stretch.polygon for stretch in stretches]
    lower = runs_on_lines(polygons, np.array([stretch.wall_line for stretch in stretches]))
    upper = runs_on_lines(polygons, np.array([stretch.room_line for stretch in stretches]))
    found: list[Contact] = []
    for row, indices in by_row.items():
        beyond = by_row.get(row + 1, [])
        for i in indices:
            for run in upper[i]:
                found.extend(
                    Contact(i, j, max(run[0], other[0]), min(run[1], other[1]))
                    for j in beyond
                    for other in lower[j]
                    if min(run[1], other[1]) - max(run[0], other[0]) > ON_LINE_MM
                )
    return found


def runs_on_lines(
    polygons: Sequence[Polygon], lines: Floats, within_mm: float = ON_LINE_MM
) -> list[list[Run]]:
    """For each polygon the runs (u0, u1) of its boundary that lie on a row line of its own.

    ``lines`` are v of the lines [mm], one for each polygon. Runs are joined end to end.
    """
    found: list[list[Run]] = [[] for _ in polygons]
    columns = (column.tolist() for column in line_runs(polygons, lines, within_mm))
    for index, u0, u1 in zip(*columns, strict=True):
        found[index].append((u0, u1))
    return found


def line_runs(
    polygons: Sequence[Polygon], lines: Floats, within_mm: float = ON_LINE_MM
) -> tuple[Ints, Floats, Floats]:
    """The same as columns: index of the polygon, u0 and u1 of each run, by polygon and then u0."""
    rings, polygon_of = shapely.get_rings(np.array(polygons, dtype=np.object_), return_index=True)
    corners, ring_of = shapely.get_coordinates(rings, return_index=True)
    owner = polygon_of[ring_of]
    u, on = corners[:, 0], np.abs(corners[:, 1] - lines[owner]) <= within_mm
    begins = np.flatnonzero(on[:-1] & on[1:] & (ring_of[:-1] == ring_of[1:]) & (u[:-1] != u[1:]))
    low, high = np.minimum(u[begins], u[begins + 1]), np.maximum(u[begins], u[begins + 1])
    order = np.lexsort((low, owner[begins]))
    owner, low, high = owner[begins][order], low[order], high[order]
    apart = owner * (np.ptp(u) + 2.0 * within_mm + 1.0) if len(u) else 0.0  # one long line
    reached = np.maximum.accumulate(high + apart)
    is_first = np.ones(len(low), np.bool_)
    is_first[1:] = (low + apart)[1:] - reached[:-1] > within_mm
    first = np.flatnonzero(is_first)
    if len(first) == len(low):
        return owner, low, high
    return owner[first], low[first], np.maximum.reduceat(high, first)


def joined(runs: Sequence[Run], gap: float) -> list[Run]:
    """Runs by where they begin, those no farther apart than a gap made one."""
    found: list[Run] = []
    for low, high in sorted(runs):
        if found and low - found[-1][1] <= gap:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found
