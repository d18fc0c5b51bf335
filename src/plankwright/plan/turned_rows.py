"""Rows that lie turned end for end beyond a spline: which board each of their pieces comes from.

Nothing on the floor changes: outlines, joints and cut edges stay. But a turned board's near end
lies at the far end of its place and its wall side on the room side. A board of which every piece
is turned is turned with all its cuts; one that served rows of both kinds cannot, since two of its
pieces would want the same factory end now: its turned pieces come from another board, if one has
room for them, else from a new one. Where a lock takes a spline it joins two grooves, so the groove
side goes to the start wall and the spline into the groove of the first row.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from plankwright.geometry.rows import joined, line_runs
from plankwright.model.plan import BoardCount, Evidence, Piece, Plan, RowKind, StockBoard
from plankwright.optimize.bounds import packs
from plankwright.plan.planner import area_bound
from plankwright.plan.seams import LEAST_MM, ON_LINE_MM, find_seams

SAME_MM = 0.01
Reach = tuple[float, float]  # along a board [mm]


def turn_rows(plan: Plan, rows: Sequence[RowKind]) -> Plan:
    """The plan with these kinds of rows, and boards for the pieces that are turned now.

    How many boards it takes is counted again, and proven by area alone: prices count on boards
    that all lie one way.
    """
    new = replace(plan, rows=tuple(rows))
    changed = {piece.id for piece in plan.pieces if plan.is_turned(piece) != new.is_turned(piece)}
    if not changed or plan.board.reversible:
        return new
    pieces = turned_pieces(new, changed)
    stock = {board.id for board in plan.stock}
    used = len({piece.board for piece in pieces} - stock)
    open_mm2 = plan.floor.area - sum(piece.outline.area for piece in pieces)
    bound = min(area_bound(plan.floor, plan.board, open_mm2).boards, plan.boards.bound)
    count = BoardCount(used, bound, "optimal" if used == bound else "feasible", Evidence("area"))
    return replace(new, pieces=pieces, boards=count, packs=packs(used, plan.board.per_pack))


@dataclass(frozen=True, slots=True)
class SplineRun:
    """A straight spline in plan axes [mm]: at v, from u0 to u1, in the groove of a row."""

    row: int
    v_mm: float
    u0_mm: float
    u1_mm: float

    @property
    def length_mm(self) -> float:
        """From end to end [mm]."""
        return self.u1_mm - self.u0_mm


def spline_runs(plan: Plan) -> tuple[SplineRun, ...]:
    """Where splines lie: on row lines between a turned row and one that is not."""
    if not any(row.turned for row in plan.rows):
        return ()
    seams = find_seams(plan)
    turned = [plan.is_turned(piece) for piece in plan.pieces]
    meetings: dict[int, list[Reach]] = defaultdict(list)
    for below, above in seams.meetings:
        if turned[below] != turned[above]:
            v = _row_line(plan, plan.pieces[above].row)
            pair = [seams.shapes[below], seams.shapes[above]]
            owner, low, high = line_runs(pair, np.array([v, v]), ON_LINE_MM)
            runs = list(zip(owner.tolist(), low.tolist(), high.tolist(), strict=True))
            meetings[plan.pieces[above].row] += [
                (max(a0, b0), min(a1, b1))
                for a, a0, a1 in runs if a == 0
                for b, b0, b1 in runs if b == 1 and min(a1, b1) > max(a0, b0)
            ]  # fmt: skip
    return tuple(
        SplineRun(row, _row_line(plan, row), *run)
        for row, found in sorted(meetings.items())
        for run in joined(found, LEAST_MM)
    )


def spline_mm(plan: Plan) -> float:
    """Length of the spline [mm]: the row lines between turned rows and others."""
    return sum(run.length_mm for run in spline_runs(plan))


def _row_line(plan: Plan, row: int) -> float:
    """Where the wall side of a row lies across the rows [mm]."""
    return plan.laying.start_line_mm + (row - 1) * plan.board.width_mm


def turned_pieces(plan: Plan, changed: set[str]) -> tuple[Piece, ...]:
    """The pieces of a plan, those that are turned now from boards that can be turned with them.

    Parameters
    ----------
    changed : ids of the pieces that are turned, or turned no more.
    """
    stock = {board.id: board for board in plan.stock}
    boards: dict[int, list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        boards[piece.board].append(piece)
    moved: dict[str, Piece] = {}
    parted: list[list[Piece]] = []
    for number, pieces in boards.items():
        own = [piece for piece in pieces if piece.id in changed]
        whole = stock.get(number)
        if own and len(own) == len(pieces) and (whole is None or whole.ends in ("both", "none")):
            moved |= {piece.id: _turned(piece, plan, whole) for piece in own}
        elif own:
            parted.append([_turned(_on_new_board(piece, plan, whole), plan) for piece in own])
    moved |= {piece.id: piece for piece in _on_boards(plan, moved, parted)}
    return tuple(moved.get(piece.id, piece) for piece in plan.pieces)


def _turned(piece: Piece, plan: Plan, whole: StockBoard | None = None) -> Piece:
    """A piece cut from the other end and the other side of its board."""
    length, width = plan.board.length_mm, plan.board.width_mm
    if whole is not None:
        length, width = whole.length_mm, whole.width_mm or width
    return replace(
        piece,
        from_near_mm=round(length - piece.from_near_mm - piece.length_mm, 4) + 0.0,
        from_wall_side_mm=round(width - piece.from_wall_side_mm - piece.width_mm, 4) + 0.0,
    )


def _on_new_board(piece: Piece, plan: Plan, whole: StockBoard | None) -> Piece:
    """A piece of a board of the stock as it would be cut from a new one."""
    if whole is None:
        return piece
    width = whole.width_mm or plan.board.width_mm
    along = plan.board.length_mm - whole.length_mm if piece.far_end == "factory" else 0.0
    across = plan.board.width_mm - width if piece.room_side == "factory" else 0.0
    return replace(
        piece,
        from_near_mm=piece.from_near_mm + along,
        from_wall_side_mm=piece.from_wall_side_mm + across,
    )


def _on_boards(
    plan: Plan, moved: dict[str, Piece], parted: Sequence[list[Piece]]
) -> Iterator[Piece]:
    """Pieces without a board, the longest first, each where it leaves the least; else on a new one.

    ``parted`` are pieces that stay together, as they lie in a board.
    """
    away = {piece.id for pieces in parted for piece in pieces}
    stock = {board.id for board in plan.stock} | {p.board for p in plan.pieces if p.id in plan.laid}
    taken: dict[int, list[Reach]] = defaultdict(list)
    batch: dict[int, bool] = {}
    for piece in plan.pieces:
        if piece.id not in away and piece.board not in stock:
            taken[piece.board].append(_reach(moved.get(piece.id, piece)))
            batch[piece.board] = _is_of_second_batch(plan, piece)
    free = 1 + max((*(piece.board for piece in plan.pieces), *stock))
    cut = plan.rules.kerf_mm + plan.rules.allowance_mm
    for pieces in sorted(parted, key=lambda pieces: (-_length(pieces), pieces[0].id)):
        wanted = [_reach(piece) for piece in pieces]
        second = _is_of_second_batch(plan, pieces[0])
        fits = [
            number
            for number, there in taken.items()
            if batch[number] == second and _are_apart(wanted, there, cut)
        ]
        board = max(fits, key=lambda number: (_sum(taken[number]), -number), default=free)
        free = max(free, board + 1)
        taken[board] += wanted
        batch[board] = second
        yield from (replace(piece, board=board) for piece in pieces)


def _is_of_second_batch(plan: Plan, piece: Piece) -> bool:
    return plan.second_batch_row is not None and piece.row >= plan.second_batch_row


def _reach(piece: Piece) -> Reach:
    return piece.from_near_mm, piece.from_near_mm + piece.length_mm


def _length(pieces: Sequence[Piece]) -> float:
    return max(piece.length_mm for piece in pieces)


def _sum(reaches: Sequence[Reach]) -> float:
    return sum(high - low for low, high in reaches)


def _are_apart(ones: Sequence[Reach], others: Sequence[Reach], cut: float) -> bool:
    """Whether a crosscut parts each of some reaches from each of others."""
    return all(
        a1 + cut <= b0 + SAME_MM or b1 + cut <= a0 + SAME_MM
        for a0, a1 in ones for b0, b1 in others
    )  # fmt: skip
