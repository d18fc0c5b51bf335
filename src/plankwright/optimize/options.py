"""What can be chosen for one stretch: its starter, and so every joint of it.

A stretch longer than a board is starter + whole boards + end piece. A stretch no longer than a
board is one wall-to-wall piece; its choice is the length of the board or offcut it is cut from.
Every choice *takes* a length and *leaves* one (see :mod:`plankwright.optimize.spans`).
"""

from dataclasses import dataclass

from plankwright.optimize.instance import Instance, StretchNeed
from plankwright.optimize.spans import ArcRange, Span, arcs_of


@dataclass(frozen=True, slots=True)
class Options:
    """All choices of a stretch.

    Parameters
    ----------
    need : extent of the stretch [ticks].
    ranges : ranges of lengths that may be taken, by rising ``low``; never empty.
    is_long : whether the stretch is longer than a board.
    legal : False when no choice keeps every rule of its own, and these are the least bad.
    """

    need: int
    ranges: tuple[ArcRange, ...]
    is_long: bool
    legal: bool


def options_of(instance: Instance, stretch: StretchNeed) -> Options:
    """The choices of a stretch by itself, its neighbors left aside."""
    if stretch.begun:
        arcs = arcs_of(Span(stretch.length, begun=True), instance.board, instance.cut)
        return Options(stretch.length, arcs, is_long=True, legal=True)
    is_long = stretch.length > instance.board
    shortest = _keepable(stretch.length, instance.board, instance.shortest) if is_long else 0
    arcs = arcs_of(Span(stretch.length, shortest), instance.board, instance.cut)
    if not is_long:
        return Options(stretch.length, arcs, is_long=False, legal=True)
    clear = _without_prongs(instance, stretch, arcs)
    legal = bool(clear) and shortest == instance.shortest
    ranges = tuple(sorted(clear or arcs, key=lambda arc: arc.low))
    return Options(stretch.length, ranges, is_long=True, legal=legal)


def _keepable(length: int, board: int, shortest: int) -> int:
    """The shortest piece itself, or the longest one that a starter and an end piece can keep."""
    wholes = (length - 2 * shortest) // board
    if wholes >= 0 and length - wholes * board <= 2 * board:
        return shortest
    return max((length - wholes * board) // 2 for wholes in _splits(length, board))


def _splits(length: int, board: int) -> range:
    """Numbers of whole boards that leave something for a starter and an end piece."""
    least = max(0, -(-length // board) - 2)
    return range(least, max(least + 1, (length - 2) // board + 1))


def _without_prongs(
    instance: Instance, stretch: StretchNeed, arcs: tuple[ArcRange, ...]
) -> list[ArcRange]:
    """The ranges less the starters that put a joint into a forbidden interval."""
    clear = list(arcs)
    for low, high in stretch.forbidden:
        for k in range(high // instance.board + 1):
            shift = k * instance.board
            clear = [
                part
                for arc in clear
                for part in (_cut_out(arc, low - shift, high - shift) if k < arc.boards else [arc])
            ]
    return clear


def _cut_out(arc: ArcRange, low: int, high: int) -> list[ArcRange]:
    """A range without the open interval from ``low`` to ``high``."""
    if high <= arc.low or low >= arc.high:
        return [arc]
    parts = []
    if arc.low <= low:
        parts.append(ArcRange(arc.boards, arc.low, low, arc.shift))
    if high <= arc.high:
        parts.append(ArcRange(arc.boards, high, arc.high, arc.shift))
    return parts


@dataclass(frozen=True, slots=True)
class Pick:
    """A choice made: what is taken and left [ticks], and the boards it opens by itself."""

    takes: int
    leaves: int
    boards: int


def pick(arc: ArcRange, takes: int) -> Pick:
    """The choice of a length within a range."""
    return Pick(takes, max(0, takes + arc.shift), arc.boards)
