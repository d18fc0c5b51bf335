"""What can be chosen for one stretch: its starter, and so every joint of it.

A stretch longer than a board is starter + whole boards + end piece. A stretch no longer than a
board is one wall-to-wall piece; its choice is the length of the board or offcut it is cut from.

Every choice *takes* a length (a starter, or the board a wall-to-wall piece is cut from) and
*leaves* one (what remains beside the end piece, or beside the wall-to-wall piece). Lengths taken
count up and lengths left count down to whole grid cells, so a plan that fits in cells fits.
"""

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from plankwright.optimize.instance import Instance, StretchNeed

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Choices:
    """All choices of a stretch, by rising starter.

    Parameters
    ----------
    starter : length of the starter, or the length a wall-to-wall piece is cut from [ticks].
    wholes : number of whole boards between starter and end piece.
    end : length of the end piece [ticks]; 0 for a wall-to-wall piece.
    takes, leaves : grid cells taken and left.
    boards : boards the choice opens by itself: whole boards and the end piece's.
    is_long : whether the stretch is longer than a board.
    need : extent of the stretch [ticks].
    groups : slices of equal ``boards``, with that number.
    legal : False when no choice keeps the shortest piece, and these are the least bad.
    """

    starter: Ints
    wholes: Ints
    end: Ints
    takes: Ints
    leaves: Ints
    boards: Ints
    is_long: bool
    need: int
    legal: bool = True

    groups: tuple[tuple[slice, int], ...] = field(init=False)

    def __post_init__(self) -> None:
        changes = np.flatnonzero(np.diff(self.boards)) + 1
        edges = [0, *changes.tolist(), len(self.boards)]
        parts = tuple((slice(a, b), int(self.boards[a])) for a, b in pairwise(edges))
        object.__setattr__(self, "groups", parts)

    def __len__(self) -> int:
        return len(self.starter)


def choices_of(instance: Instance, stretch: StretchNeed) -> Choices:
    """Every choice of a stretch; never empty."""
    if stretch.length <= instance.board:
        return _wall_to_wall(instance, stretch)
    starters = _starters(instance, stretch.length)
    wholes = -(-(stretch.length - starters) // instance.board) - 1
    ends = stretch.length - starters - wholes * instance.board
    shorter = np.minimum(starters, ends)
    prongs = _cuts_prong(instance, stretch, starters, wholes)
    keep = (shorter >= instance.shortest) & ~prongs
    legal = bool(keep.any())
    if not legal:  # no legal joint: keep the longest shorter piece, off the prongs if possible
        free = ~prongs if (~prongs).any() else np.ones_like(prongs)
        keep = free & (shorter >= shorter[free].max())
    starters, wholes, ends = starters[keep], wholes[keep], ends[keep]
    left = np.maximum(instance.board - instance.cut - ends, 0)
    return Choices(
        starters,
        wholes,
        ends,
        -(-starters // instance.grid),
        left // instance.grid,
        wholes + 1,
        is_long=True,
        need=stretch.length,
        legal=legal,
    )


def _starters(instance: Instance, length: int) -> Ints:
    """Starters on marks of the tape, a whole board, and the one that ends on a whole board."""
    top = min(instance.board, length - 1)
    marks = np.arange(instance.grid, top + 1, instance.grid, dtype=np.int64)
    flush = length % instance.board or instance.board
    extra = [x for x in (instance.board, flush) if 0 < x <= top]
    return np.unique(np.concatenate([marks, np.array(extra, dtype=np.int64)]))


def _cuts_prong(
    instance: Instance, stretch: StretchNeed, starters: Ints, wholes: Ints
) -> npt.NDArray[np.bool_]:
    """Which starters put a joint into a forbidden interval."""
    bad = np.zeros(len(starters), dtype=np.bool_)
    for low, high in stretch.forbidden:
        first = max(0, (low - instance.board) // instance.board)
        last = high // instance.board
        for k in range(first, last + 1):
            joints = starters + k * instance.board
            bad |= (joints > low) & (joints < high) & (k <= wholes)
    return bad


def _wall_to_wall(instance: Instance, stretch: StretchNeed) -> Choices:
    first = -(-stretch.length // instance.grid)
    takes = np.arange(first, instance.cells + 1, dtype=np.int64)
    lengths = np.minimum(takes * instance.grid, instance.board)
    left = np.maximum(lengths - stretch.length - instance.cut, 0)
    none = np.zeros_like(takes)
    return Choices(
        lengths,
        none,
        none,
        takes,
        left // instance.grid,
        none,
        is_long=False,
        need=stretch.length,
    )
