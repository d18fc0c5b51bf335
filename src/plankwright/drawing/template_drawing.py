"""Templates at true size: notches, pipe holes, jambs and slanted ends, to lay on the board.

A template shows the board at its whole width round the places that are sawn out, along to the
right, across downward, as the board lies face up with the start side away. The line R lies at a
whole mark of the tape from an end of the piece. Long straight saw lines are left to the ruler:
what is drawn is where a line turns. Large ones are tiled with register marks; every sheet has two
rulers to check the printer by. A mirrored copy serves to mark the back.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.lettering import carpenter_figure, text_width_mm
from plankwright.drawing.rulers import RULERS_MM, draw_rulers
from plankwright.drawing.scene import Group, Item, Point, Polyline, Scene, Text, circle
from plankwright.drawing.sheet import PAPERS, Frame, Paper, areas
from plankwright.drawing.style import TEXT_MM, TITLE_MM
from plankwright.guide.card_words import end_names, side_names
from plankwright.guide.cards import Card
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import SawCut
from plankwright.units import TAPE_MARK_MM, Unit, format_length

MARGIN_MM = 13.0
HEAD_MM = 34.0  # for title and words at the top
AROUND_MM = 22.0  # of the board shown beside what is sawn out
OVERLAP_MM = 12.0  # tiles lie on each other by this
TURN_MM = 0.5  # a corner nearer to a straight line, or to the rectangle's corner, is none
BETWEEN_MM = 14.0  # between the copies for face and back, where both fit on a sheet
LEAST_SLANT_MM = 2.0  # a smaller slant is marked by the two lengths on its card
SAME_ANGLE_DEG = 0.1
FOOT_MM = 16.0  # below the board, for what line R is
REGISTER_MM = 3.0
LEAST_CROSS_MM = 3.0  # what is smaller bears no X


@dataclass(frozen=True, slots=True)
class Template:
    """What is drawn at true size.

    Parameters
    ----------
    name : what it is called: the piece, or the first of several with the same slant.
    pieces : ids of all pieces it serves.
    outline : the piece, along from its near end and across from its wall side [mm].
    window : the part that is shown, in the same coordinates.
    ends, sides : what the near and the far end, the wall and the room side are called.
    relief : saw lines from a hole to an edge, so that the board can be slipped round a pipe.
    """

    name: str
    pieces: tuple[str, ...]
    outline: Polygon
    window: Frame
    ends: tuple[str, str]
    sides: tuple[str, str]
    relief: tuple[tuple[Point, Point], ...] = ()

    @property
    def length_mm(self) -> float:
        """Of the piece."""
        return float(self.outline.bounds[2])


def templates_of(plan: Plan, cards: Sequence[Card]) -> tuple[Template, ...]:
    """A template for every place that is sawn out, and one for each angle of slanted ends."""
    found: list[Template] = []
    for card in cards:
        if card.shape and card.cut is not None:
            found += _shaped(plan, card, card.cut)
    return (*found, *_slants(plan, cards))


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


# --- what is drawn ----------------------------------------------------------------------------


def _shaped(plan: Plan, card: Card, cut: SawCut) -> Iterator[Template]:
    """A template for each group of places near each other where the saw line turns."""
    outline = Polygon(card.shape[0], card.shape[1:])
    _, _, length, width = outline.bounds
    spans = _spans([u for u, _ in _turns(outline)], length)
    for number, (low, high) in enumerate(spans):
        letter = chr(ord("a") + number) if len(spans) > 1 else ""
        yield Template(
            card.piece + letter, (card.piece,), outline, Frame(low, 0.0, high, width),
            end_names(plan, cut), side_names(plan, cut), tuple(_relief(outline, low, high)),
        )  # fmt: skip


def _turns(outline: Polygon) -> list[Point]:
    """The corners of an outline that are not those of the rectangle round it."""
    plain = outline.simplify(TURN_MM)
    x0, y0, x1, y1 = outline.bounds
    rectangle = shapely.MultiPoint([(x, y) for x in (x0, x1) for y in (y0, y1)])
    corners = [
        (float(x), float(y))
        for ring in (plain.exterior, *plain.interiors)
        for x, y, *_ in ring.coords[:-1]
    ]
    return [c for c in corners if rectangle.distance(shapely.Point(c)) > TURN_MM]


def _spans(places: Iterable[float], length: float) -> list[tuple[float, float]]:
    """Parts of the piece's length round some places; those that fit on one sheet are one."""
    most = min(wide for wide, _ in PAPERS.values()) - 2.0 * MARGIN_MM
    spans: list[tuple[float, float]] = []
    for place in sorted(places):
        start, end = max(place - AROUND_MM, 0.0), min(place + AROUND_MM, length)
        if spans and (start <= spans[-1][1] or end - spans[-1][0] <= most):
            spans[-1] = spans[-1][0], max(end, spans[-1][1])
        else:
            spans.append((start, end))
    return spans


