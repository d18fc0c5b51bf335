"""The floor of a plan: pieces with their hatches, row lines, a spline, joints, ripped edges."""

from collections.abc import Iterator
from itertools import pairwise

import shapely
from shapely import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.plan_spline import draw_spline
from plankwright.drawing.plan_view import KIND_WORDS, PieceKind, PlanView, piece_kinds
from plankwright.drawing.scene import Group, Polyline
from plankwright.drawing.sheet import areas
from plankwright.model.plan import Piece

ON_LINE_MM = 0.5
LONG_SHARE = 0.5  # of a piece's length, and a sawn long edge is a rip, not the side of a notch
RIP_MM = 0.9  # weight of a ripped edge; drawn inside its piece so that the gap stays white


def draw_pieces(view: PlanView) -> Group:
    """Every piece as an area: hatched when it is cut."""
    kinds = piece_kinds(view.plan)
    drawn = (_piece(view, piece, kinds[piece.id]) for piece in view.plan.pieces)
    return Group(tuple(drawn), layer="pieces")


def draw_lines(view: PlanView) -> Group:
    """Row lines, end joints, the floor's rim, ripped edges and a spline."""
    rim = view.on_sheet(view.plan.floor.boundary)
    return Group(
        (
            Group(tuple(_lines(rim, "joint")), layer="rim"),
            Group(tuple(_end_joints(view)), layer="joints"),
            Group(tuple(_row_lines(view)), layer="rows"),
            Group(tuple(_ripped_edges(view)), layer="rips"),
            *draw_spline(view),
        ),
        layer="lines",
    )


def _piece(view: PlanView, piece: Piece, kind: PieceKind) -> Group:
    hatch = None if kind == "whole" else kind
    return Group(
        areas(view.on_sheet(piece.outline), "piece", hatch),
        title=f"{piece.id}: {KIND_WORDS[kind]}, {view.figure(piece.length_mm)}",
        key=piece.id,
    )


def _row_lines(view: PlanView) -> Iterator[Polyline]:
    """The lines between rows, where there is floor on both sides of them."""
    plan = view.plan
    floor = view.axes.to_plan(plan.floor)
    if floor.is_empty:
        return
    u0, _, u1, _ = floor.bounds
    rows = [piece.row for piece in plan.pieces]
    for row in range(min(rows), max(rows)):
        v = plan.laying.start_line_mm + row * plan.board.width_mm
        line = LineString([(u0 - 1.0, v), (u1 + 1.0, v)])
        yield from _lines(view.from_axes(floor.intersection(line)), "row")


def _end_joints(view: PlanView) -> Iterator[Polyline]:
    """Ends of pieces that are not the floor's rim, each drawn once."""
    rim = view.plan.floor.boundary.buffer(ON_LINE_MM)
    shapely.prepare(rim)
    drawn: set[tuple[float, ...]] = set()
    for piece in view.plan.pieces:
        for edge in _edges(view.axes.to_plan(piece.outline)):
            (ua, va), (ub, vb) = edge.coords
            middle = edge.interpolate(0.5, normalized=True)
            if abs(ub - ua) > ON_LINE_MM or rim.covers(view.axes.to_room(middle)):
                continue
            key = (round((ua + ub) / 2.0), *sorted((round(va), round(vb))))
            if key not in drawn:
                drawn.add(key)
                yield from _lines(view.from_axes(edge), "joint")


def _ripped_edges(view: PlanView) -> Iterator[Polyline]:
    """Long edges that lie on no row line: the saw went along there."""
    inward = RIP_MM / 2.0 * view.placement.scale
    for piece in view.plan.pieces:
        outline = view.axes.to_plan(piece.outline)
        for edge in _edges(outline):
            (ua, va), (ub, vb) = edge.coords
            is_long = abs(ub - ua) >= LONG_SHARE * piece.length_mm
            if not is_long or _on_row_line(view, va, vb):
                continue
            yield from _lines(view.from_axes(_moved_in(edge, inward, outline)), "rip")


def _on_row_line(view: PlanView, *levels: float) -> bool:
    laying, width = view.plan.laying, view.plan.board.width_mm
    steps = [(v - laying.start_line_mm) / width for v in levels]
    return all(abs(step - round(step)) * width <= ON_LINE_MM for step in steps)


def _moved_in(edge: LineString, by: float, outline: Polygon) -> LineString:
    """The edge moved into its piece, shortened by as much, so that it stays within."""
    (ua, va), (ub, vb) = edge.coords
    ring = outline.exterior if outline.exterior.distance(edge) < 1e-6 else None
    inside_is_left = ring is None or ring.is_ccw
    way = 1.0 if ub > ua else -1.0
    shift = by * way if inside_is_left else -by * way
    short = min(by, abs(ub - ua) / 4.0) * way
    return LineString([(ua + short, va + shift), (ub - short, vb + shift)])


def _edges(outline: Polygon) -> Iterator[LineString]:
    for ring in (outline.exterior, *outline.interiors):
        corners = [(x, y) for x, y, *_ in ring.coords]
        for start, end in pairwise(corners):
            if start != end:
                yield LineString([start, end])


def _lines(shape: BaseGeometry, style: str) -> Iterator[Polyline]:
    for part in shapely.get_parts(shape):
        if isinstance(part, LineString | MultiLineString) and part.length > 0.0:
            yield Polyline(tuple((float(x), float(y)) for x, y, *_ in part.coords), style)
