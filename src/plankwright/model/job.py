"""The job: everything a person wrote down before the first board is cut."""

import math
from dataclasses import dataclass, field

from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.units import Unit

# The usual size of a laminate board in the trade; every job should say its own.
USUAL_BOARD = Board(1285.0, 192.0)


@dataclass(frozen=True, slots=True)
class Job:
    """A room, a board, the rules on its leaflet and the person's wishes.

    Parameters
    ----------
    room : what is to be floored.
    board, rules, wishes : how.
    unit : unit of the lengths that are printed, and of bare numbers that were read.
    name : how the person calls the job.
    """

    room: Room
    board: Board = USUAL_BOARD
    rules: Rules = field(default_factory=Rules)
    wishes: Wishes = field(default_factory=Wishes)
    unit: Unit = "mm"
    name: str = "room"

    def __post_init__(self) -> None:
        walls = [edge.name for edge in self.room.edges()]
        for wall in (self.wishes.row_wall, self.wishes.start_wall):
            if wall is not None and wall not in walls:
                raise InputError(
                    "there is no such wall",
                    where="laying",
                    value=wall,
                    remedy=f"Walls here: {', '.join(walls[:12])}.",
                )
        across = _width_mm(self.room)
        if self.board.width_mm > across:
            raise InputError(
                f"the board is wider than the room, which is {across:.0f} mm across",
                where="board.width",
                value=self.board.width_mm,
                remedy="Check the board's width, the room's corners and their units.",
            )


def _width_mm(room: Room) -> float:
    """The shorter side of the smallest rectangle round the room [mm]."""
    a, b, c, *_ = room.outline.minimum_rotated_rectangle.exterior.coords
    return min(math.dist(a, b), math.dist(b, c))
