"""The choices on one sheet: a small drawing of each, its figures and its reason, and the chart."""

import math
from collections.abc import Iterator, Sequence

import shapely

from plankwright.application.choices import Choice, Choices
from plankwright.drawing.lettering import carpenter_figure, text_width_mm
from plankwright.drawing.plan_pieces import draw_pieces
from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.plan_walls import draw_doorways, draw_fixed, draw_gap, draw_walls
from plankwright.drawing.scene import Group, Item, Polyline, Scene, Text, moved
from plankwright.drawing.sheet import MARGIN_MM, PAPERS, Frame, Paper, place, turned_size
from plankwright.drawing.start_line_chart import draw_charts
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.model.room import Room
from plankwright.units import Unit, format_length

COLUMNS = 2
LINE_MM = 4.6
HEAD_MM = 15.0
CHART_MM = 52.0
GUTTER_MM = 6.0
WALL_ROOM_MM = 3.0  # round a small drawing, for its walls
ARROW_MM = 9.0


def compose_choices(
    found: Choices, *, name: str, unit: Unit, room: Room | None = None, paper: Paper = "A4"
) -> Scene:
    """Every choice as a small drawing with what speaks for it, the first one upper left.

    Parameters
    ----------
    name : of the job.
    room : for doorways that the floor does not run into.
    """
    width, height = PAPERS[paper]
    sheet = Frame(MARGIN_MM, MARGIN_MM, width - MARGIN_MM, height - MARGIN_MM)
    cells = _cells(len(found.choices), sheet)
    room_for = _most_lines(found.choices, cells[0].width)
    items = [
        *_head(found, name, sheet),
        *(
            _cell(choice, cell, unit, room, room_for)
            for choice, cell in zip(found.choices, cells, strict=True)
        ),
        *draw_charts(found, _chart_frame(sheet), unit),
    ]
    told = " ".join(f"{choice.number}: {choice.title}. {choice.reason}" for choice in found.choices)
    return Scene(width, height, tuple(items), f"Choices: {name}", told)


def compose_choice(choice: Choice, width_mm: float, height_mm: float, room: Room | None) -> Scene:
    """The small drawing of one choice alone, for a page."""
    frame = Frame(0.0, 0.0, width_mm, height_mm)
    drawing = _drawing(choice, frame, room)
    return Scene(width_mm, height_mm, (drawing,), f"Choice {choice.number}", choice.reason)


def _head(found: Choices, name: str, sheet: Frame) -> Iterator[Item]:
    yield Text((sheet.left, sheet.top + TITLE_MM), f"Choices: {name}", TITLE_MM, "title")
    words = f"{found.tried} ways of laying were looked at. None of these beats another in all."
    yield Text((sheet.left, sheet.top + TITLE_MM + LINE_MM + 0.6), words, TEXT_MM, "note")


def _cells(count: int, sheet: Frame) -> list[Frame]:
    """A frame for each choice, in rows from the upper left."""
    rows = max(math.ceil(count / COLUMNS), 2)
    top = sheet.top + HEAD_MM
    high = (_chart_frame(sheet).top - top - rows * GUTTER_MM) / rows
    wide = (sheet.width - (COLUMNS - 1) * GUTTER_MM) / COLUMNS
    cells = []
    for index in range(count):
        row, column = divmod(index, COLUMNS)
        left = sheet.left + column * (wide + GUTTER_MM)
        upper = top + row * (high + GUTTER_MM)
        cells.append(Frame(left, upper, left + wide, upper + high))
    return cells


def _chart_frame(sheet: Frame) -> Frame:
    return Frame(sheet.left, sheet.bottom - CHART_MM, sheet.right, sheet.bottom)


def _heading(choice: Choice, width_mm: float) -> list[str]:
    head = f"{choice.number}  {carpenter_figure(choice.title)}"
    return broken_lines(head, width_mm, bold=True)[:2]


def _reason(choice: Choice, width_mm: float) -> list[str]:
    return broken_lines(carpenter_figure(choice.reason), width_mm)


def _most_lines(choices: Sequence[Choice], width_mm: float) -> tuple[int, int]:
    """Lines of the longest heading and reason: room for these in all makes one scale of all."""
    return (
        max(len(_heading(choice, width_mm)) for choice in choices),
        max(len(_reason(choice, width_mm)) for choice in choices),
    )


