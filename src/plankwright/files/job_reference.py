"""The reference page of the job file, made from the tables' own fields.

``python -m plankwright.files.job_reference`` prints it; it stands in ``docs/reference``.
"""

import types
import typing
from collections.abc import Iterator, Sized
from datetime import date, datetime
from decimal import Decimal
from typing import Any, get_args, get_origin

from pydantic.fields import FieldInfo

from plankwright.files.job import JobFile
from plankwright.files.table import LengthOrAuto, Table

_HEAD = """# The job file

<!-- Made from the code: python -m plankwright.files.job_reference -->

A job file is TOML. A length is text as you would say it (`"12' 3 5/8\\""` or `'147 5/8 in'`,
`"3.74 m"`, `"374 cm"`) or a bare number in the unit of the job; `3,740` is refused, since it can
be read in two ways. Keys that are not listed here are refused, with the nearest one suggested.

*Source* says where a value comes from: the *leaflet* of the product always goes before a
default; *measured* is yours to measure; *common practice* is a habit of the trade without a
published source; *choice* is yours. A *yes or no* is `true` or `false`; where the default is
*none* the program does without, or says what it takes instead.
"""

AUTO = get_args(LengthOrAuto)[1]
KINDS: dict[Any, str] = {
    bool: "yes or no",
    str: "word",
    int: "whole number",
    float: "number",
    Decimal: "sum of money",
    date: "date",
    datetime: "date and time",
}


def job_reference() -> str:
    """The page as Markdown."""
    sections = [_HEAD]
    for title, model in job_tables():
        sections.append(f"## `{title}`\n\n{_purpose(model)}\n\n{_field_table(model)}")
    return "\n".join(sections)


def job_tables(model: type[Table] = JobFile, prefix: str = "") -> Iterator[tuple[str, type[Table]]]:
    """Every table with its heading as it stands in the file, outer ones first."""
    for name, field in model.model_fields.items():
        inner = inner_table(field.annotation)
        if inner is not None:
            path = prefix + (field.alias or name) + (".NAME" if _holds(field, dict) else "")
            many = _holds(field, list) or _holds(field, tuple)
            yield f"[[{path}]]" if many else f"[{path}]", inner
            yield from job_tables(inner, path + ".")


def _holds(field: FieldInfo, kind: type) -> bool:
    """Whether a field is a list, tuple or dictionary of tables."""
    return get_origin(field.annotation) is kind


def inner_table(annotation: Any) -> type[Table] | None:
    """The table a field holds, or holds a list of."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    for part in get_args(annotation):
        if (found := inner_table(part)) is not None:
            return found
    return None


def _purpose(model: type[Table]) -> str:
    """The first line of a table's docstring, after its name."""
    line = (model.__doc__ or "").strip().splitlines()[0]
    words = line.partition(": ")[2] or line
    return words[:1].upper() + words[1:]


def _field_table(model: type[Table]) -> str:
    lines = [
        "| key | meaning | unit or kind | default | source |",
        "| --- | --- | --- | --- | --- |",
    ]
    for name, field in model.model_fields.items():
        if inner_table(field.annotation) is None:
            lines.append(_field_line(field.alias or name, field))
    return "\n".join(lines) + "\n"


def _field_line(name: str, field: FieldInfo) -> str:
    extra = field.json_schema_extra
    assert isinstance(extra, dict)
    words = field.description or ""
    choices = _choices(field.annotation)
    if choices:
        words += " One of " + ", ".join(f"`{choice}`" for choice in choices) + "."
    unit = str(extra["unit"]) or _kind(field.annotation)
    cells = [f"`{name}`", words, unit, _default(field, extra), str(extra["source"])]
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _choices(annotation: Any) -> tuple[str, ...]:
    if get_origin(annotation) is typing.Literal:
        return get_args(annotation)
    if get_origin(annotation) in (typing.Union, types.UnionType):
        return tuple(word for part in get_args(annotation) for word in _choices(part))
    return ()


def _kind(annotation: Any) -> str:
    """What a value without a unit is."""
    if annotation in KINDS:
        return KINDS[annotation]
    origin = get_origin(annotation)
    parts = [part for part in get_args(annotation) if part is not type(None)]
    if origin is typing.Literal:
        return KINDS[type(parts[0])]
    if origin in (list, tuple):
        return f"list of {_kind(parts[0])}s"
    if origin is dict:
        return f"table, each a {_kind(parts[1])}"
    return _kind(parts[0])


def _default(field: FieldInfo, extra: dict[str, Any]) -> str:
    if field.is_required():
        return "must be given"
    value = field.default
    if AUTO in field.metadata:
        return "`auto`" if value is None else f"{value:g} mm"
    if value is None or (isinstance(value, Sized) and not value):
        return "none"
    if extra["unit"] == "length" and isinstance(value, int | float):
        return f"{value:g} mm"
    if isinstance(value, tuple):
        return "`[" + ", ".join(f"{part:g}" for part in value) + "]`"
    return f"`{str(value).lower() if isinstance(value, bool) else value}`"


if __name__ == "__main__":
    print(job_reference(), end="")
