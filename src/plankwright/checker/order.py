"""Laying: no piece is pushed between two that already lie there, and the lock closes.

A piece is joined to what lies on its wall side and at its near end. In a row laid backwards it
is joined on its room side; in a turned row near and far, wall and room side swap.
"""

from collections.abc import Iterator

import numpy as np

from plankwright.checker.edges import Flags, Meetings
from plankwright.checker.verdict import Fault
from plankwright.checker.view import Ints, View
from plankwright.model.board import Board


def order_faults(view: View, meetings: Meetings) -> Iterator[Fault]:
    """Pieces laid before what they are joined to, and locks that do not close this way."""
    yield from lock_faults(view)
    yield from _leaflet_faults(view)
    order = np.array([piece.lay_order for piece in view.plan.pieces], dtype=np.int64)
    values, first, counts = np.unique(order, return_index=True, return_counts=True)
    for k in np.flatnonzero(counts > 1):
        yield Fault(
            "lay-order", view.name(first[k]), f"{counts[k]} pieces are number {values[k]} to lay"
        )
    if not view.plan.board.reversible:
        yield from _end_faults(view, meetings, order)
        yield from _side_faults(view, meetings, order)


def lock_faults(view: View) -> Iterator[Fault]:
    """Laying directions in which the board's end lock cannot be closed."""
    board, laid = view.plan.board, view.plan.laying.laid
    if board.near_end(laid) == "groove" and not _closes_on_groove(board):
        yield Fault(
            "lay-direction",
            "laying",
            f"laid {laid}, the near end is the groove end: its lip would have to go under a laid "
            f"tongue, which a {board.end_lock} lock does not do",
        )


def _leaflet_faults(view: View) -> Iterator[Fault]:
    """Rows that are not the ordinary kind, where the board's lock or leaflet does not allow it."""
    board = view.plan.board
    if board.reversible:
        return
    for row in view.plan.rows:
        if row.turned and not board.spline:
            yield Fault(
                "lay-order", f"row {row.row}", "lies beyond a spline, which the lock does not take"
            )
        elif row.turned and board.start_side == "tongue":
            yield Fault(
                "lay-order", f"row {row.row}", "lies beyond a spline, where two tongues would meet"
            )
        elif row.joined == "room-side" and not row.turned and not board.laid_backwards:
            yield Fault(
                "lay-order", f"row {row.row}", "is laid backwards, which the leaflet does not allow"
            )


def _closes_on_groove(board: Board) -> bool:
    if board.end_lock == "drop":
        return False
    return board.either_way if board.end_lock == "angle" else True


def _end_faults(view: View, meetings: Meetings, order: Ints) -> Iterator[Fault]:
    joints = meetings.joints
    swapped = _of_kind(view, turned=True)[joints.before]
    earlier = np.where(swapped, joints.after, joints.before)
    later = np.where(swapped, joints.before, joints.after)
    for k in np.flatnonzero(order[later] < order[earlier]):
        yield Fault(
            "lay-order",
            view.name(later[k]),
            f"is laid before {view.name(earlier[k])}, which it is joined to at its end",
        )


def _side_faults(view: View, meetings: Meetings, order: Ints) -> Iterator[Fault]:
    contacts = meetings.contacts
    backwards = _of_kind(view, turned=True) | _of_kind(view, turned=False)
    on_room_side = backwards[contacts.wall_side]
    closing = ~on_room_side & backwards[contacts.room_side]
    for line in np.unique(contacts.line[closing]):
        yield Fault(
            "lay-order",
            f"row {line + 1}",
            f"rows {line} and {line + 1} are laid toward each other, so neither can be joined to "
            "the other",
        )
    earlier = np.where(on_room_side, contacts.room_side, contacts.wall_side)
    later = np.where(on_room_side, contacts.wall_side, contacts.room_side)
    wrong = (order[later] < order[earlier]) & ~closing
    for i, j in sorted(set(zip(later[wrong].tolist(), earlier[wrong].tolist(), strict=True))):
        yield Fault(
            "lay-order",
            view.name(i),
            f"is laid before {view.name(j)}, which it is joined to at its side",
        )


def _of_kind(view: View, *, turned: bool) -> Flags:
    """For each piece whether it lies beyond a spline, or else in a row laid backwards."""
    found = np.zeros(len(view.plan.pieces), np.bool_)
    for row in view.plan.rows:
        if row.turned == turned and (turned or row.joined == "room-side"):
            found |= [
                at == row.row and row.covers(piece.stretch)
                for at, piece in zip(view.rows, view.plan.pieces, strict=True)
            ]
    return found
