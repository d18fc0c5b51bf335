"""Where each piece lies in its board: rectangle, shape and which of its edges are the factory's.

In a board's own frame lengths count from its near end and widths from its wall side, as the
board lies when it is not turned. A turned piece has near and far, wall and room side swapped.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from plankwright.checker.view import ROUNDING_MM, Flags, Floats, View
from plankwright.model.plan import StockBoard

EDGES = ("near_end", "far_end", "wall_side", "room_side")
OTHER_WAY = [1, 0, 3, 2]  # the edges of a piece that lies end for end


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
class Placings:
    """Every piece in its board, in the plan's order.

    Parameters
    ----------
    rectangles : x0, y0, x1, y1 of each in its board's frame.
    sizes : length and width of what each is cut from [mm].
    turned : which of them lie end for end.
    factory : for each piece and each of :data:`EDGES` whether the board's own edge lies there.
    claims : the same as the plan tells it.
    """

    rectangles: Floats
    sizes: Floats
    turned: Flags
    factory: Flags
    claims: Flags


def place_pieces(view: View) -> Placings:
    """Where every piece lies in its board."""
    pieces, board = view.plan.pieces, view.plan.board
    blanks = [Blank(board.length_mm, board.width_mm)]
    blanks += [_blank(stock, blanks[0]) for stock in view.plan.stock]
    numbers = {stock.id: number for number, stock in enumerate(view.plan.stock, 1)}
    cut_from = np.array([numbers.get(piece.board, 0) for piece in pieces], np.int64)
    sizes = np.array([(blank.length, blank.width) for blank in blanks])[cut_from]
    has = np.array([(b.near, b.far, b.wall, b.room) for b in blanks])[cut_from]
    at = np.array([(p.from_near_mm, p.from_wall_side_mm) for p in pieces]).reshape(-1, 2)
    rectangles = np.concatenate([at, at + view.boxes[:, 2:] - view.boxes[:, :2]], axis=1)
    turned, told = _turned(view), _claims(view)
    real = has & (np.abs(_to_edges(rectangles, sizes)) <= ROUNDING_MM)
    factory = np.where(turned[:, None], real[:, OTHER_WAY], real)
    if board.reversible:
        other = factory[:, OTHER_WAY]
        turn = (factory != told).any(axis=1) & (other == told).all(axis=1)
        turned, factory = turned ^ turn, np.where(turn[:, None], other, factory)
    return Placings(rectangles, sizes, turned, factory, told)


def _turned(view: View) -> Flags:
    """Pieces of rows that the plan says lie end for end."""
    kinds = [kind for kind in view.plan.rows if kind.turned]
    flags = np.zeros(len(view.rows), np.bool_)
    for index, piece in enumerate(view.plan.pieces if kinds else ()):
        flags[index] = any(k.row == view.rows[index] and k.covers(piece.stretch) for k in kinds)
    return flags


def _claims(view: View) -> Flags:
    """For each piece and each of :data:`EDGES` whether the plan calls it the factory's."""
    told = [(p.near_end, p.far_end, p.wall_side, p.room_side) for p in view.plan.pieces]
    flags: Flags = np.array(told, dtype=np.str_).reshape(-1, 4) == "factory"
    return flags


def _to_edges(rectangles: Floats, sizes: Floats) -> Floats:
    """From each of the board's edges to the rectangle's edge that faces it [mm]."""
    (x0, y0, x1, y1), (length, width) = rectangles.T, sizes.T
    return np.stack([x0, x1 - length, y0, y1 - width], axis=1)


def shape_in_board(view: View, placings: Placings, index: int) -> Polygon:
    """The outline of a piece in its board's frame."""
    near, far = view.boxes[index, :2], view.boxes[index, 2:]
    at = placings.rectangles[index, :2]
    if placings.turned[index]:
        return shapely.transform(view.outlines[index], lambda uv: at + far - uv)
    return shapely.transform(view.outlines[index], lambda uv: uv + at - near)


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
