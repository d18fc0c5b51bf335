"""The pieces of the rest: seats as pieces with boards, offcuts, labels and their places in line."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from plankwright.guide.remaining import Remaining
from plankwright.guide.rest_of_floor import Rest
from plankwright.model.board import Board
from plankwright.model.plan import Cut, Piece, Plan, StockBoard
from plankwright.model.room import corner_name
from plankwright.model.rules import Rules
from plankwright.optimize.instance import TICKS_PER_MM
from plankwright.optimize.solution import Seat, Solution
from plankwright.plan.assemble import assemble, is_sawn
from plankwright.plan.sharing import Cutting, share_boards

SAME_MM = 0.05


@dataclass(frozen=True, slots=True)
class Drawn:
    """Pieces of the rest; each has a board number of its own counting, 1, 2, … for new boards.

    ``from_shelf`` tells for pieces cut from an offcut at hand its index.
    """

    pieces: tuple[Piece, ...]
    from_shelf: Mapping[str, int]


def draw_rest(left: Remaining, rest: Rest, solution: Solution, rules: Rules, first: int) -> Drawn:
    """The pieces of a solution, new boards numbered from ``first`` on."""
    seats = tuple(_as_on_floor(seat, left, rest) for seat in solution.seats)
    stretches = [left.stretches[i] for i in rest.open]
    pieces = assemble(
        stretches,
        rest.instance,
        replace(solution, seats=seats),
        left.board,
        rules,
        left.frame,
        share=False,
    )
    board_of = {(seat.stretch, seat.number + 1): seat.board for seat in seats}
    place = {(s.row, s.number): k for k, s in enumerate(stretches)}
    sources = {p.id: board_of[place[p.row, p.stretch], p.seat] for p in pieces}
    base = {(p.row, p.stretch, p.seat): p.board for p in pieces if p.id[-1].isdigit()}
    from_shelf = {
        p.id: -1 - sources[p.id]
        for p in pieces
        if sources[p.id] < 0 and p.board == base[p.row, p.stretch, p.seat]
    }
    return Drawn(tuple(_numbered(pieces, from_shelf, left.board, rules, first)), from_shelf)


def _as_on_floor(seat: Seat, left: Remaining, rest: Rest) -> Seat:
    """A seat counted from the near end of its stretch, in its true place in its offcut."""
    number, from_near = seat.number, seat.from_near
    if rest.instance.stretches[seat.stretch].begun:
        number += _laid_seats(left, rest.open[seat.stretch]) - 1
    if seat.board < 0:
        offcut = rest.offcuts[-1 - seat.board].stock
        unused = offcut.length_mm - rest.usable_mm(-1 - seat.board)
        if offcut.ends in ("far", "both"):  # what is not planned with is left at the near end
            from_near += round(unused * TICKS_PER_MM)
    return replace(seat, number=number, from_near=from_near)


def _laid_seats(left: Remaining, stretch: int) -> int:
    return sum(seat.stretch == stretch for seat in left.seats)


def _numbered(
    pieces: Sequence[Piece], from_shelf: Mapping[str, int], board: Board, rules: Rules, first: int
) -> Iterator[Piece]:
    """Pieces with narrow ones cut beside each other, and their new boards numbered."""
    fresh = [piece for piece in pieces if piece.id not in from_shelf]
    places = {piece.id: Cutting(piece.board, (0.0, 0.0), (0.0, 0.0)) for piece in pieces}
    if not board.reversible:
        cuttings = [_cutting(piece, pieces) for piece in fresh]
        shared = share_boards(
            cuttings, board.length_mm, board.width_mm, rules.kerf_mm, rules.cut_mm
        )
        places |= {piece.id: new for piece, new in zip(fresh, shared, strict=True)}
    numbers: dict[int, int] = {}
    for piece in pieces:
        if piece.id in from_shelf:
            yield replace(piece, label=None)
            continue
        place = places[piece.id]
        number = numbers.setdefault(place.board, first + len(numbers))
        moved = replace(piece, board=number, label=None)
        if not board.reversible and abs(place.along[0] - piece.from_near_mm) > SAME_MM:
            moved = _moved(moved, round(place.along[0], 4), board)
        yield moved


def _cutting(piece: Piece, pieces: Sequence[Piece]) -> Cutting:
    alone = sum((p.row, p.stretch) == (piece.row, piece.stretch) for p in pieces) == 1
    near, wall = piece.from_near_mm, piece.from_wall_side_mm
    return Cutting(
        piece.board,
        (near, near + piece.length_mm),
        (wall, wall + piece.width_mm),
        is_loose=alone and piece.seat == 1,
    )


def _moved(piece: Piece, from_near: float, board: Board) -> Piece:
    far = board.length_mm - from_near - piece.length_mm
    return replace(piece, from_near_mm=from_near, near_end=_edge(from_near), far_end=_edge(far))


def _edge(distance: float) -> Cut:
    return "factory" if abs(distance) <= SAME_MM else "cut"


# --- offcuts at hand ------------------------------------------------------------------------------


def with_stock(drawn: Drawn, stock: Sequence[StockBoard]) -> list[Piece]:
    """The pieces with the numbers and the ends of the offcuts they are cut from.

    ``stock`` holds them in the order of the instance's shelf.
    """
    found: list[Piece] = []
    for piece in drawn.pieces:
        if piece.id in drawn.from_shelf:
            board = stock[drawn.from_shelf[piece.id]]
            piece = _of_offcut(piece, board)
        found.append(piece)
    return found


def _of_offcut(piece: Piece, offcut: StockBoard) -> Piece:
    """A piece as it lies in an offcut: a strip keeps its factory side."""
    far = offcut.length_mm - piece.from_near_mm - piece.length_mm
    piece = replace(
        piece,
        board=offcut.id,
        near_end=_edge(piece.from_near_mm) if offcut.ends in ("both", "near") else "cut",
        far_end=_edge(far) if offcut.ends in ("both", "far") else "cut",
    )
    if offcut.width_mm is None:
        return piece
    beside = offcut.width_mm - piece.width_mm
    at_wall = offcut.side != "room"
    return replace(
        piece,
        from_wall_side_mm=0.0 if at_wall else round(max(beside, 0.0), 4),
        wall_side="factory" if offcut.side == "wall" else "cut",
        room_side="factory" if offcut.side == "room" else "cut",
    )


def in_line(plan: Plan, laid: Sequence[Piece], rest: Sequence[Piece], board: Board) -> list[Piece]:
    """The rest in laying order behind what lies, with its places in the saw order and labels."""
    stock = {b.id: b.label for b in plan.stock}
    order = max((piece.lay_order for piece in laid), default=0)
    cuts = max((piece.cut_order or 0 for piece in laid), default=0)
    letters = _letters({*stock.values(), *(piece.label or "" for piece in laid)})
    seen: set[int] = set()
    found: list[Piece] = []
    for number, piece in enumerate(rest, start=order + 1):
        label = None
        if piece.board in seen:
            label = next(letters)
        elif piece.board in stock:
            label = stock[piece.board] or None
        seen.add(piece.board)
        cut_order = None
        if is_sawn(piece, board):
            cuts += 1
            cut_order = cuts
        found.append(replace(piece, lay_order=number, cut_order=cut_order, label=label))
    return found


def _letters(taken: set[str]) -> Iterator[str]:
    """Letters that no offcut has."""
    index = 0
    while True:
        name = corner_name(index)
        if name not in taken:
            yield name
        index += 1


def rows_of(pieces: Sequence[Piece]) -> dict[tuple[int, int], list[Piece]]:
    """Pieces by row and stretch, near to far."""
    found: dict[tuple[int, int], list[Piece]] = defaultdict(list)
    for piece in pieces:
        found[piece.row, piece.stretch].append(piece)
    return {key: sorted(of, key=lambda p: (p.seat, p.id)) for key, of in sorted(found.items())}
