"""The figures a person asks a plan for first, worked out from the plan itself."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Point

from plankwright.model.plan import Laying, Piece, Plan

SEAM_MM = 0.5  # a row line that runs nearer than this to the edge of the floor parts its joints


@dataclass(frozen=True, slots=True)
class PlanFigures:
    """What a plan comes to. Lengths in millimeters; None where there is nothing to measure.

    Parameters
    ----------
    boards, bound : boards used, and the number no plan with these rows can go under.
    packs, spares : packs to buy, and boards that stay whole in them.
    floor_m2 : area of the floor.
    waste_pct : area of the boards used beyond the floor's, in percent of the floor's.
    rows, pieces, cut_pieces : counts.
    first_row_mm, last_row_mm : least and greatest width of the row.
    shortest_piece_mm, shortest_piece : the least length and its piece.
    joint_offset_mm, joint_offset_rows : least offset of end joints in neighboring rows, and where.
    """

    boards: int
    bound: int
    status: str
    packs: int
    spares: int
    floor_m2: float
    waste_pct: float
    rows: int
    pieces: int
    cut_pieces: int
    first_row_mm: tuple[float, float] | None
    last_row_mm: tuple[float, float] | None
    shortest_piece_mm: float | None
    shortest_piece: str
    joint_offset_mm: float | None
    joint_offset_rows: str


def plan_figures(plan: Plan) -> PlanFigures:
    """The figures of a plan; a plan without pieces has counts of 0."""
    rows = sorted({piece.row for piece in plan.pieces})
    floor_mm2, used = plan.floor.area, plan.boards.used
    shortest = min(plan.pieces, key=lambda piece: (piece.length_mm, piece.lay_order), default=None)
    offset, offset_rows = smallest_joint_offset(plan)
    return PlanFigures(
        boards=used,
        bound=plan.boards.bound,
        status=plan.boards.status,
        packs=plan.packs,
        spares=plan.packs * plan.board.per_pack - used,
        floor_m2=floor_mm2 / 1e6,
        waste_pct=100.0 * (used * plan.board.area_mm2 / floor_mm2 - 1.0) if floor_mm2 else 0.0,
        rows=len(rows),
        pieces=len(plan.pieces),
        cut_pieces=sum(1 for piece in plan.pieces if is_cut(piece)),
        first_row_mm=_row_width(plan, rows[0]) if rows else None,
        last_row_mm=_row_width(plan, rows[-1]) if rows else None,
        shortest_piece_mm=shortest.length_mm if shortest else None,
        shortest_piece=shortest.id if shortest else "",
        joint_offset_mm=offset,
        joint_offset_rows=offset_rows,
    )


def is_cut(piece: Piece) -> bool:
    """Whether any edge of the piece is not the factory's."""
    edges = (piece.near_end, piece.far_end, piece.wall_side, piece.room_side)
    return "cut" in edges


def smallest_joint_offset(plan: Plan) -> tuple[float | None, str]:
    """Least distance along the row between end joints of neighboring rows, and the rows.

    Two end joints are neighbors when the stretch of row line between them lies inside the floor.
    """
    above, below = _joints(plan)
    floor = shapely.buffer(plan.floor, -SEAM_MM)
    shapely.prepare(floor)
    best, where = math.inf, ""
    for row in sorted(above):
        line_mm = _row_line_mm(plan, row)
        for a, b in _closer_pairs(above[row], below.get(row + 1, []), best):
            seam = LineString([_in_room(plan.laying, u, line_mm) for u in (a, b + SEAM_MM)])
            if floor.covers(seam):
                best, where = abs(a - b), f"{row} and {row + 1}"
                break
    return (None, "") if math.isinf(best) else (best, where)


def _closer_pairs(here: list[float], there: list[float], best: float) -> list[tuple[float, float]]:
    """Pairs of joints that lie closer than the best so far, nearest first."""
    pairs = [(a, b) for a in here for b in there if abs(a - b) < best]
    return sorted(pairs, key=lambda pair: (abs(pair[0] - pair[1]), pair))


def _joints(plan: Plan) -> tuple[dict[int, list[float]], dict[int, list[float]]]:
    """Where end joints lie along u, row by row: those that reach the row line on their room side
    (they lie above that line), and those that reach the one on their wall side (below it)."""
    seats: dict[tuple[int, int], dict[int, list[Piece]]] = defaultdict(lambda: defaultdict(list))
    for piece in plan.pieces:
        seats[piece.row, piece.stretch][piece.seat].append(piece)
    above: dict[int, list[float]] = defaultdict(list)
    below: dict[int, list[float]] = defaultdict(list)
    for (row, _), by_seat in seats.items():
        for seat in sorted(by_seat)[:-1]:
            near, far = by_seat[seat], by_seat.get(seat + 1, [])
            u_mm = max(_far_end(plan.laying, piece) for piece in near)
            for line_row, found in ((row, above), (row - 1, below)):
                point = Point(_in_room(plan.laying, u_mm, _row_line_mm(plan, line_row)))
                if _reach(near, point) and _reach(far, point):
                    found[row].append(u_mm)
    return above, below


def _reach(pieces: Sequence[Piece], point: Point) -> bool:
    return any(shapely.dwithin(piece.outline, point, SEAM_MM) for piece in pieces)


def _row_line_mm(plan: Plan, row: int) -> float:
    """v of the line between a row and the next."""
    return plan.laying.start_line_mm + row * plan.board.width_mm


def _far_end(laying: Laying, piece: Piece) -> float:
    angle = math.radians(laying.row_angle_deg)
    coordinates = np.asarray(piece.outline.exterior.coords)[:, :2]
    return float((coordinates @ np.array([math.cos(angle), math.sin(angle)])).max())


def _in_room(laying: Laying, u_mm: float, v_mm: float) -> tuple[float, float]:
    """A point of the plan axes in room coordinates."""
    angle = math.radians(laying.row_angle_deg)
    turn = -1.0 if laying.laid == "left-to-right" else 1.0
    cos, sin = math.cos(angle), math.sin(angle)
    return u_mm * cos - turn * v_mm * sin, u_mm * sin + turn * v_mm * cos


def _row_width(plan: Plan, row: int) -> tuple[float, float]:
    widths = [piece.width_mm for piece in _row(plan.pieces, row)]
    return min(widths), max(widths)


def _row(pieces: Iterable[Piece], row: int) -> Iterator[Piece]:
    return (piece for piece in pieces if piece.row == row)
