"""Brute force for tests: the fewest boards of small floors with jogs, pieces laid side by side.

A row is a list of steps, rectangles counted from its near end and its wall side. Its pieces keep
their place across their boards, as they do where both long sides have neighbors; starters hang on
the far end, end pieces on the near end, a whole board lies over all of it, and a wall-to-wall piece
may lie anywhere along. Two pieces of one board keep a cut along, a kerf across, or a cut between
their shapes. Nothing here is shared with the program. Lengths are small whole numbers.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product

Step = tuple[int, int, int, int]
"""From and to along the row, from and to across it."""


@dataclass(frozen=True)
class Shop:
    """Board and rules: ``cut`` is kerf and allowance."""

    length: int
    width: int
    kerf: int
    cut: int
    shortest: int


@dataclass(frozen=True)
class Cutting:
    """A piece: its steps in its board, and whether it may be moved along."""

    steps: tuple[Step, ...]
    loose: bool = False

    def moved(self, by: int) -> "Cutting":
        return Cutting(tuple((a + by, b + by, c, d) for a, b, c, d in self.steps), self.loose)


def fewest(shop: Shop, rows: Sequence[Sequence[Step]]) -> int | None:
    """Fewest boards over all ways to cut the rows; None when there is no way."""
    best: int | None = None
    for ways in product(*(list(cuttings_of(shop, row)) for row in rows)):
        pieces = sorted((p for way in ways for p in way), key=lambda p: (p.loose, -_size(p)))
        limit = len(pieces) if best is None else best - 1
        found = _pack(shop, pieces, limit)
        best = found if found is not None else best
    return best


def cuttings_of(shop: Shop, row: Sequence[Step]) -> Iterator[list[Cutting]]:
    """Every way to cut a row into pieces, each where it lies in its board."""
    end = max(b for _, b, _, _ in row)
    if end <= shop.length:
        yield [Cutting(tuple(row), loose=True)]
        return
    for starter in range(shop.shortest, shop.length + 1):
        joints = [starter]
        while end - joints[-1] > shop.length:
            joints.append(joints[-1] + shop.length)
        if end - joints[-1] < shop.shortest:
            continue
        ends = [0, *joints, end]
        yield [
            _piece(row, a, b, shop.length - starter if k == 0 else 0)
            for k, (a, b) in enumerate(pairwise(ends))
        ]


def _piece(row: Sequence[Step], first: int, last: int, at: int) -> Cutting:
    steps = [(max(a, first), min(b, last), c, d) for a, b, c, d in row]
    return Cutting(tuple((a - first + at, b - first + at, c, d) for a, b, c, d in steps if a < b))


def _size(piece: Cutting) -> int:
    return sum((b - a) * (d - c) for a, b, c, d in piece.steps)


def _pack(shop: Shop, pieces: Sequence[Cutting], limit: int) -> int | None:
    area = sum(_size(piece) for piece in pieces)
    for boards in range(-(-area // (shop.length * shop.width)), limit + 1):
        if _fits(shop, pieces, [[] for _ in range(boards)]):
            return boards
    return None


def _fits(shop: Shop, pieces: Sequence[Cutting], boards: list[list[Cutting]]) -> bool:
    if not pieces:
        return True
    piece, rest = pieces[0], pieces[1:]
    free = shop.length - max(b for _, b, _, _ in piece.steps) if piece.loose else 0
    for board in boards:
        for shift in range(free + 1):
            placed = piece.moved(shift)
            if all(apart(shop, placed, other) for other in board):
                board.append(placed)
                if _fits(shop, rest, boards):
                    return True
                board.pop()
        if not board:
            break  # empty boards are all alike
    return False


def apart(shop: Shop, one: Cutting, other: Cutting) -> bool:
    """Whether two pieces may come from one board."""
    a, b = _box(one), _box(other)
    if max(a[0] - b[1], b[0] - a[1]) >= shop.cut or max(a[2] - b[3], b[2] - a[3]) >= shop.kerf:
        return True
    return all(
        math.hypot(_gap(s[:2], t[:2]), _gap(s[2:], t[2:])) >= shop.cut and not _overlap(s, t)
        for s, t in product(one.steps, other.steps)
    )


def _box(piece: Cutting) -> Step:
    starts, ends, lows, highs = zip(*piece.steps, strict=True)
    return min(starts), max(ends), min(lows), max(highs)


def _gap(one: Sequence[int], other: Sequence[int]) -> int:
    return max(one[0] - other[1], other[0] - one[1], 0)


def _overlap(s: Step, t: Step) -> bool:
    return s[0] < t[1] and t[0] < s[1] and s[2] < t[3] and t[2] < s[3]


def share_a_board(shop: Shop, pieces: Sequence[Cutting]) -> bool:
    """Whether pieces that have their place may all come from one board."""
    return all(apart(shop, one, other) for one, other in combinations(pieces, 2))
