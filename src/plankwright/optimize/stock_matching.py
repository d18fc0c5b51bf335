"""From starters to boards with offcuts at hand: which piece is cut from which board or offcut.

As in :mod:`plankwright.optimize.matching` lengths are nested, so working down from the longest
need any source still lying there will do; a starter takes an offcut rather than the rest of an end
piece's board, since an offcut with its near end may still stand in for that board.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from plankwright.optimize.instance import Instance
from plankwright.optimize.options import Options, Pick
from plankwright.optimize.solution import PieceKind, Seat
from plankwright.optimize.spans import Offcut
from plankwright.optimize.stock import near_take

Source = tuple[str, int]
"""``("end", stretch)``: the rest of its end piece's board; ``("shelf", offcut)``."""


def shelf_board(offcut: int) -> int:
    """The board number of a seat that is cut from an offcut at hand: -1, -2, …"""
    return -1 - offcut


@dataclass(slots=True)
class _Rest:
    """What is left of a board or offcut at its far end: its last ``length`` up to ``end``."""

    length: int
    end: int
    board: int
    source: Source


@dataclass(slots=True)
class _Matching:
    """Seats placed so far, and what lies there to be cut."""

    instance: Instance
    options: Sequence[Options]
    choices: Sequence[Pick]
    shelf: Sequence[Offcut]
    wished: Mapping[int, Source]
    which: Sequence[int]
    seats: list[Seat] = field(default_factory=list)
    opened: int = 0
    ends: dict[int, _Rest] = field(default_factory=dict)  # by stretch, an end piece's board
    end_board: dict[int, int] = field(default_factory=dict)
    loose: list[_Rest] = field(default_factory=list)
    used: set[int] = field(default_factory=set)  # offcuts


def match_with_stock(
    instance: Instance,
    options: Sequence[Options],
    choices: Sequence[Pick],
    shelf: Sequence[Offcut],
    wished: Mapping[int, Source] | None = None,
    which: Sequence[int] | None = None,
) -> tuple[list[Seat], int]:
    """Seats with their boards, by stretch, and the number of new boards.

    Parameters
    ----------
    shelf : offcuts at hand, lengths rounded down [ticks]; a seat cut from one has the board number
        :func:`shelf_board` and its place in the offcut.
    wished : for a starter's or a wall-to-wall piece's stretch the source it should have, if that
        can be; ``-1 - stretch`` for an end piece.
    which : only these stretches; all where None.
    """
    chosen = range(len(options)) if which is None else which
    work = _Matching(instance, options, choices, shelf, wished or {}, chosen)
    _open(work)
    takers = [(choices[i].takes, 1, i) for i in chosen if choices[i].takes > 0]
    takers += [(near_take(instance, o), 0, k) for k, o in enumerate(shelf) if o.end == "near"]
    for length, is_stretch, index in sorted(takers, key=lambda t: (-t[0], -t[1], t[2])):
        if is_stretch:
            _serve(work, index)
        else:
            _stand_in(work, index, length)
    _place_ends(work)
    _from_leftovers(work)
    return _numbered(work)


def _open(work: _Matching) -> None:
    """Whole boards, a board for every end piece, and the offcuts with their far end."""
    board = work.instance.board
    for stretch in work.which:
        choice = work.choices[stretch]
        if not work.options[stretch].is_long:
            continue
        for number in range(1, choice.boards):
            work.seats.append(Seat(stretch, number, "whole", board, work.opened, 0))
            work.opened += 1
        left = board - work.instance.cut - _end_piece(work, stretch)
        work.end_board[stretch] = work.opened
        work.ends[stretch] = _Rest(left, board, work.opened, ("end", stretch))
        work.opened += 1
    for k, offcut in enumerate(work.shelf):
        if offcut.end in ("far", "both"):
            rest = _Rest(offcut.length, offcut.length, shelf_board(k), ("shelf", k))
            work.loose.append(rest)


def _end_piece(work: _Matching, stretch: int) -> int:
    choice = work.choices[stretch]
    return work.options[stretch].need - choice.takes - (choice.boards - 1) * work.instance.board


