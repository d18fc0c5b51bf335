"""Strips cut from rolls: direction, start and joints for the fewest rolls, or the least tape."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from plankwright.buying.strips import StripPlan, lay_strips
from plankwright.model.roll import Sheeting
from plankwright.optimize.packing import pack
from plankwright.optimize.pattern_program import Bar
from plankwright.units import SAME_MM


@dataclass(frozen=True, slots=True)
class Part:
    """A strip, or a part of one that is joined to the next with an end lap.

    Parameters
    ----------
    strip : number of its strip.
    length_mm : to be cut, end laps included.
    """

    strip: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class RollPlan:
    """A strip plan with what is cut from which roll.

    Parameters
    ----------
    plan : the strips.
    rolls : for each roll the parts that are cut from it.
    seam_mm : all seams, sides and ends.
    end_joints : number of end joints.
    least_rolls : no cutting of these parts takes fewer rolls.
    """

    plan: StripPlan
    rolls: tuple[tuple[Part, ...], ...]
    seam_mm: float
    end_joints: int
    least_rolls: int


def plan_rolls(floor: BaseGeometry, sheeting: Sheeting, angles_deg: Sequence[float]) -> RollPlan:
    """The best of the given directions, from either edge, whole or joined strips.

    Fewest rolls first, then shortest seam; the other way round when that is the aim. Ties go to
    the direction named first.
    """
    ways = [
        way
        for angle in angles_deg
        for from_far in (False, True)
        for way in _ways(lay_strips(floor, sheeting, angle, from_far=from_far), sheeting)
    ]

    def key(way: RollPlan) -> tuple[float, ...]:
        seam, rolls = round(way.seam_mm, 1), len(way.rolls)
        order = (rolls, seam) if sheeting.aim == "fewest rolls" else (seam, rolls)
        return *order, len(way.plan.strips)

    return min(ways, key=key)


def _ways(plan: StripPlan, sheeting: Sheeting) -> list[RollPlan]:
    whole = _whole(plan, sheeting)
    if not sheeting.joined or len(whole.rolls) == 1:
        return [whole]
    return [whole, _joined(plan, sheeting)]


def _whole(plan: StripPlan, sheeting: Sheeting) -> RollPlan:
    """Strips in one part, or in as few as the roll's length allows, packed into rolls."""
    parts = [part for strip in plan.strips for part in _split(strip.number, strip.length_mm,
                                                              sheeting)]  # fmt: skip
    lengths = [_tenths_up(part.length_mm) for part in parts]
    packing = pack(lengths, [Bar(_tenths_down(sheeting.roll.length_mm))])
    waiting: dict[int, list[Part]] = {}
    for part, length in zip(parts, lengths, strict=True):
        waiting.setdefault(length, []).append(part)
    rolls = tuple(tuple(waiting[n].pop(0) for n in cut.pieces) for cut in packing.cuts)
    return _made(plan, rolls, sheeting, packing.bound)


def _split(strip: int, length_mm: float, sheeting: Sheeting) -> list[Part]:
    roll, lap = sheeting.roll.length_mm, sheeting.end_lap_mm
    parts: list[Part] = []
    left = length_mm
    while left > roll + SAME_MM:
        take = min(roll, max(left - sheeting.shortest_mm + lap, roll / 2.0))
        parts.append(Part(strip, take))
        left -= take - lap
    return [*parts, Part(strip, left)]


def _joined(plan: StripPlan, sheeting: Sheeting) -> RollPlan:
    """Roll after roll to its end, strips pieced together where one ends."""
    rolls: list[list[Part]] = [[]]
    room = sheeting.roll.length_mm
    for strip in plan.strips:
        left = strip.length_mm
        while left > room + SAME_MM:
            take = min(room, left - sheeting.shortest_mm + sheeting.end_lap_mm)
            if take >= max(sheeting.shortest_mm, sheeting.end_lap_mm + 1.0):
                rolls[-1].append(Part(strip.number, take))
                left -= take - sheeting.end_lap_mm
            rolls.append([])
            room = sheeting.roll.length_mm
        rolls[-1].append(Part(strip.number, left))
        room -= left
    kept = tuple(tuple(roll) for roll in rolls if roll)
    total = sum(part.length_mm for roll in kept for part in roll)
    least = math.ceil(total / sheeting.roll.length_mm - SAME_MM)
    return _made(plan, kept, sheeting, least)


def _made(
    plan: StripPlan, rolls: tuple[tuple[Part, ...], ...], sheeting: Sheeting, least: int
) -> RollPlan:
    joints = sum(map(len, rolls)) - len(plan.strips)
    seam = plan.side_seam_mm + joints * sheeting.roll.width_mm
    return RollPlan(plan, rolls, seam, joints, least)


def _tenths_up(mm: float) -> int:
    return math.ceil(mm * 10.0 - 1e-4)


def _tenths_down(mm: float) -> int:
    return math.floor(mm * 10.0 + 1e-4)
