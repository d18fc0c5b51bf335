"""Ripped boards shared between rows: which narrow stretches are hosts, and which their guests.

A board ripped in two gives a wall-side strip and a room-side strip. A stretch without a neighbor
on its wall side needs only the room side of its boards, one without a neighbor on its room side
only the wall side. Where the widths of two such stretches and a kerf fit into a board, the one (the
guest) is cut from the strips that are left beside the whole boards of the other (the host).
"""

from collections.abc import Sequence

from plankwright.geometry.rows import Contact, Stretch
from plankwright.model.board import Board
from plankwright.model.rules import Rules
from plankwright.optimize.instance import Role

MARGIN_MM = 0.1  # rounding of widths in the plan file


def strip_roles(
    stretches: Sequence[Stretch], contacts: Sequence[Contact], board: Board, rules: Rules
) -> list[Role]:
    """The role of each stretch; guests are as long as the hosts' whole boards can serve."""
    roles: list[Role] = ["plain"] * len(stretches)
    if board.reversible:
        return roles
    room_side_only, wall_side_only = _one_sided(stretches, contacts)
    pairs = [(room_side_only, wall_side_only), (wall_side_only, room_side_only)]
    room = board.width_mm - rules.kerf_mm - MARGIN_MM
    best: tuple[float, list[int], list[int]] = (0.0, [], [])
    for hosts, guests in pairs:
        for widest in sorted({round(_width(stretches[i]), 3) for i in hosts}):
            serving = [i for i in hosts if _width(stretches[i]) <= widest + 1e-3]
            fitting = [i for i in guests if _width(stretches[i]) <= room - widest]
            strips = sum(_whole_boards(stretches[i], board) for i in serving)
            served = _served(stretches, fitting, board.length_mm, strips)
            saved = sum(stretches[i].length for i in served)
            best = max(best, (saved, serving, served), key=lambda found: found[0])
    for index in best[1]:
        roles[index] = "host"
    for index in best[2]:
        roles[index] = "guest"
    return roles


def _one_sided(
    stretches: Sequence[Stretch], contacts: Sequence[Contact]
) -> tuple[list[int], list[int]]:
    """Stretches that need only their room side, and those that need only their wall side."""
    held_on_wall_side = {contact.room_side for contact in contacts}
    held_on_room_side = {contact.wall_side for contact in contacts}
    both = range(len(stretches))
    return (
        [i for i in both if i in held_on_room_side and i not in held_on_wall_side],
        [i for i in both if i in held_on_wall_side and i not in held_on_room_side],
    )


def _width(stretch: Stretch) -> float:
    return float(stretch.polygon.bounds[3] - stretch.polygon.bounds[1])


def _whole_boards(stretch: Stretch, board: Board) -> int:
    """Whole boards that a stretch has whatever its starter."""
    return max(0, int(-(-stretch.length // board.length_mm)) - 2)


def _served(
    stretches: Sequence[Stretch], fitting: Sequence[int], board_mm: float, strips: int
) -> list[int]:
    """The longest stretches that so many strips can serve, each strip a starter and an end."""
    served: list[int] = []
    need = 0.0
    for index in sorted(fitting, key=lambda i: (-stretches[i].length, i)):
        length = stretches[index].length / board_mm
        if need + length <= strips * 0.95:
            served.append(index)
            need += length
    return served
