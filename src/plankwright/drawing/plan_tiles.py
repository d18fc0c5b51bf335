"""A floor plan too large for one sheet: a key, and parts that are large enough to read."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from plankwright.drawing.clipping import clipped
from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import CAPITAL_EM, carpenter_figure, text_width_mm
from plankwright.drawing.plan_drawing import BAND_MM, compose_plan, draw_floor, view_of_sheet
from plankwright.drawing.plan_labels import draw_labels
from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.scene import Group, Item, Point, Polyline, Scene, Text
from plankwright.drawing.sheet import (
    MARGIN_MM,
    PAPERS,
    Frame,
    Paper,
    scale_words,
    scales_for,
)
from plankwright.drawing.style import LENGTH_MM, TEXT_MM, TITLE_MM
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.units import parse_unit

READABLE_ROW_MM = CAPITAL_EM * TEXT_MM + 1.2  # rows this wide on paper have room for figures
HEAD_MM = 12.0  # for the title above a part
EDGE_MM = 9.0  # for row numbers beside it
OVERLAP_MM = 10.0


def compose_plan_sheets(
    plan: Plan, *, room: Room | None = None, paper: Paper = "A4"
) -> tuple[Scene, ...]:
    """The floor plan on one sheet, or a key and its parts where one would be too small to read."""
    whole = compose_plan(plan, room=room, paper=paper)
    scale = _readable_scale(plan)
    if not plan.pieces or whole.scale is None or whole.scale <= scale:
        return (whole,)
    return tuple(_sheets(plan, room, paper, scale, whole))


def _readable_scale(plan: Plan) -> int:
    """The smallest usual drawing whose rows have room for figures."""
    fitting = [
        scale
        for scale in scales_for(parse_unit(plan.unit))
        if plan.board.width_mm / scale >= READABLE_ROW_MM
    ]
    return max(fitting, default=scales_for(parse_unit(plan.unit))[0])


@dataclass(frozen=True, slots=True)
class _Parts:
    """How the drawing, laid out on one large sheet, is parted."""

    view: PlanView  # on the large sheet
    windows: tuple[Frame, ...]  # of the large sheet
    sheet: tuple[float, float]


def _sheets(
    plan: Plan, room: Room | None, paper: Paper, scale: int, whole: Scene
) -> Iterator[Scene]:
    short, long = PAPERS[paper]
    view = view_of_sheet(plan, room, paper)[0]
    large = replace(view, placement=replace(view.placement, scale=float(scale)))
    options = [_parts(large, sheet) for sheet in ((long, short), (short, long))]
    parts = min(options, key=lambda option: len(option.windows))
    yield _key(parts, whole, view)
    for number in range(len(parts.windows)):
        yield _part(parts, number)


def _parts(view: PlanView, sheet: tuple[float, float]) -> _Parts:
    """The windows that show something, row by row, all of one size."""
    x0, y0, x1, y1 = view.grown(BAND_MM).bounds
    wide = sheet[0] - 2.0 * (MARGIN_MM + EDGE_MM)
    high = sheet[1] - 2.0 * MARGIN_MM - HEAD_MM - 2.0 * EDGE_MM
    columns, rows = _steps(x0, x1, wide), _steps(y0, y1, high)
    room_on_sheet = view.grown(2.0)
    windows = tuple(
        Frame(x, y, x + wide, y + high)
        for y in rows
        for x in columns
        if room_on_sheet.intersects(shapely.box(x, y, x + wide, y + high))
    )
    return _Parts(view, windows, sheet)


def _steps(low: float, high: float, size: float) -> list[float]:
    """Where windows of a size begin so that they cover a range, evenly, overlapping."""
    count = max(1, math.ceil((high - low - OVERLAP_MM) / (size - OVERLAP_MM)))
    if count == 1:
        return [(low + high - size) / 2.0]
    return [low + i * (high - low - size) / (count - 1) for i in range(count)]


def _part(parts: _Parts, number: int) -> Scene:
    """One window, moved to where it lies on its sheet."""
    window = parts.windows[number]
    left, top = MARGIN_MM + EDGE_MM, MARGIN_MM + HEAD_MM + EDGE_MM
    placement = parts.view.placement
    origin = (
        placement.origin[0] - window.left + left, placement.origin[1] - window.top + top,
    )  # fmt: skip
    view = replace(parts.view, placement=replace(placement, origin=origin))
    frame = Frame(left, top, left + window.width, top + window.height)
    labels = draw_labels(view, LabelSpace(frame))
    seen = clipped((*draw_floor(view), labels), frame)
    title = f"Floor plan: {view.plan.name}, part {number + 1}"
    items = (
        *seen,
        Group(tuple(_frame(frame)), layer="frame"),
        Group(tuple(_edge_numbers(view, frame)), layer="numbers", title="Row numbers"),
        Group(tuple(_title(parts, number)), layer="title"),
    )
    told = f"Part {number + 1} of {len(parts.windows)} of the floor plan, see the key."
    return Scene(*parts.sheet, items, title, told, parts.view.placement.scale)


def _frame(frame: Frame) -> Iterator[Item]:
    corners = (
        (frame.left, frame.top), (frame.right, frame.top), (frame.right, frame.bottom),
        (frame.left, frame.bottom),
    )  # fmt: skip
    yield Polyline(corners, "frame", closed=True)


def _edge_numbers(view: PlanView, frame: Frame) -> Iterator[Text]:
    """The number of each row that runs out of the part, outside the part's edge."""
    floor = view.on_sheet(view.plan.floor)
    rows = sorted({piece.row for piece in view.plan.pieces})
    width, start = view.plan.board.width_mm, view.plan.laying.start_line_mm
    u0, _, u1, _ = view.axes.to_plan(view.plan.floor).bounds
    window = shapely.box(frame.left, frame.top, frame.right, frame.bottom)
    placed = LabelSpace(
        Frame(frame.left - EDGE_MM, frame.top - EDGE_MM, frame.right + EDGE_MM,
              frame.bottom + EDGE_MM)
    )  # fmt: skip
    for row in rows:
        level = start + (row - 0.5) * width
        line = shapely.LineString([view.point(u0 - 1.0, level), view.point(u1 + 1.0, level)])
        for x, y in _crossings(line, window.exterior):
            if floor.distance(shapely.Point(x, y)) > 1.0:
                continue
            spot = _outside(frame, x, y, text_width_mm(str(row), TEXT_MM) / 2.0 + 1.2)
            text = placed.place([Text(spot, str(row), TEXT_MM, "label", "middle", "middle")])
            if text is not None:
                yield text


