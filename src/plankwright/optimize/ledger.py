"""The ledger of lengths: D(t) = lengths taken >= t less lengths left >= t, per grid cell.

With the boards that the choices open by themselves (whole boards, end pieces' boards) a plan of T
boards exists exactly when D(t) never exceeds T less their number. The *excess* is the area by
which it does.
"""

import numpy as np

from plankwright.optimize.choices import Choices, Ints


class Ledger:
    """D(t) of the choices made so far, and what each further choice would change."""

    def __init__(self, cells: int) -> None:
        self._balance = np.zeros(cells + 1, dtype=np.int64)  # cell 0 is never used
        self.opened = 0

    def add(self, options: Choices, pick: int, sign: int = 1) -> None:
        """Enter a choice (``sign`` 1) or strike it out (-1)."""
        taken, left = int(options.takes[pick]), int(options.leaves[pick])
        if taken > left:
            self._balance[left + 1 : taken + 1] += sign
        else:
            self._balance[taken + 1 : left + 1] -= sign
        self.opened += sign * int(options.boards[pick])

    def boards(self) -> int:
        """Boards that the choices made so far need."""
        return self.opened + max(0, int(self._balance.max()))

    def excess(self, target: int) -> int:
        """Excess area [cells] over a target number of boards."""
        over = self._balance[1:] - (target - self.opened)
        return int(over[over > 0].sum())

    def tight(self, target: int) -> Ints:
        """Cells where the shortfall is over the target."""
        cells: Ints = np.flatnonzero(self._balance[1:] > target - self.opened) + 1
        return cells

    def excess_with(self, options: Choices, target: int) -> Ints:
        """Excess area [cells] for every choice of one more stretch."""
        result = np.empty(len(options), dtype=np.int64)
        for part, boards in options.groups:
            spare = target - self.opened - boards
            result[part] = self._excess_part(options.takes[part], options.leaves[part], spare)
        return result

    def _excess_part(self, takes: Ints, leaves: Ints, spare: int) -> Ints:
        over = self._balance - spare
        over[0] = -1
        at_least, above = over >= 0, over > 0
        worse, better = np.cumsum(at_least), np.cumsum(above)
        added: Ints = worse[takes] - worse[leaves]
        relieved: Ints = better[takes] - better[leaves]
        total: Ints = np.choose(takes >= leaves, (relieved, added)) + int(over[above].sum())
        return total
