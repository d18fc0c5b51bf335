"""A plan as the page draws it: pieces with their shapes, and the figures in words.

Points are room coordinates in tenths of a millimeter, as whole numbers: short and exact enough
for a screen.
"""

from functools import lru_cache
from typing import Any, cast

import numpy as np
import shapely
from shapely import LineString, Polygon

from plankwright.application.end_joints import end_joints
from plankwright.application.joint_looks import joint_looks
from plankwright.application.plan_figures import plan_figures
from plankwright.application.saw_work import saw_work
from plankwright.drawing.plan_start import order_told
from plankwright.drawing.plan_view import piece_kinds
from plankwright.geometry.frame import Frame
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import piece_figure
from plankwright.plan.turned_rows import SplineRun, spline_runs
from plankwright.units import Unit, format_length

TENTHS = 10.0
EDGE = {"factory": "f", "cut": "x"}

Ring = list[int]


def picture_of(plan: Plan, *, live: bool = False) -> dict[str, Any]:
    """What the page draws and says of a plan; ``live`` leaves out what takes time to count."""
    unit = cast(Unit, plan.unit)
    return {
        "unit": plan.unit,
        "board": {
            "length_mm": plan.board.length_mm,
            "width_mm": plan.board.width_mm,
            "length": format_length(plan.board.length_mm, unit),
            "width": format_length(plan.board.width_mm, unit),
            "near_end": plan.board.near_end(plan.laying.laid),
        },
        "laying": laying_of(plan),
        "floor": [rings_of(part) for part in plan.floor.geoms],
        "pieces": pieces_of(plan),
        "figures": figures_of(plan, live=live),
        "findings": [
            {"code": f.code, "where": f.where, "message": f.message, "remedy": f.remedy}
            for f in plan.findings
        ],
    }


def moving_picture_of(plan: Plan) -> dict[str, Any]:
    """What changes while the start line is dragged: the figures, and the pieces row by row."""
    return {"figures": figures_of(plan, live=True), "rows": paths_of(plan)}


def paths_of(plan: Plan) -> list[list[str]]:
    """For each row the pieces of each kind as one path of an SVG: kind and path.

    Points are whole millimeters, y down: exact enough for what moves.
    """
    kinds, paths = piece_kinds(plan), dict[tuple[int, str], list[str]]()
    for piece, rings in zip(plan.pieces, rings_of_all(plan, (1.0, -1.0)), strict=True):
        path = paths.setdefault((piece.row, kinds[piece.id]), [])
        path += [f"M{' '.join(map(str, ring))}Z" for ring in rings]
    return [[kind, "".join(path)] for (_, kind), path in paths.items()]


def laying_of(plan: Plan) -> dict[str, Any]:
    """Direction and start line, with what the page needs to draw and drag the line."""
    laying = plan.laying
    axes = Frame(laying.row_angle_deg, laying.laid)
    floor = axes.to_plan(plan.floor)
    bounds = floor.bounds if not floor.is_empty else (0.0, 0.0, 0.0, 0.0)
    return {
        "row_angle_deg": laying.row_angle_deg,
        "laid": laying.laid,
        "start_wall": laying.start_wall,
        "start_line_mm": laying.start_line_mm,
        "bounds_uv": [round(side, 1) for side in bounds],
        "order": order_told(plan).strip(),
        "splines": [_in_room(run, axes) for run in spline_runs(plan)],
    }


def _in_room(run: SplineRun, axes: Frame) -> list[float]:
    """Both ends of a spline in room coordinates [mm]: x, y, x, y."""
    ends = axes.to_room(LineString([(run.u0_mm, run.v_mm), (run.u1_mm, run.v_mm)])).coords
    return [round(value, 1) for end in ends for value in end]


def rings_of(shape: Polygon) -> list[Ring]:
    """Outer ring and holes as flat lists x, y, x, y of tenths of a millimeter."""
    return [
        np.rint(np.asarray(ring.coords)[:-1, :2] * TENTHS).astype(int).ravel().tolist()
        for ring in (shape.exterior, *shape.interiors)
    ]


