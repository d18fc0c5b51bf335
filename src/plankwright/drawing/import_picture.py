"""The picture of an import: what was drawn in pencil, the rooms that were found in it, tinted.

Chalk lines are those that the program added where walls have gaps or openings.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import carpenter_figure, centered, text_box
from plankwright.drawing.scene import Area, Group, Item, Point, Polyline, Scene, Text
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
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.units import Unit, format_area

BLOCK_MM = 24.0
LINE_MM = 5.0
SWATCH_MM = (9.0, 4.0)
LEGEND_STEP_MM = 48.0
SMALLEST_LINE_MM = 0.05  # what is shorter on paper is not drawn


def compose_rooms(found: FoundRooms, name: str, *, paper: Paper = "A4") -> list[Scene]:
    """The rooms of a drawing, each with its number, name and area: a sheet for each storey.

    Parameters
    ----------
    found : with one room or more.
    name : of the drawing.
    """
    storeys = list(dict.fromkeys(room.storey for room in found.rooms))
    if len(storeys) < 2:
        return [_sheet(found, name, paper)]
    # Lines of other storeys would lie across; each shows its own outlines alone.
    return [
        _sheet(
            replace(
                found, rooms=tuple(r for r in found.rooms if r.storey == storey), backdrop=()
            ),
            f"{name}: {storey or 'no storey'}",
            paper,
        )
        for storey in storeys
    ]  # fmt: skip


def _sheet(found: FoundRooms, name: str, paper: Paper) -> Scene:
    shown = shapely.GeometryCollection(
        [room.room.outline for room in found.rooms] + list(found.backdrop)
    )
    sheet, scale = _choose_sheet(shown, paper, found.job_unit)
    drawing, block = _frames(sheet)
    placement = place(shown, drawing, scale, 0.0)
    items = (
        Group(tuple(_tints(found.rooms, placement)), "rooms", "Rooms that were found"),
        Group(tuple(_lines(found.backdrop, placement, "contour")), "drawing", "As it was drawn"),
        Group(tuple(_fixed(found.rooms, placement)), "fixed", "What stands in the rooms"),
        Group(tuple(_outlines(found.rooms, placement)), "outlines", "Outlines of the rooms"),
        Group(tuple(_lines(found.closings, placement, "saw")), "closings", "Lines added"),
        Group(tuple(_doorways(found.rooms, placement)), "doorways", "Doorways"),
        Group(tuple(_names(found, placement, drawing)), "names", "Names of the rooms"),
        Group(tuple(_block(found, name, scale, block)), "title", "Title and legend"),
    )
    return Scene(*sheet, items, f"Rooms found: {name}", _description(found), float(scale))


def _choose_sheet(shown: BaseGeometry, paper: Paper, unit: Unit) -> tuple[tuple[float, float], int]:
    """Sideways or upright, and the scale: the larger drawing."""
    short, long = PAPERS[paper]
    x0, y0, x1, y1 = shown.bounds
    options = [
        (fitting_scale((x1 - x0, y1 - y0), _frames(sheet)[0], scales_for(unit)), rank, sheet)
        for rank, sheet in enumerate(((long, short), (short, long)))
    ]
    scale, _, sheet = min(options)
    return sheet, scale


def _frames(sheet: tuple[float, float]) -> tuple[Frame, Frame]:
    """The frames of the drawing and of the title block."""
    left, right, bottom = MARGIN_MM, sheet[0] - MARGIN_MM, sheet[1] - MARGIN_MM
    top = bottom - BLOCK_MM
    return Frame(left, MARGIN_MM, right, top - 3.0), Frame(left, top, right, bottom)


# --- the rooms --------------------------------------------------------------------------------


def _tints(rooms: Sequence[FoundRoom], placement: Placement) -> Iterator[Item]:
    for room in rooms:
        yield from areas(placement.geometry(room.room.outline), "laid")


def _fixed(rooms: Sequence[FoundRoom], placement: Placement) -> Iterator[Item]:
    for room in rooms:
        for thing in room.room.fixed:
            yield from areas(placement.geometry(thing.outline), "fixed")


def _outlines(rooms: Sequence[FoundRoom], placement: Placement) -> Iterator[Item]:
    for room in rooms:
        outline = placement.geometry(room.room.outline)
        yield from _lines([outline.boundary], None, "outline")


def _doorways(rooms: Sequence[FoundRoom], placement: Placement) -> Iterator[Item]:
    for room in rooms:
        edges = {edge.name: edge for edge in room.room.edges()}
        for door in room.room.doorways:
            edge = edges[door.edge]
            line = shapely.LineString([edge.start, edge.end])
            ends = [
                line.interpolate(at)
                for at in (door.from_corner_mm, door.from_corner_mm + door.width_mm)
            ]
            points = tuple(placement.point((end.x, end.y)) for end in ends)
            yield Polyline(points, "rip")


def _lines(
    shapes: Sequence[BaseGeometry], placement: Placement | None, style: str
) -> Iterator[Polyline]:
    for shape in shapes:
        placed = placement.geometry(shape) if placement else shape
        for part in shapely.get_parts(placed):
            if part.length >= SMALLEST_LINE_MM:
                yield Polyline(tuple((float(x), float(y)) for x, y in part.coords), style)


def _names(found: FoundRooms, placement: Placement, frame: Frame) -> Iterator[Text]:
    """Number, name and area where they fit in the room, else the number alone."""
    space = LabelSpace(frame)
    for room in sorted(found.rooms, key=lambda room: -room.area_m2):
        outline = Polygon(placement.geometry(room.room.outline))
        spots = _spots(outline)
        for lines in _wordings(room, found.job_unit):
            placed = _stack(lines, spots, outline, space)
            if placed:
                yield from placed
                break


def _wordings(room: FoundRoom, unit: Unit) -> Iterator[tuple[str, ...]]:
    area = format_area(room.area_m2, unit)
    name = room.room.name
    number = () if room.id in name.split() else (room.id,)
    if len(name) <= 40 and not name.startswith("room "):
        yield (*number, name, area)
        yield (*number, *_in_two(name), area)
    yield (room.id, area)
    yield (room.id,)


def _in_two(name: str) -> tuple[str, ...]:
    """A name in two lines, as even as its words allow."""
    words = name.split(" ")
    pairs = [(" ".join(words[:i]), " ".join(words[i:])) for i in range(1, len(words))]
    return min(pairs, key=lambda pair: max(map(len, pair)), default=(name,))


def _spots(outline: Polygon) -> list[Point]:
    """Places for words, the roomiest first."""
    x, y = shapely.maximum_inscribed_circle(outline, 0.5).coords[0]
    center = outline.centroid
    x0, y0, x1, y1 = outline.bounds
    shares = sorted((0.5, 0.35, 0.65, 0.2, 0.8), key=lambda share: abs(share - 0.5))
    raster = [(x0 + a * (x1 - x0), y0 + b * (y1 - y0)) for b in shares for a in shares]
    return [(float(x), float(y)), (center.x, center.y), *raster]


def _stack(
    lines: tuple[str, ...], spots: Sequence[Point], outline: Polygon, space: LabelSpace
) -> list[Text]:
    """Lines below each other about the first spot where all of them are free; none if none is."""
    for x, y in spots:
        top = y - (len(lines) - 1) * LINE_MM / 2.0
        texts = [
            centered(
                (x, top + number * LINE_MM), line, TEXT_MM, style="label" if number else "strong"
            )
            for number, line in enumerate(lines)
        ]
        box = shapely.union_all([text_box(text) for text in texts]).envelope
        if outline.covers(box) and space.is_free(box):
            space.take(box)
            return texts
    return []


# --- words below ---------------------------------------------------------------------------------


def _block(found: FoundRooms, name: str, scale: float, frame: Frame) -> Iterator[Item]:
    unit = found.job_unit
    total = format_area(sum(room.area_m2 for room in found.rooms), unit)
    count = len(found.rooms)
    yield Text((frame.left, frame.top + LINE_MM), name[:60], TITLE_MM, "title")
    rooms = "room" if count == 1 else "rooms"
    told = f"{count} {rooms}, {total} in all, {carpenter_figure(scale_words(scale, unit))}"
    yield Text((frame.left, frame.top + 2.2 * LINE_MM), told, TEXT_MM)
    doubt = "Read what was taken, left and doubted in the list; measure before you buy."
    yield Text((frame.left, frame.top + 3.3 * LINE_MM), doubt, TEXT_MM, "note")
    yield from _legend(found, frame)


def _legend(found: FoundRooms, frame: Frame) -> Iterator[Item]:
    told = [("outline of a room", "outline")]
    if found.backdrop:
        told.append(("as it was drawn", "contour"))
    if found.closings:
        told.append(("closed here", "saw"))
    if any(room.room.doorways for room in found.rooms):
        told.append(("doorway", "rip"))
    y = frame.top + 4.5 * LINE_MM
    for number, (words, style) in enumerate(told):
        x = frame.left + number * LEGEND_STEP_MM
        yield Polyline(((x, y - 1.2), (x + SWATCH_MM[0], y - 1.2)), style)
        yield Text((x + SWATCH_MM[0] + 2.0, y), words, TEXT_MM)
    if any(room.room.fixed for room in found.rooms):
        x = frame.left + len(told) * LEGEND_STEP_MM
        wide, high = SWATCH_MM
        corners = ((x, y - high), (x + wide, y - high), (x + wide, y), (x, y))
        yield Area(corners, "fixed")
        yield Text((x + wide + 2.0, y), "post or stair", TEXT_MM)


def _description(found: FoundRooms) -> str:
    """What the picture shows, for people who cannot see it."""
    named = ", ".join(
        f"{room.room.name} {format_area(room.area_m2, found.job_unit)}" for room in found.rooms[:40]
    )
    more = f" and {len(found.rooms) - 40} more" if len(found.rooms) > 40 else ""
    return f"{len(found.rooms)} rooms: {named}{more}."
