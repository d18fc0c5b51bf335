"""How square the room is: corners, tapers between facing walls, and the 3-4-5 check."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from shapely import LineString, Polygon

from plankwright.model.survey import Survey
from plankwright.survey.adjust import Adjustment
from plankwright.survey.blunder import predict
from plankwright.survey.equations import Floats
from plankwright.survey.network import Turn
from plankwright.survey.sketch import interior_angles_deg
from plankwright.units import MM_PER, Unit

NEAR_SQUARE_DEG = 20.0  # further off, a corner is not meant to be square
FACING_DEG = 15.0
LEAST_OVERLAP_MM = 300.0
STEP_MM: dict[Unit, float] = {
    "mm": 100.0, "cm": 100.0, "m": 100.0,
    "in": float(MM_PER["in"]) * 6.0, "ft": float(MM_PER["ft"]) / 2.0,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CornerAngle:
    """The angle at a corner and what it makes over the lengths of its walls.

    Parameters
    ----------
    corner : its name.
    degrees, sd_deg : inside the room.
    meant_deg : 90 or 270 when it is near to square, otherwise the nearest eighth of a turn.
    first_mm, second_mm : how far the far end of the wall before it, and of the wall after it, lies
        off; positive when the corner is wider than meant.
    """

    corner: str
    degrees: float
    sd_deg: float
    meant_deg: float
    first_mm: float
    second_mm: float

    @property
    def off_deg(self) -> float:
        """Angle less what was meant."""
        return self.degrees - self.meant_deg


@dataclass(frozen=True, slots=True)
class Taper:
    """Two facing walls and the room's width between them at both ends of what they share.

    ``near_mm`` is the width toward the first corner of ``wall``, ``far_mm`` toward its second.
    """

    wall: str
    facing: str
    near_mm: float
    far_mm: float
    shared_mm: float

    @property
    def taper_mm(self) -> float:
        """How much wider the room is at the far end."""
        return self.far_mm - self.near_mm


@dataclass(frozen=True, slots=True)
class SquareCheck:
    """The 3-4-5 check at a corner: marks along both walls and the diagonal between them [mm]."""

    corner: str
    toward_before: str
    toward_after: str
    before_mm: float
    after_mm: float
    square_mm: float
    expected_mm: float


def corner_angle(first_mm: float, second_mm: float, across_mm: float) -> float:
    """The angle [deg] between two sides from the length across them (law of cosines).

    >>> round(corner_angle(4200.0, 3600.0, 5545.0), 3)
    90.279
    """
    cosine = (first_mm**2 + second_mm**2 - across_mm**2) / (2.0 * first_mm * second_mm)
    return math.degrees(math.acos(min(max(cosine, -1.0), 1.0)))


def out_of_square_mm(off_deg: float, length_mm: float) -> float:
    """How far the end of a wall lies off, for an angle off by ``off_deg``.

    >>> round(out_of_square_mm(0.279, 3600.0), 1)
    17.5
    """
    return length_mm * math.sin(math.radians(off_deg))


def corner_angles(survey: Survey, adjusted: Adjustment) -> tuple[CornerAngle, ...]:
    """Every corner's angle."""
    n = len(survey.corners)
    ring = adjusted.xy[:n]
    angles = interior_angles_deg(ring[None], clockwise=survey.clockwise)[0]
    walls = np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1)
    found = []
    for i, corner in enumerate(survey.corners):
        before, after = survey.neighbors(corner)
        degrees = float(angles[i])
        _, sd_deg = predict(adjusted, Turn(corner, before, after, degrees, 1.0))
        meant = meant_angle_deg(degrees)
        first_mm = out_of_square_mm(degrees - meant, float(walls[i - 1]))
        second_mm = out_of_square_mm(degrees - meant, float(walls[i]))
        found.append(CornerAngle(corner, degrees, sd_deg, meant, first_mm, second_mm))
    return tuple(found)


def meant_angle_deg(degrees: float) -> float:
    """The angle a builder meant: square when near to it, otherwise in eighths of a turn."""
    square = 90.0 * min(max(round(degrees / 90.0), 1), 3)
    if abs(degrees - square) <= NEAR_SQUARE_DEG:
        return square
    return 45.0 * min(max(round(degrees / 45.0), 1), 7)


