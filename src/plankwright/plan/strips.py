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

LEAST_SAVED = 0.5  # boards; less is not worth a rip
MARGIN_MM = 0.1  # rounding of widths in the plan file


def strip_roles(
    stretches: Sequence[Stretch], contacts: Sequence[Contact], board: Board, rules: Rules
) -> list[Role]:
    """The role of each stretch: hosts and guests that save the most, or none.

    Guests may need more strips than the hosts' whole boards have; these are then new boards.
    """
    roles: list[Role] = ["plain"] * len(stretches)
    if board.reversible:
        return roles
    room_side_only, wall_side_only = _one_sided(stretches, contacts)
    pairs = [(room_side_only, wall_side_only), (wall_side_only, room_side_only)]
    room = board.width_mm - rules.kerf_mm - MARGIN_MM
    best: tuple[float, list[int], list[int]] = (LEAST_SAVED, [], [])
    for hosts, guests in pairs:
        for widest in sorted({round(_width(stretches[i]), 3) for i in hosts}):
            serving = [i for i in hosts if _width(stretches[i]) <= widest + 1e-3]
            fitting = [i for i in guests if _width(stretches[i]) <= room - widest]
            strips = sum(_whole_boards(stretches[i], board) for i in serving)
            wanted = sum(stretches[i].length for i in fitting) / board.length_mm
            saved = min(strips, wanted)
            best = max(best, (saved, serving, fitting), key=lambda found: found[0])
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
