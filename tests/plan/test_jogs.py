"""Floors with jogs against brute force: no bound above it, no plan below it, most plans equal."""

import random
from collections.abc import Sequence

import pytest
from shapely import MultiPolygon, box, unary_union
from tests.optimize.jogged import Shop, Step, fewest

from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.board import Board
from plankwright.model.rules import Rules
from plankwright.optimize.bounds import Bound
from plankwright.optimize.solve import Effort, solve
from plankwright.plan.bound import bound_lines
from plankwright.plan.compile import compile_instance

UNIT = 10  # mm; the brute force counts in these
SEEDS = range(10)
FLOORS_PER_SEED = 6


def random_jogs(rng: random.Random) -> tuple[Shop, list[list[Step]]]:
    """Two or three rows; the first lacks its wall side, the last its room side, all or in part."""
    kerf = rng.choice([0, 1, 1, 2])
    width = rng.randint(4, 6)
    shop = Shop(rng.randint(7, 9), width, kerf, kerf + rng.choice([0, 1]), rng.randint(1, 2))
    length = rng.randint(6, 18)
    first = _jogged(rng, length, lambda depth: (depth, width), width)
    last = _jogged(rng, length, lambda depth: (0, width - depth), width)
    middle: list[list[Step]] = [[(0, length, 0, width)]] if rng.random() < 0.3 else []
    return shop, [first, *middle, last]


def _jogged(rng: random.Random, length: int, across: object, width: int) -> list[Step]:
    assert callable(across)
    places = sorted(rng.sample(range(1, length), rng.randint(0, 2)))
    ends = [0, *places, length]
    depths = [rng.randint(0, width - 1) for _ in ends[1:]]
    return [(a, b, *across(depth)) for a, b, depth in zip(ends[:-1], ends[1:], depths, strict=True)]


def planned(shop: Shop, rows: Sequence[Sequence[Step]], seed: int) -> tuple[int, int]:
    """Boards of the plan and the best bound."""
    shapes = [
        box(UNIT * a, UNIT * (c + k * shop.width), UNIT * b, UNIT * (d + k * shop.width))
        for k, row in enumerate(rows)
        for a, b, c, d in row
    ]
    floor = unary_union(shapes)
    parts = MultiPolygon([floor]) if floor.geom_type == "Polygon" else floor
    board = Board(float(UNIT * shop.length), float(UNIT * shop.width))
    rules = Rules(
        gap_mm=0.0,
        kerf_mm=float(UNIT * shop.kerf),
        allowance_mm=float(UNIT * (shop.cut - shop.kerf)),
        shortest_piece_mm=float(UNIT * shop.shortest),
        joint_offset_mm=0.0,
    )
    stretches = cut_rows(parts, board.width_mm, 0.0)
    touching = contacts(stretches)
    bounds = [line.refined(99).boards for line in bound_lines(stretches, touching, board, rules)]
    instance = compile_instance(stretches, touching, board, rules, 1.0)
    effort = Effort(moves=500, seed=seed, looks=0)
    best = max(bounds, default=0)
    solution, _ = solve(instance, Bound(best, float(best), "area"), effort)
    return solution.boards, best


@pytest.mark.parametrize("seed", SEEDS)
def test_no_bound_above_brute_force_and_no_plan_below_it(seed: int) -> None:
    rng = random.Random(seed)
    met = 0
    for _ in range(FLOORS_PER_SEED):
        shop, rows = random_jogs(rng)
        best = fewest(shop, rows)
        if best is None:  # no starter keeps the shortest piece
            met += 1
            continue
        boards, bound = planned(shop, rows, seed)
        assert bound <= best <= boards, (shop, rows)
        met += boards == best
    assert met >= 0.75 * FLOORS_PER_SEED
