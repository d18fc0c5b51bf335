"""A solution: which starter each stretch has, and from which board every piece is cut."""

from dataclasses import dataclass
from typing import Literal

PieceKind = Literal["starter", "whole", "end", "wall-to-wall"]


@dataclass(frozen=True, slots=True)
class Seat:
    """One seat of a stretch: a piece between two joints.

    Parameters
    ----------
    stretch, number : which stretch (from 0) and which seat in it (from 0, near to far).
    kind : starter, whole, end or wall-to-wall.
    length : along the row [ticks].
    board : the board it is cut from, counted from 0.
    from_near : where it lies in that board, from the board's near end [ticks].
    """

    stretch: int
    number: int
    kind: PieceKind
    length: int
    board: int
    from_near: int


@dataclass(frozen=True, slots=True)
class Solution:
    """A complete solution of an instance.

    Parameters
    ----------
    starters : for each stretch the starter [ticks], or None for a wall-to-wall piece.
    seats : by stretch, then from near to far.
    boards : how many boards are opened.
    conflicts : pairs of contacts' joints that lie closer than the offset.
    """

    starters: tuple[int | None, ...]
    seats: tuple[Seat, ...]
    boards: int
    conflicts: int
