"""The search against brute force on small floors, and the published-size room solved to its proof.

The brute force (``oracle.py``) tries every starter of every row and every packing of the pieces.
"""

import random
from dataclasses import replace

import pytest
from tests.optimize.oracle import Row, Shop, fewest_boards

from plankwright.optimize.bounds import Bound
from plankwright.optimize.chain_bound import chain_bound
from plankwright.optimize.instance import TICKS_PER_MM as MM
from plankwright.optimize.instance import Contact, Instance, StretchNeed
from plankwright.optimize.looks import LOOKS_FIRST
from plankwright.optimize.options import options_of
from plankwright.optimize.prices import Prices
from plankwright.optimize.solve import Aim, Effort, solve

Case = tuple[Shop, list[Row], list[tuple[int, int]]]


def random_case(seed: int) -> Case:
    rng = random.Random(seed)
    shop = Shop(
        board=rng.randint(8, 12),
        cut=rng.randint(0, 1),
        shortest=rng.randint(2, 3),
        offset=rng.randint(1, 3),
    )
    rows = [Row(rng.randint(4, 26), start=rng.randint(0, 3)) for _ in range(rng.randint(2, 4))]
    return shop, rows, [(i, i + 1) for i in range(len(rows) - 1)]


def instance_of(shop: Shop, rows: list[Row], touching: list[tuple[int, int]]) -> Instance:
    contacts = tuple(
        Contact(
            i,
            j,
            max(rows[i].start, rows[j].start),
            min(rows[i].start + rows[i].length, rows[j].start + rows[j].length),
        )
        for i, j in touching
    )
    return Instance(
        board=shop.board,
        cut=shop.cut,
        shortest=shop.shortest,
        offset=shop.offset,
        grid=1,
        stretches=tuple(StretchNeed(row.length, row.start) for row in rows),
        contacts=contacts,
    )


def solved(seed: int, best: int) -> tuple[int, int]:
    """Boards and conflicts that the search comes to, aiming at a number of boards."""
    instance = instance_of(*random_case(seed))
    solution, _ = solve(instance, Bound(best, 0.0, "area"), Effort(moves=4000, seed=seed, looks=5))
    return solution.boards, solution.conflicts


@pytest.mark.parametrize("start", range(0, 1000, 40))
def test_the_search_meets_brute_force(start: int) -> None:
    for seed in range(start, start + 40):
        best = fewest_boards(*random_case(seed))
        if best is not None:  # else no way keeps the rules
            assert solved(seed, best) == (best, 0), f"seed {seed}"


@pytest.mark.parametrize("start", range(0, 120, 40))
def test_a_bound_with_joint_offsets_never_passes_brute_force(start: int) -> None:
    for seed in range(start, start + 40):
        shop, rows, touching = random_case(seed)
        best = fewest_boards(shop, rows, touching)
        if best is None:
            continue
        instance = instance_of(shop, rows, touching)
        options = [options_of(instance, need) for need in instance.stretches]
        flat = Bound(0, 0.0, "prices", Prices((0, shop.board), (0, 1_000_000_000)))
        bound = chain_bound(instance, options, flat, best + 1, lambda: False)
        assert bound.boards <= best, f"seed {seed}"


def room_of_4000_by_3000(gap: int, kerf: int, allowance: int = 0) -> Instance:
    length = (4000 - 2 * gap) * MM
    contacts = tuple(Contact(i, i + 1, 0, length) for i in range(15))
    return Instance(
        board=1285 * MM,
        cut=(kerf + allowance) * MM,
        shortest=300 * MM,
        offset=300 * MM,
        grid=MM,
        stretches=tuple(StretchNeed(length) for _ in range(16)),
        contacts=contacts,
    )


@pytest.mark.parametrize(("gap", "kerf", "allowance"), [(0, 0, 0), (10, 3, 0), (10, 3, 3)])
def test_the_room_of_four_by_three_meters_takes_51(gap: int, kerf: int, allowance: int) -> None:
    # 51 is proven by prices (test_circulation.py); 50 is aimed at in vain
    instance = room_of_4000_by_3000(gap, kerf, allowance)
    met, _ = solve(instance, Bound(51, 50.667, "area"), Effort())
    vain, _ = solve(instance, Bound(50, 49.9, "area"), Effort(moves=1500))
    assert (met.boards, met.conflicts) == (51, 0)
    assert vain.boards >= 51


def test_the_same_input_gives_the_same_solution() -> None:
    instance = room_of_4000_by_3000(10, 3)
    bound = Bound(51, 50.3, "area")
    assert solve(instance, bound, Effort()) == solve(instance, bound, Effort())


def test_boards_not_worth_spending_on_looks_are_not_spent() -> None:
    # No looks are worth 1e9: the trial with a board more is dropped, and what was found before it
    # is what comes out, seats and all.
    shop, rows, touching = random_case(7)
    instance = instance_of(shop, rows, touching)
    bound, effort = Bound(1, 0.0, "area"), Effort(moves=4000, looks=40)
    without, _ = solve(instance, bound, effort)
    dear = Aim(replace(LOOKS_FIRST, board=1e9), spend=lambda _: 2)
    assert solve(instance, bound, effort, aim=dear)[0] == without
