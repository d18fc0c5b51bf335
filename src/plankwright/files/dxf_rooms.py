"""Rooms from a DXF drawing: from closed outlines where there are any, else from bare wall lines."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import shapely
from shapely import LineString, Polygon

from plankwright.errors import FileError, InputError
from plankwright.files.drawing_marks import Marks, Stroke, Swing, extent
from plankwright.files.drawing_units import (
    Evidence,
    gather,
    likeliest,
    settle,
)
from plankwright.files.dxf_layers import (
    GROSS_SHARE,
    LEAST_SCORE,
    MOST_CANDIDATES,
    RoomLayer,
    chosen_layer,
    count,
    opening_layers,
    room_layers,
    wall_layers,
)
from plankwright.files.dxf_marks import read_dxf
from plankwright.files.room_names import (
    RoomWords,
    SizeLabel,
    is_room_name,
    name_rooms,
    size_labels,
)
from plankwright.files.tangle import is_tangle
from plankwright.files.wall_lines import Closing, Enclosed, enclose
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.model.room import Doorway, Room
from plankwright.units import MM_PER, Unit, format_length

FLAT_MM = 0.5  # no point of a curve lies farther from the chords drawn for it
NEAR_MM = 150.0  # a door swing's hinge to the end of its opening
LIKE_SHARE = 0.3  # a door leaf to the width of its opening
SIZE_SLACK = 0.03  # a written size to the drawn one
MOST_LISTED = 8


@dataclass(frozen=True, slots=True)
class _Outline:
    """An outline that may be a room, before it is named [mm]."""

    polygon: Polygon
    origin: str
    closings: tuple[Closing, ...] = ()


@dataclass(frozen=True, slots=True)
class _Looked:
    """What looking for outlines came to [mm]."""

    outlines: tuple[_Outline, ...]
    told: tuple[Finding, ...]
    layers: tuple[str, ...]
    closings: tuple[Closing, ...] = ()


def read_dxf_rooms(path: Path, *, unit: Unit | None = None, layer: str | None = None) -> FoundRooms:
    """The rooms of a DXF file.

    Parameters
    ----------
    unit : of its coordinates, where the person knows better than the file.
    layer : of the rooms' outlines or of the walls, instead of a guess.

    Raises
    ------
    FileError : it cannot be read, or nothing tells its unit.
    """
    drawing, where = read_dxf(path), path.name
    rough = drawing.marks(None)
    if not rough.strokes:
        raise FileError(
            "no line is drawn in this file" + _told(rough.faults),
            where=str(path),
            remedy="Save the drawing again with its walls, in model space.",
        )
    if layer is not None:
        layer = chosen_layer(layer, rough, where)
    settled, about_unit = _settle_unit(rough, where, unit, layer)
    mm_per = float(MM_PER[settled])
    marks = drawing.marks(FLAT_MM / mm_per).scaled(mm_per)
    looked = _look(marks, where, layer)
    rooms, about_rooms = _named(looked, marks, settled, where)
    findings = (
        *(Finding("import-damaged", where, fault, _COMPARE) for fault in marks.faults),
        *about_unit,
        *looked.told,
        *_left(marks, where),
        *about_rooms,
    )
    shown = set(looked.layers)
    return FoundRooms(
        rooms,
        settled,
        findings,
        tuple(s.line() for s in marks.strokes if s.layer in shown),
        tuple(closing.line for closing in looked.closings),
    )


_COMPARE = "Compare the picture with the room before you buy."


def _told(faults: Sequence[str]) -> str:
    return f" ({'; '.join(faults[:3])})" if faults else ""


# --- the unit ---------------------------------------------------------------------------------


def _settle_unit(
    rough: Marks, where: str, named: Unit | None, layer: str | None
) -> tuple[Unit, tuple[Finding, ...]]:
    """The unit: a first guess finds rooms, and what they are then settles it."""
    if named is not None:
        return settle(Evidence(), where, named)
    first = likeliest(gather(rough, _closed(rough)))
    evidence = _evidence(rough, first, layer)
    better = likeliest(evidence)
    if better != first:
        evidence = _evidence(rough, better, layer)
    return settle(evidence, where, None)


def _closed(marks: Marks) -> list[Polygon]:
    outlines = (s.polygon() for s in marks.strokes if s.closed)
    return list(islice((outline for outline in outlines if outline.is_valid), MOST_CANDIDATES))


def _evidence(rough: Marks, unit: Unit, layer: str | None) -> Evidence:
    """The evidence with the rooms that are found when the drawing is read in a unit."""
    mm_per = float(MM_PER[unit])
    looked = _look(rough.scaled(mm_per), "", layer)
    rooms = [shapely.transform(o.polygon, lambda xy: xy / mm_per) for o in looked.outlines]
    return gather(rough, rooms, size_labels(rough.words))


# --- outlines ---------------------------------------------------------------------------------


def _look(marks: Marks, where: str, layer: str | None) -> _Looked:
    """Outlines from the layer that was chosen or is the likeliest, else from wall lines."""
    layers = room_layers(marks, marks.words)
    if layer is not None:
        chosen = next((one for one in layers if one.name == layer and one.outlines), None)
        return _from_outlines(chosen, [], where) if chosen else _from_walls(marks, [layer], where)
    likely = [one for one in layers if one.score >= LEAST_SCORE]
    if likely:
        return _from_outlines(likely[0], layers, where)
    return _from_walls(marks, wall_layers(marks), where)


def _from_outlines(layer: RoomLayer, all_layers: list[RoomLayer], where: str) -> _Looked:
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
    return _Looked(tuple(outlines), tuple(told), (layer.name,))


def _nested(layer: RoomLayer) -> tuple[list[_Outline], int]:
    """Outlines within others as their holes; outlines that others fill are left out."""
    found: list[_Outline] = []
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
            found.append(_Outline(shape, layer.strokes[i].origin))
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


def _from_walls(marks: Marks, layers: list[str], where: str) -> _Looked:
    """Outlines that bare wall lines enclose."""
    walls = [s for s in marks.strokes if s.layer in set(layers)]
    beside = set(opening_layers(marks)) - set(layers)
    openings = [s.line() for s in marks.strokes if s.layer in beside]
    enclosed = enclose([stroke.line() for stroke in walls], openings)
    origin = f"wall lines on {_listed(layers)}"
    outlines = tuple(
        _Outline(room, origin, _closings_of(room, enclosed)) for room in enclosed.rooms
    )
    told = _told_of_walls(walls, layers, enclosed, where)
    return _Looked(outlines, told, (*layers, *sorted(beside)), enclosed.closings)


def _told_of_walls(
    walls: Sequence[Stroke], layers: list[str], enclosed: Enclosed, where: str
) -> tuple[Finding, ...]:
    wide, deep = extent(list(walls))
    told = [
        Finding(
            "import-took",
            where,
            f"no outlines of rooms are drawn: rooms were sought between {len(walls)} wall lines on "
            f"{_listed(layers)}, which extend over {wide / 1e3:.3f} x {deep / 1e3:.3f} m",
            _COMPARE,
        )
    ]
    slips = [c for c in enclosed.closings if c.is_slip]
    openings = [c for c in enclosed.closings if not c.is_slip]
    if slips:
        sizes = _listed([f"{c.gap_mm:.1f} mm at {_spot(c)}" for c in slips])
        told.append(
            Finding("import-gap-closed", where, f"small gaps between walls were closed: {sizes}")
        )
    if openings:
        sizes = _listed([f"{c.gap_mm:.0f} mm" for c in openings])
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


def _listed(words: Sequence[str]) -> str:
    more = f" and {len(words) - MOST_LISTED} more" if len(words) > MOST_LISTED else ""
    return ", ".join(words[:MOST_LISTED]) + more


def _closings_of(room: Polygon, enclosed: Enclosed) -> tuple[Closing, ...]:
    rim = room.exterior.buffer(1.0)
    return tuple(closing for closing in enclosed.closings if rim.covers(closing.line))


# --- names, doors, checks ------------------------------------------------------------------------


def _named(
    looked: _Looked, marks: Marks, unit: Unit, where: str
) -> tuple[tuple[FoundRoom, ...], list[Finding]]:
    polygons = [outline.polygon for outline in looked.outlines]
    words = name_rooms(polygons, marks.words)
    labels = size_labels(marks.words)
    rooms: list[FoundRoom] = []
    findings: list[Finding] = []
    ids: set[str] = set()
    for number, (outline, told) in enumerate(zip(looked.outlines, words, strict=True), start=1):
        key = told.number if told.number and told.number not in ids else str(number)
        ids.add(key)
        name = " ".join(part for part in (told.name, told.number) if part) or f"room {key}"
        try:
            room = Room(outline.polygon, doorways=_doorways(outline, marks.swings), name=name)
        except InputError as error:
            findings.append(
                Finding("import-left", key, f"the outline {outline.origin} was left: {error}")
            )
            continue
        rooms.append(FoundRoom(key, room, outline.origin, texts=told.texts))
        findings.extend(_size_findings(rooms[-1], labels, unit))
        findings.extend(_many_names(rooms[-1], told))
    findings.extend(_homeless(rooms, marks, looked, where))
    return tuple(rooms), findings


def _doorways(outline: _Outline, swings: Sequence[Swing]) -> tuple[Doorway, ...]:
    """The openings in a room's outline in which a door leaf is drawn."""
    edges = list(Room(outline.polygon).edges())
    found = []
    for closing in outline.closings:
        if closing.is_slip or not any(_hangs(swing, closing) for swing in swings):
            continue
        middle = closing.line.interpolate(0.5, normalized=True)
        edge = min(edges, key=lambda e: LineString([e.start, e.end]).distance(middle))
        along = LineString([edge.start, edge.end])
        first = min(along.project(shapely.Point(end)) for end in closing.line.coords)
        width = min(closing.gap_mm, edge.length_mm - first)
        if width > 0.0:
            found.append(Doorway(edge.name, first, width, name="door"))
    return tuple(sorted(found, key=lambda door: (door.edge, door.from_corner_mm)))


