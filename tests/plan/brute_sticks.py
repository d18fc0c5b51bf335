"""Sticks by brute force: every set of pieces on one stick, then the next."""

from collections.abc import Sequence
from functools import cache


def least_cost(lengths: Sequence[int], bars: Sequence[tuple[int, int]], kerf: int) -> int:
    """The least cost, by trying every set of pieces on one stick, then the next."""
    everything = (1 << len(lengths)) - 1
    cost = [0] + [
        min(
            (price for length, price in bars
             if sum(lengths[i] + kerf for i in range(len(lengths)) if part >> i & 1) - kerf
             <= length),
            default=10**9,
        )
        for part in range(1, everything + 1)
    ]  # fmt: skip

    @cache
    def least(left: int) -> int:
        if left == 0:
            return 0
        first = left & -left
        rest, best, part = left ^ first, 10**9, left ^ first
        while True:
            best = min(best, cost[part | first] + least(rest ^ part))
            if part == 0:
                return best
            part = (part - 1) & rest

    return least(everything)
