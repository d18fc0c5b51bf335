"""What stands below a floor plan: what it is, what its hatches mean, a scale bar."""

from collections.abc import Iterator
from typing import cast

from plankwright.application.plan_figures import plan_figures
from plankwright.drawing.lettering import carpenter_figure, text_width_mm
from plankwright.drawing.plan_spline import spline_line, spline_words
from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.scene import Area, Group, Item, Point, Polyline, Text, circle
from plankwright.drawing.sheet import Frame, scale_words
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.units import MM_PER, Unit

LINE_MM = 5.0
BLOCK_MM = 7.0 * LINE_MM
UNIT_WORDS: dict[Unit, str] = {
    "mm": "mm", "cm": "cm", "m": "m", "in": "inches", "ft": "feet and inches",
}  # fmt: skip
WORDS_MM = 112.0  # width of the column of words
SWATCH_MM = (9.0, 4.0)
SWATCH_STEP_MM = 42.0
LEGEND_ROWS = 4
NAMELESS = "Room"

LEGEND: tuple[tuple[str, str | None, str], ...] = (
    ("whole board", None, "piece"),
    ("starter", "starter", "piece"),
    ("end piece", "end-piece", "piece"),
    ("wall to wall", "wall-to-wall", "piece"),
    ("ripped edge", None, "rip"),
    ("fixed thing", None, "fixed"),
)


def draw_title_block(view: PlanView, frame: Frame) -> Group:
    """The block in its frame: words at the left, legend and scale bar at the right."""
    right = Frame(frame.left + WORDS_MM, frame.top, frame.right, frame.bottom)
    return Group(
        (
            Group(tuple(_words(view, frame)), layer="words"),
            Group(
                (*_legend(right), *_spline(view, right)),
                layer="legend",
                title="What the hatches mean",
            ),
            Group(tuple(_check_mark(view, right)), layer="check", title="Check this"),
            Group(tuple(_scale_bar(view, right)), layer="scale", title="Scale bar"),
        ),
        layer="title",
    )


def _words(view: PlanView, frame: Frame) -> Iterator[Text]:
    title = _shortened(view.plan.name.strip() or NAMELESS, TITLE_MM, bold=True)
    yield Text((frame.left, frame.top + LINE_MM), title, TITLE_MM, "title")
    for number, line in enumerate(_lines(view), start=1):
        place = (frame.left, frame.top + LINE_MM + 0.2 + number * LINE_MM)
        yield Text(place, _shortened(line, TEXT_MM), TEXT_MM, "label")


def _lines(view: PlanView) -> Iterator[str]:
    plan = view.plan
    figures = plan_figures(plan)
    scale = scale_words(view.placement.scale, cast(Unit, plan.unit))
    yield f"Floor plan {carpenter_figure(scale)}, print at 100 %"
    yield f"Board {_plain_size(view)}, {_gaps(view)}"
    packs = f"{_count(figures.packs, 'pack')} of {plan.board.per_pack}"
    laid = plan.laying.laid.replace("-", " ")
    yield f"{_count(figures.boards, 'board')} ({packs}), laid {laid}"
    if figures.first_row_mm and figures.last_row_mm:
        yield _row_widths(view, figures.first_row_mm, figures.last_row_mm, figures.rows)
    yield f"On cut pieces: length in {UNIT_WORDS[cast(Unit, plan.unit)]}; a letter marks an"
    yield "offcut and the board it came from"


def _plain_size(view: PlanView) -> str:
    board = view.plan.board
    length = view.figure(board.length_mm, with_unit=False, down=False)
    return f"{length} × {view.figure(board.width_mm, down=False)}"


def _gaps(view: PlanView) -> str:
    told = [f"gap {view.figure(view.plan.rules.gap_mm, down=False)}"]
    told += [f"{name} {view.figure(gap, down=False)}" for name, gap in view.plan.edges]
    return ", ".join(told)


def _row_widths(
    view: PlanView, first: tuple[float, float], last: tuple[float, float], rows: int
) -> str:
    start = view.plan.laying.start_wall
    return f"Row 1 at wall {start}: {_range(view, first)}, row {rows}: {_range(view, last)}"


def _range(view: PlanView, size: tuple[float, float]) -> str:
    low, high = (view.figure(side) for side in size)
    return low if low == high else f"{view.figure(size[0], with_unit=False)} to {high}"


