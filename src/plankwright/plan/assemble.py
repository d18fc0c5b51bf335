"""From a solution back to the floor: seats become pieces with outlines, boards and labels."""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from plankwright.geometry.frame import Floats, Frame
from plankwright.geometry.rows import Stretch
from plankwright.model.board import Board
from plankwright.model.plan import Cut, Piece
from plankwright.model.room import corner_name
from plankwright.model.rules import Rules
from plankwright.optimize.instance import TICKS_PER_MM, Instance
from plankwright.optimize.solution import Seat, Solution
from plankwright.plan.clearance import kept_apart
from plankwright.plan.nesting import Shape, nest
from plankwright.plan.sharing import Cutting, share_boards

SAME_MM = 0.05  # rounding of coordinates, generously
SCRAP_MM = 0.4
SCRAP_OF_PIECE_MM2 = 0.9  # what the checker forgives, and rounding
CONVEX_MM2 = 1e-6  # by which a convex shape differs from its hull, by float noise
GRID_MM = 0.001  # of coordinates in the plan file

Box = tuple[float, float, float, float]
"""u0, v0, u1, v1 of a shape's bounding rectangle."""
Outlines = Sequence[Polygon] | npt.NDArray[np.object_]


class _Part(NamedTuple):  # thousands are made while somebody drags
    """One connected part of a seat, in plan axes, with its place in its board."""

    stretch: Stretch
    seat: Seat
    number: int
    polygon: Polygon
    box: Box
    from_near: float
    shares: bool  # cut from the seat's own board; otherwise it needs a board for itself


def assemble(
    stretches: Sequence[Stretch],
    instance: Instance,
    solution: Solution,
    board: Board,
    rules: Rules,
    frame: Frame,
    *,
    share: bool = True,
    by_shape: bool = False,
) -> tuple[Piece, ...]:
    """Every piece of a plan, in laying order: row by row, from near to far.

    With ``share`` narrow pieces are cut beside each other where that saves boards; ``by_shape``
    puts the pieces into boards anew, nested by their true shapes.
    """
    seats: dict[int, list[Seat]] = {}
    for seat in solution.seats:
        seats.setdefault(seat.stretch, []).append(seat)
    parts = [
        part
        for index, stretch in enumerate(stretches)
        for part in _parts_of(stretch, instance.stretches[index].start, seats[index], rules)
    ]
    boards = _number_boards(parts)
    if instance.lanes > 1:
        boards = kept_apart([_in_board(part) for part in parts], boards, rules)
    if by_shape:
        parts, boards = _nest(parts, board, rules)
    if share:
        parts, boards = _share(parts, boards, board, rules)
    outlines = round_outlines(frame.to_room(np.array([part.polygon for part in parts])))
    return with_cuts(_pieces(parts, outlines, boards, board), board)


def _parts_of(stretch: Stretch, start: int, seats: Sequence[Seat], rules: Rules) -> Iterator[_Part]:
    """The connected parts of every seat of a stretch that begins at ``start`` [ticks]."""
    ordered = sorted(seats, key=lambda seat: seat.number)
    lengths = [seat.length for seat in ordered]
    joints = [ticks / TICKS_PER_MM for ticks in itertools.accumulate(lengths, initial=start)]
    near = stretch.u0 if ordered[0].number == 0 else joints[0]
    shapes = _cut_up(stretch, [near, *joints[1:-1], stretch.u1])
    boxes = iter(shapely.bounds([shape for own in shapes for shape in own]).tolist())
    for seat, begin, end, own in zip(ordered, joints, joints[1:], shapes, strict=False):
        in_board = seat.from_near / TICKS_PER_MM
        if seat.kind in ("starter", "whole"):  # hang on the far end, where the joint is
            in_board = (seat.from_near + seat.length) / TICKS_PER_MM - end + begin
        for number, shape in enumerate(own):
            box = next(boxes)
            from_near = max(in_board + box[0] - begin, 0.0)
            shares = number == 0 or _clear(shape, own[:number], rules)
            yield _Part(stretch, seat, number, shape, box, from_near, shares)


def _cut_up(stretch: Stretch, at: Sequence[float]) -> list[list[Polygon]]:
    """The parts of a stretch between each two positions and the next, largest first."""
    u0, v0, u1, v1 = stretch.polygon.bounds
    if stretch.is_rectangle:
        u = np.clip(at, u0, u1)
        return [[box] for box in shapely.box(u[:-1], v0, u[1:], v1).tolist()]
    low, high = _plain_part(stretch)
    begins, ends = np.array(at[:-1]), np.array(at[1:])
    plain = (low <= begins) & (ends <= high)
    boxes = iter(shapely.box(begins[plain], v0, ends[plain], v1).tolist())
    return [
        [next(boxes)] if is_plain else between(stretch, begin, end)
        for is_plain, begin, end in zip(plain.tolist(), at, at[1:], strict=False)
    ]


