"""Use case: walls that are not parallel, and what can be done about each pair of them."""

import math
from dataclasses import dataclass

from plankwright.geometry.walls import Wall, walls
from plankwright.model.job import Job
from plankwright.model.room import Point
from plankwright.plan.candidates import LEAST_WALL_MM, crooked_pairs
from plankwright.plan.taper import Across, GapRules, TaperWay, taper_ways, way_words
from plankwright.units import Unit, format_length

TOLD_MM = 3.0  # a taper below this is nothing to decide about


@dataclass(frozen=True, slots=True)
class CrookedPair:
    """Two facing walls that are not parallel.

    Parameters
    ----------
    walls : their names, the longer one first.
    across : the room's width between them at both ends of what they share.
    ways : what can be done, see :mod:`plankwright.plan.taper`.
    """

    walls: tuple[str, str]
    across: Across
    ways: tuple[TaperWay, ...]


def crooked_walls(job: Job) -> tuple[CrookedPair, ...]:
    """Every pair of facing walls with a taper worth telling, the longest walls first."""
    rules = job.rules
    gaps = GapRules(rules.gap_mm, rules.least_mm, max(rules.trim_cover_mm, rules.gap_mm))
    long = [wall for wall in walls(job.room) if wall.length_mm >= LEAST_WALL_MM]
    found = []
    for one, other in crooked_pairs(long):
        across = _across(one, other)
        if across.taper_mm >= TOLD_MM:
            ways = taper_ways(across, gaps, job.board.width_mm)
            found.append(CrookedPair((one.edge.name, other.edge.name), across, ways))
    return tuple(found)


def crooked_words(pair: CrookedPair, unit: Unit) -> tuple[str, ...]:
    """What is crooked, then each way in a sentence."""
    one, other = pair.walls
    near, far = sorted((pair.across.near_mm, pair.across.far_mm))
    told = (
        f"Walls {one} and {other} are {format_length(near, unit)} apart at one end and "
        f"{format_length(far, unit)} at the other: {format_length(far - near, unit)} of taper."
    )
    return (told, *(way_words(way, unit) for way in pair.ways))


def _across(one: Wall, other: Wall) -> Across:
    """Widths at both ends of what two facing walls share, square to the mean of both."""
    mean = math.radians(
        one.inward_deg + math.remainder(other.inward_deg + 180.0 - one.inward_deg, 360.0) / 2.0
    )
    away = (math.cos(mean), math.sin(mean))
    along = (-away[1], away[0])
    first, second = (_line(wall, along, away) for wall in (one, other))
    low = max(min(first[0][0], first[1][0]), min(second[0][0], second[1][0]))
    high = min(max(first[0][0], first[1][0]), max(second[0][0], second[1][0]))
    near, far = (_at(second, place) - _at(first, place) for place in (low, high))
    return Across(near, far, high - low)


def _line(wall: Wall, along: Point, away: Point) -> tuple[Point, Point]:
    """A wall's two ends as places along and across."""
    start, end = (
        (x * along[0] + y * along[1], x * away[0] + y * away[1])
        for x, y in (wall.edge.start, wall.edge.end)
    )
    return start, end


def _at(line: tuple[Point, Point], place: float) -> float:
    (u0, v0), (u1, v1) = line
    return v0 + (v1 - v0) * (place - u0) / (u1 - u0)
