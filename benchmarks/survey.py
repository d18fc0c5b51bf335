"""Simulated tape surveys: do the ellipses cover, are blunders named, is the next length the best?

Run ``python -m benchmarks.survey`` for 1,000 rooms; ``--rooms N`` for fewer. Rooms have 4 to 12
corners, rectilinear (built out of square by some 10 mm a corner, its corners believed square) or
with walls at any angle (nothing believed). All walls are measured, and random diagonals that can
be seen from end to end, until the room is rigid, and a few more; the tape errs with a standard
deviation of 2 mm + 0.3 mm/m.
"""

import argparse
import math
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, Polygon, box

from plankwright.model.survey import BelievedAngle, Distance, Survey, Tape
from plankwright.survey.adjust import adjust, judge_at
from plankwright.survey.blunder import critical_size, find_blunders, sight
from plankwright.survey.ellipses import relative_covariance, worst_mm
from plankwright.survey.network import Length, Network
from plankwright.survey.next_measurement import candidate_pairs, propose, tell_apart
from plankwright.survey.quantiles import chi_square_quantile
from plankwright.survey.room_network import room_network
from plankwright.survey.shape import Shape, find_shape, named

Floats = NDArray[np.float64]
Random = np.random.Generator

SHORTEST_WALL_MM = 600.0
RIGID_MM = 60.0
SURE_Z = 0.8416  # 80 %, Baarda's power
BLUNDERS_MM = (20.0, 150.0)


@dataclass(frozen=True)
class Case:
    """A room that was measured in the simulation."""

    truth: Floats
    survey: Survey
    rectilinear: bool


@dataclass(frozen=True)
class Record:
    """What came of one room."""

    number: int
    rectilinear: bool
    asked: int  # how often two shapes fitted and a telling length was measured
    wrong: bool  # the shape is another one, not only inexact
    covered: list[bool]
    accused: list[str]
    allowed: bool
    named: bool
    silent: bool
    ms: float


# --- rooms -----------------------------------------------------------------------------------


