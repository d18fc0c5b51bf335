"""What is left of the boards that were cut: offcuts as the plan says, by true length and ends.

A piece takes its own length and the saw's kerf off its board; what remains is longer than what the
plan counts on by the allowance. Boards that were cut in the order of the saw list have left what it
says. Where that order was not kept, narrow pieces beside narrow ones are taken to have been ripped
along the whole board, others to have been cut off first and ripped alone.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from plankwright.model.plan import Piece, Plan, StockBoard
from plankwright.plan import saw_cuts as sawn
from plankwright.plan.saw_cuts import SawCut, blank_of, saw_cuts

LEAST_MM = 20.0  # a shorter or narrower offcut is waste
SAME_MM = 0.06

Ends = Literal["both", "near", "far", "none"]
Side = Literal["wall", "room", "none"]


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
    cuts = defaultdict(list)
    for cut in saw_cuts(plan):
        cuts[cut.piece.board].append(cut)
    found: list[Offcut] = []
    for number in sorted(boards):
        gone = [piece for piece in boards[number] if piece.id in out]
        rest = [piece for piece in boards[number] if piece.id not in out]
        if not gone:
            if number in stock:
                found.append(Offcut(stock[number], number, tuple(p.id for p in rest)))
            continue
        whole = stock.get(number, StockBoard(number, plan.board.length_mm))
        blanks = _blanks_left(cuts[number], {piece.id for piece in gone})
        if blanks is None:
            found += _rests(plan, whole, gone, rest)
        else:
            found += (_offcut(plan, whole, blank, rest) for blank in blanks if _is_kept(blank))
        found += [Offcut(_as_stock(plan, whole, p), number, (p.id,), True) for p in gone
                  if p.id in at_hand]  # fmt: skip
    return tuple(found)


def _blanks_left(cuts: Sequence[SawCut], gone: Collection[str]) -> list[sawn.Offcut] | None:
    """What the saw list leaves of a board once some pieces are cut.

    None where they were cut in another order, or where what is left is no rectangle.
    """
    done = [cut for cut in cuts if cut.piece.id in gone]
    if done != list(cuts[: len(done)]) or any(odd_rests(cut) for cut in done):
        return None
    left: list[sawn.Offcut] = []
    for cut in done:
        left = [offcut for offcut in left if offcut.blank != cut.source]
        left += cut.offcuts
    return left


def odd_rests(cut: SawCut) -> tuple[sawn.Offcut, ...]:
    """What a cut round a shape leaves: a rectangle with the piece still in it, so to speak."""
    piece = blank_of(cut.piece)
    return tuple(offcut for offcut in cut.offcuts if offcut.blank.holds(piece))


def _is_kept(offcut: sawn.Offcut) -> bool:
    return min(offcut.blank.length_mm, offcut.blank.width_mm) >= LEAST_MM


def _offcut(plan: Plan, board: StockBoard, left: sawn.Offcut, rest: Sequence[Piece]) -> Offcut:
    """An offcut that the saw left, and the pieces that are to be cut from it."""
    blank, width = left.blank, plan.board.width_mm if board.width_mm is None else board.width_mm
    ends = _ends(board, blank.u0 <= SAME_MM, blank.u1 >= board.length_mm - SAME_MM)
    size: float | None = round(blank.width_mm, 4)
    side: Side = "none"
    if blank.width_mm >= plan.board.width_mm - SAME_MM:
        size = None
    elif blank.v0 <= SAME_MM and (board.width_mm is None or board.side == "wall"):
        side = "wall"
    elif blank.v1 >= width - SAME_MM and (board.width_mm is None or board.side == "room"):
        side = "room"
    wanted = [piece for piece in rest if blank.holds(blank_of(piece))]
    label = left.label or _label(wanted)
    stock = StockBoard(board.id, round(blank.length_mm, 4), ends, size, label, side)
    return Offcut(stock, board.id, _names(wanted))


def _as_stock(plan: Plan, board: StockBoard, piece: Piece) -> StockBoard:
    """A piece as an offcut, labeled with its own id."""
    x0, x1 = piece.from_near_mm, piece.from_near_mm + piece.length_mm
    ends = _ends(board, x0 <= SAME_MM, x1 >= board.length_mm - SAME_MM)
    width = None if piece.width_mm >= plan.board.width_mm - SAME_MM else piece.width_mm
    return StockBoard(board.id, piece.length_mm, ends, width, piece.id, _side(plan, piece))


def _side(plan: Plan, piece: Piece) -> Side:
    """The factory side, in its board's frame, that a narrow piece has."""
    wall, room = piece.wall_side == "factory", piece.room_side == "factory"
    if plan.is_turned(piece):
        wall, room = room, wall
    return "wall" if wall else "room" if room else "none"


