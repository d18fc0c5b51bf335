"""Brute force for tests: the fewest boards of a very small floor, by trying everything.

Nothing here is shared with the program: no arcs, no prices, no matching by length. Every stretch
tries every way to be cut, every set of pieces is packed into boards by trying every board and every
place in it, and the least number is kept. Lengths are small whole numbers.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import Literal

Side = Literal["full", "wall", "room", "none"]


@dataclass(frozen=True)
class Row:
    """A stretch: its extent along its wall side, where it begins, what its pieces need across.

    ``near_slant`` and ``far_slant`` are how much farther along u its ends lie at the room side than
    at the wall side; only full rows have them.
    """

    length: int
    start: int = 0
    side: Side = "full"
    width: int = 0  # of a strip; a full row is as wide as a board
    split: bool = False  # whether a row no longer than a board may be cut in two
    near_slant: int = 0
    far_slant: int = 0


@dataclass(frozen=True)
class Piece:
    """A piece to be cut: ``near`` and ``far`` say which factory ends it needs.

    ``left`` and ``right`` are its ends at the wall side and at the room side, from its least u on.
    """

    left: tuple[int, int]
    right: tuple[int, int]
    near: bool
    far: bool
    side: Side
    width: int

    @property
    def length(self) -> int:
        return max(self.right)

    def turned(self) -> "Piece":
        """The piece turned end for end: near and far, wall and room change places."""
        sides: dict[Side, Side] = {"wall": "room", "room": "wall", "full": "full", "none": "none"}
        (a, b), (c, d) = self.left, self.right
        whole = self.length
        return Piece(
            (whole - d, whole - c),
            (whole - b, whole - a),
            self.far,
            self.near,
            sides[self.side],
            self.width,
        )


@dataclass(frozen=True)
class Shop:
    """Board and rules. ``cut`` lies between two pieces along a board, ``kerf`` across it.

    Between slanted ends the cut is measured along the board.
    """

    board: int
    cut: int = 0
    shortest: int = 1
    offset: int = 0
    board_width: int = 1
    kerf: int = 0
    reversible: bool = False


Joints = tuple[int, ...]
"""Positions of a row's end joints along u."""


def fewest_boards(
    shop: Shop,
    rows: Sequence[Row],
    touching: Sequence[tuple[int, int]] = (),
    begun: Sequence[Piece] = (),
) -> int | None:
    """Fewest new boards over all ways to cut the rows, or None when no way keeps the rules.

    Parameters
    ----------
    touching : pairs of rows that are neighbors: their end joints keep ``shop.offset`` apart where
        both lie on the part of the row line that the two rows share (rows without slants).
    begun : pieces that were cut from a board each; what is left of those boards costs nothing.
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
        found = _pack(shop, pieces, begun, len(pieces) if best is None else best - 1)
        best = best if found is None else found
    return best


def ways_to_cut(shop: Shop, row: Row) -> Iterator[Joints]:
    """Every way to cut a row: starter, whole boards, end piece, or one piece without a joint."""
    first = row.start + min(0, row.near_slant)
    last = row.start + row.length + max(0, row.far_slant)
    if last - first <= shop.board:
        yield ()
        if not row.split:
            return
    inner_first = row.start + max(0, row.near_slant)  # a joint goes from side to side
    inner_last = row.start + row.length + min(0, row.far_slant)
    for joint in range(first + shop.shortest, min(first + shop.board, last - 1) + 1):
        joints = [joint]
        while last - joints[-1] > shop.board:
            joints.append(joints[-1] + shop.board)
        inside = all(inner_first < place < inner_last for place in joints)
        if inside and last - joints[-1] >= shop.shortest:
            yield tuple(joints)


def _all_pieces(shop: Shop, rows: Sequence[Row], ways: Sequence[Joints]) -> Iterator[Piece]:
    for row, joints in zip(rows, ways, strict=True):
        width = shop.board_width if row.side == "full" else row.width
        near = (row.start, row.start + row.near_slant)
        far = (row.start + row.length, row.start + row.length + row.far_slant)
        ends = [near, *((joint, joint) for joint in joints), far]
        for seat, (left, right) in enumerate(pairwise(ends)):
            least = min(left)
            yield Piece(
                (left[0] - least, left[1] - least),
                (right[0] - least, right[1] - least),
                near=seat > 0,
                far=seat < len(joints),
                side=row.side,
                width=width,
            )


def _size_first(piece: Piece) -> tuple[object, ...]:
    return (-piece.length * piece.width, piece.near, piece.far, piece.side, piece.left, piece.right)


def _joints_apart(
    shop: Shop, rows: Sequence[Row], ways: Sequence[Joints], touching: Sequence[tuple[int, int]]
) -> bool:
    for one, other in touching:
        low = max(rows[one].start, rows[other].start)
        high = min(rows[i].start + rows[i].length for i in (one, other))
        for x, y in product(ways[one], ways[other]):
            if low <= min(x, y) and max(x, y) <= high and abs(x - y) < shop.offset:
                return False
    return True


# -- packing: every piece into every board ------------------------------------------------


def _pack(shop: Shop, pieces: tuple[Piece, ...], begun: Sequence[Piece], limit: int) -> int | None:
    """Fewest new boards for the pieces if at most ``limit``, else None."""
    doubled = sum(piece.width * (sum(piece.right) - sum(piece.left)) for piece in pieces)
    least = -(-doubled // (2 * shop.board * shop.board_width)) - len(begun)  # by area
    for boards in range(max(0, least), limit + 1):
        if _fits(shop, pieces, [*([piece] for piece in begun), *([] for _ in range(boards))]):
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
    key = (shop, tuple(content))
    if key not in _holds:
        _holds[key] = _place(shop, content, [])
    return _holds[key]


def _place(shop: Shop, todo: list[Piece], placed: list[tuple[int, int, Piece]]) -> bool:
    """Lay pieces at (x, y) in the board, least corners first; at every whole place."""
    if not todo:
        return True
    first, rest = todo[0], todo[1:]
    for piece in (first, first.turned()) if shop.reversible else (first,):
        for x, y in _places(shop, piece):
            if all(_apart(shop, (x, y, piece), other) for other in placed) and _place(
                shop, rest, [*placed, (x, y, piece)]
            ):
                return True
    return False


def _places(shop: Shop, piece: Piece) -> Iterator[tuple[int, int]]:
    needs_wall = piece.side in ("full", "wall")
    needs_room = piece.side in ("full", "room")
    return product(
        _range(shop.board, piece.length, piece.near, piece.far),
        _range(shop.board_width, piece.width, needs_wall, needs_room),
    )


def _range(whole: int, part: int, at_low: bool, at_high: bool) -> Sequence[int]:
    if part > whole or (at_low and at_high and part < whole):
        return ()
    if at_low:
        return (0,)
    return (whole - part,) if at_high else range(whole - part + 1)


def _apart(shop: Shop, one: tuple[int, int, Piece], other: tuple[int, int, Piece]) -> bool:
    def before(a: tuple[int, int, Piece], b: tuple[int, int, Piece]) -> bool:
        ends = zip(a[2].right, b[2].left, strict=True)
        return all(a[0] + right + shop.cut <= b[0] + left for right, left in ends)

    def beside(a: tuple[int, int, Piece], b: tuple[int, int, Piece]) -> bool:
        return a[1] + a[2].width + shop.kerf <= b[1]

    pairs = ((one, other), (other, one))
    return any(before(a, b) or beside(a, b) for a, b in pairs)
