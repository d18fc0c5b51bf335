"""Outlines in a DXF drawing that may be rooms: closed lines on a layer, else between wall lines."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from plankwright.files.drawing_marks import Marks, Stroke, extent
from plankwright.files.dxf_layers import (
    GROSS_SHARE,
    LEAST_SCORE,
    RoomLayer,
    count,
    opening_layers,
    room_layers,
    wall_layers,
)
from plankwright.files.tangle import is_tangle
from plankwright.files.wall_lines import Closing, Enclosed, enclose
from plankwright.model.findings import Finding
from plankwright.units import Unit, format_length

MOST_LISTED = 8
COMPARE = "Compare the picture with the room before you buy."


@dataclass(frozen=True, slots=True)
class Outline:
    """An outline that may be a room, before it is named [mm]."""

    polygon: Polygon
    origin: str
    closings: tuple[Closing, ...] = ()


@dataclass(frozen=True, slots=True)
class Looked:
    """What looking for outlines came to [mm]."""

    outlines: tuple[Outline, ...]
    told: tuple[Finding, ...]
    layers: tuple[str, ...]
    closings: tuple[Closing, ...] = ()


def look_for_outlines(marks: Marks, where: str, layer: str | None, unit: Unit) -> Looked:
    """Outlines from the layer that was chosen or is the likeliest, else from wall lines.

    Parameters
    ----------
    marks : of the drawing, in millimeters.
    unit : that lengths are told in.
    """
    layers = room_layers(marks, marks.words)
    if layer is not None:
        chosen = next((one for one in layers if one.name == layer and one.outlines), None)
        if chosen:
            return _from_outlines(chosen, [], where)
        return _from_walls(marks, [layer], where, unit)
    likely = [one for one in layers if one.score >= LEAST_SCORE]
    if likely:
        return _from_outlines(likely[0], layers, where)
    return _from_walls(marks, wall_layers(marks), where, unit)


def _from_outlines(layer: RoomLayer, all_layers: list[RoomLayer], where: str) -> Looked:
    outlines, gross = _nested(layer)
    reasons = "; ".join(layer.reasons)
    told = [
        Finding(
            "import-took",
            where,
            f"rooms were taken from the outlines on layer {layer.name} ({reasons})",
            "Choose another layer with --layer if these are not the rooms." if all_layers else "",
        )
    ]
    if gross:
        told.append(
            Finding(
                "import-left",
                where,
                f"left out on it, since they lie round others: {count(gross, 'outline')}",
            )
        )
    others = [one for one in all_layers if one.outlines and one.name != layer.name]
    if others:
        listed = "; ".join(f"{o.name}: {', '.join(o.reasons)}" for o in others[:MOST_LISTED])
        told.append(
            Finding("import-left", where, f"closed outlines on other layers were left: {listed}")
        )
    return Looked(tuple(outlines), tuple(told), (layer.name,))


def _nested(layer: RoomLayer) -> tuple[list[Outline], int]:
    """Outlines within others as their holes; outlines that others fill are left out."""
    found: list[Outline] = []
    gross, polygons, used = 0, layer.outlines, set[int]()
    within = _within(polygons)
    for i in sorted(range(len(polygons)), key=lambda i: -polygons[i].area):
        if i in used:
            continue
        inside = [j for j in within.get(i, ()) if j not in used]
        holes = shapely.union_all([polygons[j] for j in inside])
        if holes.area > GROSS_SHARE * polygons[i].area:
            gross += 1
            continue
        used |= {i, *inside}
        shape = polygons[i].difference(holes) if inside else polygons[i]
        if isinstance(shape, Polygon):
            found.append(Outline(shape, layer.strokes[i].origin))
    place = {stroke.origin: number for number, stroke in enumerate(layer.strokes)}
    return sorted(found, key=lambda outline: place[outline.origin]), gross


def _within(polygons: Sequence[Polygon]) -> dict[int, list[int]]:
    """Which outlines lie in which; nothing is told of a tangle."""
    if is_tangle(polygons):
        return {}
    outer, inner = shapely.STRtree(polygons).query(polygons, predicate="contains_properly")
    found: dict[int, list[int]] = {}
    for i, j in zip(outer, inner, strict=True):
        found.setdefault(int(i), []).append(int(j))
    return found


def _from_walls(marks: Marks, layers: list[str], where: str, unit: Unit) -> Looked:
    """Outlines that bare wall lines enclose."""
    walls = [s for s in marks.strokes if s.layer in set(layers)]
    beside = set(opening_layers(marks)) - set(layers)
    openings = [s.line() for s in marks.strokes if s.layer in beside]
    enclosed = enclose([stroke.line() for stroke in walls], openings)
    origin = f"wall lines on {listed(layers)}"
    outlines = tuple(Outline(room, origin, _closings_of(room, enclosed)) for room in enclosed.rooms)
    told = _told_of_walls(walls, layers, enclosed, where, unit)
    return Looked(outlines, told, (*layers, *sorted(beside)), enclosed.closings)


def _told_of_walls(
    walls: Sequence[Stroke], layers: list[str], enclosed: Enclosed, where: str, unit: Unit
) -> tuple[Finding, ...]:
    wide, deep = extent(list(walls))
    told = [
        Finding(
            "import-took",
            where,
            f"no outlines of rooms are drawn: rooms were sought between {len(walls)} wall lines on "
            f"{listed(layers)}, which extend over {wide / 1e3:.3f} x {deep / 1e3:.3f} m",
            COMPARE,
        )
    ]
    slips = [c for c in enclosed.closings if c.is_slip]
    openings = [c for c in enclosed.closings if not c.is_slip]
    if slips:
        sizes = listed([f"{format_length(c.gap_mm, unit)} at {_spot(c)}" for c in slips])
        told.append(
            Finding("import-gap-closed", where, f"small gaps between walls were closed: {sizes}")
        )
    if openings:
        sizes = listed([format_length(c.gap_mm, unit) for c in openings])
        told.append(
            Finding(
                "import-gap-closed",
                where,
                f"{count(len(openings), 'opening')} in walls closed along the wall's face: {sizes}",
                "Rooms end at these lines; which of them are doors is told where a leaf is drawn.",
            )
        )
    return tuple(told)


def _spot(closing: Closing) -> str:
    x, y = closing.line.coords[0]
    return f"({x / 1e3:.2f}, {y / 1e3:.2f}) m"


def listed(words: Sequence[str]) -> str:
    """The first of some words, and how many more there are."""
    more = f" and {len(words) - MOST_LISTED} more" if len(words) > MOST_LISTED else ""
    return ", ".join(words[:MOST_LISTED]) + more


def _closings_of(room: Polygon, enclosed: Enclosed) -> tuple[Closing, ...]:
    rim = room.exterior.buffer(1.0)
    return tuple(closing for closing in enclosed.closings if rim.covers(closing.line))
