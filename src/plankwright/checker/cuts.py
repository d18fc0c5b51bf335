"""Cuts: every piece fits in its board, and the saw fits between the pieces of one board."""

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import shapely

from plankwright.checker.placing import Placing, shape_in_board
from plankwright.checker.verdict import Fault
from plankwright.checker.view import ROUNDING_MM, View
from plankwright.model.plan import Piece

Boards = dict[int, list[Placing]]


def cut_faults(view: View, placings: list[Placing]) -> Iterator[Fault]:
    """Pieces off their board, without a kerf between them, or with labels that do not fit."""
    yield from _rectangle_faults(view)
    boards: Boards = {}
    for placing in placings:
        boards.setdefault(view.plan.pieces[placing.index].board, []).append(placing)
        yield from _off_board(view, placing)
    for shared in boards.values():
        for a, b in combinations(shared, 2):
            yield from _clash(view, a, b)
    yield from _label_faults(view, boards)
    yield from _cut_order_faults(view, placings)


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


def _off_board(view: View, placing: Placing) -> Iterator[Fault]:
    blank = placing.blank
    beyond = max(-placing.x0, -placing.y0, placing.x1 - blank.length, placing.y1 - blank.width)
    if beyond > ROUNDING_MM:
        board = view.plan.pieces[placing.index].board
        yield Fault(
            "off-board",
            view.name(placing.index),
            f"reaches {beyond:.1f} mm beyond board {board} of {blank.length:g} x {blank.width:g}",
        )


def _clash(view: View, a: Placing, b: Placing) -> Iterator[Fault]:
    """Two pieces of one board keep kerf and allowance along, a kerf across, or nest by shape."""
    rules = view.plan.rules
    along = max(b.x0 - a.x1, a.x0 - b.x1)
    across = max(b.y0 - a.y1, a.y0 - b.y1)
    if along >= rules.cut_mm - ROUNDING_MM or across >= rules.kerf_mm - ROUNDING_MM:
        return
    shapes = shape_in_board(view, a), shape_in_board(view, b)
    distance = float(shapely.distance(*shapes))
    shared = float(shapely.area(shapely.intersection(*shapes)))
    if distance >= rules.cut_mm - ROUNDING_MM and shared == 0.0:
        return
    place = f"{view.name(a.index)} {view.name(b.index)}"
    board = view.plan.pieces[a.index].board
    at_near = max(a.x0, b.x0) <= ROUNDING_MM
    at_far = min(a.x1, b.x1) >= a.blank.length - ROUNDING_MM
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
        cut = sorted((pieces[p.index] for p in shared), key=lambda p: (p.cut_order or 0, p.id))
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


def _cut_order_faults(view: View, placings: list[Placing]) -> Iterator[Fault]:
    """Whole boards may go unsawn; every other piece has its own place in the saw order."""
    seen: dict[int, Piece] = {}
    board = view.plan.board
    areas = shapely.area(view.outlines)
    for placing in placings:
        piece = view.plan.pieces[placing.index]
        if piece.cut_order is None:
            if board.area_mm2 - areas[placing.index] > ROUNDING_MM * board.length_mm:
                yield Fault("cut-order", piece.id, "is not a whole board, but is never cut")
            continue
        other = seen.setdefault(piece.cut_order, piece)
        if other is not piece and _seat(other) != _seat(piece):
            yield Fault(
                "cut-order", piece.id, f"is cut at the same time as {other.id}: {piece.cut_order}"
            )
