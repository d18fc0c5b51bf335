"""The shape that fits a survey best, and the other one that fits as well, if there is one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import Point, Polygon

from plankwright.model.survey import Survey
from plankwright.survey.adjust import Adjustment, adjust, judge_at, moved_to, settle
from plankwright.survey.equations import Floats
from plankwright.survey.network import Point as Place
from plankwright.survey.room_network import RoomNetwork, room_network
from plankwright.survey.sketch import interior_angles_deg, oddness, sketch

MOST_SKETCHES = 12
SKETCH_SLACK = 40.0  # sketches worse than the best by more than this are not tried
SAME_SHAPE_MM = 30.0  # shapes whose distances all agree so far are one shape
RIVAL_MISFIT = 16.0  # chi-square of another shape not worse than this may be the true one
FLEXING_DEG = 1e-6
ODD_ASSUMED = 2.0  # an assumed corner that is not square
DIGITS = 5  # of a coordinate in millimeters: the same on every processor


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """An adjusted room.

    Parameters
    ----------
    adjusted : in the room's axes: first corner at the origin, first wall along x.
    room : the network behind it, with what had to be assumed.
    crossed : walls cross: the lengths cannot be those of a room in this order of corners.
    odd : how unlike a usual room it is, see :func:`plankwright.survey.sketch.oddness`.
    rival : coordinates (n, 2) of another shape that fits as well, or None.
    """

    adjusted: Adjustment
    room: RoomNetwork
    crossed: bool
    odd: float
    rival: Floats | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Candidate:
    xy: Floats
    room: RoomNetwork
    misfit: float
    crossed: bool
    outside: int  # how many points lie outside the room
    odd: float  # how unlike a usual room: the tie-breaker

    @property
    def rank(self) -> tuple[bool, float]:
        return self.crossed, self.misfit + RIVAL_MISFIT * self.outside + self.odd


def find_shape(survey: Survey) -> Shape:
    """The adjusted shape of a room from its lengths and beliefs alone."""
    sketches = sketch(survey, MOST_SKETCHES)
    limit = sketches[0][1] + SKETCH_SLACK
    assumed, guessed = _needed(survey, sketches[0][0])
    candidates = [
        _settle(survey, xy, assumed, guessed) for xy, penalty in sketches if penalty <= limit
    ]
    candidates.sort(key=lambda candidate: candidate.rank)
    return _shape(candidates)


def adjust_from(survey: Survey, xy: Floats) -> Shape:
    """The adjusted shape near given coordinates (n, 2): no other shapes are looked for."""
    assumed, guessed = _needed(survey, xy)
    return _shape([_settle(survey, xy, assumed, guessed)])


def named(survey: Survey, xy: Floats) -> dict[str, Place]:
    """Coordinates (n, 2) by the names of corners and points."""
    names = (*survey.corners, *survey.points)
    return {name: (float(x), float(y)) for name, (x, y) in zip(names, xy, strict=True)}


def to_room_axes(xy: Floats) -> Floats:
    """First corner at the origin, second along x."""
    moved: Floats = xy - xy[0]
    x, y = moved[1]
    length = float(np.hypot(x, y))
    if length == 0.0:
        return moved
    cos, sin = x / length, y / length
    return np.asarray(moved @ np.array([[cos, -sin], [sin, cos]]))


def _shape(candidates: Sequence[_Candidate]) -> Shape:
    best = candidates[0]
    # Settled in the room's own axes first: the corrections of a free network turn it by a hair.
    network = moved_to(best.room.network, to_room_axes(best.xy))
    adjusted = adjust(moved_to(network, to_room_axes(settle(network)[0])))
    # Processors add in other orders: a free network then ends up elsewhere by a ten-thousandth.
    settled = to_room_axes(adjusted.xy).round(DIGITS)
    rival = next((c for c in candidates[1:] if _is_rival(c, best)), None)
    return Shape(
        adjusted=replace(adjusted, xy=settled),
        room=best.room,
        crossed=best.crossed,
        odd=best.odd,
        rival=None if rival is None else to_room_axes(rival.xy),
    )


def _is_rival(other: _Candidate, best: _Candidate) -> bool:
    if other.crossed or other.misfit > best.misfit + RIVAL_MISFIT:
        return False
    if other.outside > best.outside:
        return False
    if other.room.assumed_corners and other.odd > best.odd + ODD_ASSUMED:
        return False  # square corners were assumed already, and that is said
    return float(np.abs(_distances(other.xy) - _distances(best.xy)).max()) > SAME_SHAPE_MM


def _settle(
    survey: Survey,
    xy: Floats,
    assumed: Sequence[str],
    guessed: Sequence[tuple[str, str]],
) -> _Candidate:
    room = room_network(survey, named(survey, xy), assumed_corners=assumed, guessed_walls=guessed)
    settled, misfit = settle(room.network)
    corners = settled[: len(survey.corners)]
    return _Candidate(
        xy=settled,
        room=room,
        misfit=misfit,
        crossed=_is_crossed(survey, corners),
        outside=_outside(corners, settled[len(corners) :]),
        odd=_oddness(survey, settled, assumed),
    )


def _outside(corners: Floats, points: Floats) -> int:
    if not len(points):
        return 0
    room = Polygon(corners)
    return 0 if not room.is_valid else sum(not room.buffer(50.0).covers(Point(p)) for p in points)


def _needed(survey: Survey, xy: Floats) -> tuple[list[str], list[tuple[str, str]]]:
    """The corners whose angle, and the walls whose length, must be assumed lest the room flex."""
    corners = _unknown_corners(survey)
    measured = {distance.pair for distance in survey.distances}
    walls = [wall for wall in survey.walls() if frozenset(wall) not in measured]
    points = named(survey, xy)
    whole = room_network(survey, points, assumed_corners=corners, guessed_walls=walls)
    points = named(survey, settle(whole.network)[0])
    adjusted = judge_at(room_network(survey, points).network)
    if len(adjusted.loose) <= 3:
        return [], []
    turning = _flexing_corners(survey, adjusted, corners)
    adjusted = judge_at(room_network(survey, points, assumed_corners=turning).network)
    return (turning, []) if len(adjusted.loose) <= 3 else (turning, walls)


def _unknown_corners(survey: Survey) -> list[str]:
    believed = {angle.corner for angle in survey.angles}
    return [corner for corner in survey.corners if corner not in believed]


def _flexing_corners(survey: Survey, adjusted: Adjustment, unknown: list[str]) -> list[str]:
    """The corners whose angle changes in some motion that no observation notices."""
    here = _angles_deg(survey, adjusted.xy)
    moved = [adjusted.xy + move.reshape(-1, 2) for move in adjusted.loose]
    # Moves of the whole room are among them in some mixture; they turn no corner.
    turned = [np.abs(_angles_deg(survey, xy) - here) > FLEXING_DEG for xy in moved]
    flexing = np.any(turned, axis=0)
    return [c for c in unknown if flexing[survey.corners.index(c)]] or unknown


def _angles_deg(survey: Survey, xy: Floats) -> Floats:
    rings = xy[None, : len(survey.corners)]
    return np.asarray(interior_angles_deg(rings, clockwise=survey.clockwise)[0])


def _is_crossed(survey: Survey, corners: Floats) -> bool:
    ring = Polygon(corners)
    return not ring.is_valid or ring.exterior.is_ccw == survey.clockwise


def _oddness(survey: Survey, xy: Floats, assumed: Sequence[str]) -> float:
    angles = _angles_deg(survey, xy)
    skew = [angles[survey.corners.index(corner)] % 90.0 for corner in assumed]
    askew = sum(20.0 < s < 70.0 for s in skew)
    odd: float = oddness(angles[None])[0] + ODD_ASSUMED * askew
    return odd


def _distances(xy: Floats) -> Floats:
    return np.asarray(np.linalg.norm(xy[:, None] - xy[None, :], axis=2))
