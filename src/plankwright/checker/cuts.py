"""Cuts: every piece fits in its board, and the saw fits between the pieces of one board."""

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import shapely

from plankwright.checker.placing import Placings, shape_in_board
from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, View
from plankwright.model.plan import Piece

Boards = dict[int, list[int]]
"""Indices of the pieces cut from each board."""


def cut_faults(view: View, placings: Placings) -> Iterator[Fault]:
    """Pieces off their board, without a kerf between them, or with labels that do not fit."""
    yield from _rectangle_faults(view)
    yield from _off_board(view, placings)
    boards: Boards = {}
    for index, piece in enumerate(view.plan.pieces):
        boards.setdefault(piece.board, []).append(index)
    for shared in boards.values():
        for a, b in combinations(shared, 2):
            yield from _clash(view, placings, a, b)
    yield from _label_faults(view, boards)
    yield from _cut_order_faults(view)


def _rectangle_faults(view: View) -> Iterator[Fault]:
    """Stated lengths and widths that are not those of the outline."""
    stated = np.array([(p.length_mm, p.width_mm) for p in view.plan.pieces]).reshape(-1, 2)
    found = view.boxes[:, 2:] - view.boxes[:, :2]
    for i in np.flatnonzero((np.abs(stated - found) > ROUNDING_MM).any(axis=1)):
        yield Fault(
            "rectangle",
            view.name(i),
            f"is called {stated[i, 0]:.1f} x {stated[i, 1]:.1f} mm, its outline is "
            f"{found[i, 0]:.1f} x {found[i, 1]:.1f} mm",
        )


def _off_board(view: View, placings: Placings) -> Iterator[Fault]:
    low, high = placings.rectangles[:, :2], placings.rectangles[:, 2:]
    beyond = np.maximum(-low, high - placings.sizes).max(axis=1, initial=0.0)
    for i in np.flatnonzero(beyond > ROUNDING_MM).tolist():
        board, (length, width) = view.plan.pieces[i].board, placings.sizes[i]
        yield Fault(
            "off-board",
            view.name(i),
            f"reaches {beyond[i]:.1f} mm beyond board {board} of {length:g} x {width:g}",
        )


def _clash(view: View, placings: Placings, a: int, b: int) -> Iterator[Fault]:
    """Two pieces of one board keep kerf and allowance along, a kerf across, or nest by shape."""
    rules = view.plan.rules
    ax0, ay0, ax1, ay1 = placings.rectangles[a].tolist()
    bx0, by0, bx1, by1 = placings.rectangles[b].tolist()
    along, across = max(bx0 - ax1, ax0 - bx1), max(by0 - ay1, ay0 - by1)
    if along >= rules.cut_mm - ROUNDING_MM or across >= rules.kerf_mm - ROUNDING_MM:
        return
    shapes = shape_in_board(view, placings, a), shape_in_board(view, placings, b)
    distance = float(shapely.distance(*shapes))
    shared = float(shapely.area(shapely.intersection(*shapes)))
    if distance >= rules.cut_mm - ROUNDING_MM and shared == 0.0:
        return
    place = f"{view.name(a)} {view.name(b)}"
    board = view.plan.pieces[a].board
    at_near = max(ax0, bx0) <= ROUNDING_MM
    at_far = min(ax1, bx1) >= placings.sizes[a, 0] - ROUNDING_MM
    for end, same in (("near", at_near), ("far", at_far)):
        if same and shared > 0.0:
            yield Fault("board-end-twice", place, f"both keep the {end} end of board {board}")
            return
    told = f"overlap by {shared:.0f} mm²" if shared else f"lie {distance:.1f} mm apart"
    yield Fault(
        "board-clash",
        place,
        f"{told} in board {board}; the saw and the allowance take {rules.cut_mm:g} mm along, "
        f"{rules.kerf_mm:g} mm across",
    )


def _label_faults(view: View, boards: Boards) -> Iterator[Fault]:
    """The first piece cut of a new board has no label, every later one that of its offcut."""
    pieces = view.plan.pieces
    stock = {board.id: board.label for board in view.plan.stock}
    board_of: dict[str, int] = {}
    for number, shared in boards.items():
        if len(shared) == 1 and number not in stock and pieces[shared[0]].label is None:
            continue  # a new board, cut once
        cut = sorted((pieces[i] for i in shared), key=lambda p: (p.cut_order or 0, p.id))
        for piece in cut:
            if piece.label is not None and board_of.setdefault(piece.label, number) != number:
                yield Fault(
                    "label",
                    piece.id,
                    f"offcut {piece.label} comes from board {board_of[piece.label]}, not {number}",
                )
        if number in stock:
            first = stock[number] or None
            if cut[0].label != first:
                yield Fault("label", cut[0].id, f"is cut from the shelf's offcut {first}")
        else:
            yield from _first_label_faults(cut, number)


def _first_label_faults(cut: list[Piece], number: int) -> Iterator[Fault]:
    first = cut[0]
    if first.label is not None:
        yield Fault(
            "label", first.id, f"is the first cut of new board {number}, so it has no label"
        )
    for piece in cut[1:]:
        if piece.label is None and _seat(piece) != _seat(first):
            yield Fault(
                "label",
                piece.id,
                f"is cut from what {first.id} leaves of board {number}, but names no label",
            )


def _seat(piece: Piece) -> tuple[int, int, int]:
    return piece.row, piece.stretch, piece.seat


def _cut_order_faults(view: View) -> Iterator[Fault]:
    """Whole boards may go unsawn; every other piece has its own place in the saw order."""
    seen: dict[int, Piece] = {}
    board = view.plan.board
    missing = board.area_mm2 - shapely.area(view.outlines)
    is_whole = (missing <= ROUNDING_MM * board.length_mm).tolist()
    for piece, whole in zip(view.plan.pieces, is_whole, strict=True):
        if piece.cut_order is None:
            if not whole:
                yield Fault("cut-order", piece.id, "is not a whole board, but is never cut")
            continue
        other = seen.setdefault(piece.cut_order, piece)
        if other is not piece and _seat(other) != _seat(piece):
            yield Fault(
                "cut-order", piece.id, f"is cut at the same time as {other.id}: {piece.cut_order}"
            )
