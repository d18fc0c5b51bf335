"""Conflicts: which starters the joints of a neighboring row forbid."""

import numpy as np

from plankwright.optimize.conflicts import Conflicts, in_windows
from plankwright.optimize.instance import Contact, Instance, StretchNeed
from plankwright.optimize.options import options_of, pick


def conflicts_with(offset: int, high: int = 4000) -> Conflicts:
    """Two rows of 4000 beside each other; the first has its joints at 500, 1500, 2500 and 3500."""
    needs = (StretchNeed(4000), StretchNeed(4000))
    instance = Instance(1000, 0, 100, offset, 1, needs, (Contact(0, 1, 0, high),))
    options = [options_of(instance, need) for need in needs]
    conflicts = Conflicts(instance, options)
    arc = next(arc for arc in options[0].ranges if arc.low <= 500 <= arc.high)
    conflicts.enter(0, pick(arc, 500))
    return conflicts


def count(conflicts: Conflicts, starters: list[int]) -> list[int]:
    return [int(n) for n in in_windows(np.array(starters), *conflicts.windows(1))]


def test_starters_nearer_than_the_offset_conflict_at_every_joint() -> None:
    # a starter of 300 has joints at 300, 1300, 2300 and 3300, each exactly 200 from the row beside
    found = count(conflicts_with(offset=200), [300, 301, 500, 699, 700])
    assert found[0] == found[-1] == 0
    assert all(number >= 3 for number in found[1:-1])


def test_joints_beyond_the_shared_row_line_do_not_count() -> None:
    # the rows touch up to 1000 only: of the four joints at 500 apart from nothing, one counts
    assert count(conflicts_with(offset=200, high=1000), [500]) == [1]


def test_no_offset_forbids_nothing() -> None:
    assert count(conflicts_with(offset=0), [499, 500, 501]) == [0, 0, 0]
