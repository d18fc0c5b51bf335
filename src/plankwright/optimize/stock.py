"""Stock: offcuts at hand as sources of the instance, beside the new boards.

An offcut with its far end serves a starter up to its length, one with its near end an end piece,
any of them a wall-to-wall piece. In the ledger of lengths an offcut with its far end is a length
left over, for nothing. An offcut with its near end stands in for the board of an end piece b, and
then the length c = board - cut - b that this board would have left is gone: it saves a board and
takes a length c of at least board - cut - its own length. Only a length that an end piece left can
be given up so; starters may take any. So (Hall's theorem for the two kinds of takers)

    boards = boards opened - near offcuts + max over t of (N(t) - C(t) + U(t)),
    U(t) = max over s >= t of (A(s) - F(s)),

where A counts the lengths taken, C those left by end pieces, F those left otherwise and the far
offcuts, N the lengths that near offcuts take; neither maximum is below 0.
"""

from collections.abc import Sequence

import numpy as np

from plankwright.optimize.instance import Instance
from plankwright.optimize.ledger import Ints, Ledger, Steps
from plankwright.optimize.options import Options
from plankwright.optimize.spans import Offcut

A, C, F, N, NONE = range(5)


def near_take(instance: Instance, offcut: Offcut) -> int:
    """The least length left by an end piece that an offcut with its near end can serve."""
    return max(1, instance.board - instance.cut - offcut.length)


class StockLedger(Ledger):
    """The ledger of lengths with offcuts at hand."""

    def __init__(
        self, instance: Instance, options: Sequence[Options], shelf: Sequence[Offcut]
    ) -> None:
        super().__init__(instance.board, len(options))
        far = [o.length for o in shelf if o.end in ("far", "both")]
        near = [near_take(instance, o) for o in shelf if o.end == "near"]
        self.opened = -len(near)
        self._shelf = np.array(far + near, dtype=np.int64)
        left = [C if option.is_long else F for option in options]
        self._kinds = np.array(
            [NONE, *[A] * len(options), *left, NONE, *[F] * len(far), *[N] * len(near)]
        )

    def steps(self) -> Steps:
        """The balance as it stands, a step function as in :class:`Ledger`."""
        if self._steps is None:
            lengths = np.concatenate([self._lengths, self._shelf])
            order = lengths.argsort(kind="stable")
            at, kinds = lengths[order], self._kinds[order]
            width = at.copy()
            width[1:] -= at[:-1]
            wanted = _at_least(kinds, A) - _at_least(kinds, F)
            wanted[width == 0] = 0
            most = np.maximum.accumulate(np.maximum(wanted, 0)[::-1])[::-1]
            height = most + _at_least(kinds, N) - _at_least(kinds, C)
            self._steps = Steps(at, width, height)
        return self._steps


def _at_least(kinds: Ints, kind: int) -> Ints:
    """How many of a kind there are from each place on."""
    found: Ints = (kinds == kind)[::-1].cumsum()[::-1].astype(np.int64)
    return found
