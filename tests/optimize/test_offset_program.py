"""Prices for joint offsets: cliques by hand, and a bound that needs them."""

import numpy as np

from plankwright.optimize.chains import Chains
from plankwright.optimize.instance import TICKS_PER_MM, Contact, Instance, StretchNeed
from plankwright.optimize.offset_program import MOST_SEGMENTS, cliques, offset_prices
from plankwright.optimize.options import options_of
from plankwright.optimize.prices import BILLION

MM = TICKS_PER_MM


def rows(count: int, length: int, offset: int) -> Chains:
    """Equal rows side by side, boards of 600 mm, no cut, pieces from 200 mm, marks of 5 mm."""
    instance = Instance(
        board=600 * MM,
        cut=0,
        shortest=200 * MM,
        offset=offset * MM,
        grid=MM,
        stretches=(StretchNeed(length * MM),) * count,
        contacts=tuple(Contact(i, i + 1, 0, length * MM) for i in range(count - 1)),
    )
    options = [options_of(instance, stretch) for stretch in instance.stretches]
    return Chains(instance, options, np.array([600 * MM], dtype=np.int64), 5 * MM)


def test_cliques_are_as_large_as_can_be() -> None:
    # Segments 0 and 1 both conflict with 0 and 1; segment 2 conflicts with 1 and 2; 3 with none.
    conflict = np.array([[1, 1, 0], [1, 1, 0], [0, 1, 1], [0, 0, 0]], dtype=np.bool_)
    found = {(tuple(here), tuple(there)) for here, there in cliques(conflict)}
    assert found == {((0, 1), (0, 1)), ((2,), (1, 2))}


def test_rows_that_cannot_share_cost_more_with_their_joint_offsets() -> None:
    # Rows of 1000 mm, boards of 600: a + b = 1000 with a from 400 to 600 (2 pieces), or 200 + 600 +
    # 200. Without offsets two rows of 400 + 600 share: a starter of 600, an end piece of 400, and
    # so on: 1 2/3 boards a row by area. With 300 mm between joints, two rows of two pieces never
    # go side by side (their joints are 200 mm apart at the most).
    chains = rows(3, 1000, 300)
    prices = offset_prices(chains, 600 * MM, 5 * MM)
    assert prices is not None
    kept = Chains.cheapest(chains, prices)[0]
    loose = rows(3, 1000, 0)
    without = offset_prices(loose, 600 * MM, 5 * MM)
    assert without is not None
    assert kept > loose.cheapest(without)[0] + BILLION // 10


def test_too_much_is_left_alone() -> None:
    # 41 segments of 5 mm from 400 to 600, and one of 200 mm: 300 rows have more than 12,000.
    chains = rows(300, 1000, 300)
    assert sum(len(segments.low) for segments in chains.segments) > MOST_SEGMENTS
    assert offset_prices(chains, 600 * MM, 5 * MM) is None


def test_a_stop_is_kept() -> None:
    asked = 0

    def stop() -> bool:
        nonlocal asked
        asked += 1
        return True

    assert offset_prices(rows(60, 1000, 300), 600 * MM, 5 * MM, stop) is None
    assert asked > 0
