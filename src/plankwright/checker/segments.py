"""The starters of one chord, cut into segments in which nothing changes but a little place.

In a segment the price p(a) of the starter a and the price p(c) of the starter c that it leaves
(see :mod:`plankwright.checker.prices`) are constant. Segments end where a listed length begins,
as a or as c, and at every 2.5 mm of either, so that their joints are known to 2.5 mm. Shorter
segments can only raise what is proven from them.
"""

from dataclasses import dataclass

import numpy as np

from plankwright.checker.prices import TICKS_PER_MM, Floats, Need, Prices, Ticks, starter_ranges

STEP = 25 * TICKS_PER_MM // 10


@dataclass(frozen=True, slots=True)
class Part:
    """Segments ``first`` to ``last`` (not included) of a stretch: those with ``joints`` joints."""

    first: int
    last: int
    joints: int


@dataclass(frozen=True, slots=True)
class Segments:
    """Segments of a stretch's starters, from ``low`` to ``high``, both included [ticks].

    They rise within each of the ``parts``; ``joints`` and ``cost`` of each segment.
    """

    low: Ticks
    high: Ticks
    joints: Ticks
    cost: Floats
    parts: tuple[Part, ...]


def segments_of(prices: Prices, need: Need, board: int, cut: int) -> Segments:
    """All segments of a chord that can be filled; lengths in ticks.

    Where one piece may run through it there are segments without a joint, of the lengths that the
    piece may be cut from.
    """
    lows, highs, joints, costs, parts = [], [], [], [], []
    count = 0
    ways = [(f + 1, *rest) for f, *rest in starter_ranges(need, board, cut)]
    if need.whole and need.length <= board:
        ways.append((0, need.length, board, -need.length - cut))
    for boards, least, most, gain in ways:
        marks = np.concatenate([np.arange(0, board + STEP, STEP), prices.at])
        cuts = np.concatenate([[least, most + 1], marks, marks - gain])
        cuts = np.unique(cuts[(cuts >= least) & (cuts <= most + 1)])
        low = cuts[:-1]
        lows.append(low)
        highs.append(cuts[1:] - 1)
        joints.append(np.full(len(low), boards, np.int64))
        costs.append(boards + prices(low) - prices(np.maximum(low + gain, 0)))
        parts.append(Part(count, count + len(low), boards))
        count += len(low)
    low, high, joint = (np.concatenate(column) for column in (lows, highs, joints))
    return Segments(low, high, joint, np.concatenate(costs), tuple(parts))