def _hangs(swing: Swing, closing: Closing) -> bool:
    """Whether a door leaf hangs at an end of an opening and is about as wide."""
    ends = closing.line.coords
    near = min(math.dist(swing.center, end) for end in ends) <= NEAR_MM
    return near and abs(swing.radius / closing.gap_mm - 1.0) <= LIKE_SHARE


def _size_findings(room: FoundRoom, labels: Sequence[SizeLabel], unit: Unit) -> list[Finding]:
    """Where a room's written size is not what is drawn."""
    outline = room.room.outline
    job_unit: Unit = "in" if unit in ("in", "ft") else "mm"
    inside = [label for label in labels if outline.contains(shapely.Point(label.at))]
    if len(inside) != 1:
        return []
    x0, y0, x1, y1 = outline.bounds
    drawn = sorted((x1 - x0, y1 - y0))
    told = sorted((inside[0].width_mm, inside[0].depth_mm))
    off = max(abs(a / b - 1.0) for a, b in zip(drawn, told, strict=True))
    if off <= SIZE_SLACK:
        return []
    sizes = " x ".join(format_length(side, job_unit) for side in (x1 - x0, y1 - y0))
    return [
        Finding(
            "import-size",
            room.id,
            f"{room.room.name} is drawn {sizes} but {inside[0].text} is written in it",
            "Measure it.",
        )
    ]


