"""Row direction, start wall and start line: the frame in which a floor is cut into rows."""

import itertools
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from shapely import MultiPolygon

from plankwright.geometry.floor import Floor
from plankwright.geometry.frame import Floats, Frame
from plankwright.geometry.slivers import sliver_length_at
from plankwright.geometry.start_line import (
    TIP_MM,
    SideEdges,
    candidates,
    further_candidates,
    least_partials,
    likely_slivers,
    side_edges,
    wasted_areas,
)
from plankwright.geometry.walls import Wall, wall_of, walls
from plankwright.model.board import Board, Laid
from plankwright.model.plan import Laying
from plankwright.model.room import Point, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.handedness import choose_direction

PARALLEL_DEG = 5.0
ACROSS_DEG = 80.0
NOISE_MM = 1e-6
THOROUGH_LOOKS = 60  # the same where plans are compared
MOST_LOOKS = 200  # where an offset that likely leaves little more than the best is still unseen
LITTLE_MORE = 1.2
WIDE_SHARE = 1.0 / 3.0  # of a board: an outer row this wide looks like one
SPARE_BOARDS = 1.0  # that ends and saw cuts take beyond area and partial rows, at the least
LOOKS = 24  # offsets that are cut into rows to measure their slivers, at most
SAME_LINE_MM = 1.0


@dataclass(frozen=True, slots=True)
class Rowing:
    """How a floor will be cut into rows: its laying, and the frame that goes with it."""

    laying: Laying
    frame: Frame


def choose_rows(floor: Floor, room: Room, board: Board, rules: Rules, wishes: Wishes) -> Rowing:
    """Direction along the longest wall unless wished otherwise, and row lines clear of slivers.

    Raises
    ------
    InputError : the wished laying direction is impossible for the lock.
    RoomError : a wished wall does not exist.
    """
    laid = choose_direction(board, wishes.laid)
    angle = row_angle(room, laid, wishes)
    frame = Frame(angle, laid)
    start = start_line(floor, frame, board, rules, wishes.first_row_mm)
    return Rowing(Laying(angle, laid, start_wall(room, frame), start), frame)


def row_angle(room: Room, laid: Laid, wishes: Wishes) -> float:
    """Direction of u [degrees] from the wishes or from the longest wall."""
    if wishes.row_angle_deg is not None:
        return wishes.row_angle_deg % 360.0
    name = wishes.start_wall or wishes.row_wall
    wall = wall_of(room, name) if name else walls(room)[0]
    return _along(wall, laid)


def _along(wall: Wall, laid: Laid) -> float:
    """Direction of u for a start wall: its inward normal is v."""
    quarter = 90.0 if laid == "left-to-right" else -90.0
    return round((wall.inward_deg + quarter) % 360.0, 9) % 360.0


def start_wall(room: Room, frame: Frame) -> str:
    """The wall row 1 lies along: the longest of those at the least v that face along v."""
    v_deg = frame.row_angle_deg + (90.0 if frame.laid == "right-to-left" else -90.0)
    # a wall of small jogs may have its longest edge across it, and that one names it
    named = [wall for wall in walls(room) if _apart(_edge_inward(room, wall), v_deg) < ACROSS_DEG]
    facing = [wall for wall in named if _apart(wall.inward_deg, v_deg) <= PARALLEL_DEG]
    if not facing:
        facing = sorted(named, key=lambda wall: _apart(wall.inward_deg, v_deg))[:1]
    away = math.radians(v_deg)
    depth = {wall.edge.name: round(_depth(wall.edge.start, away), 3) for wall in facing}
    nearest = min(depth.values())
    front = [wall for wall in facing if depth[wall.edge.name] <= nearest + 100.0]
    return front[0].edge.name


def _edge_inward(room: Room, wall: Wall) -> float:
    return wall_of(room, wall.edge.name).inward_deg


def _depth(corner: Point, direction: float) -> float:
    return corner[0] * math.cos(direction) + corner[1] * math.sin(direction)


def _apart(a_deg: float, b_deg: float) -> float:
    return abs((a_deg - b_deg + 180.0) % 360.0 - 180.0)


def start_line(
    floor: Floor, frame: Frame, board: Board, rules: Rules, first_row_mm: float | None
) -> float:
    """v of row 1's wall side as if it were a full board [mm].

    Among the row lines with the least length of sliver: the fewest packs as far as can be told
    beforehand, then outer rows of a third of a board or more, then the fewest boards lost beside
    walls, then row 1 whole if that can be, else the widest outer rows. A wished first row is taken
    as it is.
    """
    plan_floor = frame.to_plan_grid(floor.parts)
    if plan_floor.is_empty:
        return 0.0
    lowest = float(plan_floor.bounds[1])
    if first_row_mm is not None:
        return round(lowest + min(first_row_mm, board.width_mm) - board.width_mm, 4)
    tried = _Tried(plan_floor, board, rules)
    return tried.start(tried.best(range(len(tried.lost))))


