"""The trim plan: every length bought as a bar with its pieces, and their numbers on the walls."""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from plankwright.application.buy_trim import TrimWork
from plankwright.buying.trim_pieces import TrimPiece
from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import carpenter_figure, text_width_mm
from plankwright.drawing.scene import Area, Group, Item, Point, Polyline, Scene, Text, circle
from plankwright.drawing.sheet import (
    MARGIN_MM,
    PAPERS,
    Frame,
    Paper,
    Placement,
    areas,
    fitting_scale,
    place,
    scales_for,
)
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.model.plan import Plan
from plankwright.model.trim import Trim
from plankwright.plan.trim_sticks import Stick
from plankwright.units import Unit, format_length

BAR_MM = 6.0
STEP_MM = 15.0
LINE_MM = 5.0
SLANT_MM = 2.4  # how far a miter leans on the picture
ROOM_SHARE = 0.42  # of the sheet, for the room
RING_MM = 3.0
HOW_TO_READ = "Bars as seen from above, the wall behind. Lengths from long point to long point."


@dataclass(frozen=True, slots=True)
class _View:
    work: TrimWork
    trim: Trim
    plan: Plan
    unit: Unit

    def figure(self, mm: float) -> str:
        return carpenter_figure(format_length(mm, self.unit, rounding="up"))


def compose_trim(work: TrimWork, trim: Trim, plan: Plan, unit: Unit, paper: Paper = "A4") -> Scene:
    """The room with numbered runs above, sticks with their cuts below; upright.

    As many sticks as the sheet holds are drawn: :func:`compose_trim_pages` draws them all.
    """
    return next(_pages(_View(work, trim, plan, unit), paper))


def compose_trim_pages(
    work: TrimWork, trim: Trim, plan: Plan, unit: Unit, paper: Paper = "A4"
) -> tuple[Scene, ...]:
    """The room and every stick, on as many sheets as they need."""
    return tuple(_pages(_View(work, trim, plan, unit), paper))


def _pages(view: _View, paper: Paper) -> Iterator[Scene]:
    wide, high = PAPERS[paper]
    split = MARGIN_MM + (high - 2 * MARGIN_MM) * ROOM_SHARE
    room = Frame(MARGIN_MM, MARGIN_MM, wide - MARGIN_MM, split)
    title, drawn = f"Trim: {view.plan.name}", 0
    while drawn < len(view.work.cuts.sticks) or not drawn:
        first = drawn == 0
        below = Frame(room.left, split if first else room.top, room.right, high - MARGIN_MM)
        end = drawn + _room_for(below, len(view.work.cuts.sticks) - drawn)
        sticks = Group(
            tuple(_sticks(view, below, drawn, end)), layer="sticks",
            title="What is cut from each length",
        )  # fmt: skip
        where = Group(tuple(_room(view, room, title)), layer="room", title="Where each piece goes")
        yield Scene(wide, high, (where, sticks) if first else (sticks,), title, _description(view))
        drawn = end


# --- the room ---------------------------------------------------------------------------------


def _room(view: _View, frame: Frame, title: str) -> Iterator[Item]:
    yield Text((frame.left, frame.top + TITLE_MM), title, TITLE_MM, "title")
    inner = Frame(
        frame.left + 10.0, frame.top + TITLE_MM + 10.0, frame.right - 10.0, frame.bottom - 8.0
    )
    low_x, low_y, high_x, high_y = view.plan.room.bounds
    size = (high_x - low_x, high_y - low_y)
    placement = place(view.plan.room, inner, fitting_scale(size, inner, scales_for(view.unit)), 0.0)
    outline = placement.geometry(view.plan.room)
    yield from areas(outline, "outline")
    for thing in view.plan.fixed:
        inside = shapely.intersection(thing.outline, view.plan.room)
        yield from areas(placement.geometry(inside), "fixed")
    yield from _runs(view, placement)
    yield from _numbers(view, placement, frame)


def _runs(view: _View, placement: Placement) -> Iterator[Item]:
    for run in view.work.runs:
        yield Polyline((placement.point(run.start), placement.point(run.end)), "rip")


def _numbers(view: _View, placement: Placement, frame: Frame) -> Iterator[Item]:
    """A ringed number for every piece, beside its run on the side of the floor."""
    space = LabelSpace(frame)
    for label, spot in _spots(view, placement):
        candidates = [Text(spot, label, TEXT_MM, "strong", "middle", "middle")]
        placed = space.place(candidates, rim_mm=0.6)
        if placed is not None:
            yield circle(spot, max(RING_MM, text_width_mm(label, TEXT_MM) / 2 + 1.0), "ring")
            yield placed


