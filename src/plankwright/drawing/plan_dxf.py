"""A plan as DXF in the true size of the room: what a drawing program or a surveyor can take on.

Outlines are closed lines in room coordinates. A piece with a hole is several rings; each carries
the piece's number and its board in its extended data.
"""

import math

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.dxf_pen import Pen
from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.plan_view import PieceKind, piece_kinds
from plankwright.drawing.scene import Point, upright
from plankwright.geometry.frame import Frame
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import Edge, Room
from plankwright.plan.saw_cuts import piece_figure
from plankwright.plan.turned_rows import spline_runs
from plankwright.units import parse_unit

LAYERS: dict[PieceKind, tuple[str, str]] = {
    "whole": ("PIECES-WHOLE", "Whole boards"),
    "starter": ("PIECES-STARTER", "Starters: the first cut piece of a stretch"),
    "end-piece": ("PIECES-END", "End pieces: the last cut piece of a stretch"),
    "wall-to-wall": ("PIECES-WALL-TO-WALL", "Pieces that are no part of a longer stretch"),
}
ID_MM, LENGTH_MM = 42.0, 28.0  # height of capitals, in the room
ROOM_MM = 90.0  # height of the room's name
LETTER_SHARE = 0.8  # width of a letter to the height of a capital, on the safe side


def draw_plan(pen: Pen, plan: Plan, room: Room | None = None) -> None:
    """Walls, floor, pieces and their numbers, splines, fixed things and doorways of a plan."""
    walls = pen.layer("WALLS", "The walls' faces", weight_mm=0.7)
    _rings(pen, plan.room, walls)
    _rings(pen, plan.floor, pen.layer("FLOOR", "The edge of the floor", weight_mm=0.35))
    fixed = pen.layer("FIXED", "What the floor goes round", weight_mm=0.35)
    for thing in plan.fixed:
        _rings(pen, thing.outline, fixed, thing.name or thing.kind)
    doorways = pen.layer("DOORWAYS", "Doorways, up to the transition", dashed=True)
    for recess in plan.recesses:
        _rings(pen, recess.outline, doorways, recess.kind)
    for ends in _door_lines(room):
        pen.line(ends, doorways)
    kinds = piece_kinds(plan)
    for piece in plan.pieces:
        layer = pen.layer(*LAYERS[kinds[piece.id]])
        _rings(pen, piece.outline, layer, piece.id, f"board {piece.board}")
    _splines(pen, plan)
    _numbers(pen, plan)


def _splines(pen: Pen, plan: Plan) -> None:
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    for run in spline_runs(plan):
        line = axes.to_room(LineString([(run.u0_mm, run.v_mm), (run.u1_mm, run.v_mm)]))
        layer = pen.layer("SPLINE", "The spline, beyond which boards lie turned", weight_mm=0.7)
        pen.line([(x, y) for x, y, *_ in line.coords], layer)


def _rings(pen: Pen, shape: BaseGeometry, layer: str, *told: str) -> None:
    for part in shapely.get_parts(shape):
        for ring in (part.exterior, *part.interiors):
            drawn = pen.ring([(x, y) for x, y, *_ in ring.coords[:-1]], layer)
            pen.tell(drawn, *told)


def _door_lines(room: Room | None) -> list[tuple[Point, Point]]:
    """Doorways that the floor does not run into: a line along the wall's face."""
    if room is None:
        return []
    edges = {edge.name: edge for edge in room.edges()}
    return [
        (
            _along(edges[door.edge], door.from_corner_mm),
            _along(edges[door.edge], door.from_corner_mm + door.width_mm),
        )
        for door in room.doorways
        if door.depth_mm == 0.0
    ]


def _along(edge: Edge, distance_mm: float) -> Point:
    share = distance_mm / edge.length_mm
    (xa, ya), (xb, yb) = edge.start, edge.end
    return xa + (xb - xa) * share, ya + (yb - ya) * share


def _numbers(pen: Pen, plan: Plan) -> None:
    """The number of every piece that has room for it, and the length of cut ones below it."""
    ids = pen.layer("PIECE-NUMBERS", "Row, stretch and seat of each piece")
    lengths = pen.layer("PIECE-LENGTHS", "Lengths of cut pieces, rounded down")
    angle = upright(plan.laying.row_angle_deg)
    up = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    for piece in plan.pieces:
        told = carpenter_figure(piece_figure(piece.length_mm, parse_unit(plan.unit)))
        spot = piece.outline.representative_point()
        if _fits(piece, piece.id, ID_MM):
            at = (spot.x + up[0] * 0.8 * ID_MM, spot.y + up[1] * 0.8 * ID_MM)
            pen.words(piece.id, at, ID_MM, ids, turned_deg=angle)
        if "cut" in (piece.near_end, piece.far_end) and _fits(piece, told, LENGTH_MM):
            at = (spot.x - up[0] * LENGTH_MM, spot.y - up[1] * LENGTH_MM)
            pen.words(told, at, LENGTH_MM, lengths, turned_deg=angle)
    x, _, _, y = plan.room.bounds
    title = pen.layer("TITLE", "The name of the job")
    pen.words(plan.name, (x, y + 2.0 * ROOM_MM), ROOM_MM, title, align="LEFT")


def _fits(piece: Piece, words: str, cap_mm: float) -> bool:
    long_enough = len(words) * LETTER_SHARE * cap_mm <= piece.length_mm
    return long_enough and 3.0 * cap_mm <= piece.width_mm
