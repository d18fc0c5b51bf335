"""Rooms and boards moved as rigid things: what must not change any count.

A corner keeps its place in the outline and so its letter; walls, doorways and gaps go with it.
"""

from dataclasses import replace

import numpy as np
import shapely

from plankwright.geometry.frame import Floats, Frame
from plankwright.model.board import Board, Hand, Laid
from plankwright.model.room import FixedThing, Room


def turned(room: Room, angle_deg: float) -> Room:
    """The room turned anticlockwise about the origin."""
    axes = shapely.MultiPoint([(1.0, 0.0), (0.0, 1.0)])
    frame = Frame(angle_deg % 360.0, "right-to-left")  # exact at multiples of 90 degrees
    return _moved(room, shapely.get_coordinates(frame.to_room(axes)))


def mirrored(room: Room) -> Room:
    """The room seen in a mirror that stands on the y axis."""
    return _moved(room, np.array([[-1.0, 0.0], [0.0, 1.0]]))


def mirrored_board(board: Board) -> Board:
    """The mirrored product: the tongue end on the other hand."""
    hand: Hand = "right" if board.tongue_end == "left" else "left"
    return replace(board, tongue_end=hand)


def mirrored_laid(laid: Laid) -> Laid:
    """The other laying direction."""
    return "right-to-left" if laid == "left-to-right" else "left-to-right"


def _moved(room: Room, matrix: Floats) -> Room:
    outline = shapely.transform(room.outline, lambda xy: xy @ matrix)
    return replace(room, outline=outline, fixed=tuple(_thing(t, matrix) for t in room.fixed))


def _thing(thing: FixedThing, matrix: Floats) -> FixedThing:
    circle = thing.circle
    if circle is not None:
        x, y = np.array(circle[:2]) @ matrix
        circle = (float(x), float(y), circle[2])
    return replace(
        thing, outline=shapely.transform(thing.outline, lambda xy: xy @ matrix), circle=circle
    )
