"""Words and figures inside the floor plan: doorways, fixed things, what to check, cut pieces."""

import math
from collections.abc import Iterator
from typing import cast

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.drawing.labels import LabelSpace
from plankwright.drawing.lettering import CAPITAL_EM, centered, half_extent_mm, text_width_mm
from plankwright.drawing.plan_pieces import RIP_MM
from plankwright.drawing.plan_view import PlanView, piece_kinds
from plankwright.drawing.plan_walls import breaks, openings, wall_band
from plankwright.drawing.scene import Group, Item, Point, Text, circle, moved, step_between, upright
from plankwright.drawing.style import TEXT_MM
from plankwright.model.plan import Piece
from plankwright.plan.saw_cuts import offcut_letters

CAPITAL_MM = CAPITAL_EM * TEXT_MM
CHECK_MM = 2.2  # radius of the ring round a mark


def draw_names(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> tuple[Group, ...]:
    """Every name and figure that finds room, in order of need."""
    return (
        Group(tuple(_doorway_names(view, space, walls)), layer="doorways"),
        Group(tuple(_fixed_names(view, space)), layer="names"),
        Group(tuple(_checks(view, space)), layer="check", title="Check this"),
        Group(tuple(_piece_figures(view, space)), layer="figures"),
    )


def _doorway_names(view: PlanView, space: LabelSpace, walls: BaseGeometry) -> Iterator[Text]:
    """Each opening is named outside its wall."""
    doors, parted = openings(view), breaks(view)
    for door in shapely.get_parts(doors):
        beyond, within = door.difference(view.outline), door.intersection(view.outline)
        if beyond.is_empty or within.is_empty:
            continue
        spot = beyond.centroid.coords[0]
        way = step_between(within.centroid.coords[0], spot)
        words = "T-molding" if door.intersects(parted) else "doorway"
        places = _round_places(spot, words, way)
        text = space.place(places, keep_off=walls.union(doors))
        if text:
            yield text


def _round_places(spot: Point, words: str, way: Point) -> Iterator[Text]:
    """Places round a spot, first on one side of it; level or along the wall."""
    for distance in (4.0, 5.5, 7.5, 10.0, 13.0, 15.0):
        for turn in (0.0, 30.0, -30.0, 60.0, -60.0):
            angle = math.atan2(way[1], way[0]) + math.radians(turn)
            step = (math.cos(angle), math.sin(angle))
            level_off = distance - 2.0 + half_extent_mm(words, TEXT_MM, step)
            yield _word(moved(spot, step, level_off), words)
            yield _word(moved(spot, step, distance), words, 90.0)


def _fixed_names(view: PlanView, space: LabelSpace) -> Iterator[Text]:
    band = wall_band(view)
    for thing in view.plan.fixed:
        shape = cast(Polygon, view.on_sheet(thing.outline).intersection(view.outline))
        if shape.is_empty:
            continue
        words = thing.name or thing.kind
        middle = shape.representative_point().coords[0]
        text = space.place(
            [_word(shape.centroid.coords[0], words), _word(middle, words),
             _word(middle, words, 90.0)],
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
            yield _word(spot, words, clear=True)


def _checks(view: PlanView, space: LabelSpace) -> Iterator[Item]:
    """A ringed mark on each piece that a finding names."""
    named = {finding.where for finding in view.plan.findings}
    for piece in view.plan.pieces:
        if piece.id not in named:
            continue
        spot = view.on_sheet(piece.outline).representative_point()
        ring = spot.buffer(CHECK_MM)
        if space.is_free(ring):
            space.take(ring)
            x, y = spot.coords[0]
            yield circle((x, y), CHECK_MM, "ring-check")
            yield _word((x, y), "!", style="check")


def _piece_figures(view: PlanView, space: LabelSpace) -> Iterator[Text]:
    """Length and offcut letters on cut pieces, the letters alone where there is less room."""
    if view.row_mm < CAPITAL_MM + 0.6:
        return
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
        places = (_word(spot, words, angle, clear=True) for words in texts for spot in spots)
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


def _word(
    spot: Point, words: str, angle_deg: float = 0.0, *, clear: bool = False, style: str = "label"
) -> Text:
    return centered(spot, words, TEXT_MM, angle_deg, style=style, clear=clear)