def tapers(survey: Survey, xy: Floats) -> tuple[Taper, ...]:
    """Facing walls, those that share most first; each wall is told with one partner only."""
    ring = xy[: len(survey.corners)]
    room = Polygon(ring)
    if not room.is_valid:
        return ()
    found = sorted(_facing(survey, ring, room), key=lambda taper: -taper.shared_mm)
    told: set[str] = set()
    kept = []
    for taper in found:
        if not told & {taper.wall, taper.facing}:
            kept.append(taper)
            told |= {taper.wall, taper.facing}
    return tuple(kept)


def _facing(survey: Survey, ring: Floats, room: Polygon) -> Iterator[Taper]:
    names = [f"{a}-{b}" for a, b in survey.walls()]
    n = len(names)
    for i in range(n):
        for j in range(i + 1, n):
            widths = _widths(ring[i], ring[(i + 1) % n], ring[j], ring[(j + 1) % n], room)
            if widths is not None:
                yield Taper(names[i], names[j], *widths)


def _widths(
    a: Floats, b: Floats, c: Floats, d: Floats, room: Polygon
) -> tuple[float, float, float] | None:
    """Widths between walls a-b and c-d at both ends of their overlap, and the overlap."""
    first, second = _unit(b - a), _unit(c - d)  # facing walls run opposite ways
    if float(first @ second) < math.cos(math.radians(FACING_DEG)):
        return None
    along = _unit(first + second)
    across = np.array([-along[1], along[0]])
    low = max(float(a @ along), float(d @ along))
    high = min(float(b @ along), float(c @ along))
    if high - low < LEAST_OVERLAP_MM:
        return None
    ends = [(_at(a, b, along, t), _at(d, c, along, t)) for t in (low, high, (low + high) / 2.0)]
    middle = LineString(ends[2])
    if middle.length == 0.0 or not room.buffer(1.0).covers(middle):
        return None
    near, far = (abs(float((q - p) @ across)) for p, q in ends[:2])
    return near, far, high - low


def _at(a: Floats, b: Floats, along: Floats, t: float) -> Floats:
    """The point of line a-b at ``t`` along a direction."""
    share = (t - float(a @ along)) / float((b - a) @ along)
    return np.asarray(a + share * (b - a))


def _unit(v: Floats) -> Floats:
    return np.asarray(v / max(float(np.hypot(*v)), 1e-9))


def square_checks(
    survey: Survey, xy: Floats, angles: tuple[CornerAngle, ...], unit: Unit
) -> tuple[SquareCheck, ...]:
    """The 3-4-5 check for every corner that is meant to be square inside the room."""
    n = len(survey.corners)
    checks = []
    for i, angle in enumerate(angles):
        if angle.meant_deg != 90.0:
            continue
        before, after = survey.neighbors(angle.corner)
        before_mm, after_mm = (math.dist(xy[i], xy[k % n]) for k in (i - 1, i + 1))
        legs = _legs(before_mm, after_mm, STEP_MM[unit])
        if legs is not None:
            marks = (angle.corner, before, after, *legs)
            checks.append(SquareCheck(*marks, math.hypot(*legs), _across(*legs, angle.degrees)))
    return tuple(checks)


def _legs(before_mm: float, after_mm: float, step_mm: float) -> tuple[float, float] | None:
    """The longest 3 and 4 steps that fit, the longer along the longer wall."""
    short, long = sorted((before_mm, after_mm))
    steps = math.floor(min(short / 3.0, long / 4.0) / step_mm)
    if steps < 1:
        return None
    three, four = 3.0 * steps * step_mm, 4.0 * steps * step_mm
    return (three, four) if before_mm <= after_mm else (four, three)


def _across(before_mm: float, after_mm: float, degrees: float) -> float:
    turn = math.cos(math.radians(degrees))
    return math.sqrt(before_mm**2 + after_mm**2 - 2.0 * before_mm * after_mm * turn)
