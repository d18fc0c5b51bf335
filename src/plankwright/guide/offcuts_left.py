"""What is left of the boards that were cut: offcuts as the plan says, by true length and ends.

A piece takes its own length and the saw's kerf off its board; what remains is longer than what the
plan counts on by the allowance.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from plankwright.model.plan import Piece, Plan, StockBoard

LEAST_MM = 20.0  # a shorter or narrower offcut is waste
SAME_MM = 0.06

Ends = Literal["both", "near", "far", "none"]


@dataclass(frozen=True, slots=True)
class Offcut:
    """An offcut at hand.

    Parameters
    ----------
    stock : length, ends and label; its id does not count.
    board : number of the board of the plan that it is a part of; None when it is another's.
    wanted : pieces of the plan that would be cut from it.
    exact : it is one piece already cut, or lifted: nothing needs to be sawn off.
    """

    stock: StockBoard
    board: int | None = None
    wanted: tuple[str, ...] = ()
    exact: bool = False


def offcuts_left(
    plan: Plan, out: Collection[str], at_hand: Collection[str] = ()
) -> tuple[Offcut, ...]:
    """The offcuts that the plan leaves once some of its pieces are cut.

    Parameters
    ----------
    out : ids of the pieces cut from their boards so far: laid, waiting, lifted or spoiled.
    at_hand : those of them that wait to be laid.
    """
    boards: dict[int, list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        boards[piece.board].append(piece)
    stock = {board.id: board for board in plan.stock}
    for board in plan.stock:
        boards.setdefault(board.id, [])
    found: list[Offcut] = []
    for number in sorted(boards):
        gone = [piece for piece in boards[number] if piece.id in out]
        rest = [piece for piece in boards[number] if piece.id not in out]
        if not gone:
            if number in stock:
                found.append(Offcut(stock[number], number, tuple(p.id for p in rest)))
            continue
        whole = stock.get(number, StockBoard(number, plan.board.length_mm))
        found += _rests(plan, whole, gone, rest)
        found += [Offcut(_as_stock(plan, whole, p), number, (p.id,), True) for p in gone
                  if p.id in at_hand]  # fmt: skip
    return tuple(found)


def _as_stock(plan: Plan, board: StockBoard, piece: Piece) -> StockBoard:
    """A piece as an offcut, labeled with its own id."""
    x0, x1 = piece.from_near_mm, piece.from_near_mm + piece.length_mm
    ends = _ends(board, x0 <= SAME_MM, x1 >= board.length_mm - SAME_MM)
    width = None if piece.width_mm >= plan.board.width_mm - SAME_MM else piece.width_mm
    return StockBoard(board.id, piece.length_mm, ends, width, piece.id, _side(piece))


def _side(piece: Piece) -> Literal["wall", "room", "none"]:
    if piece.wall_side == "factory":
        return "wall"
    return "room" if piece.room_side == "factory" else "none"


def _ends(board: StockBoard, near: bool, far: bool) -> Ends:
    near = near and board.ends in ("both", "near")
    far = far and board.ends in ("both", "far")
    if near and far:
        return "both"
    return "near" if near else "far" if far else "none"


def _rests(
    plan: Plan, board: StockBoard, gone: Sequence[Piece], rest: Sequence[Piece]
) -> Iterator[Offcut]:
    """What is left along a board, and beside it where it was ripped."""
    width = plan.board.width_mm if board.width_mm is None else board.width_mm
    lane = max(piece.width_mm for piece in gone)
    beside = width - lane - plan.rules.kerf_mm
    ripped = beside >= LEAST_MM and _is_ripped(gone, width)
    own_side: Literal["wall", "room", "none"] = board.side if board.width_mm else _side(gone[0])
    for low, high in _gaps(gone, board.length_mm, plan.rules.kerf_mm):
        ends = _ends(board, low <= SAME_MM, high >= board.length_mm - SAME_MM)
        wanted = [p for p in rest if low - 1.0 <= p.from_near_mm + p.length_mm / 2.0 <= high + 1.0]
        if ripped:
            strip = StockBoard(board.id, high - low, ends, lane, _label(wanted), own_side)
            yield Offcut(strip, board.id, tuple(p.id for p in wanted if p.width_mm <= lane + 1.0))
        else:
            offcut = StockBoard(
                board.id, round(high - low, 4), ends, board.width_mm, _label(wanted), board.side
            )
            yield Offcut(offcut, board.id, tuple(p.id for p in wanted))
    if ripped:
        other: Literal["wall", "room", "none"] = "none"
        if board.width_mm is None:
            other = "room" if own_side == "wall" else "wall" if own_side == "room" else "none"
        wanted = [p for p in rest if p.width_mm <= beside + 1.0]
        strip = StockBoard(
            board.id, board.length_mm, board.ends, round(beside, 4), _label(wanted), other
        )
        yield Offcut(strip, board.id, tuple(p.id for p in wanted))


def _is_ripped(gone: Sequence[Piece], width: float) -> bool:
    """Whether all pieces cut so far lie along one long side of the board."""
    at_wall = all(piece.from_wall_side_mm <= SAME_MM for piece in gone)
    at_room = all(p.from_wall_side_mm + p.width_mm >= width - SAME_MM for p in gone)
    return at_wall or at_room


def _gaps(gone: Sequence[Piece], length: float, kerf: float) -> Iterator[tuple[float, float]]:
    """What the pieces cut leave along the board, less a kerf at each of them."""
    at = 0.0
    for piece in sorted(gone, key=lambda piece: piece.from_near_mm):
        low, high = piece.from_near_mm, piece.from_near_mm + piece.length_mm
        if low - kerf - at >= LEAST_MM:
            yield at, low - kerf
        at = max(at, high + kerf)
    if length - at >= LEAST_MM:
        yield at, length


def _label(wanted: Sequence[Piece]) -> str:
    return next((piece.label for piece in wanted if piece.label), "")
