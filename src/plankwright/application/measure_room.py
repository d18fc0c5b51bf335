"""Use case: adjust a tape survey, say what to trust and what to measure next."""

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from shapely import Polygon

from plankwright.application.measured_room import (
    Kind,
    MeasuredLength,
    MeasuredPoint,
    MeasuredRoom,
    Status,
)
from plankwright.application.survey_findings import survey_findings
from plankwright.application.survey_refusals import refuse_angles, refuse_impossible, refuse_ties
from plankwright.model.rules import Rules
from plankwright.model.survey import Survey
from plankwright.survey.adjust import Adjustment
from plankwright.survey.blunder import Suspect, detectable, drop_row, find_blunders, predict
from plankwright.survey.bow import bowed_outline
from plankwright.survey.closing import Closing, closing, room_steps
from plankwright.survey.ellipses import point_ellipses, relative_covariance, worst_mm
from plankwright.survey.equations import Floats
from plankwright.survey.network import Length, Reach, describe
from plankwright.survey.next_measurement import propose, tell_apart
from plankwright.survey.shape import Shape, find_shape
from plankwright.survey.squareness import CornerAngle, corner_angles, square_checks, tapers
from plankwright.units import Unit

LEAST_ENOUGH_MM = 1.0


def measure_room(survey: Survey, rules: Rules | None = None, *, unit: Unit = "mm") -> MeasuredRoom:
    """Adjust a survey and judge it.

    Parameters
    ----------
    survey : what was measured and believed.
    rules : gap and trim say how exactly the room must be known.
    unit : the unit in which the person writes and reads.

    Raises
    ------
    RoomError : no room in this order of corners can have these lengths.
    """
    refuse_angles(survey)
    if survey.points:
        refuse_ties(survey, find_shape(_corners_only(survey)), unit)
    shape = find_shape(survey)
    suspects, rest = find_blunders(survey, shape, unit)
    used = _without(survey, suspects)
    refuse_impossible(used, rest, unit)
    enough = enough_mm(rules or Rules())
    room = _measured_room(survey, used, rest, suspects, enough, unit)
    return replace(room, findings=survey_findings(room, rest))


def enough_mm(rules: Rules) -> float:
    """The error [mm] that gap and trim hide: no gap below the leaflet's least one, where that is
    known, no board that touches a wall, and no gap that shows.
    """
    spare = rules.gap_mm - (rules.least_gap_mm or 0.0)
    return max(min(spare, rules.trim_cover_mm - rules.gap_mm), LEAST_ENOUGH_MM)


def _measured_room(
    survey: Survey,
    used: Survey,
    shape: Shape,
    suspects: tuple[Suspect, ...],
    enough: float,
    unit: Unit,
) -> MeasuredRoom:
    adjusted = shape.adjusted
    n = len(survey.corners)
    covariance = relative_covariance(adjusted, n)
    places = _places(survey, adjusted.xy, covariance)
    outline, edge_walls = bowed_outline(survey, adjusted.xy)
    angles = corner_angles(survey, adjusted)
    return MeasuredRoom(
        survey=survey,
        unit=unit,
        status=_status(shape),
        outline=Polygon(outline),
        edge_walls=edge_walls,
        corners=places[:n],
        points=places[n:],
        lengths=_lengths(survey, shape, suspects),
        walls_missing=tuple(_walls_missing(survey, adjusted)),
        angles=angles,
        tapers=tapers(survey, adjusted.xy),
        square_checks=square_checks(survey, adjusted.xy, angles, unit),
        suspects=suspects,
        telling=tell_apart(used, shape),
        proposals=propose(used, shape, enough),
        worst_mm=worst_mm(covariance, n),
        enough_mm=enough,
        closing=_closing(survey, angles),
        s0=adjusted.s0,
        freedom=adjusted.freedom,
        covariance=covariance,
    )


def _corners_only(survey: Survey) -> Survey:
    corners = set(survey.corners)
    kept = tuple(distance for distance in survey.distances if distance.pair <= corners)
    return replace(survey, distances=kept, points=(), wall_distances=())


