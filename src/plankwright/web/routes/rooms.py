"""Rooms in somebody else's drawing: found in a process of its own, offered with an outline."""

import re
import tempfile
from dataclasses import replace
from pathlib import Path
from threading import Lock
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from shapely.affinity import translate

from plankwright.errors import FileError, InputError
from plankwright.files.job import found_job
from plankwright.files.job_writer import job_document
from plankwright.files.reader_process import read_apart
from plankwright.files.source import LARGEST_BYTES, Kind, kind_of
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import DOUBTS, FoundRoom, FoundRooms
from plankwright.model.room import FixedThing, Opening, Room
from plankwright.units import Unit, format_length
from plankwright.web.picture import area_words, rings_of
from plankwright.web.refusals import BODY, RefusedError, may_refuse
from plankwright.web.routes.jobs import shown_name
from plankwright.web.understood import finding_of
from plankwright.web.work import Standing, Work, Workshop

MOST_ROOMS = 1000
KINDS: tuple[Kind, ...] = ("dxf", "ifc", "json")
# The reader speaks to somebody at a command line; on the page the field stands below.
OPTION = re.compile(r"with --(?:unit|layer|feature)(?:, such as --unit \w+)?")

Name = Annotated[
    str,
    Query(max_length=2000, description="What the file is called; its ending says what it is."),
]
FileUnit = Annotated[
    Unit | None, Query(description="What the drawing counts in; as the file says if not given.")
]
ToldIn = Annotated[
    Unit | None,
    Query(description="Unit of the sizes that are told; to suit the file if not given."),
]
Layer = Annotated[
    str | None,
    Query(max_length=200, description="With DXF, the layer of the outlines or of the walls."),
]
BYTES = {
    "requestBody": {
        "required": True,
        "description": "The file itself.",
        "content": {"application/octet-stream": {"schema": {"type": "string"}}},
    }
}


def rooms_router(workshop: Workshop) -> APIRouter:
    """The route of drawings that are brought in."""
    router = APIRouter(prefix="/api", tags=["measure"])
    one_at_a_time = Lock()

    @router.post("/rooms", status_code=202, responses=may_refuse(*BODY), openapi_extra=BYTES)
    async def find(
        request: Request,
        name: Name,
        unit: FileUnit = None,
        layer: Layer = None,
        told_in: ToldIn = None,
    ) -> Standing:
        """Begin to look for rooms in a drawing: DXF, IFC or GeoJSON, the body of the request.

        The file is read in a process of its own with limits of time and memory, and kept nowhere.
        Its result: `rooms` (each `name`, `area`, `size`, its `outline`, and `document`, the
        tables `job` and `room` of a job with it), `left` (rooms beyond the most that are
        offered), `unit` as it was understood, `doubts` about all of them, and `findings`.
        """
        shown = shown_name(name)
        kind = _drawing_kind(shown)
        content = await request.body()
        _require_size(content, kind, shown)

        def look(work: Work) -> dict[str, Any]:
            with one_at_a_time:
                found = _read(content, kind, shown, unit, layer, work)
            return rooms_of(found, told_in or found.job_unit)

        return workshop.start("rooms", look).shown()

    return router


def _drawing_kind(name: str) -> Kind:
    """DXF, IFC or GeoJSON, from a file's name."""
    kind = kind_of(Path(name))
    if kind not in KINDS:
        raise FileError(
            "this is a job file, not a drawing", where=name, remedy="Bring it in from the jobs."
        )
    return kind


def _require_size(content: bytes, kind: Kind, name: str) -> None:
    most = LARGEST_BYTES[kind]
    if not content:
        raise FileError("the file is empty", where=name, remedy="Choose another file.")
    if len(content) > most:
        raise RefusedError(
            413,
            f"the file is too large: {len(content) / 1e6:.1f} MB, {most / 1e6:g} MB allowed",
            where=name,
            remedy="Save the storey in question alone.",
        )


def _read(
    content: bytes, kind: Kind, name: str, unit: Unit | None, layer: str | None, work: Work
) -> FoundRooms:
    """The rooms in a file that lies on the disk only while it is read."""
    with tempfile.TemporaryDirectory(prefix="plankwright-") as folder:
        path = Path(folder) / f"drawing.{kind}"
        path.write_bytes(content)
        try:
            found = read_apart(path, unit=unit, layer=layer or None, stop=work.stop)
        except InputError as error:
            raise type(error)(
                error.message,
                where=_named(error.where, path, name),
                value=error.value,
                remedy=OPTION.sub("below", error.remedy),
            ) from None
        return replace(found, findings=tuple(_on_page(f, path, name) for f in found.findings))


def _named(where: str, path: Path, name: str) -> str:
    """A place told with the name under which the person knows the file."""
    return where.replace(str(path), name).replace(path.name, name)


def _on_page(finding: Finding, path: Path, name: str) -> Finding:
    where, remedy = _named(finding.where, path, name), OPTION.sub("below", finding.remedy)
    return replace(finding, where=where, remedy=remedy)


def rooms_of(found: FoundRooms, unit: Unit) -> dict[str, Any]:
    """The rooms of a drawing as the page shows them, sizes in ``unit``."""
    ids = {room.id for room in found.rooms}
    doubts = [f for f in found.findings if f.code in DOUBTS and f.where not in ids]
    return {
        "unit": found.unit,
        "rooms": [_room(found, room, unit) for room in found.rooms[:MOST_ROOMS]],
        "left": max(0, len(found.rooms) - MOST_ROOMS),
        "doubts": [finding_of(finding) for finding in doubts],
        "findings": [finding_of(finding) for finding in found.findings],
    }


def _room(found: FoundRooms, room: FoundRoom, unit: Unit) -> dict[str, Any]:
    wide, deep = (side * 1e3 for side in room.extent_m)
    with_unit = unit in ("in", "ft")
    size = f"{format_length(wide, unit, with_unit=with_unit)} × {format_length(deep, unit)}"
    document = job_document(replace(found_job(found, room), room=_at_zero(room.room)))
    return {
        "id": room.id,
        "name": room.room.name,
        "storey": room.storey,
        "area": area_words(room.area_m2, unit),
        "size": size,
        "doors": len(room.room.doorways),
        "fixed": len(room.room.fixed),
        "outline": rings_of(room.room.outline),
        "doubts": [
            finding_of(f) for f in found.findings if f.code in DOUBTS and f.where == room.id
        ],
        "document": {"job": document["job"], "room": _without_empty(document["room"])},
    }


def _at_zero(room: Room) -> Room:
    """The room with its zero point at its left and lower edge; drawings lie anywhere."""
    dx, dy = (-side for side in room.outline.bounds[:2])

    def fixed(thing: FixedThing) -> FixedThing:
        x, y, diameter = thing.circle or (0.0, 0.0, 0.0)
        circle = (x + dx, y + dy, diameter) if thing.circle else None
        return replace(thing, outline=translate(thing.outline, dx, dy), circle=circle)

    def opening(line: Opening) -> Opening:
        (x0, y0), (x1, y1) = line.start, line.end
        return replace(line, start=(x0 + dx, y0 + dy), end=(x1 + dx, y1 + dy))

    return replace(
        room,
        outline=translate(room.outline, dx, dy),
        fixed=tuple(map(fixed, room.fixed)),
        openings=tuple(map(opening, room.openings)),
    )


def _without_empty(table: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in table.items() if value not in (None, "", [], {})}
