"""Cutting stock: by hand, by brute force, and against published optima."""

import json
import math
import random
from collections.abc import Sequence
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.data import data_file

from plankwright.errors import PlankwrightError
from plankwright.optimize.packing import Packing, pack
from plankwright.optimize.pattern_program import Bar
from plankwright.optimize.prices import BILLION

SAMPLE = 8  # of 42 published instances; the benchmark runs them all


def assert_is_sound(
    packing: Packing, pieces: Sequence[int], bars: Sequence[Bar], kerf: int
) -> None:
    """Every piece is cut once, every cut fits its bar, and the values add up to the bound."""
    assert sorted(p for cut in packing.cuts for p in cut.pieces) == sorted(pieces)
    worth = dict(packing.values)
    for cut in packing.cuts:
        assert sum(cut.pieces) + kerf * (len(cut.pieces) - 1) <= cut.bar.length
        assert sum(worth[piece] for piece in cut.pieces) <= cut.bar.cost * BILLION
    if packing.evidence == "values":
        unit = math.gcd(*(bar.cost for bar in bars))
        units = sum(worth[piece] for piece in pieces) / BILLION / unit
        assert packing.bound == unit * math.ceil(units - 1e-6)


def assert_no_bar_holds_more_than_its_cost(
    packing: Packing, pieces: Sequence[int], bars: Sequence[Bar], kerf: int
) -> None:
    worth = dict(packing.values)
    for size in range(1, len(pieces) + 1):
        for group in combinations(pieces, size):
            value = sum(worth[piece] for piece in group)
            for bar in bars:
                fits = sum(group) + kerf * (size - 1) <= bar.length
                assert not fits or value <= bar.cost * BILLION


def fewest_by_trying(pieces: Sequence[int], bars: Sequence[Bar], kerf: int) -> int:
    """Least cost over all ways to put pieces into groups, each cut from the cheapest bar."""
    best = [10**9]

    def place(i: int, groups: list[list[int]]) -> None:
        if i == len(pieces):
            costs = [
                min(
                    (b.cost for b in bars if sum(g) + kerf * (len(g) - 1) <= b.length),
                    default=10**9,
                )
                for g in groups
            ]
            best[0] = min(best[0], sum(costs))
            return
        for group in groups:
            group.append(pieces[i])
            place(i + 1, groups)
            group.pop()
        place(i + 1, [*groups, [pieces[i]]])

    place(0, [])
    return best[0]


def test_a_kerf_lies_between_pieces_and_not_at_the_ends() -> None:
    # 3 x 32 + 2 x 2 = 100 fits exactly; with a kerf of 3 it does not.
    assert pack([32, 32, 32], [Bar(100)], kerf=2).cost == 1
    assert pack([32, 32, 32], [Bar(100)], kerf=3).cost == 2


def test_best_fit_is_improved_upon_and_proven() -> None:
    # Best fit cuts 4 + 4, 3 + 3 + 3 and 3: three bars. By hand: 4 + 3 + 3 twice fills two bars of
    # 10 exactly, and 20 / 10 = 2 is the bound by length.
    packing = pack([4, 4, 3, 3, 3, 3], [Bar(10)])
    assert (packing.cost, packing.bound, packing.is_optimal) == (2, 2, True)
    assert sorted(cut.pieces for cut in packing.cuts) == [(4, 3, 3), (4, 3, 3)]


def test_the_cheapest_bars_are_taken() -> None:
    # 3 + 3 from a bar of 6 at 5, 2 from a bar of 3 at 3: 8. From the longer bar alone: 10.
    packing = pack([3, 3, 2], [Bar(6, cost=5), Bar(3, cost=3)])
    assert (packing.cost, packing.bound) == (8, 8)


def test_pieces_longer_than_every_bar_are_refused() -> None:
    with pytest.raises(PlankwrightError):
        pack([11], [Bar(10)])
    with pytest.raises(PlankwrightError):
        pack([1], [])


def test_nothing_to_cut_needs_no_bar() -> None:
    assert pack([], [Bar(10)]).cost == 0


def test_the_same_pieces_are_cut_the_same_way_every_time() -> None:
    rng = random.Random(5)
    pieces = [rng.randint(300_000, 2_000_000) for _ in range(25)]
    shuffled = pieces.copy()
    rng.shuffle(shuffled)
    assert pack(pieces, [Bar(2_440_000)], 30) == pack(shuffled, [Bar(2_440_000)], 30)


@settings(derandomize=True, deadline=None, max_examples=150)
@given(
    st.lists(st.integers(1, 12), min_size=1, max_size=7),
    st.lists(st.tuples(st.integers(12, 20), st.integers(1, 6)), min_size=1, max_size=3),
    st.integers(0, 2),
)
def test_brute_force_agrees(pieces: list[int], kinds: list[tuple[int, int]], kerf: int) -> None:
    bars = [Bar(length, cost) for length, cost in kinds]
    packing = pack(pieces, bars, kerf)
    assert_is_sound(packing, pieces, bars, kerf)
    assert_no_bar_holds_more_than_its_cost(packing, pieces, bars, kerf)
    fewest = fewest_by_trying(pieces, bars, kerf)
    assert packing.bound <= fewest
    assert packing.cost == fewest
    assert packing.is_optimal


def test_published_optima_are_met_and_proven() -> None:
    """E. Falkenauer (Journal of Heuristics 2, 1996) and A. Scholl, R. Klein, C. Jürgens
    (Computers & Operations Research 24, 1997), with their published optima.
    """
    instances = json.loads(data_file("cutting_stock.json").read_text())["instances"]
    for instance in random.Random(42).sample(instances, SAMPLE):
        bars = [Bar(instance["capacity"])]
        packing = pack(instance["items"], bars)
        assert_is_sound(packing, instance["items"], bars, kerf=0)
        assert packing.cost == packing.bound == instance["optimum"], instance["name"]
