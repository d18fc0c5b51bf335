"""The survey drawing: the room as adjusted, every measured length, and the corners' errors.

The errors are millimeters in a room of meters: their ellipses are drawn enlarged, and the drawing
says how many times.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon

from plankwright.application.measured_room import MeasuredLength, MeasuredPoint, MeasuredRoom
from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import carpenter_figure, centered, text_box
from plankwright.drawing.scene import (
    Area,
    Dimension,
    Ellipse,
    Group,
    Item,
    Point,
    Polyline,
    Scene,
    Text,
    circle,
    moved,
    step_between,
    upright,
)
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
)
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.survey.next_measurement import Proposal
from plankwright.units import MM_PER, Unit, format_length

BAND_MM = 20.0  # round the room, for corners and dimensions
BLOCK_MM = 34.0
LINE_MM = 4.8
RING_MM = 3.4
WALL_MM = 1.6  # how thick a wall is drawn
ELLIPSE_MM = 7.0  # the longest half axis on paper is at most this
ENLARGED = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
OFFSETS_MM = (9.0, 13.0, 6.0, 16.0)
SHARES = (0.5, 0.38, 0.62, 0.28, 0.72, 0.2, 0.8)


@dataclass(frozen=True, slots=True)
class _View:
    """A measured room on its sheet."""

    room: MeasuredRoom
    placement: Placement
    outline: Polygon  # on the sheet
    corners: dict[str, Point]  # corners and points on the sheet
    enlarged: int


def compose_survey(room: MeasuredRoom, name: str = "room", *, paper: Paper = "A4") -> Scene:
    """The survey drawing at the largest usual scale that fits the sheet."""
    sheet, scale = _choose_sheet(room, paper)
    drawing, block = _frames(sheet)
    placement = place(room.outline, _inner(drawing), scale, 0.0)
    spots = (*room.corners, *room.points)
    view = _View(
        room=room,
        placement=placement,
        outline=Polygon(placement.geometry(room.outline)),
        corners={spot.name: placement.point((spot.x_mm, spot.y_mm)) for spot in spots},
        enlarged=_enlarged(room, scale),
    )
    space = LabelSpace(drawing)
    items = (
        Group(tuple(_walls(view)), "walls", "Walls"),
        Group(tuple(_lines(view)), "lengths", "Diagonals and ties that were measured"),
        Group(tuple(_ellipses(view)), "errors", "Error ellipses, enlarged"),
        Group(tuple(_names(view, space)), "corners", "Corners and points"),
        Group(tuple(_wall_figures(view, space)), "dimensions", "Lengths of the walls"),
        Group(tuple(_line_figures(view, space)), "figures", "Lengths of the diagonals"),
        Group(tuple(_block(view, name, block)), "title", "Title and legend"),
    )
    title = f"Tape survey: {name}"
    return Scene(*sheet, items, title, _description(view), float(scale))


def _choose_sheet(room: MeasuredRoom, paper: Paper) -> tuple[tuple[float, float], int]:
    """Sideways or upright, and the scale: the larger drawing."""
    short, long = PAPERS[paper]
    x0, y0, x1, y1 = room.outline.bounds
    scales = scales_for(room.unit)
    options = [
        (fitting_scale((x1 - x0, y1 - y0), _inner(_frames(sheet)[0]), scales), rank, sheet)
        for rank, sheet in enumerate(((long, short), (short, long)))
    ]
    scale, _, sheet = min(options)
    return sheet, scale


def _frames(sheet: tuple[float, float]) -> tuple[Frame, Frame]:
    """The frames of the drawing and of the title block."""
    left, right, bottom = MARGIN_MM, sheet[0] - MARGIN_MM, sheet[1] - MARGIN_MM
    top = bottom - BLOCK_MM
    return Frame(left, MARGIN_MM, right, top - 1.0), Frame(left, top, right, bottom)


def _inner(frame: Frame) -> Frame:
    return Frame(
        frame.left + BAND_MM, frame.top + BAND_MM, frame.right - BAND_MM, frame.bottom - BAND_MM
    )


def _enlarged(room: MeasuredRoom, scale: float) -> int:
    """How many times the ellipses are enlarged."""
    spots = (*room.corners, *room.points)
    worst_mm = max(spot.ellipse.major_mm for spot in spots)
    fitting = [times for times in ENLARGED if times * worst_mm / scale <= ELLIPSE_MM]
    return fitting[-1] if fitting else 1


# --- the room --------------------------------------------------------------------------------


def _walls(view: _View) -> Iterator[Item]:
    outside = view.outline.buffer(WALL_MM, join_style="mitre").difference(view.outline)
    yield from areas(view.outline, "floor")
    yield from areas(outside, "wall")


def _lines(view: _View) -> Iterator[Item]:
    """Diagonals and ties; in red what does not fit, in blue what to measure next."""
    for length in view.room.lengths:
        ends = _ends(view, length)
        if ends is not None and length.kind != "wall":
            yield Polyline(ends, "stop" if _is_suspect(view, length.name) else "measured")
    for length in view.room.lengths:
        ends = _ends(view, length)
        if ends is not None and length.kind == "wall" and _is_suspect(view, length.name):
            yield Polyline(ends, "stop")
    for proposal in _proposal(view):
        yield Polyline((view.corners[proposal.start], view.corners[proposal.end]), "saw")


def _ellipses(view: _View) -> Iterator[Item]:
    factor = view.enlarged / view.placement.scale
    for spot in (*view.room.corners, *view.room.points):
        own = spot.ellipse
        axes = (own.major_mm * factor, own.minor_mm * factor)
        yield Ellipse(view.corners[spot.name], axes, "error", own.turned_deg)


def _ends(view: _View, length: MeasuredLength) -> tuple[Point, Point] | None:
    """Both ends on the sheet; None for a distance square to a wall."""
    start, _, end = length.name.partition("-")
    if start in view.corners and end in view.corners:
        return view.corners[start], view.corners[end]
    return None


def _proposal(view: _View) -> tuple[Proposal, ...]:
    """The next length to measure, unless it is in red already."""
    doubted = [set(suspect.name.split("-")) for suspect in view.room.suspects]
    return tuple(p for p in view.room.proposals[:1] if {p.start, p.end} not in doubted)


def _is_suspect(view: _View, name: str) -> bool:
    return any(name == s.name or name in s.or_else for s in view.room.suspects)


# --- words -----------------------------------------------------------------------------------


def _names(view: _View, space: LabelSpace) -> Iterator[Item]:
    for spot in view.room.corners:
        at = _beside_corner(view, spot)
        ring = shapely.Point(at).buffer(RING_MM)
        space.take(ring)
        yield circle(at, RING_MM, "ring")
        yield centered(at, spot.name, TEXT_MM, style="strong")
    for spot in view.room.points:
        x, y = view.corners[spot.name]
        yield circle((x, y), 0.8, "scale-black")
        text = Text((x + 1.8, y - 1.2), spot.name, TEXT_MM, "label", clear=True)
        space.take(text_box(text), shapely.Point(x, y).buffer(1.0))
        yield text


def _beside_corner(view: _View, spot: MeasuredPoint) -> Point:
    """A place outside the room, away from both walls of a corner."""
    names = [corner.name for corner in view.room.corners]
    i = names.index(spot.name)
    here = view.corners[spot.name]
    before, after = view.corners[names[i - 1]], view.corners[names[(i + 1) % len(names)]]
    a, b = step_between(before, here), step_between(after, here)
    x, y = a[0] + b[0], a[1] + b[1]
    size = math.hypot(x, y)
    way = (x / size, y / size) if size > 0.2 else (-a[1], a[0])
    reach = ELLIPSE_MM * 0.2 + RING_MM + WALL_MM + 1.0
    places = [moved(here, way, sign * reach) for sign in (1.0, -1.0)]
    outside = [p for p in places if not view.outline.contains(shapely.Point(p))]
    return (outside or places)[0]


def _wall_figures(view: _View, space: LabelSpace) -> Iterator[Item]:
    """A dimension outside every wall, or its figure inside where there is no room for that."""
    for length in (*_once(view, "wall"), *view.room.walls_missing):
        ends = _ends(view, length)
        if ends is None:
            continue
        start, end = ends
        side = _outside(view, start, end)
        words = _figure_words(view, length)
        candidates = [Dimension(start, end, words, side * off, TEXT_MM) for off in OFFSETS_MM]
        found = space.place_dimension(candidates, view.outline) or space.place(
            _along_places(ends, words, "figure"), inside=view.outline
        )
        yield found or candidates[0]


def _once(view: _View, kind: str) -> list[MeasuredLength]:
    """The lengths of a kind, each pair of corners once."""
    found: dict[frozenset[str], MeasuredLength] = {}
    for length in view.room.lengths:
        if length.kind == kind:
            found.setdefault(frozenset(length.name.split("-")), length)
    return list(found.values())


def _outside(view: _View, start: Point, end: Point) -> float:
    """1.0 when the outside lies left of the way from start to end, else -1.0."""
    along = step_between(start, end)
    left = (along[1], -along[0])
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    inside = view.outline.contains(shapely.Point(moved(middle, left, WALL_MM)))
    return -1.0 if inside else 1.0


def _line_figures(view: _View, space: LabelSpace) -> Iterator[Item]:
    """The figure of every diagonal and tie along its line, where there is room for it."""
    for length in (*_once(view, "diagonal"), *_once(view, "tie")):
        ends = _ends(view, length)
        if ends is not None:
            style = "check" if _is_suspect(view, length.name) else "figure"
            words = _figure_words(view, length)
            text = space.place(_along_places(ends, words, style), inside=view.outline)
            if text is not None:
                yield text
    for proposal in _proposal(view):
        ends = view.corners[proposal.start], view.corners[proposal.end]
        words = f"measure {proposal.name} next"
        text = space.place(_along_places(ends, words, "act"), inside=view.outline)
        if text is not None:
            yield text


def _along_places(ends: tuple[Point, Point], words: str, style: str) -> Iterator[Text]:
    start, end = ends
    angle = upright(math.degrees(math.atan2(start[1] - end[1], end[0] - start[0])))
    above = (-math.sin(math.radians(angle)), -math.cos(math.radians(angle)))
    for share in SHARES:
        x = start[0] + share * (end[0] - start[0])
        y = start[1] + share * (end[1] - start[1])
        for lift in (0.9, -3.6):
            spot = moved((x, y), above, lift)
            yield Text(spot, words, TEXT_MM, style, "middle", "baseline", angle, clear=True)


def _figure_words(view: _View, length: MeasuredLength) -> str:
    """``4199 mm (4203)``: adjusted, and measured where that differs."""
    unit = view.room.unit
    adjusted = format_length(length.adjusted_mm, unit)
    if math.isnan(length.measured_mm):
        return carpenter_figure(f"{adjusted} (not measured)")
    measured = format_length(length.measured_mm, unit)
    if measured == adjusted:
        return carpenter_figure(adjusted)
    bare = format_length(length.measured_mm, unit, with_unit=False)
    return carpenter_figure(f"{adjusted} ({bare})")


# --- title and legend --------------------------------------------------------------------------


def _block(view: _View, name: str, frame: Frame) -> Iterator[Item]:
    yield Text((frame.left, frame.top + TITLE_MM), f"Tape survey: {name}", TITLE_MM, "title")
    y = frame.top + TITLE_MM + LINE_MM + 1.0
    for number, words in enumerate(_legend(view)):
        yield Text((frame.left, y + number * LINE_MM), words, TEXT_MM, "label")
    yield from _scale_bar(view, (frame.right - 62.0, frame.top + 7.0))


def _legend(view: _View) -> Iterator[str]:
    room = view.room
    unit: Unit = room.unit if room.unit in ("in", "ft") else "mm"
    worst = format_length(room.worst_mm, unit, rounding="up")
    times = "as large as they are" if view.enlarged == 1 else f"{view.enlarged} times enlarged"
    yield f"Scale {carpenter_figure(scale_words(view.placement.scale, room.unit))}. "
    yield (
        f"Blue ellipses: where each corner lies with 95 % certainty, drawn {times}; "
        f"the worst corner is known to {carpenter_figure(worst)}."
    )
    yield "Figures: the length as adjusted, in brackets as measured where that differs."
    if room.suspects:
        yield "Red: a length that does not fit. Measure it again."
    for proposal in _proposal(view):
        yield f"Blue dashes: measure {proposal.name} next; it helps most."


def _scale_bar(view: _View, at: Point) -> Iterator[Item]:
    unit: Unit = "ft" if view.room.unit in ("in", "ft") else "m"
    step = float(MM_PER[unit]) / view.placement.scale
    fields = max(1, min(5, int(50.0 / step)))
    x, y = at
    for number in range(fields):
        left, right = x + number * step, x + (number + 1) * step
        style = "scale-white" if number % 2 else "scale-black"
        yield Area(((left, y), (right, y), (right, y + 1.6), (left, y + 1.6)), style)
    yield Text((x, y - 1.2), "0", TEXT_MM, "figure")
    yield Text((x + fields * step, y - 1.2), f"{fields} {unit}", TEXT_MM, "figure", "end")


def _description(view: _View) -> str:
    """What the drawing shows, for people who cannot see it."""
    room = view.room
    walls = ", ".join(
        f"{length.name} {format_length(length.adjusted_mm, room.unit)}"
        for length in (*_once(view, "wall"), *room.walls_missing)
    )
    worst = format_length(room.worst_mm, "mm", rounding="up")
    return (
        f"A room of {len(room.corners)} corners as measured by tape. Walls as adjusted: {walls}. "
        f"The worst corner is known to {worst}. Error ellipses are drawn {view.enlarged} times "
        "enlarged."
    )


__all__ = ["compose_survey"]
