"""Expansion breaks: where a floor is parted so that no part floats farther than it may.

First where the leaflet wants them (every doorway, every neck). Then, as few as satisfy the limits:
cells between openings are joined to parts none of which is too long, with the fewest openings
parted. A cell that is too long by itself is parted across its field, where it is narrowest.

The fewest openings are found by looking, for one opening parted, then two, and so on: as long as a
part is too long, its two outermost cells must come apart, so one of the openings on a way between
them must be parted. Each is tried in turn, so the number is the least there is.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import MultiPolygon, Point, Polygon

from plankwright.geometry.floating import (
    Extent,
    Line,
    chords,
    cut_apart,
    extent_of,
    from_rim_to_rim,
    necks,
    sides_of,
)
from plankwright.model.limits import Limits

EXACT_MM = 0.5  # a run this near to its limit is at it
SPARE_MM = 50.0  # a part is not made just as long as it may be, where that can be helped
PLACES = 24  # of a cut across a field that are compared, at least
MOST_OPENINGS = 400


@dataclass(frozen=True, slots=True)
class Gate:
    """A place where a floor can be parted: an opening or a neck, as a line in plan axes.

    ``wanted``: the leaflet wants a break there. ``is_door``: a doorway, where one is hardly seen.
    ``opening``: its number among the room's openings, from 0.
    """

    line: Line
    is_door: bool = True
    wanted: bool = False
    opening: int | None = None


@dataclass(frozen=True, slots=True)
class Parting:
    """A floor with its breaks.

    Parameters
    ----------
    gates : the openings and necks that are parted, in the order in which they were given.
    field : breaks across a field, as lines in plan axes.
    extents : of the parts that come of it, the longest first.
    """

    gates: tuple[Gate, ...] = ()
    field: tuple[Line, ...] = ()
    extents: tuple[Extent, ...] = ()

    @property
    def count(self) -> int:
        """Number of breaks."""
        return len(self.gates) + len(self.field)


def breaks_needed(run_mm: float, limit_mm: float | None) -> int:
    """The fewest breaks that leave no run longer than its limit; one just as long is allowed.

    >>> [breaks_needed(ft * 304.8, most * 304.8) for ft, most in ((45, 40), (30, 30), (30.5, 27))]
    [1, 0, 1]
    """
    if limit_mm is None:
        return 0
    return max(math.ceil((run_mm - EXACT_MM) / limit_mm) - 1, 0)


def is_at_limit(run_mm: float, limit_mm: float | None) -> bool:
    """Whether a run is just as long as it may be."""
    return limit_mm is not None and abs(run_mm - limit_mm) <= EXACT_MM


def part_floor(floor: MultiPolygon, openings: Sequence[Gate], limits: Limits) -> Parting:
    """Where to part a floor (in plan axes): as few breaks as limits and leaflet ask for.

    Necks are looked for where the leaflet wants breaks in them, or where no openings are known.
    """
    gates = list(openings)
    if limits.in_necks or not openings:
        gates += [
            Gate(line, is_door=False, wanted=limits.in_necks)
            for part in floor.geoms
            for line in necks(part, limits.neck_mm)
            if not any(_same_place(line, gate.line) for gate in openings)
        ]
    field = tuple(_field_breaks(floor, gates, limits))
    cells = cut_apart(floor, [*(gate.line for gate in gates), *field])
    doors = _doors(gates, cells)
    chosen = _fewest(cells, doors, limits)
    parts = _joined(len(cells), [door for door in doors if door.gate not in chosen])
    extents = [extent_of(MultiPolygon([cells[i] for i in part])) for part in parts]
    extents.sort(key=lambda extent: (-extent.along_mm, -extent.across_mm))
    parted = (gates[i] for i in sorted(chosen))
    exact = tuple(replace(gate, line=from_rim_to_rim(floor, gate.line)) for gate in parted)
    return Parting(exact, field, tuple(extents))


@dataclass(frozen=True, slots=True)
class _Door:
    """A gate (by index) and the two cells (by index) on its sides."""

    gate: int
    cells: tuple[int, int]
    cost: tuple[float, ...]
    wanted: bool


def _doors(gates: Sequence[Gate], cells: Sequence[Polygon]) -> list[_Door]:
    found: list[_Door] = []
    for index, gate in enumerate(gates[:MOST_OPENINGS]):
        cost = (float(not gate.is_door), math.dist(*gate.line))
        found += [
            _Door(index, sides, cost, gate.wanted)
            for sides in sides_of(gate.line, cells)
            if sides[0] != sides[1]
        ]
    return found


def _same_place(one: Line, other: Line) -> bool:
    middles = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in (one, other)]
    return math.dist(*middles) < max(math.dist(*one), math.dist(*other)) / 2.0


# --- the fewest openings -----------------------------------------------------------------------


def _fewest(cells: Sequence[Polygon], doors: Sequence[_Door], limits: Limits) -> frozenset[int]:
    """Indices of the gates to part: the fewest, and of those doors first, narrow ones first."""
    wanted = frozenset(door.gate for door in doors if door.wanted)
    costs = {door.gate: door.cost for door in doors}
    for more in range(len(doors) + 1):
        options = set(_partings(cells, doors, limits, wanted, more))
        if options:
            return min(options, key=lambda gates: (_cost(gates, costs), sorted(gates)))
    return frozenset(costs)


def _cost(gates: frozenset[int], costs: dict[int, tuple[float, ...]]) -> tuple[float, ...]:
    return tuple(sum(costs[gate][k] for gate in gates) for k in range(2))


def _partings(
    cells: Sequence[Polygon],
    doors: Sequence[_Door],
    limits: Limits,
    parted: frozenset[int],
    more: int,
    kept: frozenset[int] = frozenset(),
) -> Iterator[frozenset[int]]:
    """Every way of parting at most ``more`` further gates after which no part is too long."""
    open_doors = [door for door in doors if door.gate not in parted]
    ends = _outermost(cells, _joined(len(cells), open_doors), limits)
    if ends is None:
        yield parted
        return
    if more == 0:
        return
    closed: set[int] = set()
    for gate in _way(len(cells), open_doors, ends):
        if gate not in kept:
            yield from _partings(
                cells, doors, limits, parted | {gate}, more - 1, kept | frozenset(closed)
            )
            closed.add(gate)


def _outermost(
    cells: Sequence[Polygon], parts: Sequence[Sequence[int]], limits: Limits
) -> tuple[int, int] | None:
    """Two different cells of one part that lie farther apart than it may float."""
    for part in parts:
        for axis, limit in enumerate((limits.longest_along_mm, limits.longest_across_mm)):
            low = min(part, key=lambda i: cells[i].bounds[axis])
            high = max(part, key=lambda i: cells[i].bounds[axis + 2])
            run = cells[high].bounds[axis + 2] - cells[low].bounds[axis]
            if limit is not None and run > limit + EXACT_MM and low != high:
                return low, high
    return None


def _joined(count: int, doors: Sequence[_Door]) -> list[list[int]]:
    """The parts into which cells hang together, each as a sorted list of cells."""
    neighbors = _neighbors(doors)
    found: list[list[int]] = []
    seen: set[int] = set()
    for cell in range(count):
        if cell in seen:
            continue
        part, waiting = {cell}, [cell]
        while waiting:
            for other, _ in neighbors.get(waiting.pop(), ()):
                if other not in part:
                    part.add(other)
                    waiting.append(other)
        seen |= part
        found.append(sorted(part))
    return found


def _way(count: int, doors: Sequence[_Door], ends: tuple[int, int]) -> list[int]:
    """The gates on a shortest way between two cells."""
    neighbors = _neighbors(doors)
    came: dict[int, tuple[int, int]] = {ends[0]: (-1, -1)}
    waiting = [ends[0]]
    for cell in waiting:
        for other, gate in neighbors.get(cell, ()):
            if other not in came and len(came) <= count:
                came[other] = (cell, gate)
                waiting.append(other)
    found = []
    cell = ends[1]
    while cell != ends[0]:
        cell, gate = came[cell]
        found.append(gate)
    return found


def _neighbors(doors: Sequence[_Door]) -> dict[int, list[tuple[int, int]]]:
    found: dict[int, list[tuple[int, int]]] = {}
    for door in doors:
        one, other = door.cells
        found.setdefault(one, []).append((other, door.gate))
        found.setdefault(other, []).append((one, door.gate))
    return found


# --- across a field ----------------------------------------------------------------------------


def _field_breaks(floor: MultiPolygon, gates: Sequence[Gate], limits: Limits) -> Iterator[Line]:
    """Breaks across cells that are too long by themselves, wherever they are narrowest there."""
    cells = cut_apart(floor, [gate.line for gate in gates])
    for axis, limit in enumerate((limits.longest_along_mm, limits.longest_across_mm)):
        if limit is None:
            continue
        lines = [line for cell in cells for line in _across(cell, floor, axis, limit)]
        yield from lines
        cells = [part for cell in cells for part in cut_apart(cell, lines)]


def _across(cell: Polygon, floor: MultiPolygon, axis: int, limit: float) -> list[Line]:
    """The breaks of one cell across one axis: the fewest, each at the shortest lines."""
    low, high = cell.bounds[axis], cell.bounds[axis + 2]
    needed = breaks_needed(high - low, limit)
    found: list[Line] = []
    before = low
    for number in range(needed, 0, -1):
        # what comes after must fit into as many parts as are left
        first, last = max(high - number * limit, before), min(before + limit, high)
        equal = before + (high - before) / (number + 1)
        at = _narrowest(cell, floor, axis, first, last, equal)
        found.extend(chords(cell, axis, at))
        before = at
    return found


def _narrowest(
    cell: Polygon, floor: MultiPolygon, axis: int, first: float, last: float, middle: float
) -> float:
    """Where a cut runs from wall to wall and is shortest; else the nearest to an equal share."""
    rim = floor.boundary
    spare = min(SPARE_MM, (last - first) / 4.0)
    first, last = first + spare, last - spare
    steps = [first + (last - first) * step / PLACES for step in range(PLACES + 1)]
    places = [middle, *steps] if first <= middle <= last else steps

    def badness(at: float) -> tuple[int, int, float, float]:
        lines = chords(cell, axis, at)
        loose = sum(rim.distance(Point(end)) > EXACT_MM for line in lines for end in line)
        length = sum(math.dist(*line) for line in lines)
        return loose, len(lines) or 99, round(length), abs(at - middle)

    return min(places, key=badness)
