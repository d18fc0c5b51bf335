"""The strips of a vapor barrier or underlayment on the floor, to scale on one sheet of paper."""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.scene import Group, Item, Polyline, Scene, Text, upright
from plankwright.drawing.sheet import (
    MARGIN_MM,
    PAPERS,
    Frame,
    Paper,
    Placement,
    areas,
    fitting_scale,
    place,
    scale_words,
    scales_for,
    turned_size,
)
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.model.plan import Plan
from plankwright.model.roll import Sheeting
from plankwright.plan.roll_cuts import RollPlan
from plankwright.units import Unit, format_length

LINE_MM = 5.0
BAND_MM = 6.0
MOST_LINES = 10  # of the cut list in a column
SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)
ACROSS = (0.5, 0.3, 0.7)


@dataclass(frozen=True, slots=True)
class _View:
    rolls: RollPlan
    sheeting: Sheeting
    plan: Plan
    unit: Unit
    placement: Placement

    def figure(self, mm: float) -> str:
        return carpenter_figure(format_length(mm, self.unit, rounding="up"))


def compose_strips(
    rolls: RollPlan, sheeting: Sheeting, plan: Plan, unit: Unit, title: str, paper: Paper = "A4"
) -> Scene:
    """Strips, laps and upturn of one layer, with the cut list of every roll below.

    Parameters
    ----------
    rolls, sheeting : the layer.
    plan : of the floor, for the walls and what stands in the room.
    title : of the layer: Vapor barrier.
    paper : sheet, upright or sideways, whichever gives the larger drawing.
    """
    listed = list(_cut_list(rolls, unit))
    strips = [rolls.plan.outline(strip) for strip in rolls.plan.strips]
    shown = shapely.union_all([rolls.plan.region, *strips])
    sheet, scale, drawing, block = _choose_sheet(shown, unit, paper, len(listed))
    view = _View(rolls, sheeting, plan, unit, place(shown, _inner(drawing), scale, 0.0))
    space = LabelSpace(drawing)
    items = (
        Group(tuple(_strips(view)), layer="strips", title="Strips"),
        Group(tuple(_room(view)), layer="walls", title="Walls"),
        Group(tuple(_names(view, space)), layer="figures"),
        Group(tuple(_block(view, block, title, listed)), layer="title"),
    )
    return Scene(*sheet, items, f"{title}: {plan.name}", _description(view, title), float(scale))


def _choose_sheet(
    shown: BaseGeometry, unit: Unit, paper: Paper, listed: int
) -> tuple[tuple[float, float], int, Frame, Frame]:
    short, long = PAPERS[paper]
    size = turned_size(shown, 0.0)
    options = []
    for rank, sheet in enumerate(((long, short), (short, long))):
        drawing, block = _frames(sheet, listed)
        scale = fitting_scale(size, _inner(drawing), scales_for(unit))
        options.append((scale, rank, sheet, drawing, block))
    scale, _, sheet, drawing, block = min(options, key=lambda option: option[:2])
    return sheet, scale, drawing, block


def _frames(sheet: tuple[float, float], listed: int) -> tuple[Frame, Frame]:
    left, right, bottom = MARGIN_MM, sheet[0] - MARGIN_MM, sheet[1] - MARGIN_MM
    top = bottom - (5 + min(listed, MOST_LINES)) * LINE_MM
    return Frame(left, MARGIN_MM, right, top - 1.0), Frame(left, top, right, bottom)


def _inner(frame: Frame) -> Frame:
    return Frame(
        frame.left + BAND_MM, frame.top + BAND_MM, frame.right - BAND_MM, frame.bottom - BAND_MM
    )


def _strips(view: _View) -> Iterator[Item]:
    """Every strip as a white sheet; where two lie on each other the lap is hatched."""
    outlines = [view.rolls.plan.outline(strip) for strip in view.rolls.plan.strips]
    for outline in outlines:
        yield from areas(view.placement.geometry(outline), "piece")
    for i, outline in enumerate(outlines):
        for other in outlines[i + 1 :]:
            lap = shapely.intersection(outline, other)
            if lap.area > 1.0:
                yield from areas(view.placement.geometry(lap), "laid", "starter")
    for outline in outlines:
        yield from _lines(view, outline, "joint")


