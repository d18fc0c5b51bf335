"""Boards as colors: pieces that cannot come from one board must have different colors.

Tabu search for a coloring (A. Hertz, D. de Werra, Using tabu search techniques for graph coloring,
Computing 39, 1987): the piece and the board whose change leaves the fewest clashes, and no way back
for a while.
"""

import numpy as np
import numpy.typing as npt

from plankwright.optimize.ledger import Ints

Bools = npt.NDArray[np.bool_]

STEPS_PER_PIECE = 15  # work limit
STAY = 0.6  # moves that a piece may not go back, for each piece that clashes
AT_LEAST = 6


def colored(clash: Bools, first: Ints, colors: int, rng: np.random.Generator) -> Ints | None:
    """A color below ``colors`` for every piece, no two that clash alike; None if not found.

    Parameters
    ----------
    clash : which pairs of pieces clash; symmetric.
    first : colors to begin with; those that are too high are changed.
    """
    count = len(first)
    if count == 0:
        return first
    color = first.copy()
    load = np.zeros((count, colors), dtype=np.int64)  # clashes of each piece with each color
    for piece in np.flatnonzero(color < colors):
        load[:, color[piece]] += clash[piece]
    for piece in np.flatnonzero(color >= colors):
        color[piece] = load[piece].argmin()
        load[:, color[piece]] += clash[piece]
    every = np.arange(count)
    barred = np.zeros((count, colors), dtype=np.int64)
    best = count * count
    for step in range(STEPS_PER_PIECE * count):
        own = load[every, color]
        total = int(own.sum())
        if total == 0:
            return color
        best = min(best, total)
        wrong = np.flatnonzero(own)
        change = load[wrong] - own[wrong, None]
        change[np.arange(len(wrong)), color[wrong]] = count
        free = (barred[wrong] <= step) | (total + 2 * change < best)
        cost = np.where(free, change, count) + 0.5 * rng.random(change.shape)
        at, new = np.unravel_index(int(cost.argmin()), cost.shape)
        piece = wrong[at]
        barred[piece, color[piece]] = step + AT_LEAST + int(STAY * len(wrong))
        load[:, color[piece]] -= clash[piece]
        load[:, new] += clash[piece]
        color[piece] = new
    return None