def _spots(view: _View, placement: Placement) -> Iterator[tuple[str, Point]]:
    by_run = _pieces_by_run(view)
    for run, pieces in zip(view.work.runs, by_run, strict=True):
        (x0, y0), (x1, y1) = placement.point(run.start), placement.point(run.end)
        length = max(run.length_mm / placement.scale, 1e-6)
        # the floor is at the left hand; on the sheet, y runs down
        left = ((y1 - y0) / length, -(x1 - x0) / length)
        for number, piece in enumerate(pieces):
            share = 1.0 - (number + 0.5) / len(pieces)
            x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
            yield piece.label, (x + left[0] * 5.0, y + left[1] * 5.0)


def _pieces_by_run(view: _View) -> list[list[TrimPiece]]:
    """The pieces of each run: a run ends with the piece whose right end is its near end."""
    waiting = list(view.work.pieces)
    found: list[list[TrimPiece]] = []
    for _ in view.work.runs:
        mine = [waiting.pop(0)]
        while mine[-1].right == "scarf":
            mine.append(waiting.pop(0))
        found.append(mine)
    return found


# --- the sticks -------------------------------------------------------------------------------


def _room_for(frame: Frame, left: int) -> int:
    """How many of the sticks left a frame holds, and a line that says how many are more."""
    most = int((frame.height - 2.0 * LINE_MM) / STEP_MM)
    return left if left <= most else most - 1


def _sticks(view: _View, frame: Frame, first: int, end: int) -> Iterator[Item]:
    sticks = view.work.cuts.sticks
    longest = max(stick.stock.length_mm for stick in sticks)
    scale = longest / frame.width
    yield Text((frame.left, frame.top + LINE_MM - 1.0), HOW_TO_READ, TEXT_MM, "note")
    for step, number in enumerate(range(first, end), 1):
        at = (frame.left, frame.top + LINE_MM + step * STEP_MM)
        yield from _stick(view, sticks[number], number + 1, at, scale)
    if end < len(sticks):
        words = f"{len(sticks) - end} lengths more: see the next sheet or the list"
        yield Text((frame.left, frame.bottom - 1.0), words, TEXT_MM, "label")


def _stick(view: _View, stick: Stick, number: int, at: Point, scale: float) -> Iterator[Item]:
    """One bar: pieces clear with their ends leaning, what is left crossed out."""
    x, y = at
    right = x + stick.stock.length_mm / scale
    bar = ((x, y - BAR_MM), (right, y - BAR_MM), (right, y), (x, y))
    yield Area(bar, "waste")
    names = []
    for piece in stick.pieces:
        end = x + piece.blank_mm / scale
        yield Area(_shape(piece, x, end, y), "kept")
        if end - x > text_width_mm(piece.label, TEXT_MM, bold=True) + 3.0:
            middle = ((x + end) / 2.0, y - BAR_MM / 2.0)
            yield Text(middle, piece.label, TEXT_MM, "strong", "middle", "middle")
        names.append(f"{piece.label}: {view.figure(piece.long_mm)}")
        x = end + view.trim.kerf_mm / scale
    if right - x > BAR_MM:
        yield Polyline(((x, y - BAR_MM), (right, y)), "crossed")
        yield Polyline(((x, y), (right, y - BAR_MM)), "crossed")
    head = f"Length {number}, {view.figure(stick.stock.length_mm)}. "
    yield Text((at[0], y + 4.2), _fitting(head, names), TEXT_MM, "figure")


def _fitting(head: str, names: list[str]) -> str:
    """Pieces and their lengths, or their numbers alone where the line is too short for that."""
    told = ", ".join(names)
    if text_width_mm(head + told, TEXT_MM) <= PAPERS["A4"][0] - 2 * MARGIN_MM:
        return head + told
    labels = ", ".join(name.partition(":")[0] for name in names)
    return f"{head}Pieces {labels}: lengths in the list"


def _shape(piece: TrimPiece, x: float, end: float, y: float) -> tuple[Point, ...]:
    """The piece seen from above, wall side up: miters lean the way they are sawn."""
    lean = min(SLANT_MM, (end - x) / 4.0)
    top_left = top_right = bottom_left = bottom_right = 0.0
    if piece.left in ("coped", "inside miter", "scarf"):
        bottom_left = lean
    elif piece.left == "outside miter":
        top_left = lean
    if piece.right in ("coped", "inside miter"):
        bottom_right = lean
    elif piece.right in ("outside miter", "scarf"):
        top_right = lean
    return (
        (x + top_left, y - BAR_MM), (end - top_right, y - BAR_MM),
        (end - bottom_right, y), (x + bottom_left, y),
    )  # fmt: skip


def _description(view: _View) -> str:
    told = "; ".join(
        f"length {number} of {format_length(stick.stock.length_mm, view.unit)}: "
        + ", ".join(f"piece {p.label} {format_length(p.long_mm, view.unit)}" for p in stick.pieces)
        for number, stick in enumerate(view.work.cuts.sticks, 1)
    )
    return f"Trim of the room, numbered round its walls, and what is cut from each length: {told}."
