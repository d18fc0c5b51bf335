"""A plan as it comes to lie on its sheet: what every part of the floor plan's drawing needs."""

import math
from collections import Counter
from dataclasses import dataclass
from typing import Literal, cast

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.scene import Point
from plankwright.drawing.sheet import Placement
from plankwright.geometry.frame import Frame as PlanAxes
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import Edge, Room
from plankwright.plan.saw_cuts import piece_figure
from plankwright.units import Unit, format_length

PieceKind = Literal["whole", "starter", "end-piece", "wall-to-wall"]

KIND_WORDS: dict[PieceKind, str] = {
    "whole": "whole board",
    "starter": "starter",
    "end-piece": "end piece",
    "wall-to-wall": "wall to wall",
}

WALL_MM = 0.7
LEAST_GAP_MM = 0.6  # a gap is drawn no thinner, or it would vanish


@dataclass(frozen=True, slots=True)
class PlanView:
    """A plan and its place on the sheet.

    Parameters
    ----------
    plan : what is drawn.
    placement : where it lies on the sheet.
    room : the room it was made for, if it is at hand: names of doorways come from it.
    """

    plan: Plan
    placement: Placement
    room: Room | None = None

    @property
    def axes(self) -> PlanAxes:
        """The plan's axes u and v."""
        return PlanAxes(self.plan.laying.row_angle_deg, self.plan.laying.laid)

    @property
    def along(self) -> Point:
        """The way rows are laid, as a unit step on the sheet."""
        return self.placement.direction(self.plan.laying.row_angle_deg)

    @property
    def across(self) -> Point:
        """The way from row to row, as a unit step on the sheet."""
        turn = -90.0 if self.plan.laying.laid == "left-to-right" else 90.0
        return self.placement.direction(self.plan.laying.row_angle_deg + turn)

    @property
    def row_angle_deg(self) -> float:
        """Angle of the rows on the sheet, anticlockwise."""
        return math.degrees(math.atan2(-self.along[1], self.along[0]))

    @property
    def row_mm(self) -> float:
        """Width of a row on the sheet."""
        return self.plan.board.width_mm / self.placement.scale

    @property
    def outline(self) -> Polygon:
        """The walls' faces on the sheet."""
        return cast(Polygon, self.placement.geometry(self.plan.room))

    def on_sheet(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape of the room on the sheet."""
        return self.placement.geometry(shape)

    def from_axes(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape in plan axes on the sheet."""
        return self.placement.geometry(self.axes.to_room(shape))

    def point(self, u_mm: float, v_mm: float) -> Point:
        """A point of the plan axes on the sheet."""
        spot = self.from_axes(shapely.Point(u_mm, v_mm))
        return float(spot.x), float(spot.y)

    def edges(self) -> list[Edge]:
        """The walls' faces with their names, in room coordinates."""
        return list(Room(self.plan.room).edges())

    def grown(self, by_mm: float) -> BaseGeometry:
        """The room's outline on the sheet, grown by some paper, mitered."""
        return self.outline.buffer(by_mm, join_style="mitre", mitre_limit=3.0)

    @property
    def wall_shift_mm(self) -> float:
        """How far walls are moved out on the sheet so that the gap can be seen."""
        gaps = [self.plan.rules.gap_mm, *(gap for _, gap in self.plan.edges)]
        return max(LEAST_GAP_MM - min(gaps) / self.placement.scale, 0.0)

    def figure(self, size_mm: float, *, with_unit: bool = True, down: bool = True) -> str:
        """A length as a carpenter writes it; sizes of pieces rounded down."""
        unit = cast(Unit, self.plan.unit)
        told = (
            piece_figure(size_mm, unit, with_unit=with_unit)
            if down
            else format_length(size_mm, unit, with_unit=with_unit)
        )
        return carpenter_figure(told)


def piece_kinds(plan: Plan) -> dict[str, PieceKind]:
    """What each piece is called, by its id: by its place in its stretch and which end is cut."""
    seats = {(piece.row, piece.stretch, piece.seat) for piece in plan.pieces}
    stretches = Counter((row, stretch) for row, stretch, _ in seats)
    return {
        piece.id: _kind(piece, alone=stretches[piece.row, piece.stretch] == 1)
        for piece in plan.pieces
    }


def _kind(piece: Piece, *, alone: bool) -> PieceKind:
    near, far = piece.near_end == "cut", piece.far_end == "cut"
    if not near and not far:
        return "whole"
    if alone or (near and far):
        return "wall-to-wall"
    return "starter" if near else "end-piece"