def _plain_part(stretch: Stretch) -> tuple[float, float]:
    """Where, between two of its corners, a stretch runs straight from wall side to room side."""
    _, v0, _, v1 = stretch.polygon.bounds
    corners = np.unique(shapely.get_coordinates(stretch.polygon)[:, 0])
    widest = int(np.argmax(np.diff(corners)))
    low, high = corners[widest : widest + 2].tolist()
    return (low, high) if stretch.polygon.covers(shapely.box(low, v0, high, v1)) else (0.0, 0.0)


def between(stretch: Stretch, low: float, high: float) -> list[Polygon]:
    """The parts of a stretch between two positions along the row, largest first."""
    u0, v0, u1, v1 = stretch.polygon.bounds
    if stretch.is_rectangle:
        return [shapely.box(max(low, u0), v0, min(high, u1), v1)]
    window = (low, v0 - 1.0, high, v1 + 1.0)
    clipped = shapely.clip_by_rect(stretch.polygon, *window)
    if not clipped.is_valid:
        clipped = stretch.polygon.intersection(shapely.box(*window))
    parts = shapely.get_parts(_on_grid(clipped))
    solid = [part for part in parts if isinstance(part, Polygon) and _is_solid(part)]
    return sorted(solid, key=lambda shape: (-round(shape.area, 3), shape.bounds))


def _on_grid(shape: BaseGeometry) -> BaseGeometry:
    """A shape on the plan file's grid.

    There a neck of no width parts in two, as it would under the saw; a convex shape has no neck.
    """
    if shape.convex_hull.area - shape.area > CONVEX_MM2:
        snapped: BaseGeometry = shapely.set_precision(shape, GRID_MM)
        return snapped
    rounded = shapely.set_precision(shape, GRID_MM, mode="pointwise")
    distinct: BaseGeometry = shapely.remove_repeated_points(rounded)
    return distinct


def _is_solid(shape: Polygon) -> bool:
    u0, v0, u1, v1 = shape.bounds
    return bool(min(u1 - u0, v1 - v0) > SCRAP_MM and shape.area > SCRAP_OF_PIECE_MM2)


def _clear(shape: Polygon, others: Sequence[Polygon], rules: Rules) -> bool:
    """Whether a part can be cut from the same board as others of its seat."""
    return all(_apart(shape, other, rules) for other in others)


def _apart(one: Polygon, other: Polygon, rules: Rules) -> bool:
    across = max(one.bounds[1] - other.bounds[3], other.bounds[1] - one.bounds[3])
    along = max(one.bounds[0] - other.bounds[2], other.bounds[0] - one.bounds[2])
    if across >= rules.kerf_mm + SAME_MM or along >= rules.cut_mm + SAME_MM:
        return True
    return bool(one.distance(other) >= rules.cut_mm + SAME_MM)


def _share(
    parts: Sequence[_Part], boards: Sequence[int], board: Board, rules: Rules
) -> tuple[list[_Part], list[int]]:
    """Parts and their boards, with narrow parts cut beside each other where that saves boards."""
    moved, numbers = list(parts), list(boards)
    room = board.width_mm - rules.kerf_mm
    narrow = {
        number
        for part, number in zip(parts, boards, strict=True)
        if part.box[3] - part.box[1] < room
    }
    if board.reversible or len(narrow) < 2:
        return moved, numbers
    cuttings = {
        index: _cutting(parts[index], number)
        for index, number in enumerate(boards)
        if number in narrow
    }
    shared = share_boards(
        list(cuttings.values()), board.length_mm, board.width_mm, rules.kerf_mm, rules.cut_mm
    )
    for (index, old), new in zip(cuttings.items(), shared, strict=True):
        if new is not old:
            moved[index] = parts[index]._replace(from_near=new.along[0])
            numbers[index] = new.board
    return moved, _counted(numbers)


def _counted(boards: Sequence[int]) -> list[int]:
    """Board numbers without the gaps: from 1 in the order in which they come."""
    numbers: dict[int, int] = {}
    return [numbers.setdefault(board, len(numbers) + 1) for board in boards]


def _nest(parts: Sequence[_Part], board: Board, rules: Rules) -> tuple[list[_Part], list[int]]:
    """Parts and their boards by shape; parts of one seat that share a board stay together."""
    groups: dict[tuple[int, int, int, int], list[int]] = {}
    for index, part in enumerate(parts):
        apart = -1 if part.shares else index
        key = (part.stretch.row, part.stretch.number, part.seat.number, apart)
        groups.setdefault(key, []).append(index)
    shapes = []
    for indices in groups.values():
        placed = [_in_board(parts[i]) for i in indices]
        shapes.append(Shape(parts[indices[0]].seat.kind, shapely.union_all(placed)))
    places = nest(shapes, board.length_mm, board.width_mm, rules.cut_mm)
    moved, boards = list(parts), [0] * len(parts)
    for indices, shape, place in zip(groups.values(), shapes, places, strict=True):
        shift = place.from_near - shape.outline.bounds[0]
        for i in indices:
            moved[i] = parts[i]._replace(from_near=max(parts[i].from_near + shift, 0.0))
            boards[i] = place.board
    return moved, _counted(boards)