def start_lines(floor: Floor, frame: Frame, board: Board, rules: Rules) -> list[float]:
    """Start lines worth comparing [mm], none with a sliver that another one avoids.

    The usual one first (:func:`start_line`); then those with the fewest boards lost beside walls,
    with row 1 whole, with the widest narrowest partial row and with the two outer rows most alike,
    where they are others.
    """
    plan_floor = frame.to_plan_grid(floor.parts)
    if plan_floor.is_empty:
        return []
    tried = _Tried(plan_floor, board, rules)
    every = range(len(tried.lost))
    orders: tuple[Callable[[int], tuple[float, ...]], ...] = (
        lambda i: (i,),
        lambda i: (tried.lost[i], -tried.least[i], i),
        lambda i: (not tried.whole[i], tried.lost[i], i),
        lambda i: (-tried.least[i], tried.lost[i], i),
        lambda i: (-tried.outer[i], tried.lost[i], i),
    )
    found: list[float] = []
    tried.look_on(tried.best(every, THOROUGH_LOOKS))
    sequences = [sorted(every, key=order) for order in orders]
    for sequence in sequences:  # first look at all, so that none is taken that a later one beats
        tried.best(sequence)
    for sequence in sequences:
        start = tried.start(tried.best(sequence))
        if all(abs(start - other) > SAME_LINE_MM for other in found):
            found.append(start)
    return found


class _Tried:
    """Offsets of the row lines at which something changes, the most promising first.

    ``least`` is the narrowest partial row beside a wall, ``outer`` the narrower of the two outer
    rows, ``lost`` the boards lost beside walls.
    """

    def __init__(self, plan_floor: MultiPolygon, board: Board, rules: Rules) -> None:
        self._floor, self._width = plan_floor, board.width_mm
        self._lowest = float(plan_floor.bounds[1])
        self._narrowest = min(rules.narrowest_row_mm, self._width)
        edges = side_edges(plan_floor)
        offsets = np.array(candidates(edges, self._width, self._narrowest, self._lowest))
        slivers = self._likely_slivers(edges, offsets)
        if slivers.min() > 0.0:
            more = {*offsets.tolist(), *further_candidates(edges, self._width)}
            offsets = np.array(sorted(more))
            slivers = self._likely_slivers(edges, offsets)
        highest = float(plan_floor.bounds[3])
        outer = np.round(_least_partial(self._lowest, highest, self._width, offsets), 3)
        whole = np.isclose(np.mod(self._lowest - offsets + 1e-6, self._width), 0.0, atol=1e-3)
        lost = np.round(wasted_areas(edges, self._width, offsets) / board.area_mm2 + NOISE_MM)
        boards = plan_floor.area / board.area_mm2 + lost + SPARE_BOARDS
        packs = np.ceil(boards / board.per_pack)
        wide = np.minimum(outer, np.round(self._width * WIDE_SHARE))
        order = np.lexsort((-outer, ~whole, lost, -wide, packs, slivers))
        self._offsets, self.outer = offsets[order], outer[order]
        self.whole, self.lost = whole[order], lost[order]
        self.least = np.round(least_partials(edges, self._width, self._offsets), 3)

        self._likely = slivers[order]
        self._slivers: dict[int, float] = {}

    def _likely_slivers(self, edges: SideEdges, offsets: Floats) -> Floats:
        """To the millimeter: half of one is no tie that the order of adding up may decide."""
        likely = likely_slivers(edges, self._width, self._narrowest, offsets)
        return np.asarray(np.round(likely + NOISE_MM))

    def best(self, order: Iterable[int], looks: int = LOOKS) -> int:
        """The first offset of an order with the least length of sliver that was found so far.

        At most ``looks`` of them are looked at; no offset without any sliver is passed by.
        """
        looked_at = []
        for index in itertools.islice(order, looks):
            looked_at.append(index)
            if self._sliver(index) == 0.0:
                return index
        least = min(self._slivers.values())
        clear = [index for index in looked_at if self._slivers[index] == least]
        return (clear or [index for index in self._slivers if self._slivers[index] == least])[0]

    def look_on(self, best: int) -> None:
        """Look at offsets beyond the first, as long as they may be better than the best so far."""
        least = self._slivers[best]
        for index in range(min(len(self._likely), MOST_LOOKS)):
            if least == 0.0 or self._likely[index] > LITTLE_MORE * least + TIP_MM:
                break
            least = min(least, self._sliver(index))

    def _sliver(self, index: int) -> float:
        """Length of sliver at an offset [mm], measured once."""
        if index not in self._slivers:
            length = sliver_length_at(self._floor, self._width, self._narrowest, self.start(index))
            self._slivers[index] = round(length)
        return self._slivers[index]

    def start(self, index: int) -> float:
        """The start line for an offset [mm]."""
        rest = (self._lowest - float(self._offsets[index]) + 1e-6) % self._width
        return round(self._lowest - (rest if rest > 2e-3 else 0.0), 4)


def _least_partial(low: float, high: float, width: float, offsets: Floats) -> Floats:
    """The narrower of the first and last row for each offset [mm]; a whole row counts full."""
    first = width - np.mod(low - offsets, width)
    last = np.mod(high - offsets - 1e-6, width)
    smaller: Floats = np.minimum(first, last)
    return smaller
