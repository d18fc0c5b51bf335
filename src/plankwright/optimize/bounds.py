"""Bounds: how many boards a floor needs at the least, whatever the plan.

Every bound here holds for all plans with the same row lines, and is computed without any search.
Joint offsets are left aside, which can only lower a bound.

* :func:`area_bound`: the floor's area over a board's.
* :func:`circulation_bound`: the circulation of lengths, with prices as its evidence.
* :func:`strips_bound`: the same where rows narrower than a board may share one ripped lengthwise.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from plankwright.optimize.circulation import arc_count, best_prices
from plankwright.optimize.prices import BILLION, Prices, total, whole_boards
from plankwright.optimize.spans import Offcut, Side, Span

GRIDS = (257, 643, 1285)  # prices may rise at so many lengths: 5, 2 and 1 mm in a 1285 mm board
ARC_LIMIT = 130_000  # about two seconds of the linear program


@dataclass(frozen=True, slots=True)
class Bound:
    """A number of boards that no plan can stay below, with its evidence.

    Parameters
    ----------
    boards : whole boards.
    value : before rounding up [boards].
    kind : what proves it: ``area``, ``prices`` to be added up again, or ``offsets``: prices to be
        added up along chains of stretches that keep their joint offsets.
    prices : the prices, if they are the evidence.
    counted : which of the spans that were given the bound counts, by index.
    line : where the spans lie across the boards, as whoever asked for the bound tells it.
    """

    boards: int
    value: float
    kind: Literal["area", "prices", "offsets"]
    prices: Prices | None = None
    counted: tuple[int, ...] = ()
    line: tuple[float, float] | None = None


def area_bound(area: int, board_area: int) -> Bound:
    """Boards by area alone; both whole numbers of one unit, the floor's rounded down.

    >>> area_bound(4000 * 3000, 1285 * 192).boards  # 48.64
    49
    """
    return Bound(-(-area // board_area), area / board_area, "area")


def circulation_bound(
    board: int,
    cut: int,
    spans: Sequence[Span],
    *,
    shelf: Sequence[Offcut] = (),
    target: int | None = None,
    arc_limit: int = ARC_LIMIT,
    stop: Callable[[], bool] | None = None,
) -> Bound:
    """The best bound on new boards that prices give, all spans counted.

    Parameters
    ----------
    board : length of a board [ticks].
    cut : kerf and allowance together [ticks].
    spans : the floor's spans, lengths rounded down [ticks].
    shelf : offcuts at hand that cost nothing, lengths rounded up [ticks].
    target : boards of a plan in hand: stop as soon as it is proven best.
    arc_limit : work limit: leave out grids with more arcs than this, but the coarsest.
    stop : asked now and then; once it says True the best bound until then is taken.
    """
    counted = tuple(range(len(spans)))
    return _circulation(board, cut, spans, counted, shelf, target, arc_limit, stop)


def strips_bound(
    board: int,
    cut: int,
    spans: Sequence[Span],
    *,
    board_width: int,
    kerf: int,
    target: int | None = None,
    arc_limit: int = ARC_LIMIT,
) -> Bound:
    """The best bound over sets of spans of which no two fit side by side in a board.

    At every place along a board at most one piece of such a set lies across it, so the set needs as
    many boards as if its spans were all as wide as a board. The spans left out are not counted.

    Parameters
    ----------
    board_width, kerf : width of a board, and what a rip takes of it, in one unit with the spans'
        widths, which are least widths.
    """
    best = Bound(0, 0.0, "prices", Prices((0,), (0,)))
    for counted in _exclusive_sets(spans, board_width - kerf):
        found = _circulation(board, cut, spans, counted, (), target, arc_limit)
        best = max(best, found, key=lambda bound: bound.value)
        if target is not None and best.boards >= target:
            break
    return best


def packs(boards: int, per_pack: int) -> int:
    """Packs that hold a number of boards: the fewest packs, if given a bound.

    >>> packs(51, 8)
    7
    """
    return -(-boards // per_pack)


def _circulation(
    board: int,
    cut: int,
    spans: Sequence[Span],
    counted: tuple[int, ...],
    shelf: Sequence[Offcut],
    target: int | None,
    arc_limit: int,
    stop: Callable[[], bool] | None = None,
) -> Bound:
    chosen = [spans[i] for i in counted]
    best = Bound(0, 0.0, "prices", Prices((0,), (0,)), counted)
    if not chosen:
        return best
    for grid in dict.fromkeys(-(-board // steps) for steps in GRIDS):
        if best.boards and arc_count(chosen, board, cut, grid) > arc_limit:
            break
        prices = best_prices(chosen, board, cut, grid, shelf, stop)
        found = total(prices, chosen, board, cut, shelf)
        if found > best.value * BILLION:
            best = Bound(whole_boards(found), found / BILLION, "prices", prices, counted)
        if (target is not None and best.boards >= target) or (stop is not None and stop()):
            break
    return best


def _exclusive_sets(spans: Sequence[Span], room: int) -> Iterator[tuple[int, ...]]:
    """Sets of spans no two of which fit side by side in a width of ``room``.

    Two strips with the same factory side never fit: a board has one of each. Other strips fit
    unless their widths come to more than ``room``. So a set takes wall-side strips of at least some
    width, room-side strips too wide for those, and strips without a factory side too wide for all.
    """
    widths = {span.width for span in spans if span.side == "wall" and span.width <= room}
    seen: set[tuple[int, ...]] = set()
    for narrowest in (*sorted(widths), room + 1):
        chosen = tuple(_exclusive(spans, room, narrowest))
        if chosen not in seen:
            seen.add(chosen)
            yield chosen


def _exclusive(spans: Sequence[Span], room: int, narrowest: int) -> Iterator[int]:
    """Full spans, wall-side strips from a width on, and all that is too wide to lie beside them."""
    least: dict[Side, int] = {"full": 0, "wall": narrowest, "room": room - narrowest + 1}
    sided = [s.width for s in spans if s.side in ("wall", "room") and s.width >= least[s.side]]
    least["none"] = max(room - min(sided, default=room), room // 2) + 1
    for i, span in enumerate(spans):
        if span.side == "full" or span.width >= least[span.side]:
            yield i
