"""Laid pieces in the new plan: as they were, or cut again where a wall or a row line has moved."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely import Polygon

from plankwright.errors import InputError
from plankwright.guide.remaining import LaidSeat, Remaining
from plankwright.model.plan import Cut, Piece, Plan
from plankwright.model.room import corner_name
from plankwright.plan.assemble import between, is_sawn, round_outlines
from plankwright.units import format_length, parse_unit

SAME_MM = 0.05
SAME_MM2 = 5.0


def pieces_as_laid(plan: Plan, left: Remaining) -> tuple[Piece, ...]:
    """Every piece that lies, unchanged wherever the floor under it is the planned one.

    Raises
    ------
    InputError : a piece would have to be longer than its board.
    """
    found: list[Piece] = []
    for seat in left.seats:
        shapes = between(left.stretches[seat.stretch], seat.u0, seat.u1)
        if left.board == plan.board and _is_same(seat, shapes, left):
            found += [_renumbered(piece, seat, left) for piece in seat.pieces]
        else:
            found += _cut_again(plan, seat, shapes, left)
    found = _in_saw_order(plan, _first_without_label(plan, found), left)
    return _with_own_boards(plan, found)


def _is_same(seat: LaidSeat, shapes: Sequence[Polygon], left: Remaining) -> bool:
    """Whether the old outlines still fill the seat."""
    before = shapely.union_all([left.frame.to_plan(piece.outline) for piece in seat.pieces])
    return bool(shapely.union_all(list(shapes)).symmetric_difference(before).area < SAME_MM2)


def _renumbered(piece: Piece, seat: LaidSeat, left: Remaining) -> Piece:
    number = left.stretches[seat.stretch].number
    if number == piece.stretch:
        return piece
    suffix = piece.id.rpartition(".")[2].lstrip("0123456789")
    return replace(piece, id=f"{piece.row}.{number}.{piece.seat}{suffix}", stretch=number)


def _cut_again(
    plan: Plan, seat: LaidSeat, shapes: Sequence[Polygon], left: Remaining
) -> list[Piece]:
    """The pieces of a seat as they fill it now: cut to the measured wall, in the laid row width."""
    outlines = round_outlines([left.frame.to_room(shape) for shape in shapes])
    found: list[Piece] = []
    for number, (shape, outline) in enumerate(zip(shapes, outlines, strict=True)):
        old = seat.pieces[min(number, len(seat.pieces) - 1)]
        found.append(_fitted(plan, seat, old, number, shape, outline, left))
    return found


def _fitted(
    plan: Plan,
    seat: LaidSeat,
    old: Piece,
    number: int,
    shape: Polygon,
    outline: Polygon,
    left: Remaining,
) -> Piece:
    u0, v0, u1, v1 = shape.bounds
    stretch = left.stretches[seat.stretch]
    length, width = round(u1 - u0, 4), round(v1 - v0, 4)
    stock = {board.id: board for board in plan.stock}
    board_length = stock[old.board].length_mm if old.board in stock else plan.board.length_mm
    turned = plan.is_turned(old)
    hung, lain = (old.near_end, old.far_end) if turned else (old.far_end, old.near_end)
    from_near = old.from_near_mm
    if hung == "factory":  # it hangs on the far end of its board
        from_near += old.length_mm - length
    if from_near < -SAME_MM or from_near + length > board_length + SAME_MM:
        raise InputError(
            "this piece lies and cannot reach the wall where it was measured",
            where=old.id,
            value=format_length(length, parse_unit(plan.unit)),
            remedy="Measure that wall again, or lift the row.",
        )
    from_near = round(max(from_near, 0.0), 4)
    from_wall = round(max(v0 - stretch.wall_line, 0.0), 4)
    beside = left.board.width_mm - from_wall - width
    suffix = "" if number == 0 else corner_name(number).lower()
    near: Cut = "factory" if lain == "factory" and from_near <= SAME_MM else "cut"
    far: Cut = "cut"
    if hung == "factory" and board_length - from_near - length <= SAME_MM:
        far = "factory"
    near, far = (far, near) if turned else (near, far)
    return replace(
        old,
        id=f"{stretch.row}.{stretch.number}.{seat.number}{suffix}",
        stretch=stretch.number,
        outline=outline,
        length_mm=length,
        width_mm=width,
        from_near_mm=from_near,
        from_wall_side_mm=round(max(beside, 0.0), 4) if turned else from_wall,
        near_end=near,
        far_end=far,
        wall_side="factory" if from_wall <= SAME_MM else "cut",
        room_side="factory" if beside <= SAME_MM else "cut",
    )


def _in_saw_order(plan: Plan, pieces: Sequence[Piece], left: Remaining) -> list[Piece]:
    """The pieces; a whole board that turns out to be cut to a wall was sawn last."""
    last = max((piece.cut_order or 0 for piece in plan.pieces), default=0)
    found: list[Piece] = []
    for piece in pieces:
        if piece.cut_order is None and is_sawn(piece, left.board):
            last += 1
            piece = replace(piece, cut_order=last)
        found.append(piece)
    return found


def _first_without_label(plan: Plan, pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, none labeled that is now the first that was cut from its new board."""
    stock = {board.id for board in plan.stock}
    first: dict[int, Piece] = {}
    for piece in sorted(pieces, key=lambda p: (p.cut_order or 0, p.id)):
        first.setdefault(piece.board, piece)
    return [
        replace(piece, label=None)
        if piece.label and first[piece.board] is piece and piece.board not in stock
        else piece
        for piece in pieces
    ]


def _with_own_boards(plan: Plan, pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces; one that is longer than planned and clashes in its board is of another board."""
    numbers = [piece.board for piece in plan.pieces] + [board.id for board in plan.stock]
    free = max(numbers, default=0)
    planned = set(map(id, plan.pieces))
    kept: dict[int, list[Piece]] = defaultdict(list)
    found: list[Piece] = []
    for piece in pieces:
        beside = kept[piece.board]
        if id(piece) in planned:  # as planned it fits with all that is as planned
            beside = [other for other in beside if id(other) not in planned]
        if any(_clash(piece, other, plan) for other in beside):
            free += 1
            piece = replace(piece, board=free, label=None)
        kept[piece.board].append(piece)
        found.append(piece)
    return tuple(found)


def _clash(one: Piece, other: Piece, plan: Plan) -> bool:
    along = max(
        other.from_near_mm - one.from_near_mm - one.length_mm,
        one.from_near_mm - other.from_near_mm - other.length_mm,
    )
    across = max(
        other.from_wall_side_mm - one.from_wall_side_mm - one.width_mm,
        one.from_wall_side_mm - other.from_wall_side_mm - other.width_mm,
    )
    if one.row == other.row and one.stretch == other.stretch and one.seat == other.seat:
        return False  # parts of one seat, nested by shape
    return along < plan.rules.cut_mm - SAME_MM and across < plan.rules.kerf_mm - SAME_MM