def simulated(random: Random, *, corners: int | None = None) -> Case:
    rectilinear = bool(random.integers(2))
    number = corners or int(random.integers(4, 13))
    if rectilinear:
        number = max(4, 2 * (number // 2))
    truth = _rectilinear(random, number) if rectilinear else _any_angles(random, number)
    return Case(truth, _measure(random, truth, rectilinear), rectilinear)


def _rectilinear(random: Random, corners: int) -> Floats:
    """A rectangle with notches cut from its corners, then built a little out of square."""
    while True:
        width, height = random.uniform(2500, 8000), random.uniform(2500, 6000)
        room = Polygon([(0, 0), (width, 0), (width, height), (0, height)])
        for _ in range((corners - 4) // 2):
            room = _notch(random, room, width, height)
        ring = np.array(room.exterior.coords[:-1])
        if len(ring) == corners and _walls(ring).min() >= SHORTEST_WALL_MM:
            ring = ring if room.exterior.is_ccw else ring[::-1]
            turned = np.roll(ring, int(random.integers(corners)), axis=0)
            return np.asarray(turned + random.normal(0.0, 8.0, ring.shape))


def _notch(random: Random, room: Polygon, width: float, height: float) -> Polygon:
    x, y = random.choice([0.0, width]), random.choice([0.0, height])
    dx, dy = random.uniform(600, width / 2), random.uniform(600, height / 2)
    cut = room.difference(box(x - dx, y - dy, x + dx, y + dy))
    return cut if isinstance(cut, Polygon) and not cut.interiors else room


def _any_angles(random: Random, corners: int) -> Floats:
    while True:
        turns = np.sort(random.uniform(0, 2 * math.pi, corners))
        gaps = np.diff(turns, append=turns[0] + 2 * math.pi)
        radius = random.uniform(1800, 4500, corners)
        ring = np.stack([radius * np.cos(turns), radius * np.sin(turns)], axis=1)
        if gaps.min() < 0.25 or gaps.max() > 2.6 or _walls(ring).min() < SHORTEST_WALL_MM:
            continue
        angles = _bends(ring)
        if angles.min() > 15.0 and Polygon(ring).is_valid:
            return ring


def _bends(ring: Floats) -> Floats:
    """How far each corner is from straight [deg]."""
    along = np.roll(ring, -1, axis=0) - ring
    azimuth = np.degrees(np.arctan2(along[:, 1], along[:, 0]))
    return np.asarray(np.abs((azimuth - np.roll(azimuth, 1) + 180.0) % 360.0 - 180.0))


def _walls(ring: Floats) -> Floats:
    return np.asarray(np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1))


def _measure(random: Random, truth: Floats, rectilinear: bool) -> Survey:
    n = len(truth)
    names = tuple(chr(ord("A") + i) for i in range(n))
    walls = [(i, (i + 1) % n) for i in range(n)]
    room = Polygon(truth).buffer(1.0, join_style="mitre")
    diagonals = [
        (i, j)
        for i, j in combinations(range(n), 2)
        if (i, j) not in walls and (j, i) not in walls and room.covers(LineString(truth[[i, j]]))
    ]
    diagonals = [diagonals[k] for k in random.permutation(len(diagonals))]
    enough = _rigid(truth, names, walls, diagonals)
    more = int(random.integers(1, n // 2 + 2))
    pairs = walls + diagonals[: enough + more]
    beliefs = tuple(BelievedAngle(name, 90.0) for name in names) if rectilinear else ()
    return Survey(names, tuple(_read(random, truth, names, i, j) for i, j in pairs), beliefs)


def _read(random: Random, truth: Floats, names: tuple[str, ...], i: int, j: int) -> Distance:
    true_mm = math.dist(truth[i], truth[j])
    read_mm = true_mm + float(random.normal(0.0, Tape().sd_of_mm(true_mm)))
    return Distance(names[i], names[j], round(read_mm, 1))


def settled(random: Random, case: Case) -> tuple[Case, Shape, int]:
    """The case with what the program asks for while two shapes fit, and how often it asked."""
    asked = 0
    shape = find_shape(case.survey)
    while (telling := tell_apart(case.survey, shape)) is not None and asked < 10:
        names = case.survey.corners
        i, j = names.index(telling.start), names.index(telling.end)
        more = _read(random, case.truth, names, i, j)
        survey = replace(case.survey, distances=(*case.survey.distances, more))
        case, asked = replace(case, survey=survey), asked + 1
        shape = find_shape(case.survey)
    return case, shape, asked


def _rigid(
    truth: Floats,
    names: tuple[str, ...],
    walls: list[tuple[int, int]],
    diagonals: list[tuple[int, int]],
) -> int:
    """How many of the diagonals it takes to know every corner to :data:`RIGID_MM`."""
    points = {name: (float(x), float(y)) for name, (x, y) in zip(names, truth, strict=True)}
    for number in range(len(diagonals) + 1):
        lengths = tuple(
            Length(names[i], names[j], math.dist(truth[i], truth[j]), 4.0)
            for i, j in walls + diagonals[:number]
        )
        known = judge_at(Network(points, lengths))
        if len(known.loose) > 3:
            continue
        if worst_mm(relative_covariance(known, len(names)), len(names)) < RIGID_MM:
            return number
    return len(diagonals)


# --- coverage --------------------------------------------------------------------------------


def covered(case: Case, shape: Shape) -> list[bool]:
    """Whether each corner's true place lies in its 95 % ellipse."""
    n = len(case.truth)
    got = shape.adjusted.xy[:n]
    out = got - _laid_on(case.truth, got)
    covariance = relative_covariance(shape.adjusted, n)
    limit = chi_square_quantile(0.95, 2)
    blocks = [covariance[2 * i : 2 * i + 2, 2 * i : 2 * i + 2] for i in range(n)]
    return [
        bool(o @ np.linalg.solve(block, o) <= limit) for o, block in zip(out, blocks, strict=True)
    ]


def _laid_on(truth: Floats, got: Floats) -> Floats:
    """The true corners turned and shifted onto the computed ones as well as they go."""
    a, b = truth - truth.mean(axis=0), got - got.mean(axis=0)
    turn = math.atan2(float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()), float((a * b).sum()))
    cos, sin = math.cos(turn), math.sin(turn)
    return np.asarray(a @ np.array([[cos, sin], [-sin, cos]]) + got.mean(axis=0))


def _is_wrong(case: Case, shape: Shape) -> bool:
    """Whether the shape is another one, not only inexact."""
    got = shape.adjusted.xy[: len(case.truth)]
    return float(np.abs(got - _laid_on(case.truth, got)).max()) > 200.0


# --- blunders --------------------------------------------------------------------------------


def with_blunder(random: Random, case: Case) -> tuple[Survey, int, float]:
    """The survey with one length wrong, which one, and by how much [mm]."""
    row = int(random.integers(len(case.survey.distances)))
    blunder = float(random.uniform(*BLUNDERS_MM) * random.choice([-1.0, 1.0]))
    distances = list(case.survey.distances)
    wrong = distances[row]
    if wrong.length_mm + blunder < 100.0:
        blunder = -blunder
    distances[row] = replace(wrong, length_mm=wrong.length_mm + blunder)
    return replace(case.survey, distances=tuple(distances)), row, blunder


def redundancy_allows(case: Case, row: int, blunder_mm: float) -> bool:
    """Whether the true geometry lets this blunder be seen and told from others, by 80 % each.

    Seen: noncentrality above the critical value by 0.84 (Baarda's power). Told: the residual of
    every other row is expected to stay behind by 0.84 standard deviations of their difference.
    """
    room = room_network(case.survey, named(case.survey, case.truth))
    known = judge_at(room.network)
    size = abs(blunder_mm) / known.sd[row] * math.sqrt(known.redundancy[row])
    if size < critical_size(known, len(known.sd)) + SURE_Z:
        return False
    alike = np.abs(np.delete(sight(known)[row], row))
    return bool((size * np.sqrt((1.0 - alike).clip(min=0.0) / 2.0) >= SURE_Z).all())


# --- the next measurement --------------------------------------------------------------------


def brute_force(survey: Survey, shape: Shape) -> dict[tuple[str, str], float]:
    """The worst corner [mm] after a whole new adjustment with each pair of corners measured."""
    n = len(survey.corners)
    xy = shape.adjusted.xy
    after = {}
    for i, j in candidate_pairs(survey, xy):
        a, b = survey.corners[i], survey.corners[j]
        length_mm = math.dist(xy[i], xy[j])
        more = Length(a, b, length_mm, survey.tape.sd_of_mm(length_mm))
        network = replace(shape.adjusted.network, observations=(*shape.adjusted.observations, more))
        after[a, b] = worst_mm(relative_covariance(adjust(network), n), n)
    return after


def proposal_is_best(survey: Survey, shape: Shape) -> bool:
    proposals = propose(survey, shape, 0.0, most=1)
    after = brute_force(survey, shape)
    before = worst_mm(relative_covariance(shape.adjusted, len(survey.corners)), len(survey.corners))
    if not proposals:
        return not after or before - min(after.values()) < 0.11
    best = proposals[0]
    # The adjustment with the new length moves by the noise of the old ones: 0.5 % of the error
    return after[best.start, best.end] <= min(after.values()) * 1.005


# --- the tables ------------------------------------------------------------------------------


def simulate(rooms: int, seed: int = 5) -> Iterator[Record]:
    """One record for each room."""
    for number in range(rooms):
        random = np.random.default_rng([seed, number])
        case, _, asked = settled(random, simulated(random))
        begun = time.perf_counter()
        shape = find_shape(case.survey)
        suspects, rest = find_blunders(case.survey, shape)
        seconds = time.perf_counter() - begun
        survey, row, blunder = with_blunder(random, case)
        allowed = redundancy_allows(case, row, blunder)
        blamed = find_blunders(survey, find_shape(survey))[0] if allowed else ()
        yield Record(
            number=number,
            rectilinear=case.rectilinear,
            asked=asked,
            wrong=_is_wrong(case, shape),
            covered=covered(case, rest),
            accused=[suspect.name for suspect in suspects],
            allowed=allowed,
            named=bool(blamed) and blamed[0].row == row,
            silent=not blamed,
            ms=1000.0 * seconds,
        )


def best_proposals(rooms: int, seed: int = 5) -> int:
    """In how many rooms the proposed next measurement is the best of all pairs."""
    best = 0
    for number in range(rooms):
        case = simulated(np.random.default_rng([seed, 77, number]))
        best += proposal_is_best(case.survey, find_shape(case.survey))
    return best


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rooms", type=int, default=1000)
    parser.add_argument("--next", type=int, default=200, help="rooms for the next measurement")
    parser.add_argument("--seed", type=int, default=5)
    chosen = parser.parse_args()
    records = list(simulate(chosen.rooms, chosen.seed))
    print(HEADER)
    for kind, keep in (("rectilinear", {True}), ("any angles", {False}), ("all", {True, False})):
        print(row_of(kind, [record for record in records if record.rectilinear in keep]))
    best = best_proposals(chosen.next, chosen.seed)
    print(f"next measurement is the best by brute force: {best} of {chosen.next}")


HEADER = (
    f"{'rooms':12} {'n':>5} {'corners':>8} {'covered':>8} {'accused':>8} {'blunders':>9} "
    f"{'named':>7} {'unseen':>7} {'asked':>6} {'wrong':>6} {'ms median':>10} {'max':>5}"
)


def row_of(kind: str, records: list[Record]) -> str:
    hits = [hit for record in records for hit in record.covered]
    allowed = [record for record in records if record.allowed]
    times = [record.ms for record in records]
    return (
        f"{kind:12} {len(records):5} {len(hits):8} {_pct(hits):8} "
        f"{_pct([bool(record.accused) for record in records]):8} {len(allowed):9} "
        f"{_pct([record.named for record in allowed]):7} "
        f"{_pct([record.silent for record in allowed]):7} "
        f"{sum(record.asked > 0 for record in records):6} "
        f"{sum(record.wrong for record in records):6} {np.median(times):10.1f} {max(times):5.0f}"
    )


def _pct(hits: list[bool]) -> str:
    return f"{100.0 * sum(hits) / max(len(hits), 1):.1f} %"


if __name__ == "__main__":
    main()
