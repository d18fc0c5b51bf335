"""The job file (TOML): everything a person wrote down, read into a :class:`Job`."""

from pathlib import Path
from typing import Any

from plankwright.errors import InputError, RoomError
from plankwright.files import geojson
from plankwright.files.job_board import (
    BoardTable,
    LayingTable,
    RulesTable,
    make_board,
    make_rules,
    make_wishes,
)
from plankwright.files.job_breaks import BreaksTable, make_limits
from plankwright.files.job_buy import BuyTable
from plankwright.files.job_room import RoomTable, make_outline, make_room
from plankwright.files.job_slab_tables import AirTable, SlabTable
from plankwright.files.job_survey import make_survey
from plankwright.files.rings import make_polygon
from plankwright.files.room_file import choose_room, find_rooms, is_drawing
from plankwright.files.source import LARGEST_BYTES, kind_of, parse_json, parse_toml, read_text
from plankwright.files.table import Table, described, read_table
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom, FoundRooms
from plankwright.model.job import ASSUMED_BOARD, Job
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.survey import Survey
from plankwright.units import Unit, parse_unit, told_in


class JobTable(Table):
    """``[job]``: the name of the job and the unit of its lengths."""

    name: str = described("How you call the job.", "")
    unit: str = described("Unit of bare numbers and of what is printed: mm, cm, m, in, ft.", "mm")


class JobFile(Table):
    """The tables of a job file."""

    job: JobTable = described("Name and unit.", JobTable())
    room: RoomTable = described("The room.", source="measured")
    board: BoardTable = described("The board.", BoardTable(), source="leaflet")
    rules: RulesTable = described("The rules.", RulesTable(), source="leaflet")
    laying: LayingTable = described("Wishes about the laying.", LayingTable())
    breaks: BreaksTable = described("Expansion breaks.", BreaksTable(), source="leaflet")
    slab: SlabTable | None = described("The slab.", None, source="measured")
    air: AirTable | None = described("The air.", None, source="measured")
    buy: BuyTable | None = described("Buying.", None)


def open_job(
    path: Path,
    *,
    feature: str | None = None,
    unit: Unit | None = None,
    layer: str | None = None,
) -> Job:
    """The job in a file: a job file (TOML), or a room in GeoJSON, DXF or IFC.

    Parameters
    ----------
    feature : which room of a file with several.
    unit : unit of bare numbers, instead of what the file says.
    layer : of a DXF drawing, instead of a guess.

    Raises
    ------
    InputError
        with file, field, value and remedy.
    """
    kind, where = kind_of(path), str(path)
    if is_drawing(path):
        found = find_rooms(path, unit=unit, layer=layer)
        return found_job(found, choose_room(found, feature, where), unit)
    text = read_text(path, LARGEST_BYTES[kind])
    if kind == "toml":
        return read_job(text, where, unit=unit, name=path.stem)
    room = geojson.read_room(parse_json(text, where), where, feature=feature, unit=unit)
    return Job(room, unit=unit or "mm", name=room.name, findings=(ASSUMED_BOARD,))


def found_job(found: FoundRooms, chosen: FoundRoom, unit: Unit | None = None) -> Job:
    """The job of one room of a drawing, with what was doubted about it."""
    findings = (ASSUMED_BOARD, *found.doubts_about(chosen))
    name = chosen.room.name
    return Job(chosen.room, unit=unit or found.job_unit, name=name, findings=findings)


def read_job(text: str, where: str, *, unit: Unit | None = None, name: str = "room") -> Job:
    """The job in the text of a job file; ``where`` names the file in messages."""
    tables = parse_toml(text, where)
    try:
        return _make_job(tables, unit, name)
    except InputError as error:
        raise _as_typed(error, tables).at(where) from None


def _as_typed(error: InputError, tables: dict[str, Any]) -> InputError:
    """The error with the value as it stands in the file, not as it was understood."""
    entry: Any = tables
    for key in error.where.split("."):
        if not isinstance(entry, dict) or key not in entry:
            return error
        entry = entry[key]
    return type(error)(error.message, where=error.where, value=entry, remedy=error.remedy)


def _make_job(tables: dict[str, Any], unit: Unit | None, name: str) -> Job:
    unit = unit or _unit(tables)
    with told_in(unit):
        return _job_in(tables, unit, name)


def _job_in(tables: dict[str, Any], unit: Unit, name: str) -> Job:
    file = read_table(JobFile, tables, unit=unit, where="")
    rules = make_rules(file.rules)
    name = file.job.name or name
    survey = make_survey(file.room, unit)
    room, findings = (
        _measured_room(file.room, survey, rules, unit, name)
        if survey
        else (make_room(file.room, make_outline(file.room), name), ())
    )
    has_board = {"length", "width"} <= file.board.model_fields_set
    return Job(
        room=room,
        board=make_board(file.board),
        rules=rules,
        wishes=make_wishes(file.laying),
        unit=unit,
        name=name,
        survey=survey,
        findings=findings if has_board else (*findings, ASSUMED_BOARD),
        knows_tongue_end="tongue_end" in file.board.model_fields_set,
        limits=make_limits(file.breaks, file.slab),
    ).with_lock_for_wish()


def _measured_room(
    table: RoomTable, survey: Survey, rules: Rules, unit: Unit, name: str
) -> tuple[Room, tuple[Finding, ...]]:
    """The room from its tape survey, and what is odd in that."""
    # Imported late: nearly half of the start of a command, needed only by jobs with a survey.
    from plankwright.application.measure_room import measure_room

    if table.outline is not None:
        raise RoomError(
            "both an outline and a tape survey are given",
            where="room",
            remedy="Leave outline out, or walls and diagonals.",
        )
    measured = measure_room(survey, rules, unit=unit)
    unknown = [finding for finding in measured.findings if finding.code == "survey-unknown"]
    if unknown:
        raise RoomError(
            f"the room is not known yet: {unknown[0].message}",
            where="room",
            remedy=unknown[0].remedy,
        )
    outline = make_polygon(measured.outline.exterior.coords, table.holes, where="room.outline")
    points = {point.name: (point.x_mm, point.y_mm) for point in measured.points}
    room = make_room(table, outline, name, walls=measured.edge_walls, points=points)
    return room, measured.findings


def _unit(tables: dict[str, Any]) -> Unit:
    """The job's unit, needed before any length can be read."""
    job = tables.get("job")
    named = job.get("unit", "mm") if isinstance(job, dict) else "mm"
    return parse_unit(named, where="job.unit")
