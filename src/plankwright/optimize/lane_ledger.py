"""The ledger of lengths in several lanes: D(t) of each, as in :mod:`plankwright.optimize.ledger`.

A piece *takes* the length from its near end to its board's far end, and *leaves* what lies beyond
it, less a cut. A plan of T boards exists only if D(t), with the boards opened in that lane, never
exceeds T in any lane. Lanes stand one after another on one axis: the lengths of lane k, from 0 to a
board, are those from k to k + 1 boards.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from plankwright.optimize.ledger import Floats, Ints, Steps


@dataclass(frozen=True, slots=True)
class Loads:
    """What each of many choices of a stretch does in all lanes, one row a choice.

    Parameters
    ----------
    opened : boards wholly used, a column for each lane.
    takes, leaves : on the axis of all lanes; a pair of equal lengths does nothing.
    """

    opened: Ints
    takes: Ints
    leaves: Ints


class LaneLedger:
    """What every stretch takes and leaves in every lane.

    ``slots`` are the most pairs that a choice of each stretch has.
    """

    def __init__(self, board: int, slots: Sequence[int], lanes: int = 1) -> None:
        self._board, self._lanes = board, lanes
        self._begin = np.concatenate([[0], np.cumsum(slots)]).tolist()
        self._stretch = np.repeat(np.arange(len(slots)), slots)
        pairs = self._begin[-1]
        tops = board * np.arange(1, lanes + 1, dtype=np.int64)
        none = np.zeros(2 * pairs, dtype=np.int64)
        self._lengths = np.concatenate([tops, tops - board, none])
        self._weights = np.concatenate([np.zeros(2 * lanes), np.ones(pairs), -np.ones(pairs)])
        self._weights = self._weights.astype(np.int64)
        self._takes = self._lengths[2 * lanes : 2 * lanes + pairs]
        self._leaves = self._lengths[2 * lanes + pairs :]
        self._opened = np.zeros((len(slots), lanes), dtype=np.int64)
        self._steps: Steps | None = None

    def enter(self, stretch: int, load: Loads) -> None:
        """Enter a stretch's choice: loads of one row."""
        self._open(stretch, load.opened[0])
        begin, end = self._begin[stretch], self._begin[stretch + 1]
        self._takes[begin:end] = self._leaves[begin:end] = 0
        used = np.flatnonzero(load.takes[0] != load.leaves[0])
        self._takes[begin : begin + len(used)] = load.takes[0, used]
        self._leaves[begin : begin + len(used)] = load.leaves[0, used]

    def strike(self, stretch: int) -> None:
        """Strike a stretch's choice out."""
        self._open(stretch, 0)
        begin, end = self._begin[stretch], self._begin[stretch + 1]
        self._takes[begin:end] = self._leaves[begin:end] = 0

    def _open(self, stretch: int, opened: Ints | int) -> None:
        more = opened - self._opened[stretch]
        self._weights[: self._lanes] += more
        self._weights[self._lanes : 2 * self._lanes] -= more
        self._opened[stretch] = opened
        self._steps = None

    def steps(self) -> Steps:
        """D(t) as it stands."""
        if self._steps is None:
            order = self._lengths.argsort(kind="stable")
            at = self._lengths[order]
            width = at.copy()
            width[1:] -= at[:-1]
            height = self._weights[order][::-1].cumsum()[::-1]
            self._steps = Steps(at, width, height)
        return self._steps

    def boards(self) -> int:
        """Boards that the choices made so far need at the least."""
        return self.steps().most()

    def burdened(self, low: int, high: int) -> Ints:
        """Stretches that take more than ``low`` and leave less than ``high``."""
        found: Ints = self._stretch[(self._takes > low) & (self._leaves < high)]
        return found

    def excess_with(self, target: int, loads: Loads) -> Floats:
        """Excess over a target [ticks] for each of many choices of one more stretch.

        Exact where the pairs of a choice lie apart; otherwise their changes are added up.
        """
        steps = self.steps()
        over = steps.height - target
        opened = loads.opened
        if (opened == opened[0]).all():
            return self._excess(steps, over, opened[0], loads.takes, loads.leaves)
        found = np.empty(len(opened))
        codes = opened @ (1 << 10 * np.arange(self._lanes, dtype=np.int64))
        for code in set(codes.tolist()):
            part = np.flatnonzero(codes == code)
            found[part] = self._excess(
                steps, over, opened[part[0]], loads.takes[part], loads.leaves[part]
            )
        return found

    def _excess(self, steps: Steps, over: Ints, opened: Ints, takes: Ints, leaves: Ints) -> Floats:
        """The same where every choice opens the same boards in each lane."""
        if self._lanes == 1:
            over = over + int(opened[0])
        else:
            over = over + opened[np.maximum(steps.at - 1, 0) // self._board]
        above = steps.width * (over > 0)
        better = above.cumsum()
        worse = (steps.width * (over >= 0)).cumsum()
        ends = np.concatenate([takes.ravel(), leaves.ravel()])
        worse_to, better_to = np.interp(ends, steps.at, worse), np.interp(ends, steps.at, better)
        many = takes.size
        added, relieved = worse_to[:many] - worse_to[many:], better_to[:many] - better_to[many:]
        change = np.where(takes.ravel() >= leaves.ravel(), added, relieved)
        total: Floats = change.reshape(takes.shape).sum(axis=1) + int((over * above).sum())
        return total
