"""The pieces of the rest: seats as pieces with boards, offcuts, labels and their places in line."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from plankwright.guide.offcut_frames import OffcutFrame, frame_of
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
    if left.board.reversible:
        return Drawn(tuple(_numbered(pieces, from_shelf, first)), from_shelf)
    return _shared(pieces, from_shelf, rest, left.board, rules, first)


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
    pieces: Sequence[Piece], from_shelf: Mapping[str, int], first: int
) -> Iterator[Piece]:
    """Pieces without labels, their new boards numbered."""
    numbers: dict[int, int] = {}
    for piece in pieces:
        if piece.id not in from_shelf:
            number = numbers.setdefault(piece.board, first + len(numbers))
            piece = replace(piece, board=number)
        yield replace(piece, label=None)


def _shared(
    pieces: Sequence[Piece],
    from_shelf: Mapping[str, int],
    rest: Rest,
    board: Board,
    rules: Rules,
    first: int,
) -> Drawn:
    """The pieces with boards spared: narrow ones beside others, and what the offcuts still give."""
    found = (
        frame_of(-1 - k, offcut.stock, rest.usable_mm(k), board, rules)
        for k, offcut in enumerate(rest.offcuts)
    )
    frames = {frame.number: frame for frame in found if frame is not None}
    frame_of_piece = {name: frames.get(-1 - k) for name, k in from_shelf.items()}
    in_boards = [p for p in pieces if p.id not in from_shelf or frame_of_piece[p.id] is not None]
    cuttings = [_cutting(piece, pieces, frame_of_piece.get(piece.id)) for piece in in_boards]
    at_hand = {number: frame.gone for number, frame in frames.items()}
    shared = share_boards(
        cuttings, board.length_mm, board.width_mm, rules.kerf_mm, rules.cut_mm, at_hand
    )
    places = {piece.id: new for piece, new in zip(in_boards, shared, strict=True)}
    now = dict(from_shelf)
    moved: list[Piece] = []
    for piece in pieces:
        place = places.get(piece.id)
        if place is not None and place.board < 0:
            now[piece.id] = -1 - place.board
        if place is not None:
            origin = frames[place.board].origin_mm if place.board < 0 else 0.0
            from_near = round(max(place.along[0] - origin, 0.0), 4)
            piece = replace(piece, board=place.board)
            if abs(from_near - piece.from_near_mm) > SAME_MM:
                piece = _moved(piece, from_near, board)
        moved.append(piece)
    return Drawn(tuple(_numbered(moved, now, first)), now)


def _cutting(piece: Piece, pieces: Sequence[Piece], frame: OffcutFrame | None) -> Cutting:
    """Where a piece lies in its board, or in that of the offcut it is cut from."""
    alone = sum((p.row, p.stretch) == (piece.row, piece.stretch) for p in pieces) == 1
    near, wall = piece.from_near_mm, piece.from_wall_side_mm
    if frame is not None:
        near += frame.origin_mm
    return Cutting(
        piece.board if frame is None else frame.number,
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
