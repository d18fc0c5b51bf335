"""A room's survey as a network: what was measured, what is believed and what must be assumed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from plankwright.model.survey import BelievedAngle, Survey
from plankwright.survey.equations import Floats
from plankwright.survey.network import Length, Network, Observation, Point, Reach, Turn

ASSUMED_SD_DEG = 5.0  # a corner nobody said anything about: common practice builds near to square
GUESSED_SD_SHARE = 0.5  # a wall nobody measured: its length is a guess


@dataclass(frozen=True, slots=True)
class RoomNetwork:
    """The observations of a room, in this order: measured, believed, assumed.

    Parameters
    ----------
    network : with rough coordinates.
    measured : how many lengths were measured (walls, diagonals, ties, distances from walls).
    believed : how many angles are believed.
    assumed_corners : corners whose angle had to be assumed.
    guessed_walls : walls whose length had to be guessed; the room is not known then.
    """

    network: Network
    measured: int
    believed: int
    assumed_corners: tuple[str, ...] = ()
    guessed_walls: tuple[tuple[str, str], ...] = ()


def room_network(
    survey: Survey,
    points: Mapping[str, Point],
    *,
    assumed_corners: Sequence[str] = (),
    guessed_walls: Sequence[tuple[str, str]] = (),
) -> RoomNetwork:
    """The network of a survey at rough coordinates.

    Of a believed or assumed angle that may mean two senses, the one nearer to the rough shape is
    taken.
    """
    measured = _measured(survey)
    believed = [_believed(survey, points, angle) for angle in survey.angles]
    assumed: list[Observation] = [_assumed(survey, points, c) for c in assumed_corners]
    assumed += [_guessed(points, wall) for wall in guessed_walls]
    return RoomNetwork(
        network=Network(points, (*measured, *believed, *assumed)),
        measured=len(measured),
        believed=len(believed),
        assumed_corners=tuple(assumed_corners),
        guessed_walls=tuple(guessed_walls),
    )


def corner_angle_deg(survey: Survey, points: Mapping[str, Point], corner: str) -> float:
    """The angle [deg] inside the room at a corner, from 0 to 360."""
    before, after = survey.neighbors(corner)
    if survey.clockwise:
        before, after = after, before
    at, start, end = (np.array(points[name]) for name in (corner, before, after))
    turned = _azimuth_deg(end - at) - _azimuth_deg(start - at)
    return turned % 360.0


def _measured(survey: Survey) -> list[Observation]:
    side = -1.0 if survey.clockwise else 1.0
    lengths: list[Observation] = [
        Length(d.start, d.end, d.length_mm, survey.sd_of_mm(d)) for d in survey.distances
    ]
    order = dict.fromkeys(survey.walls(), 1.0)
    for tie in survey.wall_distances:
        along = side * order.get((tie.start, tie.end), -1.0)
        lengths.append(
            Reach(tie.point, tie.start, tie.end, along * tie.distance_mm, survey.sd_of_mm(tie))
        )
    return lengths


def _believed(survey: Survey, points: Mapping[str, Point], angle: BelievedAngle) -> Turn:
    rough = corner_angle_deg(survey, points, angle.corner)
    meant = min(survey.senses(angle), key=lambda sense: abs(sense - rough))
    return _turn(survey, angle.corner, meant, angle.sd_deg)


def _assumed(survey: Survey, points: Mapping[str, Point], corner: str) -> Turn:
    rough = corner_angle_deg(survey, points, corner)
    eighths = min(max(round(rough / 45.0), 1), 7)
    return _turn(survey, corner, 45.0 * eighths, ASSUMED_SD_DEG)


def _turn(survey: Survey, corner: str, degrees: float, sd_deg: float) -> Turn:
    before, after = survey.neighbors(corner)
    if survey.clockwise:
        before, after = after, before
    return Turn(corner, before, after, degrees, sd_deg)


def _guessed(points: Mapping[str, Point], wall: tuple[str, str]) -> Length:
    start, end = (np.array(points[name]) for name in wall)
    length_mm = max(float(np.hypot(*(end - start))), 100.0)
    return Length(*wall, length_mm, GUESSED_SD_SHARE * length_mm)


def _azimuth_deg(along: Floats) -> float:
    return float(np.degrees(np.arctan2(along[0], along[1])))