def _relief(outline: Polygon, low: float, high: float) -> Iterator[tuple[Point, Point]]:
    """Two saw lines as far apart as a hole is wide, from it to the nearest edge."""
    _, _, length, width = outline.bounds
    for hole in outline.interiors:
        x0, y0, x1, y1 = hole.bounds
        if x1 < low or x0 > high:
            continue
        x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
        away = {"near": x0, "far": length - x1, "wall": y0, "room": width - y1}
        match min(away, key=lambda edge: away[edge]):
            case "near":
                yield from (((x, level), (0.0, level)) for level in (y0, y1))
            case "far":
                yield from (((x, level), (length, level)) for level in (y0, y1))
            case "wall":
                yield from (((level, y), (level, 0.0)) for level in (x0, x1))
            case _:
                yield from (((level, y), (level, width)) for level in (x0, x1))


def _slants(plan: Plan, cards: Sequence[Card]) -> Iterator[Template]:
    """One template for the pieces whose ends slant by the same angle the same way."""
    groups: dict[tuple[str, float], list[tuple[Card, SawCut]]] = {}
    for card in cards:
        cut = card.cut
        if cut is None or card.shape or cut.slanted_end is None:
            continue
        slant = card.lengths_mm[0] - card.lengths_mm[1]
        if abs(slant) >= LEAST_SLANT_MM:
            angle = math.degrees(math.atan2(slant, card.widths_mm[0]))
            key = cut.slanted_end, round(angle / SAME_ANGLE_DEG)
            groups.setdefault(key, []).append((card, cut))
    ordered = sorted(groups.items(), key=lambda group: group[1][0][0].number)
    for number, ((end, _), members) in enumerate(ordered, 1):
        card, cut = max(members, key=lambda member: max(member[0].widths_mm))
        pieces = tuple(member.piece for member, _ in members)
        yield _slant(plan, card, cut, end, f"slant {number}", pieces)


def _slant(
    plan: Plan, card: Card, cut: SawCut, end: str, name: str, pieces: tuple[str, ...]
) -> Template:
    wall, room = card.lengths_mm
    width, length = max(card.widths_mm), max(wall, room)
    if end == "far":
        ring = ((0.0, 0.0), (wall, 0.0), (room, width), (0.0, width))
        low, high = min(wall, room) - AROUND_MM, length
    else:
        ring = ((length - wall, 0.0), (length, 0.0), (length, width), (length - room, width))
        low, high = 0.0, abs(wall - room) + AROUND_MM
    window = Frame(max(low, 0.0), 0.0, min(high, length), width)
    return Template(
        name, pieces, Polygon(ring), window, end_names(plan, cut), side_names(plan, cut)
    )


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

    def _flip(self) -> tuple[float, float]:
        return (-1.0 if self.mirrored else 1.0), 1.0

    def _origin(self) -> tuple[float, float]:
        shift = self.tile.right if self.mirrored else -self.tile.left
        return self.left + shift, HEAD_MM - self.tile.top

    def figure(self, mm: float) -> str:
        return carpenter_figure(format_length(mm, self.unit))


def _tiles(template: Template, sheet: tuple[float, float]) -> list[Frame]:
    """The window in parts that fit on a sheet, overlapping; those in which a saw line turns."""
    window = template.window
    wide = sheet[0] - 2.0 * MARGIN_MM
    high = sheet[1] - HEAD_MM - RULERS_MM - FOOT_MM
    columns = _parts(window.left, window.right, wide)
    rows = _parts(window.top, window.bottom, high)
    tiles = [Frame(u0, v0, u1, v1) for v0, v1 in rows for u0, u1 in columns]
    turns = shapely.MultiPoint(_turns(template.outline))
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
