"""Pieces that cannot be tilted into their joint because something hangs over them.

A piece is tilted about the edge by which it joins what lies there: seen across the row, every
point of it rises with its distance from that edge. Under an undercut jamb, a toe-kick or a
radiator it may have no room to. What can be done, in this order: make more room (undercut deeper),
take away what hangs there, and only where the leaflet allows it shave the lip and glue.

A piece that joins nothing along the row lies flat and is pushed under. So does the first piece of
a stretch whose near end goes under: tilted in clear of it and slid along the row.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from shapely import Polygon

from plankwright.geometry.frame import Frame
from plankwright.model.board import Board
from plankwright.model.plan import Overhang, Piece, Plan
from plankwright.plan.rows_backwards import Ways
from plankwright.plan.seams import LaidStretch, Seams
from plankwright.units import Unit, format_length

USUAL_THICKNESS_MM = 8.0
CLEAR_OF_BOARD_MM = 2.0  # a jamb is undercut by board, pad and this (common practice)
LEAST_OVERLAP_MM2 = 100.0
DEEPEST_UNDERCUT_MM = 30.0  # above this a saw leaves too little of a casing


@dataclass(frozen=True, slots=True)
class Awkward:
    """A piece that cannot be tilted in.

    Parameters
    ----------
    piece : its id.
    under : what hangs over it.
    needs_mm, clearance_mm : height that tilting takes, and that there is.
    remedies : what can be done, in the order in which to try it.
    """

    piece: str
    under: str
    needs_mm: float
    clearance_mm: float
    remedies: tuple[str, ...]


def awkward_pieces(plan: Plan, seams: Seams, ways: Ways) -> tuple[Awkward, ...]:
    """Every piece that has no room to be tilted in, in the order of the plan's stretches."""
    return tuple(_awkward(plan, seams, ways)) if plan.overhangs else ()


def _awkward(plan: Plan, seams: Seams, ways: Ways) -> Iterator[Awkward]:
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    shapes = {piece.id: shape for piece, shape in zip(plan.pieces, seams.shapes, strict=True)}
    joined = _joined(plan, seams, ways)
    hanging = [(over, frame.to_plan(over.outline)) for over in plan.overhangs]
    for index, stretch in enumerate(seams.stretches):
        for piece in stretch.pieces:
            if piece.id not in joined:
                continue
            for over, outline in hanging:
                covered = shapes[piece.id].intersection(outline)
                if covered.area <= LEAST_OVERLAP_MM2:
                    continue
                needs = _height(plan.board, shapes[piece.id], covered, index in ways.backwards)
                clearance = _clearance(plan.board, over)
                if needs <= clearance or _slides_under(stretch, piece, shapes[piece.id], covered):
                    continue
                remedies = _remedies(plan, over, needs)
                yield Awkward(piece.id, over.name or over.kind, needs, clearance, remedies)


def _joined(plan: Plan, seams: Seams, ways: Ways) -> set[str]:
    """Ids of the pieces that join what lies along their row line."""
    back = {piece.id for i in ways.backwards for piece in seams.stretches[i].pieces}
    found: set[str] = set()
    for below, above in seams.meetings:
        wall_side = plan.pieces[below].id
        found.add(wall_side if wall_side in back else plan.pieces[above].id)
    return found


def _height(board: Board, shape: Polygon, covered: Polygon, backwards: bool) -> float:
    """Height that the covered part takes while the piece is tilted [mm]."""
    low, high = shape.bounds[1], shape.bounds[3]
    reach = high - covered.bounds[1] if backwards else covered.bounds[3] - low
    thickness = board.thickness_mm or USUAL_THICKNESS_MM
    return thickness + float(reach) * math.tan(math.radians(board.tilt_deg))


def _clearance(board: Board, over: Overhang) -> float:
    if over.clearance_mm is not None:
        return over.clearance_mm
    return (board.thickness_mm or USUAL_THICKNESS_MM) + CLEAR_OF_BOARD_MM


def _slides_under(stretch: LaidStretch, piece: Piece, shape: Polygon, covered: Polygon) -> bool:
    """Whether the piece can be tilted in farther along the row and slid to its near end."""
    if piece is not stretch.pieces[0] or len(stretch.pieces) == 1:
        return False
    near, far = shape.bounds[0], shape.bounds[2]
    return bool(covered.bounds[2] - near < (far - near) / 2.0)


def _remedies(plan: Plan, over: Overhang, needs: float) -> tuple[str, ...]:
    found = []
    if over.kind == "jamb":
        if needs <= DEEPEST_UNDERCUT_MM:
            told = format_length(needs, cast(Unit, plan.unit), rounding="up")
            found.append(f"Undercut deeper: {told} above what the boards lie on.")
        found.append("Take the casing off, and put it back over the floor.")
    elif over.kind == "toe-kick":
        found.append("Take the toe-kick off, and put it back over the floor.")
    else:
        found.append("Take it off its hooks, or lift it, while this piece goes in.")
    if plan.board.shave_and_glue:
        found.append("Shave the lip of the lock, lay the piece flat and glue the joint.")
    return tuple(found)
