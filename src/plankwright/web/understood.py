"""What was understood of a job document: every length, the room, the survey, and what is odd."""

from collections.abc import Iterator
from typing import Any

from plankwright.application.measure_room import measure_room
from plankwright.application.measured_room import MeasuredRoom
from plankwright.errors import InputError
from plankwright.files.job import read_job
from plankwright.files.job_document import Document, document_text
from plankwright.files.survey_file import read_survey_job
from plankwright.model.findings import Finding
from plankwright.model.job import Job
from plankwright.model.room import Point, Room
from plankwright.units import Unit, describe_length, format_length, parse_length, parse_unit
from plankwright.web.picture import area_words, rings_of
from plankwright.web.refusals import of_input

# Tables whose values are lengths, and the keys in them that are not.
LENGTH_TABLES = ("room", "board", "rules", "breaks")
OTHER_KEYS = frozenset({
    "name", "kind", "wall", "tie", "turned", "corners", "order", "angles", "per_pack", "lock",
    "start_side", "tongue_end", "end_lock", "either_way", "sd_per_m", "leaf", "tilt",
})  # fmt: skip
MOST_LENGTHS = 2000


def understand(document: Document) -> dict[str, Any]:
    """Everything the page shows while a job is typed; what cannot be used yet is told, not raised.

    Raises
    ------
    InputError
        when no job file can hold the document at all.
    """
    text = document_text(document)
    unit, refusal = _unit(document)
    survey, survey_refusal = _survey(text)
    job, job_refusal = _job(text)
    refusal = refusal or survey_refusal or job_refusal
    return {
        "unit": unit,
        "lengths": dict(_lengths(document, unit)),
        "survey": None if survey is None else survey_of(survey),
        "room": None if job is None else room_of(job.room, unit, job.rules.gap_mm, survey),
        "findings": [finding_of(finding) for finding in (job.findings if job else ())],
        "refusal": refusal,
    }


def finding_of(finding: Finding) -> dict[str, str]:
    """A finding as the page says it: *check this*."""
    return {
        "code": finding.code,
        "where": finding.where,
        "message": finding.message,
        "remedy": finding.remedy,
    }


def survey_of(room: MeasuredRoom) -> dict[str, Any]:
    """The tape survey as the page draws it."""
    unit = room.unit
    return {
        "status": room.status,
        "sure": room.is_sure,
        "outline": rings_of(room.outline),
        "corners": [
            {"name": c.name, "x": round(c.x_mm, 1), "y": round(c.y_mm, 1),
             "error_mm": round(c.ellipse.major_mm, 1)}
            for c in (*room.corners, *room.points)
        ],
        "points": [point.name for point in room.points],
        "lengths": [
            {
                "name": length.name,
                "kind": length.kind,
                "measured": _told(length.measured_mm, unit),
                "adjusted": _told(length.adjusted_mm, unit),
                "off_mm": round(length.measured_mm - length.adjusted_mm, 1),
                "off": _told(abs(length.measured_mm - length.adjusted_mm), unit),
                "doubtful": length.left_out or abs(length.size) > 3.0,
            }
            for length in room.lengths
        ],
        "angles": [{"corner": a.corner, "degrees": round(a.degrees, 1)} for a in room.angles],
        "next": [
            {
                "name": proposal.name,
                "start": proposal.start,
                "end": proposal.end,
                "about": format_length(proposal.length_mm, unit),
                "before": format_length(proposal.before_mm, unit),
                "after": format_length(proposal.after_mm, unit),
            }
            for proposal in room.proposals[:3]
        ],
        "worst": _told(room.worst_mm, unit),
        "enough": _told(room.enough_mm, unit),
        "is_enough": bool(room.worst_mm <= room.enough_mm),
        "findings": [finding_of(finding) for finding in room.findings],
    }  # fmt: skip


def room_of(room: Room, unit: Unit, gap_mm: float, survey: MeasuredRoom | None) -> dict[str, Any]:
    """The room as the page draws it."""
    bowed = survey is not None and len(survey.edge_walls) != len(survey.corners)
    names = list(survey.edge_walls) if survey is not None and bowed else None
    edges = list(room.edges())
    return {
        "outline": rings_of(room.outline),
        "area": area_words(room.outline.area / 1e6, unit),
        "gap_mm": gap_mm,
        "walls": [
            {
                "name": names[i] if names and i < len(names) else edge.name,
                "from": [round(c, 1) for c in edge.start],
                "to": [round(c, 1) for c in edge.end],
                "length": format_length(edge.length_mm, unit),
                "length_mm": round(edge.length_mm, 1),
            }
            for i, edge in enumerate(edges)
        ],
        "fixed": [
            {"kind": thing.kind, "name": thing.name, "outline": rings_of(thing.outline)}
            for thing in room.fixed
        ],
        "openings": [_line(line.name, line.start, line.end) for line in room.openings],
        "breaks": [_line(line.name, line.start, line.end) for line in room.breaks],
        "doors": [
            {
                "name": door.name,
                "edge": door.edge,
                "from_corner_mm": door.from_corner_mm,
                "width_mm": door.width_mm,
                "depth_mm": door.depth_mm,
            }
            for door in room.doorways
        ],
    }


def _line(name: str, start: Point, end: Point) -> dict[str, Any]:
    ends = [[round(c, 1) for c in spot] for spot in (start, end)]
    return {"name": name, "from": ends[0], "to": ends[1]}


def _unit(document: Document) -> tuple[Unit, dict[str, Any] | None]:
    table = document.get("job")
    named = table.get("unit", "mm") if isinstance(table, dict) else "mm"
    try:
        return parse_unit(named, where="job.unit"), None
    except InputError as error:
        return "mm", of_input(error).model_dump()


def _survey(text: str) -> tuple[MeasuredRoom | None, dict[str, Any] | None]:
    """The adjusted survey, or why there is none; neither where nothing was measured by tape."""
    try:
        read = read_survey_job(text, "")
    except InputError:
        return None, None
    try:
        return measure_room(read.survey, read.rules, unit=read.unit), None
    except InputError as error:
        return None, of_input(error.at("room")).model_dump()


def _job(text: str) -> tuple[Job | None, dict[str, Any] | None]:
    try:
        return read_job(text, ""), None
    except InputError as error:
        return None, of_input(error).model_dump()


def _lengths(document: Document, unit: Unit) -> Iterator[tuple[str, dict[str, Any]]]:
    """How every typed length was understood, by its place in the document."""
    seen = 0
    for table in LENGTH_TABLES:
        for path, value in _leaves(document.get(table), table):
            seen += 1
            if seen > MOST_LENGTHS:
                return
            yield path, _length(value, unit)


def _leaves(value: object, path: str, depth: int = 0) -> Iterator[tuple[str, object]]:
    if depth > 6:
        return
    if isinstance(value, dict):
        for key, entry in value.items():
            if key not in OTHER_KEYS:
                yield from _leaves(entry, f"{path}.{key}", depth + 1)
    elif isinstance(value, list):
        for index, entry in enumerate(value):
            yield from _leaves(entry, f"{path}.{index}", depth + 1)
    elif isinstance(value, str | int | float) and not isinstance(value, bool) and value != "":
        yield path, value


def _length(value: object, unit: Unit) -> dict[str, Any]:
    try:
        mm = parse_length(value, unit, where="", signed=True)
    except InputError as error:
        return {"refusal": of_input(error).model_dump()}
    return {"mm": round(float(mm), 3), "told": describe_length(mm, unit)}


def _told(mm: float, unit: Unit) -> str | None:
    return None if mm != mm else format_length(mm, unit)