def _serve(work: _Matching, stretch: int) -> None:
    """A starter or a wall-to-wall piece: from an offcut, an end piece's board, or a new board."""
    length = work.choices[stretch].takes
    rest = _wished(work, stretch, length) or _shortest(work.loose, length)
    rest = rest or _shortest(list(work.ends.values()), length)
    if rest is None:
        rest = _Rest(work.instance.board, work.instance.board, work.opened, ("new", stretch))
        work.opened += 1
    _remove(work, rest)
    if rest.source[0] == "shelf":
        work.used.add(rest.source[1])
    if work.options[stretch].is_long:
        kind: PieceKind = "whole" if length == work.instance.board else "starter"
        work.seats.append(Seat(stretch, 0, kind, length, rest.board, rest.end - length))
        return
    need = work.options[stretch].need
    work.seats.append(Seat(stretch, 0, "wall-to-wall", need, rest.board, rest.end - rest.length))
    left = rest.length - need - work.instance.cut
    if left > 0:
        work.loose.append(_Rest(left, rest.end, rest.board, rest.source))


def _wished(work: _Matching, stretch: int, length: int) -> _Rest | None:
    wish = work.wished.get(stretch)
    lying = [*work.loose, *work.ends.values()]
    return next((rest for rest in lying if rest.source == wish and rest.length >= length), None)


def _shortest(lying: Sequence[_Rest], length: int) -> _Rest | None:
    fitting = [rest for rest in lying if rest.length >= length]
    return min(fitting, key=lambda rest: (rest.length, rest.board), default=None)


def _remove(work: _Matching, rest: _Rest) -> None:
    if rest.source[0] == "end" and work.ends.get(rest.source[1]) is rest:
        del work.ends[rest.source[1]]
    else:
        work.loose = [other for other in work.loose if other is not rest]


def _stand_in(work: _Matching, offcut: int, length: int) -> None:
    """An offcut with its near end gives an end piece whose board nobody cut a starter from yet."""
    wish = [i for i, rest in work.ends.items() if work.wished.get(-1 - i) == ("shelf", offcut)]
    fitting = [i for i, rest in work.ends.items() if rest.length >= length]
    chosen = next((i for i in wish if i in fitting), None)
    if chosen is None and fitting:
        chosen = min(fitting, key=lambda i: (work.ends[i].length, i))
    if chosen is None:
        return
    work.used.add(offcut)
    end = _end_piece(work, chosen)
    number = work.choices[chosen].boards
    work.seats.append(Seat(chosen, number, "end", end, shelf_board(offcut), 0))
    del work.ends[chosen]


def _place_ends(work: _Matching) -> None:
    """End pieces in the boards that were opened for them."""
    placed = {seat.stretch for seat in work.seats if seat.kind == "end"}
    for stretch, board in work.end_board.items():
        if stretch not in placed:
            end = _end_piece(work, stretch)
            number = work.choices[stretch].boards
            work.seats.append(Seat(stretch, number, "end", end, board, 0))


def _from_leftovers(work: _Matching) -> None:
    """Wall-to-wall pieces alone in a new board, from what nothing else is cut from."""
    alone = Counter(seat.board for seat in work.seats)
    spare = _leftovers(work)
    for index, seat in enumerate(work.seats):
        if seat.kind != "wall-to-wall" or seat.board < 0 or alone[seat.board] > 1:
            continue
        fitting = [rest for rest in spare if rest.length >= seat.length]
        if fitting:
            rest = min(fitting, key=lambda rest: (rest.length, rest.board))
            spare.remove(rest)
            start = rest.end - rest.length
            work.seats[index] = replace(seat, board=rest.board, from_near=start)


def _leftovers(work: _Matching) -> list[_Rest]:
    """Offcuts that nothing is cut from, and what end pieces leave of others."""
    cut = work.instance.cut
    ends = {seat.board: seat.length for seat in work.seats if seat.kind == "end"}
    spare = []
    for k, offcut in enumerate(work.shelf):
        length = offcut.length
        if k in work.used and offcut.end == "near":
            length -= ends[shelf_board(k)] + cut
        elif k in work.used:
            continue
        if length > 0:
            spare.append(_Rest(length, offcut.length, shelf_board(k), ("shelf", k)))
    return spare


def _numbered(work: _Matching) -> tuple[list[Seat], int]:
    """Seats by stretch; new boards numbered again without those that nothing is cut from."""
    seats = sorted(work.seats, key=lambda seat: (seat.stretch, seat.number))
    numbers: dict[int, int] = {}
    found = [
        seat
        if seat.board < 0
        else replace(seat, board=numbers.setdefault(seat.board, len(numbers)))
        for seat in seats
    ]
    return found, len(numbers)
