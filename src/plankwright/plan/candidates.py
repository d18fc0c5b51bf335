"""Candidates: the ways rows could run, and where row 1 could lie, before anything is planned.

Rows run along a wall, along the mean of two facing walls that are not parallel, at 45 degrees to
the longest wall, or at an angle that was wished. For each of these the start lines are those of
:func:`plankwright.plan.layout.start_lines`: one offset for the whole floor, so that walls, hearths,
doorways and closets are kept clear of slivers at once.

A direction and its opposite (rows from the other wall) share their row lines; which of the two
walls is the start wall is decided by what can be laid, see ``application/choices.py``.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely import LineString

from plankwright.geometry.floor import Floor
from plankwright.geometry.frame import Frame
from plankwright.geometry.walls import Wall, wall_of, walls
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.handedness import choose_direction
from plankwright.plan.layout import row_angle, start_lines

Course = Literal["wished", "along a wall", "between two walls", "diagonal"]

LEAST_WALL_MM = 600.0  # nobody aligns a floor to less
LEAST_SHARE = 0.2  # of the longest wall
SAME_DEG = 0.1  # 7 mm over 4 m: walls nearer than this to parallel count as such
CROOKED_DEG = 5.0  # facing walls further off are not meant to be parallel
LEAST_FIRST_ROW_MM = 5.0
MOST_COURSES = 6


@dataclass(frozen=True, slots=True)
class Direction:
    """A way for rows to run.

    Parameters
    ----------
    angle_deg : of u in room coordinates; v points into the room from the first wall.
    course : what the rows follow.
    along : the wall or walls they follow.
    """

    angle_deg: float
    course: Course
    along: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Candidate:
    """A direction with a start line: wishes that the planner turns into one plan.

    ``first_row_mm`` is the width of row 1 where it is widest.
    """

    direction: Direction
    first_row_mm: float
    wishes: Wishes


def directions(room: Room, board: Board, wishes: Wishes) -> list[Direction]:
    """The ways for rows to run, the usual one first; only the wished one where one is wished."""
    laid = choose_direction(board, wishes.laid)
    quarter = 90.0 if laid == "left-to-right" else -90.0
    if wishes.row_angle_deg is not None:
        return [Direction(wishes.row_angle_deg % 360.0, "wished")]
    name = wishes.start_wall or wishes.row_wall
    if name is not None:
        return [
            Direction(row_angle(room, laid, wishes), "wished", (wall_of(room, name).edge.name,))
        ]
    found = [
        Direction((inward + quarter) % 360.0, course, along)
        for inward, course, along in _inward_angles(room)
    ]
    return [direction for i, direction in enumerate(found) if _is_new(direction, found[:i])]


def candidates(
    room: Room, floor: Floor, board: Board, rules: Rules, wishes: Wishes
) -> list[Candidate]:
    """Every direction with its start lines, the usual ones first.

    Raises
    ------
    InputError : the wished laying direction is impossible for the lock.
    """
    laid = choose_direction(board, wishes.laid)
    found = []
    for direction in directions(room, board, wishes):
        frame = Frame(direction.angle_deg, laid)
        lowest = float(frame.to_plan_grid(floor.parts).bounds[1])
        for start in start_lines(floor, frame, board, rules):
            first = wishes.first_row_mm or round(start + board.width_mm - lowest, 4)
            if first >= LEAST_FIRST_ROW_MM:
                found.append(Candidate(direction, first, _wishes(wishes, direction, first)))
            if wishes.first_row_mm is not None:
                break
    return found


def from_other_side(candidate: Candidate, floor: Floor, board: Board) -> Candidate:
    """The same row lines, counted from the opposite wall."""
    laid = choose_direction(board, candidate.wishes.laid)
    direction = replace(
        candidate.direction, angle_deg=(candidate.direction.angle_deg + 180.0) % 360.0
    )
    parts = Frame(candidate.direction.angle_deg, laid).to_plan_grid(floor.parts)
    _, low, _, high = parts.bounds
    line = low + candidate.first_row_mm  # the room side of row 1 is a row line
    rest = math.fmod(high - line, board.width_mm)
    first = board.width_mm if rest < LEAST_FIRST_ROW_MM else round(rest, 4)
    return Candidate(direction, first, _wishes(candidate.wishes, direction, first))


def _wishes(wishes: Wishes, direction: Direction, first_row_mm: float) -> Wishes:
    return replace(
        wishes,
        row_angle_deg=direction.angle_deg,
        row_wall=None,
        start_wall=None,
        first_row_mm=first_row_mm,
    )


def _inward_angles(room: Room) -> Iterator[tuple[float, Course, tuple[str, ...]]]:
    """Directions as inward normals: walls, pairs of crooked walls, then the two diagonals."""
    found = walls(room)
    least = max(LEAST_WALL_MM, LEAST_SHARE * found[0].length_mm)
    long = [wall for wall in found if wall.length_mm >= least or wall is found[0]]
    for wall in long[:MOST_COURSES]:
        yield wall.inward_deg, "along a wall", (wall.edge.name,)
    for one, other in crooked_pairs(long):
        mean = one.inward_deg + _turn(other.inward_deg + 180.0 - one.inward_deg) / 2.0
        yield mean, "between two walls", (one.edge.name, other.edge.name)
    for turn in (45.0, -45.0):
        yield found[0].inward_deg + turn, "diagonal", (found[0].edge.name,)


def crooked_pairs(long: Sequence[Wall]) -> list[tuple[Wall, Wall]]:
    """Pairs of facing walls that are meant to be parallel and are not."""
    return [
        (one, other)
        for i, one in enumerate(long)
        for other in long[i + 1 :]
        if SAME_DEG < abs(_turn(other.inward_deg + 180.0 - one.inward_deg)) <= CROOKED_DEG
        and _faces(one, other)
    ]


def _faces(one: Wall, other: Wall) -> bool:
    """Whether a wall lies before the other and both share a part of their length."""
    normal = math.radians(one.inward_deg)
    away = (math.cos(normal), math.sin(normal))
    along = (-away[1], away[0])
    (low, high), (start, end) = (_span(wall, along) for wall in (one, other))
    depth = _span(other, away)[0] - _span(one, away)[1]
    return depth > 0.0 and min(high, end) - max(low, start) > LEAST_WALL_MM


def _span(wall: Wall, way: tuple[float, float]) -> tuple[float, float]:
    edge = LineString([wall.edge.start, wall.edge.end])
    places = [x * way[0] + y * way[1] for x, y in edge.coords]
    return min(places), max(places)


def _is_new(direction: Direction, before: Sequence[Direction]) -> bool:
    """Whether no direction before is the same line, either way along it."""
    return all(
        abs(math.remainder(direction.angle_deg - other.angle_deg, 180.0)) > SAME_DEG
        for other in before
    )


def _turn(angle_deg: float) -> float:
    return math.remainder(angle_deg, 360.0)
