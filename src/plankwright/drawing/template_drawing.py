"""Templates at true size: notches, pipe holes, jambs and slanted ends, to lay on the board.

A template shows the board at its whole width round the places that are sawn out, as it lies face
up with the start side away: its near end on the left or, laid right to left, on the right. The
line R lies at a
whole mark of the tape from an end of the piece. Long straight saw lines are left to the ruler:
what is drawn is where a line turns. Large ones are tiled with register marks; every sheet has two
rulers to check the printer by. A mirrored copy serves to mark the back.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.lettering import carpenter_figure, text_width_mm
from plankwright.drawing.rulers import RULERS_MM, draw_rulers
from plankwright.drawing.scene import Group, Item, Point, Polyline, Scene, Text, circle
from plankwright.drawing.sheet import PAPERS, Frame, Paper, areas
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.guide.templates import Template, turns_of
from plankwright.units import TAPE_MARK_MM, Unit, format_length

MARGIN_MM = 13.0
HEAD_MM = 34.0  # for title and words at the top
OVERLAP_MM = 12.0  # tiles lie on each other by this
BETWEEN_MM = 14.0  # between the copies for face and back, where both fit on a sheet
FOOT_MM = 16.0  # below the board, for what line R is
REGISTER_MM = 3.0
LEAST_CROSS_MM = 3.0  # what is smaller bears no X


def compose_template(template: Template, unit: Unit, paper: Paper) -> tuple[Scene, ...]:
    """A template and its mirrored copy on as many upright sheets as they need.

    Both stand side by side on one sheet where they fit.
    """
    sheet = PAPERS[paper]
    tiles = _tiles(template, sheet)
    half = (sheet[0] - 2.0 * MARGIN_MM - BETWEEN_MM) / 2.0
    if len(tiles) == 1 and tiles[0].width <= half:
        views = (
            _View(template, tiles[0], unit, False),
            _View(template, tiles[0], unit, True, MARGIN_MM + half + BETWEEN_MM),
        )
        return (_sheet(views, f"Template {template.name}", sheet),)
    return tuple(
        _sheet((_View(template, tile, unit, mirrored),), _title(template, mirrored, n, tiles),
               sheet, tiles)
        for mirrored in (False, True)
        for n, tile in enumerate(tiles, 1)
    )  # fmt: skip


def _title(template: Template, mirrored: bool, number: int, tiles: Sequence[Frame]) -> str:
    back = ", MIRRORED for the back" if mirrored else ""
    part = f", sheet {number} of {len(tiles)}" if len(tiles) > 1 else ""
    return f"Template {template.name}{back}{part}"


# --- sheets -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _View:
    template: Template
    tile: Frame  # in the piece's coordinates
    unit: Unit
    mirrored: bool
    left: float = MARGIN_MM  # where the tile begins on the sheet

    def on_sheet(self, shape: BaseGeometry) -> BaseGeometry:
        return shapely.transform(shape, lambda uv: uv * self._flip() + self._origin())

    def point(self, along: float, across: float) -> Point:
        spot = self.on_sheet(shapely.Point(along, across))
        return float(spot.x), float(spot.y)

    @property
    def leftward(self) -> bool:
        """Whether lengths from the near end run to the left on this sheet."""
        return self.mirrored == self.template.near_left

    def _flip(self) -> tuple[float, float]:
        return (-1.0 if self.leftward else 1.0), 1.0

    def _origin(self) -> tuple[float, float]:
        shift = self.tile.right if self.leftward else -self.tile.left
        return self.left + shift, HEAD_MM - self.tile.top

    def figure(self, mm: float) -> str:
        return carpenter_figure(format_length(mm, self.unit))


def _tiles(template: Template, sheet: tuple[float, float]) -> list[Frame]:
    """The window in parts that fit on a sheet, overlapping; those in which a saw line turns."""
    left, right = template.window
    wide = sheet[0] - 2.0 * MARGIN_MM
    high = sheet[1] - HEAD_MM - RULERS_MM - FOOT_MM
    columns = _parts(left, right, wide)
    rows = _parts(0.0, float(template.outline.bounds[3]), high)
    tiles = [Frame(u0, v0, u1, v1) for v0, v1 in rows for u0, u1 in columns]
    turns = shapely.MultiPoint(turns_of(template.outline))
    return [t for t in tiles if box(t.left, t.top, t.right, t.bottom).intersects(turns)] or tiles


def _parts(low: float, high: float, most: float) -> list[tuple[float, float]]:
    count = max(1, math.ceil((high - low - OVERLAP_MM) / (most - OVERLAP_MM)))
    step = (high - low - OVERLAP_MM) / count if count > 1 else high - low
    size = step + OVERLAP_MM if count > 1 else step
    return [(low + i * step, low + i * step + size) for i in range(count)]


def _sheet(
    views: Sequence[_View], title: str, sheet: tuple[float, float], tiles: Sequence[Frame] = ()
) -> Scene:
    copies = tuple(
        Group(
            (
                Group(
                    tuple(_board(view)), layer="board", title="What is kept and what is sawn out"
                ),
                Group(tuple(_reference(view)), layer="reference", title="Line R"),
                Group(tuple(_registers(view, tiles)), layer="register", title="Register marks"),
            ),
            layer="back" if view.mirrored else "face",
        )
        for view in views
    )
    foot = Frame(MARGIN_MM, sheet[1] - RULERS_MM, sheet[0] - MARGIN_MM, sheet[1])
    words = Group(tuple(_words(views[0].template, title, sheet)), layer="words")
    items = (words, *copies, draw_rulers(foot))
    return Scene(*sheet, items, title, _description(views[0]), 1.0)


def _words(template: Template, title: str, sheet: tuple[float, float]) -> Iterator[Item]:
    pieces = ", ".join(template.pieces)
    told = f"pieces {pieces}" if len(template.pieces) > 1 else f"piece {pieces}"
    yield Text((MARGIN_MM, 15.0), title, TITLE_MM, "title")
    width = sheet[0] - 2.0 * MARGIN_MM
    lines = (f"True size, for {told}.", "Crossed out: saw it away, outside the line.")
    for place, line in enumerate(lines):
        spot = (MARGIN_MM, 20.4 + 4.8 * place)
        yield Text(spot, _shortened(line, width), TEXT_MM, "label")


def _shortened(line: str, width_mm: float) -> str:
    while text_width_mm(line, TEXT_MM) > width_mm:
        line = line.rsplit(",", 1)[0].rstrip("…") + "…" if "," in line else line[:-2] + "…"
    return line


def _board(view: _View) -> Iterator[Item]:
    """The board in the tile: what is sawn out crossed, what is kept clear."""
    side = "back, face down (mirrored)" if view.mirrored else "face up"
    yield Text((view.left, HEAD_MM - 1.6), side, TEXT_MM, "strong")
    tile = box(view.tile.left, view.tile.top, view.tile.right, view.tile.bottom)
    kept = view.template.outline.intersection(tile)
    _, _, length, width = view.template.outline.bounds
    sawn = box(0.0, 0.0, length, width).difference(view.template.outline).intersection(tile)
    yield from areas(view.on_sheet(sawn), "waste")
    for part in shapely.get_parts(sawn):
        x0, y0, x1, y1 = view.on_sheet(part).bounds
        if min(x1 - x0, y1 - y0) >= LEAST_CROSS_MM:
            yield Polyline(((x0, y0), (x1, y1)), "crossed")
            yield Polyline(((x0, y1), (x1, y0)), "crossed")
    yield from areas(view.on_sheet(kept), "kept")
    for start, end in view.template.relief:
        line = shapely.LineString([start, end]).intersection(tile)
        if line.length > 0.0:
            points = tuple((float(x), float(y)) for x, y in view.on_sheet(line).coords)
            yield Polyline(points, "saw")
    yield from _side_names(view)


def _side_names(view: _View) -> Iterator[Item]:
    """What each long edge is, inside it where it is kept, and the relief cut."""
    middle = (view.tile.left + view.tile.right) / 2.0
    _, _, _, width = view.template.outline.bounds
    for name, edge, inward in ((view.template.sides[0], 0.0, 6.0),
                               (view.template.sides[1], width, -6.0)):  # fmt: skip
        if view.tile.top - 1e-6 <= edge <= view.tile.bottom + 1e-6:
            x, y = view.point(middle, edge)
            yield Text((x, y + inward), name.removeprefix("the "), TEXT_MM, "label", "middle",
                       "middle", clear=True)  # fmt: skip
    for start, end in view.template.relief[:1]:
        x, y = view.point((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
        yield Text((x + 2.0, y), "relief cut", TEXT_MM, "act", "start", "middle", clear=True)


def _reference(view: _View) -> Iterator[Item]:
    """Line R, at a whole mark of the tape from the nearer end of the piece, and its figure."""
    mark = float(TAPE_MARK_MM[view.unit])
    length = view.template.length_mm
    from_far = length - view.tile.right < view.tile.left
    if from_far:
        distance = math.ceil((length - view.tile.right + 4.0) / mark) * mark
        along, end = length - distance, view.template.ends[1]
    else:
        distance = math.ceil((view.tile.left + 4.0) / mark) * mark
        along, end = distance, view.template.ends[0]
    x, top = view.point(along, view.tile.top)
    _, bottom = view.point(along, view.tile.bottom)
    yield Polyline(((x, top), (x, bottom + 4.0)), "saw")
    for number, words in enumerate((f"R: {view.figure(distance)} from", end)):
        yield Text((view.left, bottom + 8.4 + 4.6 * number), words, TEXT_MM, "act")


def _registers(view: _View, tiles: Sequence[Frame]) -> Iterator[Item]:
    """A ringed cross at each end of a seam, at the same place of the board on both sheets."""
    seams: list[tuple[float, float]] = []
    for other in tiles:
        if other is view.tile:
            continue
        shared = _shared(view.tile, other)
        if shared is not None:
            u0, v0, u1, v1 = shared
            seams += [((u0 + u1) / 2.0, v0), ((u0 + u1) / 2.0, v1)] if u1 - u0 < v1 - v0 else [
                (u0, (v0 + v1) / 2.0), (u1, (v0 + v1) / 2.0)
            ]  # fmt: skip
    for u, v in dict.fromkeys(seams):
        x, y = view.point(u, v)
        yield circle((x, y), REGISTER_MM / 2.0, "error")
        yield Polyline(((x - REGISTER_MM, y), (x + REGISTER_MM, y)), "dimension")
        yield Polyline(((x, y - REGISTER_MM), (x, y + REGISTER_MM)), "dimension")


def _shared(one: Frame, other: Frame) -> tuple[float, float, float, float] | None:
    left, right = max(one.left, other.left), min(one.right, other.right)
    top, bottom = max(one.top, other.top), min(one.bottom, other.bottom)
    if right - left < 1e-6 or bottom - top < 1e-6:
        return None
    return left, top, right, bottom


def _description(view: _View) -> str:
    template = view.template
    return (
        f"True size, to lay on piece {', '.join(template.pieces)}: from "
        f"{format_length(view.tile.left, view.unit)} to "
        f"{format_length(view.tile.right, view.unit)} from {template.ends[0]}."
    )
