"""Spans: stretches as a bound sees them, and the arcs by which they pass lengths on.

Think of a board being cut as the length left at its far end. A span takes a length a from a board
(its starter, or what a wall-to-wall piece is cut from) and leaves a length c in another board (what
remains beside its end piece) or in the same one (beside a wall-to-wall piece): an *arc* from a to
c. For a fixed number of whole boards in between, c - a is the same for all starters, so all arcs of
a span are a few ranges of starters, each with one shift.

Lengths are whole numbers of any unit; the program uses ticks of 1/10,000 mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from plankwright.errors import PlankwrightError

Side = Literal["full", "wall", "room", "none"]


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch, or part of one, as a bound sees it: lengths rounded down.

    Parameters
    ----------
    length : extent along the row, above 0.
    shortest : no starter and no end piece is shorter.
    split : whether a span no longer than a board may still be cut in two.
    side : which factory sides its pieces need: both (``full``), only the wall side, only the room
        side, or none.
    width : the least width of its pieces; a full span's is not looked at.
    begun : its first piece joins one that lies already, so it takes no starter: whole boards and
        one end piece of what is left, at the least.

    A stretch that is full only in part is a bound's span of that part, ``split`` and with
    ``shortest`` 0: its first and last pieces may reach beyond, which only makes them dearer.
    """

    length: int
    shortest: int = 0
    split: bool = False
    side: Side = "full"
    width: int = 0
    begun: bool = False

    def __post_init__(self) -> None:
        if self.length <= 0:
            raise PlankwrightError("every span needs a length above 0")
        if self.shortest < 0 or self.width < 0:
            raise PlankwrightError("a span's shortest piece and width cannot be negative")


@dataclass(frozen=True, slots=True)
class Offcut:
    """A shelved offcut that may be used and costs nothing: ``end`` is the factory end it keeps.

    One with both ends is a shorter board: it may also lie whole between two others.
    """

    length: int
    end: Literal["near", "far", "both", "none"]

    def __post_init__(self) -> None:
        if self.length <= 0:
            raise PlankwrightError("every offcut needs a length above 0")


@dataclass(frozen=True, slots=True)
class ArcRange:
    """Arcs that differ in their starter only.

    Parameters
    ----------
    boards : whole boards, and the board the end piece came from.
    low, high : least and greatest length a that is taken.
    shift : a length max(0, a + shift) is left.
    """

    boards: int
    low: int
    high: int
    shift: int


def arcs_of(span: Span, board: int, cut: int) -> tuple[ArcRange, ...]:
    """All arcs of a span; never empty.

    Parameters
    ----------
    board : length of a board.
    cut : kerf and allowance together.

    A span that cannot keep its shortest piece may have pieces of any length: such a plan is only
    possible with the rule excused.

    >>> arcs_of(Span(4000, shortest=300), board=1285, cut=0)
    (ArcRange(boards=3, low=300, high=1130, shift=-145),)
    """
    if span.begun:
        return (_begun(span, board, cut),)
    if span.length <= board:
        whole = ArcRange(0, span.length, board, -span.length - cut)
        return (whole, *(_split_arcs(span, board, cut) if span.split else ()))
    arcs = tuple(_split_arcs(span, board, cut))
    return arcs or tuple(_split_arcs(replace(span, shortest=0), board, cut))


def _begun(span: Span, board: int, cut: int) -> ArcRange:
    """The one arc of a span that takes no starter."""
    wholes = (span.length - 1) // board
    return ArcRange(wholes + 1, 0, 0, board - cut - (span.length - wholes * board))


def _split_arcs(span: Span, board: int, cut: int) -> Iterator[ArcRange]:
    """Arcs with a starter and an end piece, by the number of whole boards between them."""
    shortest = max(1, span.shortest)
    fewest = max(0, -(-(span.length - 2 * board) // board))
    most = (span.length - 2 * shortest) // board
    for wholes in range(fewest, most + 1):
        both = span.length - wholes * board
        low, high = max(shortest, both - board), min(board, both - shortest)
        if low <= high:
            yield ArcRange(wholes + 1, low, high, board - cut - both)
