"""Words and figures of the floor plan, each placed where nothing else stands.

Placed in order of need: row numbers on both walls, the start mark, corners, lengths of the walls,
names of fixed things, what to check, figures of cut pieces. What finds no room is left out; the
cut list has every figure.
"""

import math
from collections.abc import Iterable, Iterator
from typing import cast

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import text_box, text_width_mm
from plankwright.drawing.plan_pieces import RIP_MM
from plankwright.drawing.plan_view import WALL_MM, PlanView, piece_kinds
from plankwright.drawing.plan_walls import openings, wall_band
from plankwright.drawing.scene import (
    Dimension,
    Group,
    Item,
    Point,
    Polyline,
    Text,
    circle,
    upright,
)
from plankwright.drawing.style import TEXT_MM
from plankwright.model.plan import Piece
from plankwright.model.room import Edge
from plankwright.plan.saw_cuts import offcut_letters

CAPITAL_MM = 0.73 * TEXT_MM
RING_MM = 2.5  # radius of the ring round a corner's letter
START_OFF_MM = 5.0  # the start mark stands this far off the start wall
ARROW_MM = 20.0
DIMENSION_OFFS_MM = (10.5, 6.5, 14.0)  # tried in this order
OVERALL_OFF_MM = 15.0
NUDGES_MM = (0.0, 0.7, -0.7, 1.4, -1.4)


def draw_labels(view: PlanView, space: LabelSpace) -> Group:
    """Every label of a floor plan that finds room."""
    if not view.plan.pieces:
        return Group((), layer="labels")
    walls = view.grown(view.wall_shift_mm + WALL_MM)
    layers = (
        Group(tuple(_row_numbers(view, space, walls)), layer="numbers", title="Row numbers"),
        Group(tuple(_start(view, space)), layer="start", title="Start here, lay this way"),
        Group(tuple(_corners(view, space, walls)), layer="corners", title="Corners"),
        Group(tuple(_dimensions(view, space, walls)), layer="dimensions", title="Wall lengths"),
        Group(tuple(_doorway_names(view, space, walls)), layer="doorways"),
        Group(tuple(_fixed_names(view, space)), layer="names"),
        Group(tuple(_checks(view, space)), layer="check", title="Check this"),
        Group(tuple(_piece_figures(view, space)), layer="figures"),
    )
    return Group(layers, layer="labels")


# --- row numbers -----------------------------------------------------------------------------


def _row_numbers(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Text]:
    rows: dict[int, list[Polygon]] = {}
    for piece in view.plan.pieces:
        rows.setdefault(piece.row, []).append(view.axes.to_plan(piece.outline))
    for row in _numbered(sorted(rows), view.row_mm):
        near = min(rows[row], key=lambda shape: shape.bounds[0])
        far = max(rows[row], key=lambda shape: shape.bounds[2])
        for shape, u, way in ((near, near.bounds[0], -1.0), (far, far.bounds[2], 1.0)):
            end = view.point(u, _end_level(shape, u))
            text = space.place(_number_places(view, str(row), end, way), keep_off=walls)
            if text:
                yield text


def _numbered(rows: list[int], row_mm: float) -> list[int]:
    """The rows that get a number: all, or every second, fifth, tenth where rows are narrow.

    First and last come first, so that they find room.
    """
    needed = CAPITAL_MM + 0.6
    step = next((n for n in (1, 2, 5, 10, 20, 50) if n * row_mm >= needed), 100)
    return [rows[0], rows[-1], *(row for row in rows[1:-1] if row % step == 0)]


def _end_level(shape: Polygon, u: float) -> float:
    """The middle of a piece at its end, across the row."""
    at_end = shape.intersection(shapely.box(u - 5.0, -1e9, u + 5.0, 1e9))
    _, v0, _, v1 = at_end.bounds
    return float(v0 + v1) / 2.0


def _number_places(view: PlanView, number: str, end: Point, way: float) -> Iterator[Text]:
    step = (view.along[0] * way, view.along[1] * way)
    half = _half_extent(number, step)
    for out in (1.0, 2.0, 3.5, 5.0, 7.0):
        for nudge in NUDGES_MM:
            off = view.wall_shift_mm + WALL_MM + out + half
            yield _middle_text(_moved(_moved(end, step, off), view.across, nudge), number)


def _half_extent(words: str, step: Point) -> float:
    """How far level words reach from their middle in a direction."""
    wide = text_width_mm(words, TEXT_MM)
    return abs(step[0]) * wide / 2.0 + abs(step[1]) * CAPITAL_MM / 2.0


# --- start corner and laying direction -------------------------------------------------------


