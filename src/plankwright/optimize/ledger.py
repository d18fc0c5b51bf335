"""The ledger of lengths: D(t) = lengths taken >= t less lengths left >= t.

With the boards that the choices open by themselves (whole boards, end pieces' boards) a plan of T
boards exists exactly when D(t) never exceeds T less their number. The *excess* is the area by
which it does [ticks]. D steps only at lengths that are taken or left, so it is kept by these.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from plankwright.optimize.options import Pick

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Steps:
    """D(t) as a step function: on (at[k-1], at[k]] its value is ``height[k]``; ``at[0]`` is 0."""

    at: Ints
    width: Ints
    height: Ints

    def most(self) -> int:
        """The greatest value of D, at least 0."""
        solid = self.height[self.width > 0]
        return max(0, int(solid.max())) if len(solid) else 0

    def over(self, spare: int) -> list[tuple[int, int]]:
        """Ranges (low, high] of lengths where D is over ``spare``."""
        where = np.flatnonzero((self.height > spare) & (self.width > 0))
        return [(int(self.at[k] - self.width[k]), int(self.at[k])) for k in where]


class Ledger:
    """What every stretch takes and leaves, and what each further choice would change."""

    def __init__(self, board: int, stretches: int) -> None:
        self._boards = np.zeros(stretches, dtype=np.int64)
        self._signs = np.concatenate([[0], np.ones(stretches), -np.ones(stretches), [0]])
        self._signs = self._signs.astype(np.int64)
        self._lengths = np.zeros(2 * stretches + 2, dtype=np.int64)
        self._lengths[-1] = board
        self._takes = self._lengths[1 : stretches + 1]
        self._leaves = self._lengths[stretches + 1 : -1]
        self._steps: Steps | None = None
        self.opened = 0

    def enter(self, stretch: int, choice: Pick) -> None:
        """Enter a stretch's choice."""
        self._takes[stretch], self._leaves[stretch] = choice.takes, choice.leaves
        self.opened += choice.boards - int(self._boards[stretch])
        self._boards[stretch] = choice.boards
        self._steps = None

    def strike(self, stretch: int) -> None:
        """Strike a stretch's choice out."""
        self.enter(stretch, Pick(0, 0, 0))

    def steps(self) -> Steps:
        """D(t) as it stands."""
        if self._steps is None:
            order = self._lengths.argsort(kind="stable")
            at = self._lengths[order]
            width = at.copy()
            width[1:] -= at[:-1]
            height = self._signs[order][::-1].cumsum()[::-1]
            self._steps = Steps(at, width, height)
        return self._steps

    def boards(self) -> int:
        """Boards that the choices made so far need."""
        return self.opened + self.steps().most()

    def burdened(self, low: int, high: int) -> Ints:
        """Stretches that take more than ``low`` and leave less than ``high``."""
        found: Ints = np.flatnonzero((self._takes > low) & (self._leaves < high))
        return found


def excess_with(steps: Steps, spare: int, takes: Ints, leaves: Ints) -> Floats:
    """Excess [ticks] for each of many choices of one more stretch.

    ``spare`` is the target less all boards opened, the choice's own among them.
    """
    over = steps.height - spare
    above = steps.width * (over > 0)
    better = above.cumsum()
    worse = (steps.width * (over >= 0)).cumsum()
    ends = np.concatenate([takes, leaves])
    worse_to, better_to = np.interp(ends, steps.at, worse), np.interp(ends, steps.at, better)
    many = len(takes)
    added, relieved = worse_to[:many] - worse_to[many:], better_to[:many] - better_to[many:]
    change: Floats = np.where(takes >= leaves, added, relieved)
    return change + int((over * above).sum())