def _in_board(part: _Part) -> BaseGeometry:
    """A part's outline in its board's frame."""
    along = part.from_near - part.box[0]
    outline: BaseGeometry = translate(part.polygon, along, -part.stretch.wall_line)
    return outline


def _cutting(part: _Part, number: int) -> Cutting:
    u0, v0, u1, v1 = part.box
    wall_line = part.stretch.wall_line
    return Cutting(
        number,
        (part.from_near, part.from_near + u1 - u0),
        (v0 - wall_line, v1 - wall_line),
        is_loose=part.seat.kind == "wall-to-wall",
    )


def _number_boards(parts: Sequence[_Part]) -> list[int]:
    """Board numbers from 1 in the order in which boards are first needed."""
    numbers: dict[tuple[int, int], int] = {}
    found: list[int] = []
    for index, part in enumerate(parts):
        key = (part.seat.board, -1) if part.shares else (part.seat.board, index)
        found.append(numbers.setdefault(key, len(numbers) + 1))
    return found


def round_outlines(outlines: Outlines) -> list[Polygon]:
    """Outlines to 0.001 mm; where rounding makes one cross itself, snapped by the library."""
    rounded = shapely.transform(np.asarray(outlines), lambda xy: np.round(xy, 3) + 0.0)
    for index in np.flatnonzero(~shapely.is_valid(rounded)).tolist():
        snapped = shapely.get_parts(shapely.set_precision(outlines[index], GRID_MM))
        rounded[index] = max(snapped, key=lambda part: part.area)
    return list(shapely.normalize(rounded))


def _pieces(
    parts: Sequence[_Part], outlines: Sequence[Polygon], boards: Sequence[int], board: Board
) -> list[Piece]:
    """The pieces of all parts, laid in this order."""
    u0, v0, u1, v1 = np.array([part.box for part in parts]).T
    length, width = u1 - u0, v1 - v0
    from_near = np.array([part.from_near for part in parts])
    from_wall = np.maximum(v0 - [part.stretch.wall_line for part in parts], 0.0)
    far, room = board.length_mm - from_near - length, board.width_mm - from_wall - width
    near_ends, far_ends, wall_sides, room_sides = map(_edges, (from_near, far, from_wall, room))
    lengths, widths, nears, walls = map(_tidy, (length, width, from_near, from_wall))
    return [
        Piece(
            _piece_id(part), part.stretch.row, part.stretch.number, part.seat.number + 1,
            outlines[i], boards[i], lengths[i], widths[i], nears[i], walls[i],
            near_ends[i], far_ends[i], wall_sides[i], room_sides[i], i + 1,
        )
        for i, part in enumerate(parts)
    ]  # fmt: skip


def _piece_id(part: _Part) -> str:
    suffix = "" if part.number == 0 else corner_name(part.number).lower()
    return f"{part.stretch.row}.{part.stretch.number}.{part.seat.number + 1}{suffix}"


def _edges(distance_from_factory_edge: Floats) -> list[Cut]:
    at_edge = np.abs(distance_from_factory_edge) <= SAME_MM
    return ["factory" if there else "cut" for there in at_edge.tolist()]


def _tidy(values: Floats) -> list[float]:
    """Rounded to 0.1 micrometer: what 1/16 in needs, and no float noise."""
    rounded: list[float] = (np.round(values, 4) + 0.0).tolist()
    return rounded


def is_sawn(piece: Piece, board: Board) -> bool:
    """Whether a piece is anything but a whole board."""
    shorter = piece.length_mm < board.length_mm - SAME_MM
    narrower = piece.width_mm < board.width_mm - SAME_MM
    return shorter or narrower or _is_notched(piece)


def _is_notched(piece: Piece) -> bool:
    return bool(piece.outline.area < piece.length_mm * piece.width_mm - 1.0)


def with_cuts(pieces: Sequence[Piece], board: Board) -> tuple[Piece, ...]:
    """Saw order as laid, and a letter for every offcut that a later piece is taken from."""
    seen: set[int] = set()
    letters = 0
    cuts = 0
    found: list[Piece] = []
    for piece in pieces:
        label = None
        if piece.board in seen:
            label = corner_name(letters)
            letters += 1
        seen.add(piece.board)
        cut_order = None
        if is_sawn(piece, board):
            cuts += 1
            cut_order = cuts
        is_told = (piece.label, piece.cut_order) == (label, cut_order)
        found.append(piece if is_told else replace(piece, label=label, cut_order=cut_order))
    return tuple(found)
