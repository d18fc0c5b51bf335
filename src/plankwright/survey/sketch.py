"""Rough shapes of a room from its lengths alone, by placing one corner after another.

From two placed points a third is known but for its mirror image. All ways are followed side by
side (a beam of sketches, one array), each with a penalty for lengths that do not fit and walls
that cross; the order of the corners thereby excludes mirror images and fold-overs. A believed
angle counts as a rough length across the corner. Where nothing ties a corner, square corners and
middling walls are tried: the sketch only has to be good enough for the adjustment to start from.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from plankwright.model.survey import Survey
from plankwright.survey.equations import Floats

WIDEST_BEAM = 2048
ROUGHNESS = 0.01  # a sketch may be out by 1 % of a length
RECTILINEAR_BEAM = 256
CLOSING_WAYS = 64
MOST_SIGNS = 18  # half the corners: 2^17 ways along x and as many along y
WORST_LENGTH = 25.0  # the most that one length that does not fit can cost: it may be a blunder
CROSSING_COST = 60.0
OUTSIDE_COST = 30.0  # a post outside the room
ODD_ANGLE_COST = 3.0
UNSURE_CORNERS = 6  # so many unknown corners may also be tried at 135 and 225 degrees
_QUARTERS = ((1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0))
WALL_GUESSES = ((1.0, 0.0), (0.5, 0.3), (2.0, 0.3))  # times the mean wall, and their cost


@dataclass(frozen=True, slots=True)
class Tie:
    """A length [mm] from a point that may be placed already, and how far it can be trusted."""

    point: int
    length_mm: float
    sd_mm: float


@dataclass(slots=True)
class _Beam:
    """Sketches side by side: coordinates (s, n, 2) and penalties (s,)."""

    xy: Floats
    penalty: Floats
    placed: list[int] = field(default_factory=list)


def sketch(survey: Survey, most: int) -> list[tuple[Floats, float]]:
    """At most ``most`` rough shapes (n, 2) with their penalties, best first.

    Corners come first, then the other points, as the survey names them. The first corner is at
    the origin; corners run anticlockwise, or clockwise if the survey says so.
    """
    return _Sketcher(survey).run(most)


class _Sketcher:
    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.corners = len(survey.corners)
        names = (*survey.corners, *survey.points)
        self.count = len(names)
        self.place = {name: i for i, name in enumerate(names)}
        self.ties = self._ties()
        self.beliefs = {self.place[a.corner]: a for a in survey.angles}
        walls = [self._wall_mm(i) for i in range(self.corners)]
        known = [w for w in walls if w is not None]
        self.walls = walls
        self.mean_wall_mm = sum(known) / len(known) if known else 3000.0
        self.unsure = self.corners - len(self.beliefs)

    def run(self, most: int) -> list[tuple[Floats, float]]:
        beam = self._rectilinear() or self._first_wall()
        while len(beam.placed) < self.count:
            point = None if self._can_walk(beam) else self._best_tied(beam)
            if point is not None:
                wider = self._place_tied(beam, *point)
            elif self.corners_wait(beam):
                wider = self._extend(beam)
            else:
                wider = self._scatter(beam)
            beam = self._thin(wider)
        return self._finish(beam, most)

    def _can_walk(self, beam: _Beam) -> bool:
        """Whether the next corner lies at an angle meant as written, along a known wall."""
        if not (self.survey.is_literal and self.corners_wait(beam)):
            return False
        point, at, _, _ = self._next_corner(beam)
        return at in self.beliefs and (at, point) in self._lengths

    def _rectilinear(self) -> _Beam | None:
        """Sketches of a room whose corners are all square and whose walls are all measured."""
        square = all(a.degrees == 90.0 for a in self.survey.angles)
        walls = [wall for wall in self.walls if wall is not None]
        if self.unsure or not square or len(walls) < self.corners:
            return None
        rings = rectilinear_rings(np.array(walls))
        if rings is None:
            return None
        xy = np.zeros((len(rings), self.count, 2))
        xy[:, : self.corners] = rings
        placed: list[int] = []
        penalty = np.zeros(len(rings))
        for corner in range(self.corners):
            penalty = penalty + self._misfit(xy, corner, placed)
            placed.append(corner)
        keep = np.argsort(penalty, kind="stable")[:RECTILINEAR_BEAM]
        xy, penalty = xy[keep], penalty[keep]
        for corner in range(2, self.corners):
            penalty = penalty + CROSSING_COST * self._crossings(xy, corner, placed[: corner + 1])
        return _Beam(xy, penalty, placed)

    def corners_wait(self, beam: _Beam) -> bool:
        """Whether some corner is not placed yet."""
        return any(i not in beam.placed for i in range(self.corners))

    # --- what ties what ---

    def _ties(self) -> dict[int, list[Tie]]:
        ties: dict[int, list[Tie]] = defaultdict(list)
        for distance in self.survey.distances:
            a, b = self.place[distance.start], self.place[distance.end]
            sd_mm = self.survey.sd_of_mm(distance)
            ties[a].append(Tie(b, distance.length_mm, sd_mm))
            ties[b].append(Tie(a, distance.length_mm, sd_mm))
        self._lengths = {(a, tie.point): tie.length_mm for a, own in ties.items() for tie in own}
        for believed in self.survey.angles:
            self._tie_across(believed.corner, believed.degrees, believed.sd_deg, ties)
        return ties

    def _tie_across(
        self, corner: str, degrees: float, sd_deg: float, ties: dict[int, list[Tie]]
    ) -> None:
        at = self.place[corner]
        before, after = (self.place[name] for name in self.survey.neighbors(corner))
        first, second = self._lengths.get((at, before)), self._lengths.get((at, after))
        if first is None or second is None:
            return
        turn = math.radians(degrees)
        across = math.sqrt(max(first**2 + second**2 - 2 * first * second * math.cos(turn), 1.0))
        slope = abs(first * second * math.sin(turn)) / across
        sd_mm = slope * math.radians(sd_deg) + 5.0
        ties[before].append(Tie(after, across, sd_mm))
        ties[after].append(Tie(before, across, sd_mm))

    def _wall_mm(self, i: int) -> float | None:
        return self._lengths.get((i, (i + 1) % self.corners))

    # --- placing ---

    def _first_wall(self) -> _Beam:
        """The measured wall whose corners are tied best, along x."""

        def merit(i: int) -> tuple[bool, int, float]:
            j = (i + 1) % self.corners
            length = self.walls[i]
            return length is not None, len(self.ties[i]) + len(self.ties[j]), length or 0.0

        first = max(range(self.corners), key=merit)
        second = (first + 1) % self.corners
        xy = np.zeros((1, self.count, 2))
        xy[0, second, 0] = self.walls[first] or self.mean_wall_mm
        return _Beam(xy, np.zeros(1), [first, second])

    def _best_tied(self, beam: _Beam) -> tuple[int, tuple[Tie, Tie]] | None:
        """The point with two good ties to placed points that is placed most surely."""
        best: tuple[float, int, tuple[Tie, Tie]] | None = None
        xy = beam.xy[int(beam.penalty.argmin())]
        waiting = [i for i in range(self.count) if i not in beam.placed]
        corners = [i for i in waiting if i < self.corners]
        for group in (corners, waiting):
            for point in group:
                ties = [tie for tie in self.ties[point] if tie.point in beam.placed]
                for merit, pair in _pairs(ties, xy):
                    if best is None or merit > best[0]:
                        best = merit, point, pair
            if best is not None:
                return best[1], best[2]
        return None

    def _place_tied(self, beam: _Beam, point: int, pair: tuple[Tie, Tie]) -> _Beam:
        """Both crossings of two circles; the very first triangle without its mirror image."""
        first, second = pair
        start = beam.xy[:, first.point]
        base = beam.xy[:, second.point] - start
        length = np.maximum(np.hypot(base[:, 0], base[:, 1]), 1e-3)
        unit = base / length[:, None]
        along = (first.length_mm**2 - second.length_mm**2 + length**2) / (2.0 * length)
        along = np.clip(along, -first.length_mm, first.length_mm)
        aside = np.sqrt(np.maximum(first.length_mm**2 - along**2, 0.0))
        left = np.stack([-unit[:, 1], unit[:, 0]], axis=1)
        foot = start + along[:, None] * unit
        places = [foot + aside[:, None] * left]
        if len(beam.placed) > 2:
            places.append(foot - aside[:, None] * left)
        return self._branch(beam, point, [(place, 0.0) for place in places])

    def _extend(self, beam: _Beam) -> _Beam:
        """The next corner along a wall, at angles and lengths that are believed or tried."""
        point, at, before, step = self._next_corner(beam)
        wall = self._lengths.get((at, point))
        guesses = [(share * self.mean_wall_mm, cost) for share, cost in WALL_GUESSES]
        lengths = [(wall, 0.0)] if wall else guesses
        back = beam.xy[:, before] - beam.xy[:, at]
        back = back / np.maximum(np.hypot(back[:, 0], back[:, 1]), 1e-3)[:, None]
        places = []
        for degrees, cost in self._senses(at):
            turn = -step * math.radians(degrees)  # clockwise from the corner before, going on
            cos, sin = math.cos(turn), math.sin(turn)
            out = np.stack(
                [back[:, 0] * cos - back[:, 1] * sin, back[:, 0] * sin + back[:, 1] * cos], axis=1
            )
            places += [
                (beam.xy[:, at] + length * out, cost + guessed) for length, guessed in lengths
            ]
        if (
            len(beam.placed) == 2 and not self.survey.is_literal
        ):  # nothing is turned yet: one side will do
            places = places[: max(1, len(places) // 2)]
        return self._branch(beam, point, places)

    def _scatter(self, beam: _Beam) -> _Beam:
        """A point tied to walls alone: at four places about the middle, for a start."""
        point = min(i for i in range(self.count) if i not in beam.placed)
        ring = beam.xy[:, : self.corners]
        middle, spread = ring.mean(axis=1), ring.std(axis=1)
        places = [(middle + spread * np.array(s) / 2.0, 0.0) for s in _QUARTERS]
        return self._branch(beam, point, places)

    def _next_corner(self, beam: _Beam) -> tuple[int, int, int, int]:
        """A waiting corner, the placed one before it, the placed one before that, and the way."""
        options = []
        for at in (i for i in beam.placed if i < self.corners):
            for step in (1, -1):
                point, before = (at + step) % self.corners, (at - step) % self.corners
                if point not in beam.placed and before in beam.placed:
                    sure = (at in self.beliefs) + 2 * ((at, point) in self._lengths)
                    options.append((-sure, step, at, point, before))
        _, step, at, point, before = min(options)
        return point, at, before, step

    def _senses(self, at: int) -> list[tuple[float, float]]:
        """Angles to try at a corner and what each costs; a side and its mirror side, in halves."""
        if at in self.beliefs:
            degrees = self.beliefs[at].degrees
            mirrored = [] if self.survey.is_literal else [(360.0 - degrees, 0.0)]
            return [(degrees, 0.0), *mirrored]
        tried = [(90.0, 0.0)]
        if self.unsure <= UNSURE_CORNERS:
            tried.append((135.0, ODD_ANGLE_COST))
        return tried + [(360.0 - degrees, cost) for degrees, cost in tried]

    def _branch(self, beam: _Beam, point: int, places: Sequence[tuple[Floats, float]]) -> _Beam:
        xy = np.concatenate([beam.xy] * len(places))
        penalty = np.concatenate([beam.penalty + cost for _, cost in places])
        xy[:, point] = np.concatenate([place for place, _ in places])
        placed = [*beam.placed, point]
        penalty = penalty + self._misfit(xy, point, beam.placed)
        if point < self.corners:
            penalty = penalty + CROSSING_COST * self._crossings(xy, point, placed)
        elif not self.corners_wait(beam):
            penalty = penalty + OUTSIDE_COST * _is_outside(xy[:, point], xy[:, : self.corners])
        return _Beam(xy, penalty, placed)

    # --- judging ---

    def _misfit(self, xy: Floats, point: int, placed: Iterable[int]) -> Floats:
        penalty = np.zeros(len(xy))
        for tie in self.ties[point]:
            if tie.point in placed:
                along = xy[:, tie.point] - xy[:, point]
                out = np.hypot(along[:, 0], along[:, 1]) - tie.length_mm
                trust = 3.0 * tie.sd_mm + ROUGHNESS * tie.length_mm
                penalty += np.minimum((out / trust) ** 2, WORST_LENGTH)
        return penalty

    def _crossings(self, xy: Floats, point: int, placed: list[int]) -> Floats:
        """How many placed walls the walls at a new corner cross, (s,)."""
        n = self.corners
        walls = [i for i in placed if i < n and (i + 1) % n in placed]
        crossings = np.zeros(len(xy))
        for new in ((point - 1) % n, point):
            if new not in walls:
                continue
            others = [w for w in walls if w not in (new, (new - 1) % n, (new + 1) % n)]
            if others:
                ends = [(w + 1) % n for w in others]
                start, end = xy[:, new, None], xy[:, (new + 1) % n, None]
                crossed = _cross(start, end, xy[:, others], xy[:, ends])
                crossings += crossed.sum(axis=1)
        return crossings

    def _thin(self, beam: _Beam) -> _Beam:
        if len(beam.xy) <= WIDEST_BEAM:
            return beam
        keep = np.argsort(beam.penalty, kind="stable")[:WIDEST_BEAM]
        return _Beam(beam.xy[keep], beam.penalty[keep], beam.placed)

    def _finish(self, beam: _Beam, most: int) -> list[tuple[Floats, float]]:
        """Sketches the right way round, those first whose angles are as believed."""
        xy = beam.xy - beam.xy[:, :1]
        wrong = (_areas(xy[:, : self.corners]) < 0.0) != self.survey.clockwise
        xy[wrong] *= np.array([1.0, -1.0])
        angles = interior_angles_deg(xy[:, : self.corners], clockwise=self.survey.clockwise)
        penalty = beam.penalty + self._angle_misfit(angles) + oddness(angles)
        order = np.argsort(penalty, kind="stable")[:most]
        return [(xy[i], float(penalty[i])) for i in order]

    def _angle_misfit(self, angles: Floats) -> Floats:
        penalty = np.zeros(len(angles))
        for at, believed in self.beliefs.items():
            out = np.min(
                [np.abs(angles[:, at] - sense) for sense in self.survey.senses(believed)], axis=0
            )
            penalty += np.minimum((out / (3.0 * believed.sd_deg + 3.0)) ** 2, WORST_LENGTH)
        return penalty


def interior_angles_deg(rings: Floats, *, clockwise: bool) -> Floats:
    """Angles inside rings (s, n, 2) at their corners, from 0 to 360 degrees, (s, n)."""
    before = _azimuths(np.roll(rings, 1, axis=1) - rings)
    after = _azimuths(np.roll(rings, -1, axis=1) - rings)
    return np.asarray((before - after if clockwise else after - before) % 360.0)


def oddness(angles: Floats) -> Floats:
    """How unlike a usual room are the angles (s, n): off the eighths of a turn, outside, straight.

    Only a tie-breaker between shapes that fit the lengths alike.
    """
    off = np.abs((angles + 22.5) % 45.0 - 22.5)
    off[np.abs(angles - 180.0) < 15.0] = 20.0  # a corner has been named there for a reason
    return np.asarray(np.minimum(off / 10.0, 2.0).sum(axis=1) + 0.5 * (angles > 181.0).sum(axis=1))


def rectilinear_rings(walls: Floats) -> Floats | None:
    """Rings (s, n, 2) of square corners along walls (n,) that nearly close, best first.

    Every other wall runs along x, forth or back; the rest along y. Both ways must add up to
    nothing, and a ring turns once: four corners more to one side than to the other. None for an
    odd number of corners or so many that trying all ways takes too long.
    """
    half = len(walls) // 2
    if len(walls) % 2 or not 2 <= half <= MOST_SIGNS:
        return None
    signs_x, signs_y = _closing_signs(walls[0::2]), _closing_signs(walls[1::2])
    x = np.repeat(signs_x, len(signs_y), axis=0)
    y = np.tile(signs_y, (len(signs_x), 1))
    turns = (x * y).sum(axis=1) - (y * np.roll(x, -1, axis=1)).sum(axis=1)
    once = np.abs(turns) == 4
    steps = np.zeros((int(once.sum()), len(walls), 2))
    steps[:, 0::2, 0] = x[once] * walls[0::2]
    steps[:, 1::2, 1] = y[once] * walls[1::2]
    rings = np.cumsum(steps, axis=1) - steps
    # The way of the two last walls shows in no corner: the same ring may come twice.
    _, first = np.unique(rings.round(3).reshape(len(rings), -1), axis=0, return_index=True)
    return rings[np.sort(first)] if len(rings) else None


def _closing_signs(lengths: Floats) -> Floats:
    """Signs (s, m), the first +, with which lengths add up to least, best first."""
    m = len(lengths)
    bits = np.arange(2 ** (m - 1))[:, None] >> np.arange(m - 1)[None, :] & 1
    signs = np.concatenate([np.ones((len(bits), 1)), 1.0 - 2.0 * bits], axis=1)
    order = np.argsort(np.abs(signs @ lengths), kind="stable")[:CLOSING_WAYS]
    return np.asarray(signs[order])


def _pairs(ties: Sequence[Tie], xy: Floats) -> Iterable[tuple[float, tuple[Tie, Tie]]]:
    """Pairs of ties to different points, each with how surely they place a third."""
    for i, first in enumerate(ties):
        for second in ties[i + 1 :]:
            if first.point == second.point:
                continue
            base = math.dist(xy[first.point], xy[second.point])
            a, b = first.length_mm, second.length_mm
            cos = (a * a + b * b - base * base) / (2.0 * a * b)
            sin = math.sqrt(max(1.0 - cos * cos, 1e-6))
            yield sin / (first.sd_mm + second.sd_mm), (first, second)


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats:
    """Whether segments a-b and c-d cross properly; arrays of points (..., 2) that broadcast."""
    return np.asarray(
        (_side(a, b, c) * _side(a, b, d) < 0.0) & (_side(c, d, a) * _side(c, d, b) < 0.0)
    )


def _side(a: Floats, b: Floats, c: Floats) -> Floats:
    u, v = b - a, c - a
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])


def _is_outside(points: Floats, rings: Floats) -> Floats:
    """Whether points (s, 2) lie outside rings (s, n, 2), by counting crossings of a ray; (s,)."""
    a, b = rings, np.roll(rings, -1, axis=1)
    x, y = points[:, None, 0], points[:, None, 1]
    spans = (a[..., 1] > y) != (b[..., 1] > y)
    rise = np.where(spans, b[..., 1] - a[..., 1], 1.0)
    reach = a[..., 0] + (y - a[..., 1]) * (b[..., 0] - a[..., 0]) / rise
    return np.asarray((spans & (x < reach)).sum(axis=1) % 2 == 0, dtype=np.float64)


def _areas(rings: Floats) -> Floats:
    x, y = rings[..., 0], rings[..., 1]
    return np.asarray((x * np.roll(y, -1, axis=1) - y * np.roll(x, -1, axis=1)).sum(axis=1) / 2.0)


def _azimuths(along: Floats) -> Floats:
    return np.asarray(np.degrees(np.arctan2(along[..., 0], along[..., 1])))
