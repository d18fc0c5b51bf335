"""The figures a person asks a plan for first, worked out from the plan itself."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString

from plankwright.application.end_joints import EndJoints, by_row, end_joints
from plankwright.geometry.frame import Floats, Frame
from plankwright.model.plan import Piece, Plan

SEAM_MM = 0.5  # a row line that runs nearer than this to the edge of the floor parts its joints
NONE = np.zeros(0)


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


def plan_figures(plan: Plan, joints: EndJoints | None = None) -> PlanFigures:
    """The figures of a plan; a plan without pieces has counts of 0.

    ``joints`` are those of the plan, where they are known already.
    """
    rows = sorted({piece.row for piece in plan.pieces})
    floor_mm2, used = plan.floor.area, plan.boards.used
    shortest = min(plan.pieces, key=lambda piece: (piece.length_mm, piece.lay_order), default=None)
    offset, offset_rows = smallest_joint_offset(plan, joints)
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


def smallest_joint_offset(plan: Plan, joints: EndJoints | None = None) -> tuple[float | None, str]:
    """Least distance along the row between end joints of neighboring rows, and the rows.

    Two end joints are neighbors when the stretch of row line between them lies inside the floor.
    """
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    joints = joints or end_joints(plan)
    floor = frame.to_plan(shapely.buffer(plan.floor, -SEAM_MM))
    shapely.prepare(floor)
    start, width = plan.laying.start_line_mm, plan.board.width_mm
    upper = joints.reach(start + joints.row * width)
    lower = joints.reach(start + (joints.row - 1) * width)
    above = by_row(joints.row[upper], joints.u[upper])
    below = by_row(joints.row[lower], joints.u[lower])
    best, where = math.inf, ""
    for row, here in above.items():
        line_mm = start + row * width
        for a, b in _closer_pairs(here, below.get(row + 1, NONE), best):
            if floor.covers(LineString([(a, line_mm), (b + SEAM_MM, line_mm)])):
                best, where = abs(a - b), f"{row} and {row + 1}"
                break
    return (None, "") if math.isinf(best) else (best, where)


def _closer_pairs(here: Floats, there: Floats, best: float) -> list[tuple[float, float]]:
    """Pairs of joints that lie closer than the best so far, nearest first."""
    i, j = np.nonzero(np.abs(here[:, None] - there[None, :]) < best)
    pairs = zip(here[i].tolist(), there[j].tolist(), strict=True)
    return sorted(pairs, key=lambda pair: (abs(pair[0] - pair[1]), pair))


def _row_width(plan: Plan, row: int) -> tuple[float, float]:
    widths = [piece.width_mm for piece in _row(plan.pieces, row)]
    return min(widths), max(widths)


def _row(pieces: Iterable[Piece], row: int) -> Iterator[Piece]:
    return (piece for piece in pieces if piece.row == row)
