"""Boards saved by ripping: narrow pieces moved into what is left beside other narrow pieces.

A piece keeps its place across its board (its long sides lie as on the floor); along the board a
starter stays at the far end, an end piece at the near end and a whole length over all of it, while
a wall-to-wall piece may lie anywhere. A board is saved when every piece cut from it finds a place
in other boards: a kerf away across, or kerf and allowance away along. Offcuts *at hand* are boards
that cost nothing: wide pieces may move there, too, and they are never emptied.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

NEAR_MM = 0.1  # rounding of the plan file, generously
MOST_BOARDS = 4_000  # of larger floors the boards are taken as they are


@dataclass(frozen=True, slots=True)
class Cutting:
    """Where a piece lies in its board [mm]: along from its near end, across from its wall side."""

    board: int
    along: tuple[float, float]
    across: tuple[float, float]
    is_loose: bool = False  # a wall-to-wall piece, which needs no factory end


def share_boards(
    cuttings: Sequence[Cutting],
    length: float,
    width: float,
    kerf: float,
    cut: float,
    at_hand: Mapping[int, Sequence[Cutting]] | None = None,
) -> list[Cutting]:
    """The same cuttings with as many boards emptied as a greedy search finds.

    Parameters
    ----------
    length, width : of a board [mm].
    kerf, cut : what stays between pieces across, and along (kerf and allowance) [mm].
    at_hand : boards that cost nothing, by number, with what of them is gone already.
    """
    free = at_hand or {}
    boards: dict[int, list[int]] = {board: [] for board in free}
    for index, cutting in enumerate(cuttings):
        boards.setdefault(cutting.board, []).append(index)
    found = list(cuttings)
    room = width - kerf - NEAR_MM
    movable = [
        board
        for board, indices in boards.items()
        if board not in free and (free or all(_width(found[i]) < room for i in indices))
    ]
    hosts = list(free)
    hosts += [
        board
        for board, indices in boards.items()
        if board not in free and any(_width(found[i]) < room for i in indices)
    ]
    if len(hosts) > MOST_BOARDS:
        return found
    sizes = (length, kerf + NEAR_MM, cut + NEAR_MM)
    for board in sorted(movable, key=lambda b: (sum(_area(found[i]) for i in boards[b]), b)):
        moved = _moved_out(board, boards, hosts, found, free, sizes)
        for index, cutting in moved.items():
            boards[found[index].board].remove(index)
            boards[cutting.board].append(index)
            found[index] = cutting
    return found


def _moved_out(
    board: int,
    boards: dict[int, list[int]],
    hosts: Sequence[int],
    found: Sequence[Cutting],
    free: Mapping[int, Sequence[Cutting]],
    sizes: tuple[float, float, float],
) -> dict[int, Cutting]:
    """A place in other boards for every piece of a board, or none at all."""
    moved: dict[int, Cutting] = {}
    for index in sorted(boards[board], key=lambda i: -_area(found[i])):
        for host in hosts:
            if host == board or not (boards[host] or host in free):
                continue
            there = [*free.get(host, ()), *(found[i] for i in boards[host])]
            there += [cutting for cutting in moved.values() if cutting.board == host]
            place = _place(found[index], host, there, sizes)
            if place is not None:
                moved[index] = place
                break
        else:
            return {}
    return moved


def _place(
    cutting: Cutting, host: int, there: Sequence[Cutting], sizes: tuple[float, float, float]
) -> Cutting | None:
    """The cutting in another board, if it fits beside what lies there."""
    length, kerf, cut = sizes
    extent = cutting.along[1] - cutting.along[0]
    starts = [cutting.along[0]]
    if cutting.is_loose:
        starts = [0.0, *(other.along[1] + cut for other in there)]
    for start in starts:
        end = start + extent
        if end <= length + NEAR_MM and all(
            _lies_apart(cutting.across, other.across, kerf)
            or _lies_apart((start, end), other.along, cut)
            for other in there
        ):
            return replace(cutting, board=host, along=(start, end))
    return None


def _lies_apart(one: tuple[float, float], other: tuple[float, float], gap: float) -> bool:
    return one[0] - other[1] >= gap or other[0] - one[1] >= gap


def _width(cutting: Cutting) -> float:
    return cutting.across[1] - cutting.across[0]


def _area(cutting: Cutting) -> float:
    return _width(cutting) * (cutting.along[1] - cutting.along[0])
