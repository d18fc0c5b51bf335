"""Surveys that no room can have, refused in words a tired person understands."""

from itertools import combinations

from shapely import LineString, Polygon

from plankwright.errors import RoomError
from plankwright.model.survey import Distance, Survey
from plankwright.survey.blunder import predict
from plankwright.survey.contradictions import Contradiction, angle_gap_deg, contradictions
from plankwright.survey.network import Length
from plankwright.survey.shape import Shape
from plankwright.units import Unit, format_length


def refuse_impossible(survey: Survey, shape: Shape, unit: Unit) -> None:
    """Refuse lengths that no room can have.

    Raises
    ------
    RoomError
        with the lengths that cannot be together and what to do.
    """
    found = contradictions(survey)
    if found:
        raise _impossible(found[0], unit)
    ring = Polygon(shape.adjusted.xy[: len(survey.corners)])
    if shape.crossed or not ring.is_valid:
        walls = _crossing(survey, shape)
        raise RoomError(
            f"with these lengths the walls cross{walls}: they do not close to a room",
            where="room",
            remedy="Check the order of the corners, then measure these walls again.",
        )


def _impossible(found: Contradiction, unit: Unit) -> RoomError:
    distance = found.distance
    steps = [f"{a}-{b}" for a, b in zip(found.way, found.way[1:], strict=False)]
    written = format_length(distance.length_mm, unit)
    round_words = format_length(found.way_mm, unit)
    hint = _unit_hint(distance.length_mm, found.way_mm, unit)
    ways = ", ".join(steps)
    return RoomError(
        f"{distance.name} cannot be {written}: the way round by {ways} is only {round_words}",
        where="room",
        value=written,
        remedy=f"Measure {distance.name} again; if it is right, one of {ways} is too short.{hint}",
    )


def refuse_angles(survey: Survey) -> None:
    """Refuse believed angles that do not add up to a room.

    Raises
    ------
    RoomError
        with the angles and their sum.
    """
    if angle_gap_deg(survey) == 0.0:
        return
    n = len(survey.corners)
    told = ", ".join(f"{angle.corner} {angle.degrees:g}" for angle in survey.angles)
    raise RoomError(
        f"no room has these angles: {n} corners make {180 * (n - 2)} degrees together",
        where="room.angles",
        value=told,
        remedy="Write the corners you are not sure of as unknown; an outside corner has 270.",
    )


def refuse_ties(survey: Survey, corners: Shape, unit: Unit) -> None:
    """Refuse distances to a point that cannot meet, given the corners' shape alone.

    Raises
    ------
    RoomError
        with the two distances and how far apart their corners are.
    """
    for point in survey.points:
        ties = [d for d in survey.distances if point in d.pair]
        for first, second in combinations(ties, 2):
            ends = [(set(tie.pair) - {point}).pop() for tie in (first, second)]
            if ends[0] != ends[1] and set(ends) <= set(survey.corners):
                _refuse_pair(survey, corners, point, (first, second), (ends[0], ends[1]), unit)


def _refuse_pair(
    survey: Survey,
    corners: Shape,
    point: str,
    ties: tuple[Distance, Distance],
    ends: tuple[str, str],
    unit: Unit,
) -> None:
    apart_mm, sd_mm = predict(corners.adjusted, Length(*ends, 1.0, 1.0))
    slack_mm = 4.0 * (sd_mm + sum(survey.sd_of_mm(tie) for tie in ties))
    a, b = ties[0].length_mm, ties[1].length_mm
    if abs(a - b) - slack_mm <= apart_mm <= a + b + slack_mm:
        return
    way = "short" if apart_mm > a + b else "different"
    raise RoomError(
        f"{point} cannot be {format_length(a, unit)} from {ends[0]} and {format_length(b, unit)} "
        f"from {ends[1]}: these corners are {format_length(apart_mm, unit)} apart",
        where=f"room.ties.{point}",
        remedy=f"Measure both again: they are too {way}.",
    )


def _unit_hint(length_mm: float, way_mm: float, unit: Unit) -> str:
    """A number that only fits in another unit was probably written in it."""
    if unit == "m" and 0.3 * way_mm < 0.3048 * length_mm <= way_mm:
        return " Was it measured in feet?"
    return " Was it measured in another unit?" if length_mm > 3.0 * way_mm else ""


def _crossing(survey: Survey, shape: Shape) -> str:
    """``": A-B and C-D"`` for the first two walls that cross."""
    xy = dict(zip(survey.corners, shape.adjusted.xy, strict=False))
    walls = list(survey.walls())
    for i, (a, b) in enumerate(walls):
        for c, d in walls[i + 1 :]:
            apart = len({a, b, c, d}) == 4
            if apart and LineString([xy[a], xy[b]]).crosses(LineString([xy[c], xy[d]])):
                return f" ({a}-{b} and {c}-{d})"
    return ""
