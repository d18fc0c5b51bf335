"""The tape survey of a job file by itself, before there is a room."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from plankwright.errors import InputError, RoomError
from plankwright.files.job_board import RulesTable, make_rules
from plankwright.files.job_survey import SURVEY_KEYS, read_survey
from plankwright.files.source import LARGEST_BYTES, parse_toml, read_text
from plankwright.files.suggest import nearest_words
from plankwright.files.table import read_table
from plankwright.model.rules import Rules
from plankwright.model.survey import Survey
from plankwright.units import Unit, parse_unit, told_in

OTHER_KEYS = ("name", "outline", "holes", "fixed", "door", "gaps")


@dataclass(frozen=True, slots=True)
class SurveyJob:
    """A survey, the rules that say how well it must be known, and how its lengths are written."""

    survey: Survey
    rules: Rules
    unit: Unit
    name: str


def open_survey(path: Path, *, unit: Unit | None = None) -> SurveyJob:
    """The survey in a job file.

    Raises
    ------
    InputError
        with file, field, value and remedy; also when the file holds no survey.
    """
    return read_survey_job(
        read_text(path, LARGEST_BYTES["toml"]), str(path), unit=unit, name=path.stem
    )


def read_survey_job(
    text: str, where: str, *, unit: Unit | None = None, name: str = "room"
) -> SurveyJob:
    """The survey in the text of a job file; ``where`` names the file in messages."""
    tables = parse_toml(text, where)
    try:
        return _make(tables, unit, name)
    except InputError as error:
        raise error.at(where) from None


def _make(tables: dict[str, Any], unit: Unit | None, name: str) -> SurveyJob:
    job = tables.get("job", {})
    named = job.get("unit", "mm") if isinstance(job, dict) else "mm"
    read_unit = unit or parse_unit(named, where="job.unit")
    room = tables.get("room")
    if not isinstance(room, dict):
        raise RoomError(
            "the table [room] is missing", where="room", remedy="Write the walls you measured."
        )
    known = [*SURVEY_KEYS, *OTHER_KEYS]
    for key in room:
        if key not in known:
            raise InputError(
                "unknown key", where="room", value=key, remedy=nearest_words(key, known)
            )
    with told_in(read_unit):
        survey = read_survey(room, read_unit)
    if survey is None:
        raise RoomError(
            "nothing was measured here: there are no walls",
            where="room.walls",
            remedy="Write walls = { A-B = 4200, … } and a diagonal or two.",
        )
    table = read_table(RulesTable, tables.get("rules", {}), unit=read_unit, where="rules")
    with told_in(read_unit):
        rules = make_rules(table)
    given = job.get("name") if isinstance(job, dict) else None
    return SurveyJob(survey, rules, read_unit, str(given or name))
