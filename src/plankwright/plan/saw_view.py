"""How a board lies at the saw: face up or face down, and which long side is away from you."""

from dataclasses import dataclass
from typing import Literal

from plankwright.model.board import Board, Laid

Saw = Literal["miter saw", "table saw", "hand saw", "circular saw", "jigsaw"]

# Teeth tear the face they leave: down into the board on the first three, up on the others
# (common practice; a jigsaw blade that cuts downward is the exception its packet names).
FACE_UP: dict[Saw, bool] = {
    "miter saw": True,
    "table saw": True,
    "hand saw": True,
    "circular saw": False,
    "jigsaw": False,
}


@dataclass(frozen=True, slots=True)
class SawView:
    """How the board lies at the saw.

    Parameters
    ----------
    face_up : the face is seen; a saw that tears the upper side wants it down.
    start_side_away : the side toward the start wall lies away from you.
    """

    face_up: bool = True
    start_side_away: bool = True

    def near_is_left(self, laid: Laid) -> bool:
        """Whether the end where laying starts lies on the left: each turning over mirrors it."""
        turns = (laid != "left-to-right", not self.face_up, not self.start_side_away)
        return sum(turns) % 2 == 0

    def side_name(self, board: Board, *, away: bool) -> str:
        """What the long side away from you, or toward you, is called."""
        start = self.start_side_away == away
        if board.reversible:
            return "start wall's side" if start else "room side"
        if start:
            return f"{board.start_side} side"
        return "groove side" if board.start_side == "tongue" else "tongue side"


def view_at(saw: Saw) -> SawView:
    """How a board lies at a kind of saw so that its face does not tear."""
    return SawView(face_up=FACE_UP[saw])
