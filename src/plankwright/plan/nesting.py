"""Slanted offcuts nested by true shape, as rows laid on the diagonal leave them.

A starter and an end piece cut from one board may overlap along it, as long as kerf and allowance
stay between their outlines. Where both are slanted the same way, that saves up to a board's width
in every board. Pieces are put into boards by their shapes: starters and end pieces by the greatest
matching of pairs that are clear of each other, then wall-to-wall pieces, the largest first,
wherever they fit.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from plankwright.geometry.rows import Stretch
from plankwright.geometry.slabs import Trapezoid, mirrored
from plankwright.optimize.solution import PieceKind

LEAST_SLANT_MM = 20.0  # an end less slanted than this is as good as square
WORTHWHILE = 0.25  # share of the ends that are slanted
NEARLY_FULL = 0.98  # of a stretch's width: where its end has done with slanting
NEAR_MM = 0.1  # rounding of the plan file, generously
HALVINGS = 12
MOST_BOARDS = 12  # that are tried for a wall-to-wall piece before a new one is opened

Bools = npt.NDArray[np.bool_]


def slants(stretch: Stretch) -> tuple[float, float]:
    """How far the near and the far end of a stretch reach from tip to full width [mm]."""
    if stretch.is_rectangle:
        return 0.0, 0.0
    cut = stretch.slabs()
    _, v0, _, v1 = stretch.polygon.bounds
    return _slant(cut, v1 - v0), _slant(mirrored(cut), v1 - v0)


def _slant(cut: list[list[Trapezoid]], full: float) -> float:
    begin = cut[0][0].u0
    for slab in cut:
        for trapezoid in slab:
            at_begin = trapezoid.high0 - trapezoid.low0
            at_end = trapezoid.high1 - trapezoid.low1
            if at_begin >= NEARLY_FULL * full:
                return float(trapezoid.u0 - begin)
            if at_end >= NEARLY_FULL * full:
                return float(trapezoid.u1 - begin)
    return 0.0


def is_slanted(stretches: Sequence[Stretch]) -> bool:
    """Whether enough ends are slanted for nesting to save boards."""
    found = [slant for stretch in stretches for slant in slants(stretch)]
    return sum(slant > LEAST_SLANT_MM for slant in found) > WORTHWHILE * len(found)


@dataclass(frozen=True, slots=True)
class Shape:
    """What one seat takes out of a board, in the board's frame.

    A starter hangs on the far end, an end piece on the near one, a whole board keeps its own for
    itself; a wall-to-wall piece may lie anywhere along.
    """

    kind: PieceKind
    outline: BaseGeometry


@dataclass(frozen=True, slots=True)
class Place:
    """In which board a shape lies, counted from 0, and how far from the near end [mm]."""

    board: int
    from_near: float


def nest(shapes: Sequence[Shape], length: float, width: float, cut: float) -> list[Place]:
    """Places for all shapes in few boards of a length and a width, kerf and allowance (``cut``)
    between their outlines.
    """
    found: dict[int, Place] = {}
    boards: list[list[BaseGeometry]] = []

    def put(index: int, outline: BaseGeometry, board: int) -> None:
        if board == len(boards):
            boards.append([])
        boards[board].append(outline)
        found[index] = Place(board, float(outline.bounds[0]))

    for index, shape in enumerate(shapes):
        if shape.kind in ("end", "whole"):
            put(index, shape.outline, len(boards))
    ends = _of_kind(shapes, "end")
    starters = _of_kind(shapes, "starter")
    partners = pairs(
        [shapes[i].outline for i in starters], [shapes[i].outline for i in ends], cut + NEAR_MM
    )
    for index, end in zip(starters, partners, strict=True):
        board = len(boards) if end is None else found[ends[end]].board
        put(index, shapes[index].outline, board)
    loose = _of_kind(shapes, "wall-to-wall")
    for index in sorted(loose, key=lambda i: (-shapes[i].outline.area, i)):
        board, outline = _fitting(shapes[index].outline, boards, (length, width), cut + NEAR_MM)
        put(index, outline, board)
    return [found[index] for index in range(len(shapes))]


def _of_kind(shapes: Sequence[Shape], kind: PieceKind) -> list[int]:
    return [index for index, shape in enumerate(shapes) if shape.kind == kind]


def _at(outline: BaseGeometry, from_near: float) -> BaseGeometry:
    moved: BaseGeometry = translate(outline, from_near - outline.bounds[0], 0.0)
    return moved


def pairs(
    starters: Sequence[BaseGeometry], ends: Sequence[BaseGeometry], cut: float
) -> list[int | None]:
    """For each starter the end piece whose board it shares, as many as there can be.

    Augmenting paths (Kuhn); the largest starters choose first, and the largest end piece that
    leaves room for them.
    """
    if not starters or not ends:
        return [None] * len(starters)
    clear: Bools = shapely.distance(np.array(starters)[:, None], np.array(ends)[None, :]) >= cut
    size = shapely.area(np.array(ends))
    wanted = [
        sorted(np.flatnonzero(row).tolist(), key=lambda j: (-round(float(size[j]), 3), j))
        for row in clear
    ]
    taken: dict[int, int] = {}

    def take(starter: int, asked: set[int]) -> bool:
        for end in wanted[starter]:
            if end in asked:
                continue
            asked.add(end)
            if end not in taken or take(taken[end], asked):
                taken[end] = starter
                return True
        return False

    for starter in sorted(range(len(starters)), key=lambda i: (-starters[i].area, i)):
        if any(end not in taken for end in wanted[starter]):
            end = next(end for end in wanted[starter] if end not in taken)
            taken[end] = starter
        else:
            take(starter, set())
    of_starter = {starter: end for end, starter in taken.items()}
    return [of_starter.get(starter) for starter in range(len(starters))]


def _fitting(
    outline: BaseGeometry,
    boards: Sequence[Sequence[BaseGeometry]],
    size: tuple[float, float],
    cut: float,
) -> tuple[int, BaseGeometry]:
    """The fullest board in which an outline finds a place along, or a new one."""
    extent = outline.bounds[2] - outline.bounds[0]
    length, width = size
    used = [sum(other.area for other in board) for board in boards]
    roomy = [b for b in range(len(boards)) if used[b] + outline.area <= length * width]
    for board in sorted(roomy, key=lambda b: (-round(used[b], 3), b))[:MOST_BOARDS]:
        for from_near in _starts(outline, boards[board], cut):
            placed = _at(outline, from_near)
            fits = from_near + extent <= length + NEAR_MM / 2.0
            if fits and all(placed.distance(other) >= cut for other in boards[board]):
                return board, placed
    return len(boards), _at(outline, 0.0)


def _starts(outline: BaseGeometry, there: Sequence[BaseGeometry], cut: float) -> list[float]:
    """Places worth trying: the near end, and as near as can be beyond each piece."""
    return [0.0, *(_beyond(outline, other, cut) for other in there)]


def _beyond(outline: BaseGeometry, other: BaseGeometry, cut: float) -> float:
    """The least place at which an outline lies clear on the far side of another one."""
    high = float(other.bounds[2]) + cut
    low = max(high - 2.0 * float(outline.bounds[3] - outline.bounds[1]) - cut, 0.0)
    if _at(outline, low).distance(other) >= cut:
        return low
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if _at(outline, middle).distance(other) >= cut:
            high = middle
        else:
            low = middle
    return high
