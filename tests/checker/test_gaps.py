"""Gaps of rooms with leaning walls, each with a gap of its own, against half-planes by hand."""

import math
import random

import pytest
from shapely import MultiPolygon, Polygon
from tests.checker.plan_maker import changed, plain_room

from plankwright.checker.floor import floor_faults
from plankwright.model.plan import Plan
from plankwright.model.room import corner_name

Point = tuple[float, float]


def convex_room(rng: random.Random) -> list[Point]:
    """Corners on an ellipse, anticlockwise."""
    angles = sorted(rng.random() * 2.0 * math.pi for _ in range(rng.randint(3, 8)))
    return [(2500.0 * math.cos(angle), 1800.0 * math.sin(angle)) for angle in angles]


def inset(corners: list[Point], gaps: list[float]) -> list[Point]:
    """What lies a gap or more inside the line of every wall: cut off wall by wall."""
    kept = corners
    for i, gap in enumerate(gaps):
        (ax, ay), (bx, by) = corners[i], corners[(i + 1) % len(corners)]
        length = math.dist((ax, ay), (bx, by))
        nx, ny = -(by - ay) / length, (bx - ax) / length
        depth = [(x - ax) * nx + (y - ay) * ny - gap for x, y in kept]
        cut: list[Point] = []
        for j, (x, y) in enumerate(kept):
            k = (j + 1) % len(kept)
            if depth[j] >= 0.0:
                cut.append((x, y))
            if depth[j] * depth[k] < 0.0:
                t = depth[j] / (depth[j] - depth[k])
                cut.append((x + t * (kept[k][0] - x), y + t * (kept[k][1] - y)))
        kept = cut
    return kept


def plan_of(corners: list[Point], gaps: list[float], floor: list[Point]) -> Plan:
    names = [corner_name(i) for i in range(len(corners))]
    edges = tuple(
        (f"{a}-{b}", gap) for a, b, gap in zip(names, names[1:] + names[:1], gaps, strict=True)
    )
    return changed(
        plain_room(), room=Polygon(corners), edges=edges, floor=MultiPolygon([Polygon(floor)])
    )


def faults_of(plan: Plan) -> set[str]:
    return {fault.code for fault in floor_faults(plan)} & {"gap", "floor-short"}


@pytest.mark.parametrize("seed", range(60))
def test_gaps_of_every_wall_are_found_from_both_sides(seed: int) -> None:
    rng = random.Random(seed)
    corners = convex_room(rng)
    gaps = [rng.choice([0.0, 5.0, 8.0, 15.0]) for _ in corners]
    longest = max(
        range(len(corners)), key=lambda i: math.dist(corners[i], corners[(i + 1) % len(corners)])
    )
    gaps[longest] = 8.0
    assert faults_of(plan_of(corners, gaps, inset(corners, gaps))) == set()
    for gap, code in ((6.0, "gap"), (9.0, "floor-short"), (60.0, "floor-short")):
        wrong = [gap if i == longest else g for i, g in enumerate(gaps)]
        assert faults_of(plan_of(corners, gaps, inset(corners, wrong))) == {code}


@pytest.mark.parametrize("depth", [200.0, 20.0])
def test_corners_that_stand_out_into_the_room_are_mitered(depth: float) -> None:
    # A wall stub 100 wide stands `depth` into the room; gap 8, so the floor stops 8 before it on
    # three sides and its two corners are square. Rounded corners would be faultless too.
    room = [(0, 0), (4000, 0), (4000, 3000), (2100, 3000), (2100, 3000 - depth),
            (2000, 3000 - depth), (2000, 3000), (0, 3000)]  # fmt: skip
    floor = [(8, 8), (3992, 8), (3992, 2992), (2108, 2992), (2108, 2992 - depth),
             (1992, 2992 - depth), (1992, 2992), (8, 2992)]  # fmt: skip
    plan = changed(plain_room(), room=Polygon(room), floor=MultiPolygon([Polygon(floor)]))
    assert faults_of(plan) == set()
    rounded = Polygon(room).buffer(-8.0, quad_segs=32)
    assert faults_of(changed(plan, floor=MultiPolygon([rounded]))) == set()
    shy = Polygon(floor).difference(Polygon(room).exterior.buffer(12.0, join_style="mitre"))
    assert faults_of(changed(plan, floor=MultiPolygon([shy]))) == {"floor-short"}
