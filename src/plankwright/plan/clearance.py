"""Clearance: what shares a board must be cut apart by the saw; what is not gets a board of its own.

The search counts in lanes and leaves a margin. This looks at the true shapes once more, so that no
plan is refused for a corner that the lanes did not see.
"""

from collections.abc import Sequence
from itertools import combinations

import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.model.rules import Rules

ROUNDING_MM = 0.02


def kept_apart(outlines: Sequence[BaseGeometry], boards: Sequence[int], rules: Rules) -> list[int]:
    """The boards of pieces, with a new one for each that lies too near another of its board.

    ``outlines`` lie as in their boards, u from the near end and v from the wall side [mm].
    """
    sharing: dict[int, list[int]] = {}
    for index, board in enumerate(boards):
        sharing.setdefault(board, []).append(index)
    found = list(boards)
    new = max(boards, default=0) + 1
    for together in sharing.values():
        for one, other in combinations(together, 2):
            if found[one] == found[other] and not is_clear(outlines[one], outlines[other], rules):
                found[other], new = new, new + 1
    return found


def is_clear(one: BaseGeometry, other: BaseGeometry, rules: Rules) -> bool:
    """Whether the saw fits between two outlines: along, across, or round their shapes."""
    a, b = one.bounds, other.bounds
    along, across = max(a[0] - b[2], b[0] - a[2]), max(a[1] - b[3], b[1] - a[3])
    if along >= rules.cut_mm - ROUNDING_MM or across >= rules.kerf_mm - ROUNDING_MM:
        return True
    return bool(
        shapely.distance(one, other) >= rules.cut_mm - ROUNDING_MM
        and shapely.area(shapely.intersection(one, other)) == 0.0
    )