def _start(view: PlanView, space: LabelSpace) -> Iterator[Item]:
    """A dot at the start corner, the word, and an arrow the way the rows are laid."""
    first = [view.axes.to_plan(piece.outline) for piece in view.plan.pieces if piece.row == 1]
    if not first:
        return
    u0, v0 = min(shape.bounds[0] for shape in first), min(shape.bounds[1] for shape in first)
    back = (-view.across[0], -view.across[1])
    wide = text_width_mm("start", TEXT_MM, bold=True)
    for off in (START_OFF_MM, 6.5, 8.0, 10.0):
        spot = _moved(view.point(u0, v0), back, off)
        word = Text(
            _moved(spot, view.along, 3.0 + wide / 2.0), "start", TEXT_MM, "strong",
            "middle", "middle", upright(view.row_angle_deg),
        )  # fmt: skip
        tail = _moved(spot, view.along, wide + 5.0)
        arrow = (tail, _moved(tail, view.along, ARROW_MM))
        shapes = (text_box(word), shapely.LineString(arrow).buffer(1.0))
        if all(space.is_free(shape) for shape in shapes) or off == 10.0:
            space.take(*shapes, shapely.Point(spot).buffer(1.2))
            yield circle(spot, 1.2, "start")
            yield word
            yield Polyline(arrow, "direction", arrow_end=True, arrow_mm=4.5)
            return


# --- corners and walls -----------------------------------------------------------------------


def _corners(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Item]:
    """A letter in a ring outside each corner, those of long walls first."""
    edges = view.edges()
    before = {edge.end: edge for edge in edges}
    ordered = sorted(
        edges, key=lambda edge: -round(max(edge.length_mm, before[edge.start].length_mm))
    )
    for edge in ordered:
        name = edge.name.split("-")[0]
        radius = max(RING_MM, text_width_mm(name, TEXT_MM) / 2.0 + 0.5)
        for spot in _corner_places(view, before[edge.start], edge, radius):
            ring = shapely.Point(spot).buffer(radius)
            if space.is_free(ring, walls):
                space.take(ring)
                yield circle(spot, radius, "ring")
                yield _middle_text(spot, name)
                break


def _corner_places(view: PlanView, before: Edge, after: Edge, radius: float) -> Iterator[Point]:
    """Places round a corner, straight out of it first."""
    corner = view.placement.point(after.start)
    ways = [_unit_step(corner, view.placement.point(other)) for other in (before.start, after.end)]
    inner = (ways[0][0] + ways[1][0], ways[0][1] + ways[1][1])
    straight = math.hypot(*inner) < 0.2
    out = math.atan2(-inner[1], -inner[0]) if not straight else math.atan2(ways[0][0], -ways[0][1])
    start = view.wall_shift_mm + WALL_MM + 0.8 + radius
    for distance in (start, start + 1.5, start + 3.5):
        for turn in (0.0, 30.0, -30.0, 60.0, -60.0, 180.0, 150.0, -150.0):
            angle = out + math.radians(turn)
            yield corner[0] + distance * math.cos(angle), corner[1] + distance * math.sin(angle)


def _dimensions(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Dimension]:
    """The length of each wall outside it, then the room over all where walls do not tell it."""
    told: list[tuple[float, float]] = []
    for edge in sorted(view.edges(), key=lambda edge: -round(edge.length_mm)):
        words = view.figure(edge.length_mm, down=False)
        start, end = (view.placement.point(point) for point in (edge.start, edge.end))
        if math.dist(start, end) < text_width_mm(words, TEXT_MM) + 3.0:
            continue
        side = _outside(view, start, end)
        placed = space.place_dimension(
            (Dimension(start, end, words, side * off, TEXT_MM) for off in DIMENSION_OFFS_MM), walls
        )
        if placed:
            told.append((end[0] - start[0], end[1] - start[1]))
            yield placed
    yield from _overall(view, space, walls, told)


def _overall(
    view: PlanView, space: LabelSpace, walls: BaseGeometry, told: list[tuple[float, float]]
) -> Iterator[Dimension]:
    """Width and height of the whole room, unless a wall as long has its figure."""
    x0, y0, x1, y1 = view.outline.bounds
    sides = (
        (((x0, y1), (x1, y1)), -1.0, 0), (((x0, y0), (x1, y0)), 1.0, 0),
        (((x0, y1), (x0, y0)), 1.0, 1), (((x1, y1), (x1, y0)), -1.0, 1),
    )  # fmt: skip
    done = {
        axis for axis in (0, 1) for way in told if abs(way[axis]) > 0.97 * (x1 - x0, y1 - y0)[axis]
    }
    for (start, end), side, axis in sides:
        if axis in done:
            continue
        words = view.figure(math.dist(start, end) * view.placement.scale, down=False)
        offs = (OVERALL_OFF_MM, 12.0, 9.0, 6.0)
        placed = space.place_dimension(
            (Dimension(start, end, words, side * off, TEXT_MM) for off in offs), walls
        )
        if placed:
            done.add(axis)
            yield placed


def _outside(view: PlanView, start: Point, end: Point) -> float:
    """1 when the outside of a wall is on the left of the way along it, else -1."""
    way = _unit_step(start, end)
    left = (way[1], -way[0])
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    return -1.0 if view.outline.covers(shapely.Point(_moved(middle, left, 0.05))) else 1.0


# --- inside the room -------------------------------------------------------------------------