def _cell(
    choice: Choice, frame: Frame, unit: Unit, room: Room | None, room_for: tuple[int, int]
) -> Group:
    heading, reason = _heading(choice, frame.width), _reason(choice, frame.width)
    figures = [figures_line(choice, unit), joints_line(choice, unit)]
    below = frame.bottom - (len(figures) + room_for[1]) * LINE_MM
    upper = frame.top + room_for[0] * LINE_MM + 1.0
    drawing = Frame(frame.left, upper, frame.right, below - 1.0)
    return Group(
        (
            *_lines(heading, frame.left, frame.top + LINE_MM - 1.0, "strong"),
            _drawing(choice, drawing, room),
            *_lines(figures, frame.left, below + LINE_MM - 0.6, "label"),
            *_lines(reason, frame.left, below + 3 * LINE_MM - 0.6, "note"),
        ),
        title=f"Choice {choice.number}: {choice.title}",
        key=f"choice-{choice.number}",
    )


def figures_line(choice: Choice, unit: Unit) -> str:
    """Boards, packs and the narrowest row."""
    found = choice.merits
    narrowest = carpenter_figure(format_length(found.narrowest_row_mm, unit))
    packs = "pack" if found.packs == 1 else "packs"
    return f"{found.boards} boards, {found.packs} {packs}; narrowest row {narrowest}"


def joints_line(choice: Choice, unit: Unit) -> str:
    """Cuts, rips, joints' looks and taper."""
    found = choice.merits
    told = f"{found.crosscuts} cuts, {found.rips} rips, {found.joints.h_joints} H-joints"
    if found.taper_mm >= 1.0:
        told += f", taper {carpenter_figure(format_length(found.taper_mm, unit))}"
    return told


def broken_lines(text: str, width_mm: float, *, bold: bool = False) -> list[str]:
    """A text broken at its blanks into lines that fit a width on paper."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, TEXT_MM, bold=bold) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _lines(lines: list[str], left: float, top: float, style: str) -> Iterator[Text]:
    for number, line in enumerate(lines):
        yield Text((left, top + number * LINE_MM), line, TEXT_MM, style)


def _drawing(choice: Choice, frame: Frame, room: Room | None) -> Group:
    """The plan as large as the frame lets it be: hatches, walls, and where row 1 begins."""
    plan = choice.plan
    shown = shapely.union_all([plan.room, *(recess.outline for recess in plan.recesses)])
    inner = Frame(
        frame.left + WALL_ROOM_MM,
        frame.top + WALL_ROOM_MM,
        frame.right - WALL_ROOM_MM,
        frame.bottom - WALL_ROOM_MM,
    )
    size = turned_size(shown, 0.0)
    scale = max(size[0] / inner.width, size[1] / inner.height)
    view = PlanView(plan, place(shown, inner, scale, 0.0), room)
    return Group(
        (
            draw_gap(view),
            draw_pieces(view),
            Group(tuple(_joint_lines(view)), layer="joints"),
            draw_walls(view),
            draw_doorways(view),
            draw_fixed(view),
            Group(tuple(_start_mark(view)), layer="start"),
        ),
        title="Drawing",
    )


def _joint_lines(view: PlanView) -> Iterator[Item]:
    """The outline of every piece as one thin line: row lines and joints at this size are one."""
    for piece in view.plan.pieces:
        ring = view.on_sheet(piece.outline.exterior)
        yield Polyline(tuple((float(x), float(y)) for x, y, *_ in ring.coords), "dimension")


def _start_mark(view: PlanView) -> Iterator[Item]:
    """An arrow the way rows are laid, along the first row that has a piece worth it."""
    plan = view.plan
    long = [piece for piece in plan.pieces if piece.length_mm >= plan.board.length_mm / 2.0]
    first = min(long, key=lambda piece: (piece.row, piece.stretch, piece.seat), default=None)
    if first is None:
        return
    middle = view.on_sheet(first.outline.centroid)
    length = min(ARROW_MM, 0.8 * first.length_mm / view.placement.scale)
    tail = moved((float(middle.x), float(middle.y)), view.along, -length / 2.0)
    tip = moved(tail, view.along, length)
    yield Polyline((tail, tip), "error", arrow_end=True)
