"""The laying order on one sheet: every piece with its number, and an arrow for each leg of it."""

from collections.abc import Iterator
from itertools import groupby

import shapely
from shapely import LineString, Polygon

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import centered
from plankwright.drawing.plan_drawing import view_of_sheet
from plankwright.drawing.plan_pieces import draw_lines
from plankwright.drawing.plan_spline import spline_line, spline_words
from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.plan_walls import draw_doorways, draw_fixed, draw_gap, draw_walls
from plankwright.drawing.scene import (
    Area,
    Group,
    Item,
    Point,
    Polyline,
    Scene,
    Text,
    circle,
    upright,
)
from plankwright.drawing.sheet import Frame, Paper, areas, scale_words
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import Room
from plankwright.plan.laying_legs import Leg, legs_of
from plankwright.units import parse_unit

LINE_MM = 5.0
RING_MM = 3.2  # radius of the ring round a leg's number
CHECK_MM = 2.6
ARROW_ROOM_MM = 0.6  # beside an arrow's line, kept clear of numbers
MOST_LEGS = 10  # that are told in words
WORDS_MM = 112.0
SWATCH_MM = (9.0, 4.0)


def compose_order(plan: Plan, *, room: Room | None = None, paper: Paper = "A4") -> Scene:
    """The laying order of a plan, at the largest usual scale that fits the sheet.

    Parameters
    ----------
    plan : what is drawn; the order, the rows laid backwards and what to check are its own.
    room : the room it was made for, for doorways without a recess.
    paper : sheet, upright or sideways, whichever gives the larger drawing.
    """
    view, (whole, drawing, block) = view_of_sheet(plan, room, paper)
    legs = legs_of(plan)
    space = LabelSpace(drawing)
    for line in _arrows(view, legs):
        space.take(LineString(line.points).buffer(ARROW_ROOM_MM))
    rings = Group(tuple(_rings(view, legs, space)), layer="legs", title="Legs of the order")
    items = (
        draw_gap(view),
        Group(tuple(_pieces(view, legs)), layer="pieces"),
        draw_lines(view),
        draw_walls(view),
        draw_doorways(view),
        draw_fixed(view),
        Group(tuple(_arrows(view, legs)), layer="arrows", title="Which way each leg goes"),
        rings,
        Group(tuple(_checks(view, space)), layer="check", title="Cannot be tilted in"),
        Group(tuple(_numbers(view, legs, space)), layer="numbers", title="When each piece is laid"),
        Group(tuple(_words(view, legs, block)), layer="words"),
        Group(tuple(_legend(view, legs, block)), layer="legend"),
    )
    title = f"Laying order: {plan.name}"
    return Scene(
        whole.right, whole.bottom, items, title, order_description(plan), view.placement.scale
    )


def order_description(plan: Plan) -> str:
    """The order in words, for people who cannot see the drawing."""
    legs = legs_of(plan)
    told = "; ".join(f"{leg.number}: {leg.words()}" for leg in legs[:MOST_LEGS])
    count = "one leg" if len(legs) == 1 else f"{len(legs)} legs"
    return f"{len(plan.pieces)} pieces in {count}. {told}."


def _pieces(view: PlanView, legs: tuple[Leg, ...]) -> Iterator[Group]:
    for leg in legs:
        style = "laid" if leg.backwards or leg.turned else "piece"
        for piece in leg.pieces:
            shapes = areas(view.on_sheet(piece.outline), style)
            yield Group(shapes, title=f"{piece.lay_order}: {piece.id}", key=piece.id)


def _middle(view: PlanView, piece: Piece) -> Point:
    """A point well inside a piece: the middle of its outline, or of its widest part."""
    shape = view.on_sheet(piece.outline)
    spot = shape.centroid if shape.buffer(-1.0).covers(shape.centroid) else None
    spot = spot or shapely.point_on_surface(shape)
    return float(spot.x), float(spot.y)


# --- legs --------------------------------------------------------------------------------------


def _path(view: PlanView, leg: Leg) -> list[Point]:
    """From row to row through the middle of what the leg lays in each."""
    found: list[Point] = []
    for _, group in groupby(leg.pieces, key=lambda piece: piece.row):
        row = [view.axes.to_plan(piece.outline) for piece in group]
        bounds = shapely.bounds(row).reshape(-1, 4)
        v = float(bounds[:, 1].min() + bounds[:, 3].max()) / 2.0
        u = float(bounds[:, 0].min() + bounds[:, 2].max()) / 2.0
        found.append(view.point(u, v))
    if len(found) == 1:
        return found
    points = shapely.get_coordinates(LineString(found).simplify(view.row_mm)).tolist()
    return [(float(x), float(y)) for x, y in points]


def _arrows(view: PlanView, legs: tuple[Leg, ...]) -> Iterator[Polyline]:
    """From row to row; a leg of a single row along it."""
    for leg in legs:
        path = _path(view, leg)
        if len(path) == 1:
            path = [_middle(view, leg.pieces[0]), _middle(view, leg.pieces[-1])]
        if LineString(path).length > 2.0 * RING_MM:
            yield Polyline(tuple(path), "next", arrow_end=True, arrow_mm=4.0)


