"""The floor plan: a plan composed to a scene, to scale on one sheet of paper."""

import math
from itertools import pairwise

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.application.plan_figures import plan_figures
from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.plan_labels import draw_labels
from plankwright.drawing.plan_pieces import draw_lines, draw_pieces
from plankwright.drawing.plan_start import order_told
from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.plan_walls import draw_doorways, draw_fixed, draw_gap, draw_walls
from plankwright.drawing.scene import Group, Scene
from plankwright.drawing.sheet import (
    MARGIN_MM,
    PAPERS,
    Frame,
    Paper,
    fitting_scale,
    place,
    scales_for,
    turned_size,
)
from plankwright.drawing.title_block import BLOCK_MM, draw_title_block
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.units import parse_unit

BAND_MM = 17.0  # round the room, for row numbers, corners, the start mark and dimensions


def compose_plan(plan: Plan, *, room: Room | None = None, paper: Paper = "A4") -> Scene:
    """The floor plan of a plan, at the largest usual scale that fits the sheet.

    Parameters
    ----------
    plan : what is drawn; from it alone everything can be drawn but doorways without a recess.
    room : the room it was made for, for those doorways.
    paper : sheet, upright or sideways, whichever gives the larger drawing.
    """
    view, frames = view_of_sheet(plan, room, paper)
    whole, drawing, block = frames
    labels = draw_labels(view, LabelSpace(drawing))
    items = (*draw_floor(view), labels, draw_title_block(view, block))
    title = f"Floor plan: {plan.name}"
    scale = view.placement.scale
    return Scene(whole.right, whole.bottom, items, title, _description(plan), scale)


def view_of_sheet(
    plan: Plan, room: Room | None, paper: Paper
) -> tuple[PlanView, tuple[Frame, Frame, Frame]]:
    """The plan on one sheet, and the frames of the sheet, the drawing and the title block."""
    shown, turn_deg = shown_part(plan), -_tilt(plan.room)
    sheet, scale = _choose_sheet(shown, turn_deg, paper, plan)
    frames = _frames(sheet)
    placement = place(shown, _inner(frames[1]), scale, turn_deg)
    return PlanView(plan, placement, room), frames


def shown_part(plan: Plan) -> BaseGeometry:
    """What a floor plan shows of the room: its outline and the recesses beyond it."""
    return shapely.union_all([plan.room, *(recess.outline for recess in plan.recesses)])


def draw_floor(view: PlanView) -> tuple[Group, ...]:
    """Everything that is drawn to scale, from the ground up."""
    return (
        draw_gap(view),
        draw_pieces(view),
        draw_lines(view),
        draw_walls(view),
        draw_doorways(view),
        draw_fixed(view),
    )


def _tilt(outline: Polygon) -> float:
    """How far the longest wall is off level or plumb: from -45 to 45 degrees."""
    corners = [(x, y) for x, y, *_ in outline.exterior.coords]
    start, end = max(
        pairwise(corners),
        key=lambda edge: round(math.dist(*edge), 1),
    )
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    tilt = math.remainder(angle, 90.0)
    return 0.0 if abs(tilt) < 1e-9 else tilt


def _choose_sheet(
    shown: BaseGeometry, turn_deg: float, paper: Paper, plan: Plan
) -> tuple[tuple[float, float], int]:
    """Upright or sideways, and the scale: the larger drawing; sideways where they tie."""
    short, long = PAPERS[paper]
    size = turned_size(shown, turn_deg)
    scales = scales_for(parse_unit(plan.unit))
    options = [
        (fitting_scale(size, _inner(_frames(sheet)[1]), scales), rank, sheet)
        for rank, sheet in enumerate(((long, short), (short, long)))
    ]
    if size[1] > size[0]:
        options.reverse()
    scale, _, sheet = min(options, key=lambda option: option[0])
    return sheet, scale


def _frames(sheet: tuple[float, float]) -> tuple[Frame, Frame, Frame]:
    """The whole sheet, the frame of the drawing and that of the title block."""
    whole = Frame(0.0, 0.0, *sheet)
    left, right, bottom = MARGIN_MM, sheet[0] - MARGIN_MM, sheet[1] - MARGIN_MM
    top_of_block = bottom - BLOCK_MM
    return (
        whole,
        Frame(left, MARGIN_MM, right, top_of_block - 1.0),
        Frame(left, top_of_block, right, bottom),
    )


def _inner(frame: Frame) -> Frame:
    return Frame(
        frame.left + BAND_MM, frame.top + BAND_MM, frame.right - BAND_MM, frame.bottom - BAND_MM
    )


def _description(plan: Plan) -> str:
    """What the drawing shows, for people who cannot see it."""
    figures = plan_figures(plan)
    laid = plan.laying.laid.replace("-", " ")
    fixed = ", ".join(thing.name or thing.kind for thing in plan.fixed)
    return (
        f"{figures.rows} rows along wall {plan.laying.start_wall}, laid {laid} facing it, "
        f"{figures.pieces} pieces, {figures.cut_pieces} of them cut, from {figures.boards} boards."
        + (f" The floor goes round: {fixed}." if fixed else "")
        + order_told(plan)
    )