def _lines(view: _View, shape: BaseGeometry, style: str) -> Iterator[Item]:
    for part in shapely.get_parts(view.placement.geometry(shape)):
        for ring in (part.exterior, *part.interiors):
            points = tuple((float(x), float(y)) for x, y, *_ in ring.coords[:-1])
            yield Polyline(points, style, closed=True)


def _room(view: _View) -> Iterator[Item]:
    """Walls over the strips, so that the upturn is what sticks out beyond them."""
    yield from _lines(view, view.rolls.plan.region, "doorway")
    yield from _lines(view, view.plan.room, "outline")
    for thing in view.plan.fixed:
        inside = shapely.intersection(thing.outline, view.plan.room)
        yield from areas(view.placement.geometry(inside), "fixed")


def _names(view: _View, space: LabelSpace) -> Iterator[Item]:
    """Number and length along every strip."""
    angle = upright(view.rolls.plan.angle_deg)
    for thing in view.plan.fixed:
        space.take(view.placement.geometry(thing.outline))
    for strip in view.rolls.plan.strips:
        outline = view.rolls.plan.outline(strip)
        corners = [(x, y) for x, y, *_ in outline.exterior.coords[:4]]
        words = f"{strip.number}: {view.figure(strip.length_mm)}"
        candidates = [
            Text(view.placement.point(_inside(corners, along, across)), text, TEXT_MM, "strong",
                 "middle", "middle", angle, clear=True)
            for text in (words, str(strip.number))
            for across in ACROSS
            for along in SHARES
        ]  # fmt: skip
        placed = space.place(candidates)
        if placed is not None:
            yield placed


def _inside(corners: list[tuple[float, float]], along: float, across: float) -> tuple[float, float]:
    """A place in a rectangle by shares of its sides; box corners go round from one with high u."""
    (ax, ay), (bx, by), (cx, cy), _ = corners
    x = bx + across * (ax - bx) + along * (cx - bx)
    y = by + across * (ay - by) + along * (cy - by)
    return x, y


def _cut_list(rolls: RollPlan, unit: Unit) -> Iterator[str]:
    for number, cut in enumerate(rolls.rolls, 1):
        parts = ", ".join(
            f"{part.strip}: {format_length(part.length_mm, unit, rounding='up')}" for part in cut
        )
        yield f"Roll {number}: strip {parts}"


def _block(view: _View, frame: Frame, title: str, listed: list[str]) -> Iterator[Item]:
    yield Text((frame.left, frame.top + TITLE_MM), f"{title}: {view.plan.name}", TITLE_MM, "title")
    sheeting = view.sheeting
    lap = f"lap {view.figure(sheeting.lap_mm)}, hatched" if sheeting.lap_mm else "edge to edge"
    upturn = sheeting.upturn_mm
    turned = f"; {view.figure(upturn)} up the walls, dashed" if upturn else ""
    side = sheeting.side_up or "read it on the leaflet"
    words = [
        f"Scale {carpenter_figure(scale_words(view.placement.scale, view.unit))}, "
        f"roll {view.figure(sheeting.roll.width_mm)} wide; {lap}{turned}.",
        f"Which side up: {side}.",
        *(carpenter_figure(line) for line in listed[:MOST_LINES]),
    ]
    if len(listed) > MOST_LINES:
        words[-1] = f"and {len(listed) - MOST_LINES + 1} rolls more: see the list"
    for number, line in enumerate(words, 1):
        yield Text((frame.left, frame.top + TITLE_MM + number * LINE_MM), line, TEXT_MM, "label")


def _description(view: _View, title: str) -> str:
    lengths = ", ".join(
        f"strip {strip.number} {format_length(strip.length_mm, view.unit, rounding='up')}"
        for strip in view.rolls.plan.strips
    )
    counts = f"{len(view.rolls.plan.strips)} strips from {len(view.rolls.rolls)} rolls"
    return f"{title}: {counts}: {lengths}."
