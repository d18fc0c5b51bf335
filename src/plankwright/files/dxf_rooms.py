"""Rooms from a DXF drawing: from closed outlines where there are any, else from bare wall lines."""

import math
from collections.abc import Sequence
from itertools import islice
from pathlib import Path

import shapely
from shapely import LineString, Polygon

from plankwright.errors import FileError, InputError
from plankwright.files.drawing_marks import Marks, Swing
from plankwright.files.drawing_units import (
    Evidence,
    gather,
    likeliest,
    settle,
)
from plankwright.files.dxf_layers import (
    MOST_CANDIDATES,
    chosen_layer,
)
from plankwright.files.dxf_marks import read_dxf
from plankwright.files.dxf_outlines import (
    COMPARE,
    Looked,
    Outline,
    listed,
    look_for_outlines,
)
from plankwright.files.dxf_things import Things, find_things, told_of_things, without_things
from plankwright.files.room_names import (
    RoomWords,
    SizeLabel,
    is_room_name,
    name_rooms,
    size_labels,
)
from plankwright.files.standing_things import fixed_in
from plankwright.files.wall_lines import Closing
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom, FoundRooms, job_unit
from plankwright.model.room import Doorway, Room
from plankwright.units import MM_PER, Unit, format_length

FLAT_MM = 0.5  # no point of a curve lies farther from the chords drawn for it
NEAR_MM = 150.0  # a door swing's hinge to the end of its opening
LIKE_SHARE = 0.3  # a door leaf to the width of its opening
SIZE_SLACK = 0.03  # a written size to the drawn one


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
    looked = look_for_outlines(without_things(marks, layer), where, layer, job_unit(settled))
    things = find_things(marks, layer)
    rooms, about_rooms = _named(looked, marks, things, settled, where)
    findings = (
        *(Finding("import-damaged", where, fault, COMPARE) for fault in marks.faults),
        *about_unit,
        *looked.told,
        *_left(marks, where, looked.layers),
        *told_of_things(things, rooms, where),
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
    scaled = without_things(rough.scaled(mm_per), layer)
    looked = look_for_outlines(scaled, "", layer, unit)
    rooms = [shapely.transform(o.polygon, lambda xy: xy / mm_per) for o in looked.outlines]
    return gather(rough, rooms, size_labels(rough.words))


# --- names, doors, checks ------------------------------------------------------------------------


def _named(
    looked: Looked, marks: Marks, things: Things, unit: Unit, where: str
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
            doorways = _doorways(outline, marks.swings)
            fixed = tuple(fixed_in(outline.polygon, things.feet))
            room = Room(outline.polygon, fixed, doorways, name=name)
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


def _doorways(outline: Outline, swings: Sequence[Swing]) -> tuple[Doorway, ...]:
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
    inside = [label for label in labels if outline.contains(shapely.Point(label.at))]
    if len(inside) != 1:
        return []
    x0, y0, x1, y1 = outline.bounds
    drawn = sorted((x1 - x0, y1 - y0))
    told = sorted((inside[0].width_mm, inside[0].depth_mm))
    off = max(abs(a / b - 1.0) for a, b in zip(drawn, told, strict=True))
    if off <= SIZE_SLACK:
        return []
    sizes = " x ".join(format_length(side, job_unit(unit)) for side in (x1 - x0, y1 - y0))
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
            f"no wall parts {listed(names)}: they are one room here",
            "Draw a line where the floor is to end, or plan it as one.",
        )
    ]


def _homeless(
    rooms: Sequence[FoundRoom], marks: Marks, looked: Looked, where: str
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
    names = listed(sorted(set(lost)))
    return [
        Finding(
            "import-no-room",
            where,
            f"no room was found round these words: {names}",
            "Measure these rooms, or close their walls in the drawing.",
        )
    ]


def _left(marks: Marks, where: str, layers: Sequence[str]) -> list[Finding]:
    """What is drawn otherwise than walls are, and lines that are none on the layers looked at."""
    kinds = ", ".join(f"{number} {kind}" for kind, number in marks.left)
    dots = ", ".join(f"{number} on {layer}" for layer, number in marks.dots if layer in layers)
    told = []
    if kinds:
        told.append(f"not looked at, as no wall is drawn so: {kinds}")
    if dots:
        told.append(f"lines without a length were left out: {dots}")
    return [Finding("import-left", where, words) for words in told]