def _without(survey: Survey, suspects: tuple[Suspect, ...]) -> Survey:
    for suspect in sorted(suspects, key=lambda s: -s.row):
        smaller = drop_row(survey, suspect.row) if suspect.left_out else None
        survey = smaller or survey
    return survey


def _status(shape: Shape) -> Status:
    if shape.room.guessed_walls:
        return "unknown"
    return "assumed" if shape.room.assumed_corners else "measured"


def _places(survey: Survey, xy: Floats, covariance: Floats) -> tuple[MeasuredPoint, ...]:
    names = (*survey.corners, *survey.points)
    return tuple(
        MeasuredPoint(name, float(x), float(y), own)
        for name, (x, y), own in zip(names, xy, point_ellipses(covariance), strict=True)
    )


def _lengths(
    survey: Survey, shape: Shape, suspects: tuple[Suspect, ...]
) -> tuple[MeasuredLength, ...]:
    """Every measurement in the order of the survey, those that were left out as well."""
    out = {suspect.row: suspect for suspect in suspects if suspect.left_out}
    adjusted = shape.adjusted
    sizes = adjusted.standardized()
    unseen = detectable(adjusted, shape.room.measured + shape.room.believed)
    lengths, used_row = [], 0
    for row in range(len(survey.distances) + len(survey.wall_distances)):
        if row in out:
            lengths.append(_left_out(survey, out[row]))
            continue
        observation = adjusted.observations[used_row]
        fits, sd = predict(adjusted, observation)
        lengths.append(
            MeasuredLength(
                name=describe(observation),
                kind=_kind(survey, observation),
                measured_mm=abs(fits - float(adjusted.residuals[used_row])),
                adjusted_mm=abs(fits),
                sd_mm=sd,
                redundancy=float(adjusted.redundancy[used_row]),
                size=float(sizes[used_row]),
                unseen_mm=float(unseen[used_row]),
            )
        )
        used_row += 1
    return tuple(lengths)


def _walls_missing(survey: Survey, adjusted: Adjustment) -> Iterator[MeasuredLength]:
    measured = {distance.pair for distance in survey.distances}
    for start, end in survey.walls():
        if frozenset((start, end)) not in measured:
            length_mm, sd_mm = predict(adjusted, Length(start, end, 1.0, 1.0))
            yield MeasuredLength(
                f"{start}-{end}", "wall", math.nan, length_mm, sd_mm, 0.0, 0.0, math.inf
            )


def _left_out(survey: Survey, suspect: Suspect) -> MeasuredLength:
    names = suspect.name.split("-")
    is_wall = len(names) == 2 and survey.is_wall(*names)
    is_tie = any(point in suspect.name for point in survey.points)
    return MeasuredLength(
        name=suspect.name,
        kind="tie" if is_tie else "wall" if is_wall else "diagonal",
        measured_mm=abs(suspect.written),
        adjusted_mm=abs(suspect.fits),
        sd_mm=suspect.fits_sd,
        redundancy=1.0,
        size=suspect.size,
        unseen_mm=math.nan,
        left_out=True,
    )


def _kind(survey: Survey, observation: object) -> Kind:
    if isinstance(observation, Reach):
        return "tie"
    assert isinstance(observation, Length)
    if not {observation.start, observation.end} <= set(survey.corners):
        return "tie"
    return "wall" if survey.is_wall(observation.start, observation.end) else "diagonal"


def _closing(survey: Survey, angles: tuple[CornerAngle, ...]) -> Closing | None:
    """The walk round the walls as written, at the believed angles."""
    believed = {angle.corner: survey.senses(angle) for angle in survey.angles}
    written = {distance.pair: distance.length_mm for distance in survey.distances}
    walls = [written.get(frozenset(wall)) for wall in survey.walls()]
    known = [wall for wall in walls if wall is not None]
    if len(known) < len(walls) or len(believed) < len(survey.corners):
        return None
    meant = [_nearest(believed[angle.corner], angle.degrees) for angle in angles]
    return closing(room_steps(known, np.roll(meant, -1).tolist()))


def _nearest(senses: tuple[float, ...], degrees: float) -> float:
    return min(senses, key=lambda sense: abs(sense - degrees))