def _doorway_names(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Text]:
    """Each opening is named outside its wall."""
    doors = openings(view)
    for door in shapely.get_parts(doors):
        beyond, within = door.difference(view.outline), door.intersection(view.outline)
        if beyond.is_empty or within.is_empty:
            continue
        spot = beyond.centroid.coords[0]
        way = _unit_step(within.centroid.coords[0], spot)
        places = _round_places(spot, "doorway", way)
        text = space.place(places, keep_off=walls.union(doors))
        if text:
            yield text


def _round_places(spot: Point, words: str, way: Point) -> Iterator[Text]:
    """Places round a spot, first on one side of it; level or along the wall."""
    for distance in (4.0, 5.5, 7.5, 10.0, 13.0, 15.0):
        for turn in (0.0, 30.0, -30.0, 60.0, -60.0):
            angle = math.atan2(way[1], way[0]) + math.radians(turn)
            step = (math.cos(angle), math.sin(angle))
            level_off = distance - 2.0 + _half_extent(words, step)
            yield _middle_text(_moved(spot, step, level_off), words)
            yield _middle_text(_moved(spot, step, distance), words, 90.0)


def _fixed_names(view: PlanView, space: LabelSpace) -> Iterator[Text]:
    band = wall_band(view)
    for thing in view.plan.fixed:
        shape = cast(Polygon, view.on_sheet(thing.outline).intersection(view.outline))
        if shape.is_empty:
            continue
        words = thing.name or thing.kind
        middle = shape.representative_point().coords[0]
        text = space.place(
            [_middle_text(shape.centroid.coords[0], words), _middle_text(middle, words),
             _middle_text(middle, words, 90.0)],
            inside=shape,
        )  # fmt: skip
        text = text or space.place(_beside(shape, words), keep_off=band.union(shape))
        if text:
            yield text


def _beside(shape: Polygon, words: str) -> Iterator[Text]:
    """Places beside a small thing, with a rim of paper."""
    x0, y0, x1, y1 = shape.bounds
    x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    wide = text_width_mm(words, TEXT_MM) / 2.0
    for off in (1.2, 2.5):
        for spot in (
            (x1 + off + wide, y), (x0 - off - wide, y),
            (x, y0 - off - CAPITAL_MM / 2.0), (x, y1 + off + CAPITAL_MM / 2.0),
        ):  # fmt: skip
            yield _middle_text(spot, words, clear=True)


def _checks(view: PlanView, space: LabelSpace) -> Iterator[Item]:
    """A ringed mark on each piece that a finding names."""
    named = {finding.where for finding in view.plan.findings}
    for piece in view.plan.pieces:
        if piece.id not in named:
            continue
        spot = view.on_sheet(piece.outline).representative_point()
        ring = spot.buffer(2.2)
        if space.is_free(ring):
            space.take(ring)
            x, y = spot.coords[0]
            yield circle((x, y), 2.2, "ring-check")
            yield _middle_text((x, y), "!", style="check")


def _piece_figures(view: PlanView, space: LabelSpace) -> Iterator[Text]:
    """Length and offcut letters on cut pieces, the letters alone where there is less room."""
    leaves = offcut_letters(view.plan)
    angle = upright(view.row_angle_deg)
    kinds = piece_kinds(view.plan)
    for piece in view.plan.pieces:
        if kinds[piece.id] == "whole":
            continue
        shape = _clear_inside(view, piece)
        spots = _spots_along(view, piece)
        letters = " ".join(word for word in (piece.label or "", leaves.get(piece.id, "")) if word)
        figure = view.figure(piece.length_mm, with_unit=False)
        texts = [f"{figure} {letters}".strip(), letters] if letters else [figure]
        places = (_middle_text(spot, words, angle, clear=True) for words in texts for spot in spots)
        text = space.place(places, inside=shape)
        if text:
            yield text


def _clear_inside(view: PlanView, piece: Piece) -> Polygon:
    """The part of a piece that is clear of its lines, the heavy ones of a rip too."""
    ripped = "cut" in (piece.wall_side, piece.room_side)
    inside = view.on_sheet(piece.outline).buffer(-RIP_MM if ripped else -0.3)
    return cast(Polygon, inside)


def _spots_along(view: PlanView, piece: Piece) -> list[Point]:
    """The middle of a piece, then places left and right of it."""
    u0, v0, u1, v1 = view.axes.to_plan(piece.outline).bounds
    shares = (0.5, 0.35, 0.65, 0.25, 0.75)
    return [view.point(u0 + (u1 - u0) * share, (v0 + v1) / 2.0) for share in shares]


# --- small steps -----------------------------------------------------------------------------


def _middle_text(
    spot: Iterable[float],
    words: str,
    angle_deg: float = 0.0,
    *,
    clear: bool = False,
    style: str = "label",
) -> Text:
    x, y = spot
    return Text((x, y), words, TEXT_MM, style, "middle", "middle", angle_deg, clear)


def _moved(point: Point, way: Point, by: float) -> Point:
    return point[0] + way[0] * by, point[1] + way[1] * by


def _unit_step(start: Point, end: Point) -> Point:
    length = math.dist(start, end) or 1.0
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length