def _many_names(room: FoundRoom, words: RoomWords) -> list[Finding]:
    names = [text for text in words.texts if is_room_name(text)]
    if len(names) < 3:
        return []
    return [
        Finding(
            "import-open",
            room.id,
            f"no wall parts {_listed(names)}: they are one room here",
            "Draw a line where the floor is to end, or plan it as one.",
        )
    ]


def _homeless(
    rooms: Sequence[FoundRoom], marks: Marks, looked: _Looked, where: str
) -> list[Finding]:
    """Names that stand in no room that was found."""
    if not looked.closings and not rooms:
        return []
    everywhere = shapely.union_all([room.room.outline for room in rooms])
    lost = [
        word.text
        for word in marks.words
        if not word.tag
        and is_room_name(word.text)
        and not everywhere.contains(shapely.Point(word.at))
    ]
    if not lost:
        return []
    names = _listed(sorted(set(lost)))
    return [
        Finding(
            "import-no-room",
            where,
            f"no room was found round these words: {names}",
            "Measure these rooms, or close their walls in the drawing.",
        )
    ]


def _left(marks: Marks, where: str) -> list[Finding]:
    if not marks.left:
        return []
    kinds = ", ".join(f"{count} {kind}" for kind, count in marks.left)
    return [Finding("import-left", where, f"not looked at, as no wall is drawn so: {kinds}")]
