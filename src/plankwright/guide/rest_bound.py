"""The fewest new boards that any way to lay the rest takes: its bound, with prices as evidence."""

from collections.abc import Callable, Iterator, Mapping, Sequence

import shapely

from plankwright.guide.offcuts_left import Offcut
from plankwright.guide.remaining import Remaining
from plankwright.model.plan import Plan
from plankwright.optimize import spans
from plankwright.optimize.bounds import GRIDS, Bound
from plankwright.optimize.circulation import arc_count
from plankwright.plan.bound import BoundLine, Lying, bound_lines
from plankwright.plan.compile import up

COARSENESS = 0.75  # boards that fine prices hardly ever prove beyond coarse ones
ARCS = 130_000  # work limit: arcs of all linear programs for fine prices together
MOST_BY_OFFSETS = 0.3  # boards that joint offsets hardly ever prove beyond fine prices
LINES_WITH_OFFSETS = 2  # work limit: on more of them joint offsets seldom prove more
SAME_MM = 0.05


class RestBound:
    """Bounds on the new boards for some open stretches, looked at only when they are needed."""

    def __init__(
        self,
        plan: Plan,
        left: Remaining,
        which: Sequence[int],
        offcuts: Sequence[Offcut],
        stop: Callable[[], bool],
    ) -> None:
        done = {i: float("inf") for i in range(len(left.stretches)) if i not in set(which)}
        laid_to = {**left.laid_to, **done}
        provable = not left.board.reversible and all(
            offcut.stock.length_mm <= left.board.length_mm + SAME_MM for offcut in offcuts
        )
        shelf = [_lying(offcut, left.board.width_mm) for offcut in offcuts]
        found = bound_lines(
            left.stretches, left.contacts, left.board, plan.rules, laid_to, shelf, stop
        )
        self._lines: Iterator[BoundLine] = found if provable else iter(())
        self._waiting: list[BoundLine] = []  # looked at, and may prove more
        self._offsets_left = LINES_WITH_OFFSETS
        self._arcs_left = ARCS
        self.area = _area_bound(left, which, offcuts)
        self._best = self._plain = self.area
        self._stop = stop

    def first(self) -> Bound:
        """A quick bound: by area, or by coarse prices along the most promising line."""
        line = None if self._waiting else next(self._lines, None)
        if line is not None:
            self._waiting.append(line)
            self._keep(line.bound)
        return self._best

    def prove(self, target: int) -> Bound:
        """The best bound found, up to a target: fine prices, joint offsets, further lines."""
        while self._best.boards < target and not self._stop():
            line = self._waiting.pop() if self._waiting else next(self._lines, None)
            if line is None:
                break
            self._keep(line.bound)
            if line.bound.value >= self._best.value - COARSENESS:
                self._better(line, target)
            if self._best.boards >= target:
                self._waiting.append(line)
        return self._best

    def _better(self, line: BoundLine, target: int) -> None:
        """Fine prices along a line, then joint offsets kept, as far as ``target`` boards."""
        if self._best.boards < target:
            fine = line.refined(target, self._stop, self._arcs_left)
            self._arcs_left -= _arcs_of(line, self._arcs_left)
            self._keep(fine)
            near = fine.value > target - 1 - MOST_BY_OFFSETS
            if near and self._best.boards < target and self._offsets_left > 0:
                self._offsets_left -= 1
                self._keep(line.with_offsets(fine, target, self._stop))

    def at_most(self, boards: int, *, offsets: bool) -> Bound:
        """The best bound for a plan of so many boards; ``offsets`` when it keeps all of them."""
        if self._best.boards < boards:
            self.prove(boards)
        return self._best if offsets else self._plain

    def _keep(self, bound: Bound) -> None:
        self._best = max(self._best, bound, key=_strength)
        if bound.kind != "offsets":
            self._plain = max(self._plain, bound, key=_strength)


def _arcs_of(line: BoundLine, limit: int) -> int:
    """About how many arcs the programs for a line's fine prices looked at."""
    board, cut = line.instance.board, line.instance.cut
    counts = [arc_count(line.spans, board, cut, -(-board // steps)) for steps in GRIDS]
    return sum(count for count in counts if count <= limit)


def _strength(bound: Bound) -> tuple[int, float]:
    return bound.boards, bound.value


def _lying(offcut: Offcut, width: float) -> Lying:
    """An offcut with the lines across a board at which it may be met."""
    stock = offcut.stock
    low, high = 0.0, width
    if stock.width_mm is not None and stock.side == "wall":
        high = stock.width_mm
    elif stock.width_mm is not None and stock.side == "room":
        low = width - stock.width_mm
    return spans.Offcut(max(up(stock.length_mm), 1), stock.ends), low - SAME_MM, high + SAME_MM


def _area_bound(left: Remaining, which: Sequence[int], offcuts: Sequence[Offcut]) -> Bound:
    """Least number of new boards by area alone: what is open less what the shelf covers."""
    parts = [_open_part(left, i) for i in which]
    open_mm2 = float(sum(shapely.area(parts))) - 0.002 * float(sum(shapely.length(parts)))
    width = left.board.width_mm
    shelf = sum(o.stock.length_mm * (o.stock.width_mm or width) for o in offcuts)
    boards = (open_mm2 - shelf) / left.board.area_mm2
    return Bound(max(int(-(-boards // 1)), 0), max(boards, 0.0), "area")


def _open_part(left: Remaining, index: int) -> shapely.Geometry:
    polygon = left.stretches[index].polygon
    laid_to = left.laid_to.get(index)
    if laid_to is None:
        return polygon
    _, v0, u1, v1 = polygon.bounds
    return polygon.intersection(shapely.box(laid_to, v0 - 1.0, u1 + 1.0, v1 + 1.0))


def settled_joints(left: Remaining) -> Mapping[int, tuple[float, ...]]:
    """End joints that lie, and those that follow in rows that are begun."""
    found = dict(left.joints)
    for index, laid_to in left.laid_to.items():
        end, at = left.stretches[index].u1, laid_to + left.board.length_mm
        further = []
        while at < end:
            further.append(at)
            at += left.board.length_mm
        found[index] = (*found.get(index, ()), *further)
    return found
