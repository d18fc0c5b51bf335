"""Brute force for tests: the fewest boards of a very small floor, by trying everything.

Nothing here is shared with the program: no arcs, no prices, no matching by length. Every stretch
tries every way to be cut, every set of pieces is packed into boards by trying every board, and the
least number is kept. Lengths are small whole numbers.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

Side = Literal["full", "wall", "room", "none"]


@dataclass(frozen=True)
class Row:
    """A stretch: its extent, where it begins along u, and what its pieces need across."""

    length: int
    start: int = 0
    side: Side = "full"
    width: int = 0  # of a strip; a full row is as wide as a board
    split: bool = False  # whether a row no longer than a board may be cut in two


@dataclass(frozen=True)
class Piece:
    """A piece to be cut: ``near`` and ``far`` say which factory ends it needs."""

    length: int
    near: bool
    far: bool
    side: Side
    width: int


@dataclass(frozen=True)
class Shop:
    """Board and rules. ``cut`` lies between two pieces along a board, ``kerf`` across it."""

    board: int
    cut: int = 0
    shortest: int = 1
    offset: int = 0
    board_width: int = 1
    kerf: int = 0


def fewest_boards(
    shop: Shop, rows: Sequence[Row], touching: Sequence[tuple[int, int]] = ()
) -> int | None:
    """Fewest boards over all ways to cut the rows, or None when no way keeps the rules.

    Parameters
    ----------
    touching : pairs of rows that are neighbors: their end joints keep ``shop.offset`` apart where
        both lie on the part of the row line that the two rows share.
    """
    best: int | None = None
    seen: set[tuple[Piece, ...]] = set()
    for ways in product(*(list(ways_to_cut(shop, row)) for row in rows)):
        if not _joints_apart(shop, rows, ways, touching):
            continue
        pieces = tuple(sorted(_all_pieces(shop, rows, ways), key=_size_first))
        if pieces in seen:
            continue
        seen.add(pieces)
        found = _pack(shop, pieces, len(pieces) if best is None else best - 1)
        best = best if found is None else found
    return best


def ways_to_cut(shop: Shop, row: Row) -> Iterator[tuple[int, ...]]:
    """Lengths of a row's pieces, near to far: starter, whole boards, end piece."""
    if row.length <= shop.board:
        yield (row.length,)
        if not row.split:
            return
    for starter in range(shop.shortest, min(shop.board, row.length - 1) + 1):
        wholes, end = divmod(row.length - starter, shop.board)
        if end == 0:
            wholes, end = wholes - 1, shop.board
        if end >= shop.shortest:
            yield (starter, *[shop.board] * wholes, end)


def _all_pieces(
    shop: Shop, rows: Sequence[Row], ways: Sequence[tuple[int, ...]]
) -> Iterator[Piece]:
    for row, lengths in zip(rows, ways, strict=True):
        width = shop.board_width if row.side == "full" else row.width
        last = len(lengths) - 1
        for seat, length in enumerate(lengths):
            yield Piece(length, near=seat > 0, far=seat < last, side=row.side, width=width)


def _size_first(piece: Piece) -> tuple[int, bool, bool, str]:
    return (-piece.length * piece.width, piece.near, piece.far, piece.side)


def _joints_apart(
    shop: Shop,
    rows: Sequence[Row],
    ways: Sequence[tuple[int, ...]],
    touching: Sequence[tuple[int, int]],
) -> bool:
    joints = []
    for row, lengths in zip(rows, ways, strict=True):
        places, place = [], row.start
        for length in lengths[:-1]:
            place += length
            places.append(place)
        joints.append(places)
    for one, other in touching:
        low = max(rows[one].start, rows[other].start)
        high = min(rows[i].start + rows[i].length for i in (one, other))
        for x, y in product(joints[one], joints[other]):
            if low <= min(x, y) and max(x, y) <= high and abs(x - y) < shop.offset:
                return False
    return True


# -- packing: every piece into every board ------------------------------------------------


def _pack(shop: Shop, pieces: tuple[Piece, ...], limit: int) -> int | None:
    """Fewest boards for the pieces if at most ``limit``, else None."""
    area = sum(piece.length * piece.width for piece in pieces)
    least = -(-area // (shop.board * shop.board_width))
    for boards in range(least, limit + 1):
        if _fits(shop, pieces, [[] for _ in range(boards)]):
            return boards
    return None


def _fits(shop: Shop, pieces: tuple[Piece, ...], boards: list[list[Piece]]) -> bool:
    if not pieces:
        return True
    piece, rest = pieces[0], pieces[1:]
    tried: set[tuple[Piece, ...]] = set()
    for content in boards:
        key = tuple(content)
        if key in tried:
            continue
        tried.add(key)
        content.append(piece)
        if _board_holds(shop, content) and _fits(shop, rest, boards):
            return True
        content.pop()
    return False


_holds: dict[tuple[Shop, tuple[Piece, ...]], bool] = {}


def _board_holds(shop: Shop, content: list[Piece]) -> bool:
    """Whether one board gives all these pieces: each laid at every place that its needs allow."""
    ordered = tuple(sorted(content, key=lambda p: (p.length, p.near, p.far, p.side, p.width)))
    key = (shop, ordered)
    if key not in _holds:
        _holds[key] = _place(shop, list(ordered), [])
    return _holds[key]


def _place(shop: Shop, todo: list[Piece], placed: list[tuple[int, int, Piece]]) -> bool:
    """Lay pieces as rectangles (x, y, piece) in the board; at every whole place."""
    if not todo:
        return True
    piece, rest = todo[0], todo[1:]
    for x in _range(shop.board, piece.length, piece.near, piece.far):
        needs_wall = piece.side in ("full", "wall")
        needs_room = piece.side in ("full", "room")
        for y in _range(shop.board_width, piece.width, needs_wall, needs_room):
            if all(_apart(shop, (x, y, piece), other) for other in placed) and _place(
                shop, rest, [*placed, (x, y, piece)]
            ):
                return True
    return False


def _range(whole: int, part: int, at_low: bool, at_high: bool) -> Sequence[int]:
    if part > whole or (at_low and at_high and part < whole):
        return ()
    if at_low:
        return (0,)
    return (whole - part,) if at_high else range(whole - part + 1)


def _apart(shop: Shop, one: tuple[int, int, Piece], other: tuple[int, int, Piece]) -> bool:
    def clear(a: int, size_a: int, b: int, size_b: int, space: int) -> bool:
        return a + size_a + space <= b or b + size_b + space <= a

    (x, y, p), (u, v, q) = one, other
    along = clear(x, p.length, u, q.length, shop.cut)
    return along or clear(y, p.width, v, q.width, shop.kerf)
