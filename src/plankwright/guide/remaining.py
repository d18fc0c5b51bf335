"""What is left of a floor: its rows as they are now, what of them lies, where its joints are."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shapely import MultiPolygon

from plankwright.errors import InputError
from plankwright.geometry.floor import Floor, build_floor
from plankwright.geometry.frame import Frame, on_grid
from plankwright.geometry.rows import Contact, Stretch, contacts, cut_rows
from plankwright.guide.as_laid import FloorState
from plankwright.guide.moved_walls import with_walls_moved
from plankwright.model.board import Board
from plankwright.model.plan import Laying, Piece, Plan
from plankwright.model.room import Room
from plankwright.units import format_length, parse_unit

SAME_MM = 0.05
INSIDE_MM = 1.0  # a laid piece may reach this far out of its stretch

SeatKey = tuple[int, int, int]
"""Row, stretch and seat, as the old plan counts them."""


@dataclass(frozen=True, slots=True)
class LaidSeat:
    """A seat that lies: its stretch now, its number there, its extent along u, its old pieces."""

    stretch: int
    number: int
    u0: float
    u1: float
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Remaining:
    """A floor as it is now.

    Parameters
    ----------
    room, board : with what was measured put in.
    laying, frame : the row lines, through the rows as they lie.
    floor, plan_floor : what is to be covered, laid rows among it; in the room and in plan axes.
    stretches, contacts : of all rows.
    seats : what lies.
    laid_to : for each stretch that is begun the u of its last end joint; infinite for all of it.
    joints : end joints that lie, by stretch.
    """

    room: Room
    board: Board
    laying: Laying
    frame: Frame
    floor: Floor
    plan_floor: MultiPolygon
    stretches: tuple[Stretch, ...]
    contacts: tuple[Contact, ...]
    seats: tuple[LaidSeat, ...]
    laid_to: Mapping[int, float]
    joints: Mapping[int, tuple[float, ...]]

    @property
    def floor_in_room(self) -> MultiPolygon:
        """What is to be covered, as the plan file has it."""
        return on_grid(self.frame.to_room(self.plan_floor))

    @property
    def open(self) -> list[int]:
        """Stretches in which something is still to be laid, in laying order."""
        return [i for i, s in enumerate(self.stretches) if self.laid_to.get(i, -math.inf) < s.u1]


def what_is_left(plan: Plan, room: Room, state: FloorState) -> Remaining:
    """The floor with everything measured put in.

    Raises
    ------
    InputError : a laid piece is not the plan's, does not follow from the near end of its row, or
        lies where the measured room has no floor.
    """
    room = with_walls_moved(room, state.walls) if state.walls else room
    board, laying = _as_laid(plan, state)
    frame = Frame(laying.row_angle_deg, laying.laid)
    floor = build_floor(room, plan.rules, parse_unit(plan.unit))
    plan_floor = frame.to_plan_grid(floor.parts)
    stretches = tuple(cut_rows(plan_floor, board.width_mm, laying.start_line_mm))
    if stretches and stretches[0].row != 1:
        raise InputError(
            "the measured room has other rows than the plan",
            where="walls",
            remedy="Plan the room afresh.",
        )
    seats, laid_to = _lie(plan, state, frame, stretches)
    joints: dict[int, list[float]] = defaultdict(list)
    for seat in seats:
        if seat.u1 < stretches[seat.stretch].u1 - SAME_MM:
            joints[seat.stretch].append(seat.u1)
    return Remaining(
        room,
        board,
        laying,
        frame,
        floor,
        plan_floor,
        stretches,
        tuple(contacts(stretches)),
        seats,
        laid_to,
        {stretch: tuple(sorted(places)) for stretch, places in joints.items()},
    )


def _as_laid(plan: Plan, state: FloorState) -> tuple[Board, Laying]:
    """Board and row lines by the laid row width.

    A whole row 1 keeps its wall side; a ripped one its room side, from which the rows are counted.
    """
    width, laying = state.row_width_mm, plan.laying
    if width is None or width == plan.board.width_mm:
        return plan.board, laying
    if abs(width - plan.board.width_mm) > plan.board.width_mm / 20.0:
        raise InputError(
            "a laid row cannot be that much wider or narrower than the board",
            where="row width",
            value=format_length(width, parse_unit(plan.unit)),
            remedy="Measure over ten rows and divide by ten.",
        )
    first = [piece for piece in plan.pieces if piece.row == 1]
    is_whole = any(piece.wall_side == "factory" for piece in first)
    start = laying.start_line_mm
    if not is_whole:
        start = round(start + plan.board.width_mm - width, 4)
    return replace(plan.board, width_mm=width), replace(laying, start_line_mm=start)


def _lie(
    plan: Plan, state: FloorState, frame: Frame, stretches: Sequence[Stretch]
) -> tuple[tuple[LaidSeat, ...], dict[int, float]]:
    """What lies, seat by seat, and how far each stretch is laid."""
    lengths = {piece.id: piece.length_mm for piece in state.laid if piece.length_mm is not None}
    last: dict[tuple[int, int], int] = {}
    seats: dict[SeatKey, list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        seats[piece.row, piece.stretch, piece.seat].append(piece)
        key = piece.row, piece.stretch
        last[key] = max(last.get(key, 0), piece.seat)
    found: list[LaidSeat] = []
    laid_to: dict[int, float] = {}
    for (row, number), laid in sorted(laid_by_stretch(plan, state).items()):
        shift, before = 0.0, -math.inf
        for seat in sorted(laid):
            pieces = seats[row, number, seat]
            u0, u1 = _extent(frame, pieces)
            stretch = _stretch_at(stretches, row, (u0 + u1) / 2.0 + shift, pieces[0].id)
            if plan.is_turned(pieces[0]) and len(laid) < last[row, number]:
                raise InputError(
                    f"row {row} lies beyond the spline and is only half laid: it begins at the "
                    "other end, so what is left of it cannot be planned again",
                    where=f"row {row}",
                    remedy="Lay this row to its end as its cards say, or take up the pieces of it "
                    "that lie and enter each as lifted; then plan again.",
                )
            is_last = seat == last[row, number]
            if not is_last:
                shift += _longer(pieces, lengths)
            u1 = stretches[stretch].u1 if is_last else round(u1 + shift, 4)
            u0 = stretches[stretch].u0 if before == -math.inf else before
            found.append(LaidSeat(stretch, seat, u0, u1, tuple(pieces)))
            laid_to[stretch] = math.inf if is_last else u1
            before = u1
    return tuple(found), laid_to


def laid_by_stretch(plan: Plan, state: FloorState) -> dict[tuple[int, int], set[int]]:
    """The seats that lie, by row and stretch of the old plan.

    Raises
    ------
    InputError : a piece is not the plan's, or does not follow from the near end of its row.
    """
    by_id = {piece.id: piece for piece in plan.pieces}
    found: dict[tuple[int, int], set[int]] = defaultdict(set)
    for name in sorted(state.laid_ids):
        if name not in by_id:
            raise InputError(
                "the plan has no such piece", where="laid", value=name, remedy="Look at its card."
            )
        piece = by_id[name]
        found[piece.row, piece.stretch].add(piece.seat)
    for (row, number), laid in sorted(found.items()):
        if laid != _first_laid(plan, row, number, len(laid)):
            raise InputError(
                "a piece lies, but not the one before it in its row",
                where=f"{row}.{number}.{max(laid)}",
                remedy="Enter the pieces of a row from its near end on.",
            )
    return found


def _first_laid(plan: Plan, row: int, number: int, count: int) -> set[int]:
    """The seats of a stretch that are laid first: from its near end, turned from its far end."""
    own = [piece for piece in plan.pieces if (piece.row, piece.stretch) == (row, number)]
    if not plan.is_turned(own[0]):
        return set(range(1, count + 1))
    last = max(piece.seat for piece in own)
    return set(range(last - count + 1, last + 1))


def _extent(frame: Frame, pieces: Sequence[Piece]) -> tuple[float, float]:
    boxes = [frame.to_plan(piece.outline).bounds for piece in pieces]
    return round(min(box[0] for box in boxes), 3), round(max(box[2] for box in boxes), 3)


def _longer(pieces: Sequence[Piece], lengths: Mapping[str, float]) -> float:
    """By how much a seat is longer than planned, by its largest part."""
    piece = max(pieces, key=lambda piece: piece.outline.area)
    return lengths.get(piece.id, piece.length_mm) - piece.length_mm


def _stretch_at(stretches: Sequence[Stretch], row: int, u: float, name: str) -> int:
    for index, stretch in enumerate(stretches):
        if stretch.row == row and stretch.u0 - INSIDE_MM <= u <= stretch.u1 + INSIDE_MM:
            return index
    raise InputError(
        "this piece lies where the measured room has no floor",
        where=name,
        remedy="Measure that wall again.",
    )
