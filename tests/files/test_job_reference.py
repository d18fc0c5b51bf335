"""The reference page of the job file is the one made from the code, and leaves no field untold."""

import re
from pathlib import Path

import pytest
from pydantic.fields import FieldInfo

from plankwright.files.job_reference import inner_table, job_reference, job_tables

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "job-file.md"
UNITS = {"length", "degrees", "°C or °F", "%", "% MC", "min", "h", "g", "kg or lb", "ft2",
         "m2 or ft2", "m", "mm/m", "days", "US perm", "l", "boards"}  # fmt: skip
KIND = re.compile(
    r"yes or no|sum of money|date( and time)?"
    r"|(list of |table, each a )?(word|whole number|number|sum of money)s?"
)
MADE = job_reference()
SOURCES = {"leaflet", "common practice", "measured", "choice"}
FIELDS = [
    pytest.param(title, field.alias or name, field, id=f"{title} {field.alias or name}")
    for title, table in job_tables()
    for name, field in table.model_fields.items()
    if inner_table(field.annotation) is None
]


def test_the_page_is_up_to_date() -> None:
    """When it is not: python -m plankwright.files.job_reference > docs/reference/job-file.md"""
    assert PAGE.read_text(encoding="utf-8") == MADE


def test_every_table_and_default_is_there() -> None:
    for title in ("[job]", "[room]", "[[room.fixed]]", "[[room.door]]", "[board]", "[rules]"):
        assert f"## `{title}`" in MADE
    assert "| `gap` | Expansion gap at walls and fixed things. | length | 8 mm | leaflet |" in MADE


def test_no_table_is_left_out() -> None:
    assert len({title for title, _ in job_tables()}) >= 25
    assert len(FIELDS) >= 200


@pytest.mark.parametrize(("title", "name", "field"), FIELDS)
def test_every_field_has_meaning_unit_or_kind_default_and_source(
    title: str, name: str, field: FieldInfo
) -> None:
    [section] = [s for s in MADE.split("\n## ") if s.startswith(f"`{title}`\n")]
    [line] = [line for line in section.splitlines() if line.startswith(f"| `{name}` |")]
    meaning, unit, default, source = re.split(r"(?<!\\) \| ", line.removesuffix(" |"))[1:]
    assert meaning.endswith(".")
    assert len(meaning.split()) >= 2
    assert unit in UNITS or KIND.fullmatch(unit), unit
    assert (default == "must be given") == field.is_required()
    assert default.strip("` ")
    assert source in SOURCES
