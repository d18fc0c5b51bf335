"""Patterns against plain enumeration."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import PlankwrightError
from plankwright.optimize.patterns import Pattern, Pieces, best_patterns, patterns_worth


def every_pattern(pieces: Pieces, capacity: int) -> list[Pattern]:
    tried = product(*(range(n + 1) for n in pieces.wanted))
    return [pattern for pattern in tried if pieces.size(pattern) <= capacity]


def worth(values: list[int], pattern: Pattern) -> int:
    return sum(value * n for value, n in zip(values, pattern, strict=True))


@st.composite
def knapsacks(draw: st.DrawFn) -> tuple[Pieces, list[int], int]:
    lengths = sorted(draw(st.sets(st.integers(1, 12), min_size=1, max_size=5)), reverse=True)
    wanted = tuple(draw(st.integers(0, 3)) for _ in lengths)
    values = [draw(st.integers(0, 9)) for _ in lengths]
    return Pieces(tuple(lengths), wanted), values, draw(st.integers(1, 30))


@settings(derandomize=True, deadline=None, max_examples=200)
@given(knapsacks(), st.integers(1, 4))
def test_the_best_pattern_is_the_best_of_all(
    knapsack: tuple[Pieces, list[int], int], most: int
) -> None:
    pieces, values, capacity = knapsack
    found = best_patterns(pieces, values, capacity, most)
    assert found[0][0] == max(worth(values, p) for p in every_pattern(pieces, capacity))
    for value, pattern in found:
        assert value == worth(values, pattern)
        assert pattern in every_pattern(pieces, capacity)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(knapsacks(), st.integers(0, 30))
def test_patterns_worth_enough_are_all_found_once(
    knapsack: tuple[Pieces, list[int], int], least: int
) -> None:
    pieces, values, capacity = knapsack

    def is_full(pattern: Pattern) -> bool:
        left = capacity - pieces.size(pattern)
        kinds = zip(pattern, pieces.wanted, pieces.lengths, strict=True)
        return not any(n < wanted and length <= left for n, wanted, length in kinds)

    expected = [
        p for p in every_pattern(pieces, capacity) if worth(values, p) >= least and is_full(p)
    ]
    found = patterns_worth(pieces, values, capacity, least, most=10_000)
    assert found is not None
    assert sorted(found) == sorted(expected)
    if expected:
        assert patterns_worth(pieces, values, capacity, least, most=len(expected) - 1) is None


@pytest.mark.parametrize(
    ("lengths", "wanted"), [((3, 5), (1, 1)), ((5, 5), (1, 1)), ((5, 3), (1,)), ((5, 3), (1, -1))]
)
def test_pieces_that_make_no_sense_are_refused(
    lengths: tuple[int, ...], wanted: tuple[int, ...]
) -> None:
    with pytest.raises(PlankwrightError):
        Pieces(lengths, wanted)