def _crossings(line: shapely.LineString, rim: shapely.LinearRing) -> Iterator[Point]:
    for part in shapely.get_parts(line.intersection(rim)):
        if part.geom_type == "Point":
            yield float(part.x), float(part.y)


def _outside(frame: Frame, x: float, y: float, off: float) -> Point:
    """A place beside a point of the frame's edge, outside."""
    if abs(x - frame.left) < 1e-6:
        return x - off, y
    if abs(x - frame.right) < 1e-6:
        return x + off, y
    return (x, y - 3.0) if abs(y - frame.top) < 1e-6 else (x, y + 3.0)


def _title(parts: _Parts, number: int) -> Iterator[Item]:
    plan = parts.view.plan
    room = parts.sheet[0] - 2.0 * MARGIN_MM - 80.0
    words = f"{number + 1} of {len(parts.windows)}: {plan.name}"
    while text_width_mm(words, TITLE_MM, bold=True) > room and len(words) > 20:
        words = words[:-2].rstrip("…") + "…"
    scale = scale_words(parts.view.placement.scale, parse_unit(plan.unit))
    yield Text((MARGIN_MM, MARGIN_MM + 6.0), words, TITLE_MM, "title")
    told = f"Floor plan {carpenter_figure(scale)}, print at 100 %"
    spot = (parts.sheet[0] - MARGIN_MM, MARGIN_MM + 6.0)
    yield Text(spot, told, TEXT_MM, "label", "end")
    for other, place_at, angle in _neighbors(parts, number):
        yield Text(place_at, f"to part {other}", TEXT_MM, "note", "middle", "middle", angle)


def _neighbors(parts: _Parts, number: int) -> Iterator[tuple[int, Point, float]]:
    """The part that lies beyond each edge, and where that is told."""
    window = parts.windows[number]
    left, top = MARGIN_MM + EDGE_MM, MARGIN_MM + HEAD_MM + EDGE_MM
    right, bottom = left + window.width, top + window.height
    for other, frame in enumerate(parts.windows, 1):
        if other == number + 1:
            continue
        across = abs(frame.top - window.top) < 1e-6
        along = abs(frame.left - window.left) < 1e-6
        near_x = abs(frame.left - window.left) < window.width
        near_y = abs(frame.top - window.top) < window.height
        if across and near_x:
            x = right + EDGE_MM - 1.8 if frame.left > window.left else left - EDGE_MM + 1.8
            yield other, (x, (top + bottom) / 2.0), 90.0
        elif along and near_y:
            y = bottom + EDGE_MM - 2.0 if frame.top > window.top else top - EDGE_MM + 2.0
            yield other, ((left + right) / 2.0, y), 0.0


def _key(parts: _Parts, whole: Scene, view: PlanView) -> Scene:
    """The whole plan with the parts drawn over it and numbered."""
    large, small = parts.view.placement, view.placement
    shrink = large.scale / small.scale

    def moved(x: float, y: float) -> Point:
        return (
            small.origin[0] + (x - large.origin[0]) * shrink,
            small.origin[1] + (y - large.origin[1]) * shrink,
        )

    items: list[Item] = []
    for number, window in enumerate(parts.windows, 1):
        x0, y0 = moved(window.left, window.top)
        x1, y1 = moved(window.right, window.bottom)
        items.append(Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), "next", closed=True))
        spot = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
        items.append(Text(spot, str(number), LENGTH_MM, "act", "middle", "middle", clear=True))
    key = Group(clipped(items, _sheet_frame(whole)), layer="key", title="Parts on the next sheets")
    title = f"{whole.title}, key to {len(parts.windows)} parts"
    return replace(whole, items=(*whole.items, key), title=title)


def _sheet_frame(scene: Scene) -> Frame:
    edge = MARGIN_MM / 2.0
    return Frame(edge, edge, scene.width_mm - edge, scene.height_mm - edge)
