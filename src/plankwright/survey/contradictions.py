"""Lengths that no room can have: a way straight across that is longer than a way round."""

import heapq
import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from plankwright.model.survey import Distance, Survey

SLACK_SDS = 4.0


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A length longer than the way round it by other measured lengths.

    Parameters
    ----------
    distance : the length that is too long, or the way round is too short.
    way : the points passed on the way round, both ends included.
    way_mm : how long that is.
    """

    distance: Distance
    way: tuple[str, ...]
    way_mm: float


def contradictions(survey: Survey) -> tuple[Contradiction, ...]:
    """Every measured length that cannot be, those that are out most first."""
    found = list(_find(survey))
    return tuple(sorted(found, key=lambda c: c.way_mm - c.distance.length_mm))


def angle_gap_deg(survey: Survey) -> float:
    """How far the believed angles of all corners miss (n - 2) 180 degrees, beyond what is likely.

    0 when they can close, or when some corner's angle is unknown.
    """
    n = len(survey.corners)
    if len(survey.angles) < n:
        return 0.0
    sums = {0.0}
    for angle in survey.angles:
        sums = {round(total + sense, 3) for total in sums for sense in survey.senses(angle)}
    gap = min(abs(total - 180.0 * (n - 2)) for total in sums)
    likely = 3.0 * math.sqrt(sum(angle.sd_deg**2 for angle in survey.angles)) + 5.0
    return gap if gap > likely else 0.0


def _find(survey: Survey) -> Iterator[Contradiction]:
    for distance in survey.distances:
        others = [d for d in survey.distances if d.pair != distance.pair]
        found = _shortest(distance.start, distance.end, others)
        if found is None:
            continue
        way_mm, way = found
        slack_mm = SLACK_SDS * (survey.sd_of_mm(distance) + survey.tape.sd_of_mm(way_mm))
        if distance.length_mm > way_mm + slack_mm:
            yield Contradiction(distance, way, way_mm)


def _shortest(
    start: str, end: str, distances: list[Distance]
) -> tuple[float, tuple[str, ...]] | None:
    """The shortest way (Dijkstra) and its length, or None."""
    ways: dict[str, list[tuple[str, float]]] = defaultdict(list)
    for d in distances:
        ways[d.start].append((d.end, d.length_mm))
        ways[d.end].append((d.start, d.length_mm))
    waiting: list[tuple[float, tuple[str, ...]]] = [(0.0, (start,))]
    done: set[str] = set()
    while waiting:
        gone_mm, way = heapq.heappop(waiting)
        here = way[-1]
        if here == end:
            return gone_mm, way
        if here in done:
            continue
        done.add(here)
        for there, length_mm in ways[here]:
            if there not in done:
                heapq.heappush(waiting, (gone_mm + length_mm, (*way, there)))
    return None