def _rings(view: PlanView, legs: tuple[Leg, ...], space: LabelSpace) -> Iterator[Item]:
    """A ring with the leg's number where it begins, on its arrow."""
    taken: list[Polygon] = []
    for leg in legs:
        x, y = _path(view, leg)[0]
        for off in (0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0):
            spot = (
                x + off * 2.4 * RING_MM * view.along[0],
                y + off * 2.4 * RING_MM * view.along[1],
            )
            ring = shapely.Point(spot).buffer(RING_MM)
            if not any(ring.intersects(other) for other in taken):
                taken.append(ring)
                space.take(ring)
                yield circle(spot, RING_MM, "ring")
                yield centered(spot, str(leg.number), TEXT_MM, style="act")
                break


# --- numbers -----------------------------------------------------------------------------------


def _numbers(view: PlanView, legs: tuple[Leg, ...], space: LabelSpace) -> Iterator[Text]:
    """Each piece's number: the first of every stretch first, then whatever finds room."""
    edge, rest = [], []
    for leg in legs:
        for _, group in groupby(leg.pieces, key=lambda piece: (piece.row, piece.stretch)):
            row = list(group)
            edge.append(row[0])
            rest += row[:0:-1]
    if view.row_mm < TEXT_MM:  # rows too narrow for more: the others follow from near to far
        rest = []
    for piece in dict.fromkeys((*edge, *rest)):
        shape = view.on_sheet(piece.outline)
        if not isinstance(shape, Polygon):
            continue
        text = space.place(_number_places(view, piece), inside=shape.buffer(0.6))
        if text:
            yield text


def _number_places(view: PlanView, piece: Piece) -> Iterator[Text]:
    x, y = _middle(view, piece)
    reach = piece.length_mm / view.placement.scale / 2.0
    for angle in (0.0, upright(view.row_angle_deg)):  # level where it fits, else along the row
        for share in (0.0, 0.3, -0.3, 0.6, -0.6, 0.8, -0.8):
            spot = (x + share * reach * view.along[0], y + share * reach * view.along[1])
            yield centered(spot, str(piece.lay_order), TEXT_MM, angle, style="figure", clear=True)


def _checks(view: PlanView, space: LabelSpace) -> Iterator[Item]:
    """A mark on every piece that cannot be tilted in."""
    awkward = {f.where for f in view.plan.findings if f.code == "piece-awkward"}
    for piece in view.plan.pieces:
        if piece.id in awkward:
            spot = _middle(view, piece)
            space.take(shapely.Point(spot).buffer(CHECK_MM))
            yield circle(spot, CHECK_MM, "ring-check")
            yield centered(spot, "!", TEXT_MM, style="check")


# --- below the drawing -------------------------------------------------------------------------


def _words(view: PlanView, legs: tuple[Leg, ...], frame: Frame) -> Iterator[Text]:
    scale = scale_words(view.placement.scale, parse_unit(view.plan.unit))
    yield Text((frame.left, frame.top + LINE_MM), f"Laying order: {view.plan.name}"[:48], TITLE_MM,
               "title")  # fmt: skip
    lines = [f"{leg.number}: {leg.words()}" for leg in legs]
    if len(lines) > MOST_LEGS:
        lines = [
            *lines[: MOST_LEGS - 1],
            f"and {len(lines) - MOST_LEGS + 1} more, by their numbers",
        ]
    lines.append(f"Scale {scale}, print at 100 %")
    for number, line in enumerate(lines):
        column, row = divmod(number, 6)
        place = (frame.left + column * WORDS_MM / 2.0, frame.top + (row + 2.1) * LINE_MM)
        yield Text(place, line, TEXT_MM, "label")


def _legend(view: PlanView, legs: tuple[Leg, ...], frame: Frame) -> Iterator[Item]:
    x, y = frame.left + WORDS_MM, frame.top + LINE_MM + 2.0
    wide, high = SWATCH_MM
    yield centered((x + wide / 2.0, y + high / 2.0), "12", TEXT_MM, style="figure")
    yield _told(x, y, "when the piece is laid")
    y += LINE_MM + 1.0
    yield circle((x + wide / 2.0, y + high / 2.0), RING_MM - 0.6, "ring")
    yield centered((x + wide / 2.0, y + high / 2.0), "1", TEXT_MM, style="act")
    yield _told(x, y, "where a leg begins; follow its arrow")
    if any(leg.backwards or leg.turned for leg in legs):
        y += LINE_MM + 1.0
        outline = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        yield Area(outline, "laid")
        yield Polyline(outline, "joint", closed=True)
        yield _told(x, y, "laid backwards or turned")
    if spline := spline_words(view):
        y += LINE_MM + 1.0
        yield from spline_line(((x, y + high / 2.0), (x + wide, y + high / 2.0)))
        yield _told(x, y, spline)
    if any(finding.code == "piece-awkward" for finding in view.plan.findings):
        y += LINE_MM + 1.0
        yield circle((x + wide / 2.0, y + high / 2.0), CHECK_MM - 0.4, "ring-check")
        yield centered((x + wide / 2.0, y + high / 2.0), "!", TEXT_MM, style="check")
        yield _told(x, y, "cannot be tilted in")


def _told(x: float, y: float, words: str) -> Text:
    place = (x + SWATCH_MM[0] + 2.0, y + SWATCH_MM[1] / 2.0)
    return Text(place, words, TEXT_MM, "label", level="middle")