def _ends(board: StockBoard, near: bool, far: bool) -> Ends:
    near = near and board.ends in ("both", "near")
    far = far and board.ends in ("both", "far")
    if near and far:
        return "both"
    return "near" if near else "far" if far else "none"


def _rests(
    plan: Plan, board: StockBoard, gone: Sequence[Piece], rest: Sequence[Piece]
) -> Iterator[Offcut]:
    """What is left along a board, and beside its narrow pieces."""
    width = plan.board.width_mm if board.width_mm is None else board.width_mm
    lane = max(piece.width_mm for piece in gone)
    is_ripped = _is_ripped(gone, rest, width, plan.rules.kerf_mm)
    for low, high in _gaps(gone, board.length_mm, plan.rules.kerf_mm):
        ends = _ends(board, low <= SAME_MM, high >= board.length_mm - SAME_MM)
        wanted = [p for p in rest if low - 1.0 <= p.from_near_mm + p.length_mm / 2.0 <= high + 1.0]
        strip = StockBoard(board.id, round(high - low, 4), ends, board.width_mm, "", board.side)
        if is_ripped:
            wanted = [p for p in wanted if _is_beside(p, gone[0])]
            side = board.side if board.width_mm else _side(plan, gone[0])
            strip = replace(strip, width_mm=lane, side=side)
        yield Offcut(replace(strip, label=_label(wanted)), board.id, _names(wanted))
    if is_ripped:
        yield _strip(plan, board, gone, rest, (0.0, board.length_mm))
        return
    for piece in gone:
        reach = piece.from_near_mm, piece.from_near_mm + piece.length_mm
        beside = [p for p in gone if p is not piece and _overlap(p, piece)]
        if width - piece.width_mm - plan.rules.kerf_mm >= LEAST_MM and not beside:
            yield _strip(plan, board, [piece], [p for p in rest if _overlap(p, piece)], reach)


def _strip(
    plan: Plan,
    board: StockBoard,
    gone: Sequence[Piece],
    rest: Sequence[Piece],
    reach: tuple[float, float],
) -> Offcut:
    """The strip beside narrow pieces, over part of a board's length or all of it."""
    width = plan.board.width_mm if board.width_mm is None else board.width_mm
    beside = round(width - max(p.width_mm for p in gone) - plan.rules.kerf_mm, 4)
    side: Side = "none"
    if board.width_mm is None:
        other: dict[str, Side] = {"wall": "room", "room": "wall"}
        side = other.get(_side(plan, gone[0]), "none")
    ends = _ends(board, reach[0] <= SAME_MM, reach[1] >= board.length_mm - SAME_MM)
    wanted = [p for p in rest if p.width_mm <= beside + 1.0 and not _is_beside(p, gone[0])]
    strip = StockBoard(board.id, round(reach[1] - reach[0], 4), ends, beside, _label(wanted), side)
    return Offcut(strip, board.id, _names(wanted))


def _is_ripped(gone: Sequence[Piece], rest: Sequence[Piece], width: float, kerf: float) -> bool:
    """Whether a board was ripped along its whole length: narrow pieces beside narrow ones."""
    beside = width - max(piece.width_mm for piece in gone) - kerf
    if beside < LEAST_MM or not all(_is_beside(p, gone[0]) for p in gone):
        return False
    across = [p for p in rest if any(_overlap(p, other) for other in gone)]
    return bool(across) and all(p.width_mm <= width - kerf for p in rest)


def _is_beside(piece: Piece, other: Piece) -> bool:
    """Whether two pieces lie along the same long side of their board."""
    low, high = piece.from_wall_side_mm, piece.from_wall_side_mm + piece.width_mm
    return abs(low - other.from_wall_side_mm) <= SAME_MM or (
        abs(high - other.from_wall_side_mm - other.width_mm) <= SAME_MM
    )


def _overlap(one: Piece, other: Piece) -> bool:
    """Whether two pieces of a board lie beside each other for some part of its length."""
    first, last = (
        max(one.from_near_mm, other.from_near_mm),
        min(one.from_near_mm + one.length_mm, other.from_near_mm + other.length_mm),
    )
    return last - first > SAME_MM


def _names(pieces: Sequence[Piece]) -> tuple[str, ...]:
    return tuple(piece.id for piece in pieces)


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
