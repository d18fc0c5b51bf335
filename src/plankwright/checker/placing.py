"""Where each piece lies in its board: rectangle, shape and which of its edges are the factory's.

In a board's own frame lengths count from its near end and widths from its wall side, as the
board lies when it is not turned. A turned piece has near and far, wall and room side swapped.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from plankwright.checker.view import ROUNDING_MM, View
from plankwright.model.plan import Piece, StockBoard

EDGES = ("near_end", "far_end", "wall_side", "room_side")


@dataclass(frozen=True, slots=True)
class Blank:
    """What a piece is cut from: a new board or one of the stock.

    ``near``, ``far``, ``wall``, ``room``: it has that factory edge. Of a strip narrower than a
    board only the side that the stock names is known to be the factory's.
    """

    length: float
    width: float
    near: bool = True
    far: bool = True
    wall: bool = True
    room: bool = True


@dataclass(frozen=True, slots=True)
class Placing:
    """One piece in its board.

    ``x0, y0, x1, y1``: its rectangle in the board's frame; ``turned``: it lies end for end;
    ``factory``: for each of :data:`EDGES` whether the board's own edge lies there.
    """

    index: int
    blank: Blank
    x0: float
    y0: float
    x1: float
    y1: float
    turned: bool
    factory: tuple[bool, bool, bool, bool]


def place_pieces(view: View) -> list[Placing]:
    """The placing of every piece, in the plan's order."""
    stock = {board.id: board for board in view.plan.stock}
    turned_rows = [row for row in view.plan.rows if row.turned]
    whole = Blank(view.plan.board.length_mm, view.plan.board.width_mm)
    sizes = np.stack(
        [view.boxes[:, 2] - view.boxes[:, 0], view.boxes[:, 3] - view.boxes[:, 1]], axis=1
    ).tolist()
    rows = view.rows.tolist()
    found: list[Placing] = []
    for index, piece in enumerate(view.plan.pieces):
        blank = _blank(stock[piece.board], whole) if piece.board in stock else whole
        length, width = sizes[index]
        turned = any(row.row == rows[index] and row.covers(piece.stretch) for row in turned_rows)
        placing = _place(index, piece, blank, length, width, turned)
        if view.plan.board.reversible and placing.factory != claims(piece):
            other = _place(index, piece, blank, length, width, not turned)
            placing = other if other.factory == claims(piece) else placing
        found.append(placing)
    return found


def claims(piece: Piece) -> tuple[bool, bool, bool, bool]:
    """For each of :data:`EDGES` whether the plan calls it the factory's."""
    return (
        piece.near_end == "factory",
        piece.far_end == "factory",
        piece.wall_side == "factory",
        piece.room_side == "factory",
    )


def shape_in_board(view: View, placing: Placing) -> Polygon:
    """The outline of a piece in its board's frame."""
    u0, v0, u1, v1 = view.boxes[placing.index]
    if placing.turned:
        return shapely.transform(
            view.outlines[placing.index],
            lambda uv: np.array([placing.x0 + u1, placing.y0 + v1]) - uv,
        )
    return shapely.transform(
        view.outlines[placing.index], lambda uv: uv + np.array([placing.x0 - u0, placing.y0 - v0])
    )


def _blank(stock: StockBoard, whole: Blank) -> Blank:
    width = whole.width if stock.width_mm is None else stock.width_mm
    return Blank(
        stock.length_mm,
        width,
        near=stock.ends in ("both", "near"),
        far=stock.ends in ("both", "far"),
        wall=width >= whole.width - ROUNDING_MM or stock.side == "wall",
        room=width >= whole.width - ROUNDING_MM or stock.side == "room",
    )


def _place(
    index: int, piece: Piece, blank: Blank, length: float, width: float, turned: bool
) -> Placing:
    x0, y0 = piece.from_near_mm, piece.from_wall_side_mm
    x1, y1 = x0 + length, y0 + width
    near = blank.near and abs(x0) <= ROUNDING_MM
    far = blank.far and abs(x1 - blank.length) <= ROUNDING_MM
    wall = blank.wall and abs(y0) <= ROUNDING_MM
    room = blank.room and abs(y1 - blank.width) <= ROUNDING_MM
    factory = (far, near, room, wall) if turned else (near, far, wall, room)
    return Placing(index, blank, x0, y0, x1, y1, turned, factory)
