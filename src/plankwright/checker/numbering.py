"""Ids, rows, stretches and seats: what the plan calls its pieces is what the outlines say."""

import re
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.checker.edges import Meetings
from plankwright.checker.verdict import Fault
from plankwright.checker.view import TOLERANCE_MM, Floats, Ints, Shapes, View
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import LARGEST_EXTENT_MM

FARTHEST_MM = 100.0 * LARGEST_EXTENT_MM
ID = re.compile(r"(\d+)\.(\d+)\.(\d+)([a-z]*)")


def outline_faults(plan: Plan) -> Iterator[Fault]:
    """Outlines that are empty, cross themselves or lie beyond any building."""
    outlines: list[tuple[str, BaseGeometry]] = [("room", plan.room), ("floor", plan.floor)]
    outlines += [(thing.name or thing.kind, thing.outline) for thing in plan.fixed]
    outlines += [(f"recess {i}", recess.outline) for i, recess in enumerate(plan.recesses, 1)]
    outlines += [(piece.id, piece.outline) for piece in plan.pieces]
    shapes = np.array([outline for _, outline in outlines], dtype=np.object_)
    far = ~(np.abs(shapely.bounds(shapes)) <= FARTHEST_MM).all(axis=1) & ~shapely.is_empty(shapes)
    for i in np.flatnonzero(far):
        yield Fault("outline", outlines[i][0], "lies too far from the origin")
    if far.any():
        return  # sums of such numbers overflow, so nothing more can be asked of these outlines
    yield from _broken_outlines(outlines, shapes)
    u0, v0, u1, v1 = shapely.total_bounds(shapes)
    if max(u1 - u0, v1 - v0) > LARGEST_EXTENT_MM:
        yield Fault("outline", "room", "the plan is more than a kilometer long")
    if abs(plan.laying.start_line_mm) > FARTHEST_MM:
        yield Fault("row-lines", "laying", "the start line lies too far from the origin")


def _broken_outlines(outlines: list[tuple[str, BaseGeometry]], shapes: Shapes) -> Iterator[Fault]:
    may_be_empty = np.array([place == "floor" for place, _ in outlines])
    wrong = ~shapely.is_valid(shapes) | (shapely.is_empty(shapes) & ~may_be_empty)
    for i in np.flatnonzero(wrong):
        place, outline = outlines[i]
        with np.errstate(all="ignore"):  # it looks for the crossing with wild numbers of its own
            told = "is empty" if outline.is_empty else shapely.is_valid_reason(outline).lower()
        yield Fault("outline", place, told)


def numbering_faults(view: View, meetings: Meetings) -> Iterator[Fault]:
    """Stated ids, rows, stretches and seats that are not what the outlines say."""
    stretches = _stretch_numbers(view)
    seats, rows = _seat_numbers(view, meetings).tolist(), view.rows.tolist()
    seen: set[str] = set()
    for i, (piece, held) in enumerate(zip(view.plan.pieces, view.stretch_of.tolist(), strict=True)):
        if piece.id in seen:
            yield Fault("numbering", piece.id, "two pieces have this id")
        seen.add(piece.id)
        if not _is_called_by_numbers(piece):
            yield Fault(
                "numbering",
                piece.id,
                f"its row, stretch and seat are {piece.row}, {piece.stretch}, {piece.seat}",
            )
        if piece.row != rows[i]:
            yield Fault("numbering", piece.id, f"lies in row {rows[i]}")
        elif held < 0:
            yield Fault("numbering", piece.id, "lies in no stretch of the floor")
        elif piece.stretch not in stretches[held]:
            told = f"lies in stretch {min(stretches[held])} of its row"
            yield Fault("numbering", piece.id, told)
        elif piece.seat != seats[i]:
            yield Fault("numbering", piece.id, f"lies in seat {seats[i]} of its stretch")
    if view.plan.pieces and view.rows.min() != 1:
        yield Fault("numbering", f"row {view.rows.min()}", "the first row is not row 1")


def _is_called_by_numbers(piece: Piece) -> bool:
    """Whether the id is row, stretch and seat, and perhaps a letter."""
    if piece.id == f"{piece.row}.{piece.stretch}.{piece.seat}":
        return True
    match = ID.fullmatch(piece.id)
    numbers = piece.row, piece.stretch, piece.seat
    return match is not None and numbers == tuple(int(number) for number in match.groups()[:3])


def _stretch_numbers(view: View) -> list[range]:
    """For each stretch the numbers it may have: counted from the near end, ties either way."""
    near = shapely.bounds(view.stretches).reshape(-1, 4)[:, 0]
    allowed: list[range] = []
    for row in np.unique(view.stretch_rows):
        starts = near[view.stretch_rows == row]
        for start in starts:
            before = int((starts < start - TOLERANCE_MM).sum())
            through = int((starts <= start + TOLERANCE_MM).sum())
            allowed.append(range(before + 1, through + 1))
    return allowed


def _seat_numbers(view: View, meetings: Meetings) -> Ints:
    """Seat of each piece: one more than the end joints of its stretch before its middle."""
    joints = meetings.joints
    stretch = view.stretch_of[joints.before]
    order = np.lexsort((joints.u, stretch))
    stretch, u = stretch[order], joints.u[order]
    distinct = np.ones(len(u), np.bool_)
    distinct[1:] = (stretch[1:] != stretch[:-1]) | (u[1:] - u[:-1] > TOLERANCE_MM)
    stretch, u = stretch[distinct], u[distinct]
    middles = (view.boxes[:, 0] + view.boxes[:, 2]) / 2.0
    return _count_before(stretch, u, view.stretch_of, middles) + 1


def _count_before(keys: Ints, places: Floats, key: Ints, place: Floats) -> Ints:
    """For each (key, place): how many of the sorted (keys, places) have that key and lie before."""
    if len(places) == 0:
        return np.zeros(len(place), np.int64)
    least = min(places.min(), place.min())
    span = max(places.max(), place.max()) - least + 1.0
    laid_out = keys * span + (places - least)
    upto = np.searchsorted(laid_out, key * span + (place - least))
    before: Ints = upto - np.searchsorted(laid_out, key * span - 0.5)
    return before