def _legend(frame: Frame) -> Iterator[Item]:
    wide, high = SWATCH_MM
    for number, (words, hatch, style) in enumerate(LEGEND):
        x, y = _swatch_place(frame, number)
        outline = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        ground = "piece" if style == "rip" else style
        yield Area(outline, ground, hatch=hatch)
        yield Polyline(outline, "joint", closed=True)
        if style == "rip":
            yield Polyline(((x, y + high - 0.45), (x + wide, y + high - 0.45)), "rip")
        yield Text((x + wide + 2.0, y + high / 2.0), words, TEXT_MM, "label", level="middle")


def _check_mark(view: PlanView, frame: Frame) -> Iterator[Item]:
    """What the ringed marks mean, where there are any."""
    marked = _marked(view)
    if marked:
        x, y = _swatch_place(frame, len(LEGEND))
        middle = (x + SWATCH_MM[0] / 2.0, y + SWATCH_MM[1] / 2.0)
        yield circle(middle, 2.2, "ring-check")
        yield Text(middle, "!", TEXT_MM, "check", "middle", "middle")
        words = f"check this ({len(marked)})"
        yield Text((x + SWATCH_MM[0] + 2.0, middle[1]), words, TEXT_MM, level="middle")


def _marked(view: PlanView) -> set[str]:
    """Pieces with a ringed mark."""
    return {piece.id for piece in view.plan.pieces} & {f.where for f in view.plan.findings}


def _spline(view: PlanView, frame: Frame) -> Iterator[Item]:
    """What the line of a spline means, where there is one."""
    words = spline_words(view)
    if words:
        x, y = _swatch_place(frame, len(LEGEND) + bool(_marked(view)))
        level = y + SWATCH_MM[1] / 2.0
        yield from spline_line(((x, level), (x + SWATCH_MM[0], level)))
        yield Text((x + SWATCH_MM[0] + 2.0, level), words, TEXT_MM, "label", level="middle")


def _swatch_place(frame: Frame, number: int) -> Point:
    row, column = divmod(number, 2)
    return frame.left + column * SWATCH_STEP_MM, frame.top + 1.5 + row * (LINE_MM + 0.8)


def _scale_bar(view: PlanView, frame: Frame) -> Iterator[Item]:
    """Alternating fields of a round length, its figures above."""
    step_mm, fields, unit = _bar_step(view)
    step = step_mm / view.placement.scale
    beside = frame.width >= 2 * SWATCH_STEP_MM + 60.0
    x = frame.left + (2 * SWATCH_STEP_MM + 4.0 if beside else 0.0)
    y = frame.top + (9.0 if beside else 31.0)
    for number in range(fields):
        style = "scale-black" if number % 2 == 0 else "scale-white"
        left, right = x + number * step, x + (number + 1) * step
        yield Area(((left, y), (right, y), (right, y + 1.6), (left, y + 1.6)), style)
    for number in (0, fields):
        told = f"{number * step_mm / float(MM_PER[unit]):g}"
        spot: Point = (x + number * step, y - 1.2)
        if number:
            yield Text((spot[0] + 0.0, spot[1]), f"{told} {unit}", TEXT_MM, "figure", "end")
        else:
            yield Text(spot, told, TEXT_MM, "figure")


def _bar_step(view: PlanView) -> tuple[float, int, Unit]:
    """Length of a field [mm of room], number of fields, and the unit of the figures."""
    inches = view.plan.unit in ("in", "ft")
    unit: Unit = "ft" if inches else "m"
    for fields in (5, 4, 2):
        for step in (50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1):
            step_mm = step * float(MM_PER[unit])
            if 28.0 <= fields * step_mm / view.placement.scale <= 56.0:
                return step_mm, fields, unit
    return 10.0 * float(MM_PER[unit]), 1, unit


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _shortened(words: str, size_mm: float, *, bold: bool = False) -> str:
    """Words cut to the column's width."""
    room = WORDS_MM - 4.0
    if text_width_mm(words, size_mm, bold=bold) <= room:
        return words
    while words and text_width_mm(words + "…", size_mm, bold=bold) > room:
        words = words[:-1]
    return words.rstrip() + "…"
