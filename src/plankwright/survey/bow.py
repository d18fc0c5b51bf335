"""Bowed walls: the outline with the points that a string line gave between two corners."""

from collections.abc import Mapping

import numpy as np

from plankwright.model.survey import StringLine, Survey
from plankwright.survey.equations import Floats

STRAIGHT_MM = 0.5  # a bow smaller than this is not drawn


def bowed_outline(survey: Survey, xy: Floats) -> tuple[Floats, tuple[str, ...]]:
    """The outline (k, 2) [mm] with bow points, and the wall each of its edges belongs to (k,)."""
    lines = {frozenset((line.start, line.end)): line for line in survey.string_lines}
    places = dict(zip(survey.corners, xy, strict=False))
    points: list[Floats] = []
    walls: list[str] = []
    for start, end in survey.walls():
        line = lines.get(frozenset((start, end)))
        between = [] if line is None else _bow(survey, line, places, start)
        points += [places[start], *between]
        walls += [f"{start}-{end}"] * (1 + len(between))
    return np.array(points), tuple(walls)


def bow_of(line: StringLine) -> tuple[tuple[float, float], ...]:
    """Pairs (along_mm, bow_mm) of a string line; positive where the wall leaves the room."""
    return tuple((along, gap - line.block_mm) for along, gap in sorted(line.offsets))


def _bow(
    survey: Survey, line: StringLine, places: Mapping[str, Floats], start: str
) -> list[Floats]:
    """The points between the corners of a wall, in the order of the outline."""
    first, last = places[line.start], places[line.end]
    along = (last - first) / max(float(np.hypot(*(last - first))), 1e-9)
    outward = np.array([along[1], -along[0]])  # right of travel, for an anticlockwise outline
    if (line.start != start) != survey.clockwise:
        outward = -outward
    length = float((last - first) @ along)
    points = [
        np.asarray(first + s * along + bow * outward)
        for s, bow in bow_of(line)
        if abs(bow) >= STRAIGHT_MM and 0.0 < s < length
    ]
    return points if line.start == start else points[::-1]
