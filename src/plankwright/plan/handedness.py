"""Which way a board can be laid: what its lock lets come together.

A drop lock closes when the new board's tongue end comes down on the laid board's lip. So the near
end must be the tongue end; laid the other way a lip would have to be pushed under a laid tongue.
An angle lock can be laid the other way only where the leaflet says so; a lock that is tapped
together, a loose-laid or a reversible board can be laid either way. (Common practice; the
leaflet rules.)
"""

from plankwright.errors import InputError
from plankwright.model.board import Board, Hand, Laid


def first_choice(board: Board) -> Laid:
    """The direction in which the near end is the tongue end."""
    return "left-to-right" if board.tongue_end == "left" else "right-to-left"


def possible(board: Board, laid: Laid) -> bool:
    """Whether the board's joints can be closed in this laying direction."""
    if board.reversible or board.end_lock in ("tap", "loose"):
        return True
    if board.near_end(laid) == "tongue":
        return True
    return board.end_lock == "angle" and board.either_way


def choose_direction(board: Board, wish: Laid | None) -> Laid:
    """The laying direction: the wish if the lock allows it, else the lock's own.

    Raises
    ------
    InputError : the lock cannot be closed in the direction wished for.
    """
    if wish is None:
        return "left-to-right" if board.reversible else first_choice(board)
    if possible(board, wish):
        return wish
    near: Hand = "left" if wish == "left-to-right" else "right"
    other = first_choice(board)
    extra = (
        " If the leaflet allows both directions, say so: board.either_way = true."
        if board.end_lock == "angle"
        else ""
    )
    raise InputError(
        f"laid {_words(wish)} each new board would have to push the lip of its groove end "
        f"(its {near} end) under a laid tongue, and a lock that closes by "
        f"{'dropping' if board.end_lock == 'drop' else 'angling'} cannot do that",
        where="laid",
        value=wish,
        remedy=f"Lay {_words(other)}, or start from the opposite wall; if the board is mirrored, "
        f"set board.tongue_end.{extra}",
    )


def _words(laid: Laid) -> str:
    return laid.replace("-", " ")