def rings_of_all(plan: Plan, scale: tuple[float, float] = (TENTHS, TENTHS)) -> list[list[Ring]]:
    """The rings of every piece, see :func:`rings_of`; ``scale`` is that of x and y."""
    outlines = np.array([piece.outline for piece in plan.pieces], dtype=np.object_)
    rings, piece_of = shapely.get_rings(outlines, return_index=True)
    points, ring_of = shapely.get_coordinates(rings, return_index=True)
    flat = np.rint(points * scale).astype(int).ravel().tolist()
    ends = np.cumsum(2 * np.bincount(ring_of, minlength=len(rings))).tolist()
    found: list[list[Ring]] = [[] for _ in plan.pieces]
    for piece, begin, end in zip(piece_of.tolist(), [0, *ends], ends, strict=False):
        found[piece].append(flat[begin : end - 2])  # the last point is the first one
    return found


def pieces_of(plan: Plan) -> list[list[Any]]:
    """Each piece as a list, in the order of the page's ``PIECE`` fields."""
    unit, kinds, rings = cast(Unit, plan.unit), piece_kinds(plan), rings_of_all(plan)
    sizes = [(p.length_mm, p.width_mm, p.from_near_mm, p.from_wall_side_mm) for p in plan.pieces]
    rounded = np.round(np.array(sizes).reshape(-1, 4), 1).tolist()
    return [
        [
            piece.id, rings[i], kinds[piece.id], piece.row, piece.board, *rounded[i],
            _told(piece.length_mm, unit), _told(piece.width_mm, unit),
            piece.label, piece.lay_order, piece.cut_order,
            EDGE[piece.near_end] + EDGE[piece.far_end]
            + EDGE[piece.wall_side] + EDGE[piece.room_side],
        ]
        for i, piece in enumerate(plan.pieces)
    ]  # fmt: skip


@lru_cache(maxsize=4096)  # most pieces are whole boards
def _told(mm: float, unit: Unit) -> str:
    return piece_figure(mm, unit)


def figures_of(plan: Plan, *, live: bool = False) -> dict[str, Any]:
    """The figures as the page says them."""
    joints = end_joints(plan)
    unit, figures = cast(Unit, plan.unit), plan_figures(plan, joints)
    first, last = figures.first_row_mm, figures.last_row_mm
    narrowest = min((side[0] for side in (first, last) if side), default=None)
    looks = joint_looks(plan, joints)
    work = None if live else saw_work(plan)
    return {
        "boards": figures.boards,
        "bound": figures.bound,
        "status": figures.status,
        "packs": figures.packs,
        "per_pack": plan.board.per_pack,
        "spares": figures.spares,
        "rows": figures.rows,
        "pieces": figures.pieces,
        "cut_pieces": figures.cut_pieces,
        "crosscuts": None if work is None else work.crosscuts,
        "rips": None if work is None else work.rips,
        "h_joints": looks.h_joints,
        "stairs": looks.stairs,
        "waste_pct": round(figures.waste_pct, 1),
        "floor": area_words(figures.floor_m2, unit),
        "narrowest_row": None if narrowest is None else format_length(narrowest, unit),
        "narrowest_row_mm": narrowest,
        "first_row_mm": None if first is None else first[1],
        "first_row": None if first is None else format_length(first[1], unit),
        "last_row": None if last is None else format_length(last[1], unit),
        "shortest_piece": _length(figures.shortest_piece_mm, unit),
        "joint_offset": _length(figures.joint_offset_mm, unit),
    }


def area_words(square_m: float, unit: Unit) -> str:
    """An area in ft² or m²."""
    if unit in ("in", "ft"):
        return f"{square_m / 0.09290304:.0f} ft²"
    return f"{square_m:.1f} m²"


def _length(mm: float | None, unit: Unit) -> str | None:
    return None if mm is None else format_length(mm, unit)
