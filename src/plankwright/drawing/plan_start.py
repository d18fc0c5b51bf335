"""Where laying begins and which way it goes: the start mark, and rows laid back to the start wall.

Laying begins at the start wall, or at a line within the room: then the mark stands on its row,
and a second arrow on the row before it tells which way the rows go that are laid last.
"""

from collections.abc import Iterator

import shapely
from shapely import Polygon

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import text_box, text_width_mm
from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.scene import Item, Point, Polyline, Text, circle, moved, upright
from plankwright.drawing.style import TEXT_MM
from plankwright.model.plan import Piece, Plan
from plankwright.plan.laying_legs import Leg, legs_of

START_OFF_MM = 5.0  # the start mark stands this far off the start wall
ARROW_MM = 20.0
SHORT_ARROW_MM = 9.0
DOT_MM = 1.2
BESIDE_WORD_MM = 2.0
RIM_MM = 0.8  # round a mark within the room


def draw_start(view: PlanView, space: LabelSpace) -> Iterator[Item]:
    """A dot where the first row begins, the word, and an arrow the way the row is laid."""
    legs = legs_of(view.plan)
    if not legs:
        return
    first = legs[0].pieces[0]
    if first.row == 1:
        yield from _at_wall(view, space)
        return
    yield from _mark(view, space, first, ("start",))
    back = next((leg for leg in legs if leg.backwards or leg.turned), None)
    if back:
        yield from _mark(view, space, back.pieces[0], _last_words(back), turned=back.turned)


def order_told(plan: Plan) -> str:
    """Where laying begins and what comes last, in words; "" where it begins with row 1."""
    legs = legs_of(plan)
    if not legs or legs[0].pieces[0].row == 1:
        return ""
    told = f" Laying begins with row {legs[0].pieces[0].row}"
    last = [leg for leg in legs if leg.backwards or leg.turned]
    if not last:
        return f"{told}."
    spline = "; a spline lies between them" if last[0].turned else ""
    return f"{told}; last come {', '.join(leg.words() for leg in last)}{spline}."


def _last_words(leg: Leg) -> tuple[str, ...]:
    """What stands on the first of the rows that are laid last, the longest words first."""
    begin, end = leg.rows
    rows = f"{begin} to {end} last"
    return (f"rows {rows}", rows, "last") if begin != end else ("last",)


def _at_wall(view: PlanView, space: LabelSpace) -> Iterator[Item]:
    """Outside the start wall, at the near end of row 1."""
    first = [view.axes.to_plan(piece.outline) for piece in view.plan.pieces if piece.row == 1]
    u0, v0 = min(shape.bounds[0] for shape in first), min(shape.bounds[1] for shape in first)
    back = (-view.across[0], -view.across[1])
    wide = text_width_mm("start", TEXT_MM, bold=True)
    for off in (START_OFF_MM, 6.5, 8.0, 10.0):
        spot = moved(view.point(u0, v0), back, off)
        word = Text(
            moved(spot, view.along, 3.0 + wide / 2.0), "start", TEXT_MM, "strong",
            "middle", "middle", upright(view.row_angle_deg),
        )  # fmt: skip
        tail = moved(spot, view.along, wide + 5.0)
        arrow = (tail, moved(tail, view.along, ARROW_MM))
        shapes = (text_box(word), shapely.LineString(arrow).buffer(1.0))
        if all(space.is_free(shape) for shape in shapes) or off == 10.0:
            space.take(*shapes, shapely.Point(spot).buffer(DOT_MM))
            yield circle(spot, DOT_MM, "start")
            yield word
            yield Polyline(arrow, "direction", arrow_end=True, arrow_mm=4.5)
            return


# --- within the room ---------------------------------------------------------------------------


def _stretch(view: PlanView, first: Piece) -> list[Polygon]:
    """The pieces laid with one, in plan axes, from near to far."""
    own = [
        view.axes.to_plan(piece.outline)
        for piece in view.plan.pieces
        if (piece.row, piece.stretch) == (first.row, first.stretch)
    ]
    return sorted(own, key=lambda shape: shape.bounds[0])


def _mark(
    view: PlanView, space: LabelSpace, first: Piece, words: tuple[str, ...], *, turned: bool = False
) -> Iterator[Item]:
    """A dot where a stretch is begun, words and an arrow on one of its longest pieces.

    Parameters
    ----------
    first : the piece of the stretch that is laid first.
    words : what is told, the longest first: the longest is taken that fits on a piece.
    """
    stretch = _stretch(view, first)
    dot = shapely.Point(_begin(view, stretch, turned=turned)).buffer(DOT_MM)
    if not space.holds(dot):  # on another sheet
        return
    space.take(dot)
    yield circle((dot.centroid.x, dot.centroid.y), DOT_MM, "start")
    way = (-view.along[0], -view.along[1]) if turned else view.along
    for told in words:
        for middle, room in _places(view, stretch, turned=turned):
            word, arrow = _word_and_arrow(view, told, middle, way)
            shapes = (text_box(word), shapely.LineString(arrow.points).buffer(RIM_MM))
            fits = _whole_mm(told) <= room or told == words[-1]
            if fits and all(space.is_free(shape) for shape in shapes):
                space.take(*shapes)
                yield word
                yield arrow
                return


def _begin(view: PlanView, stretch: list[Polygon], *, turned: bool) -> Point:
    """Where a stretch is begun: the middle of its near end, or of its far end."""
    u, v0, _, v1 = stretch[0].bounds
    if turned:
        _, v0, u, v1 = stretch[-1].bounds
    return view.point(u, (v0 + v1) / 2.0)


def _word_and_arrow(view: PlanView, words: str, middle: Point, way: Point) -> tuple[Text, Polyline]:
    """Words and an arrow behind them, together in the middle of a piece."""
    half = _whole_mm(words) / 2.0
    at = moved(middle, way, text_width_mm(words, TEXT_MM, bold=True) / 2.0 - half)
    tip = moved(middle, way, half)
    return (
        Text(
            at, words, TEXT_MM, "strong", "middle", "middle", upright(view.row_angle_deg),
            clear=True,
        ),
        Polyline((moved(tip, way, -SHORT_ARROW_MM), tip), "direction", arrow_end=True,
                 arrow_mm=3.0),
    )  # fmt: skip


def _whole_mm(words: str) -> float:
    """Room that words and their arrow take along a row [mm]."""
    return text_width_mm(words, TEXT_MM, bold=True) + BESIDE_WORD_MM + SHORT_ARROW_MM


def _places(
    view: PlanView, stretch: list[Polygon], *, turned: bool
) -> Iterator[tuple[Point, float]]:
    """Middles of the pieces and their length on the sheet, whole boards first, in laying order."""
    order = list(reversed(stretch)) if turned else stretch
    longest = max(shape.bounds[2] - shape.bounds[0] for shape in order)
    ranked = sorted(order, key=lambda shape: shape.bounds[2] - shape.bounds[0] < longest - 1.0)
    for shape in ranked:
        u0, v0, u1, v1 = shape.bounds
        yield view.point((u0 + u1) / 2.0, (v0 + v1) / 2.0), (u1 - u0) / view.placement.scale
