"""Chains of stretches that keep their joint offsets: by hand."""

import numpy as np

from plankwright.optimize.chains import Chains
from plankwright.optimize.instance import TICKS_PER_MM, Contact, Instance, StretchNeed
from plankwright.optimize.options import Options
from plankwright.optimize.prices import BILLION, Prices
from plankwright.optimize.spans import Span, arcs_of

MM = TICKS_PER_MM


def test_the_order_of_a_stretch_s_ranges_does_not_matter() -> None:
    # Two rows of 5860 mm side by side, boards of 1285, cut 3, pieces from 300, joint offset 300.
    # 4 boards: a + b = 5860 - 3 x 1285 = 2005, a from 720 to 1285, c = 1282 - b = a - 723;
    # 5 boards: a + b = 720, a from 300 to 420, c = 1282 - b = a + 562, 982 at the most.
    # With a price of 1 from 990 mm on a row costs 4 with a from 720 to 989, and 5 otherwise. Two
    # such starters are 269 mm apart at the most, so that one row of the two costs 5: 9 in all.
    span = Span(5860 * MM, shortest=300 * MM)
    arcs = arcs_of(span, 1285 * MM, 3 * MM)
    assert [arc.boards for arc in arcs] == [4, 5]
    prices = Prices((0, 990 * MM), (0, BILLION))
    for ranges in (arcs, arcs[::-1]):
        options = (Options(span.length, ranges, is_long=True, legal=True),) * 2
        instance = Instance(
            board=1285 * MM,
            cut=3 * MM,
            shortest=300 * MM,
            offset=300 * MM,
            grid=MM,
            stretches=(StretchNeed(span.length),) * 2,
            contacts=(Contact(0, 1, 0, span.length),),
        )
        chains = Chains(instance, options, np.array([990 * MM], dtype=np.int64), 5 * MM)
        total, chosen = chains.cheapest(prices)
        assert total == 9 * BILLION
        assert len(chosen) == 2
