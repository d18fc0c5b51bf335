"""Reference pages made from the code: codes, the plan file and the Python API, as Markdown."""

import inspect
import json
import re
from collections.abc import Callable, Iterator
from typing import Any

from plankwright import api
from plankwright.checker.excuse import EXCUSABLE
from plankwright.checker.verdict import FAULT_CODES
from plankwright.files.plan_entries import PlanEntry
from plankwright.model.findings import CODES

MADE = "<!-- Made from the code: make docs -->\n"

FINDINGS_HEAD = f"""# What the program may ask you to check

{MADE}
On screen and paper these stand under *Check this*, each with its place, what is odd and what to do
about it. In `--json` output, in the plan file and in Python they are *findings* with one of these
codes. A code marked *excuses* lifts the checker's rule of the same name, for the place it names
and nowhere else; what is lifted is listed, never hidden.
"""

FAULTS_HEAD = f"""# What the independent checker may find

{MADE}
`plankwright check PLAN.json` prints a line for each fault: place, sentence, `[code]`. A code
marked *can be excused* is listed as excused, and not as a fault, where a finding of the same code
in the plan names the place.
"""

PLAN_FILE_HEAD = f"""# The plan file

{MADE}
`plan.json` is complete: everything that is drawn or printed is made from it. The JSON Schema
(draft 2020-12) is `src/plankwright/data/plan.schema.json`. Keys may be added, meanings never
change; keys that are not known are ignored when reading.

All lengths are millimeters, to 0.001 mm, and all outlines lie in the room's coordinates. Plan
axes: *u* runs along the rows from their near to their far end, *v* across them away from the
start wall. Row *i* covers *v* from `start_line + (i - 1) × width` to `start_line + i × width`. In a
board, lengths count from its near end and widths from its wall side.
"""

PYTHON_HEAD = f"""# The Python API

{MADE}
`import plankwright` gives what the commands do, in the same words. Lengths are millimeters. What a
person gave and cannot be used raises `InputError` with `where`, `value` and `remedy`; a formula
asked outside its published range raises `RangeError`.
"""


def findings_page() -> str:
    """The finding codes."""
    lines = [FINDINGS_HEAD, "| code | meaning | |", "| --- | --- | --- |"]
    lines += [
        f"| `{code}` | {sentence} | {'excuses' if code in EXCUSABLE else ''} |"
        for code, sentence in CODES.items()
    ]
    return "\n".join(lines) + "\n"


def faults_page() -> str:
    """The checker's fault codes."""
    lines = [FAULTS_HEAD, "| code | meaning | |", "| --- | --- | --- |"]
    lines += [
        f"| `{code}` | {sentence} | {'can be excused' if code in EXCUSABLE else ''} |"
        for code, sentence in FAULT_CODES.items()
    ]
    return "\n".join(lines) + "\n"


# --- the plan file ----------------------------------------------------------------------------


def plan_file_page() -> str:
    """The plan file's entries, from its JSON Schema."""
    schema = PlanEntry.model_json_schema()
    sections = [PLAN_FILE_HEAD, "## At the top\n", _entry_table(schema)]
    for name, entry in schema["$defs"].items():
        sections += [f"## {_told(name)}\n", entry["description"] + "\n", _entry_table(entry)]
    return "\n".join(sections)


def _entry_table(entry: dict[str, Any]) -> str:
    required = entry.get("required", [])
    lines = ["| key | kind | meaning | default |", "| --- | --- | --- | --- |"]
    for key, field in entry["properties"].items():
        default = "must be given" if key in required else f"`{as_json(field.get('default'))}`"
        kind = kind_of(field, _told).replace("|", "\\|")
        lines.append(f"| `{key}` | {kind} | {field['description']} | {default} |")
    return "\n".join(lines) + "\n"


def kind_of(field: dict[str, Any], told: Callable[[str], str]) -> str:
    """What a field may hold, in words; ``told`` says the name of a shape on the page."""
    if "$ref" in field:
        name = told(field["$ref"].rpartition("/")[2])
        return f"[{name}](#{name.replace(' ', '-')})"
    if "const" in field:
        return f"`{as_json(field['const'])}`"
    if "enum" in field:
        return ", ".join(f"`{word}`" for word in field["enum"])
    if "anyOf" in field:
        return " or ".join(kind_of(one, told) for one in field["anyOf"])
    if field["type"] != "array":
        return str(field["type"])
    if "prefixItems" in field:
        return f"{len(field['prefixItems'])} numbers"
    return f"list of {kind_of(field['items'], told)}"


def _told(name: str) -> str:
    """The name of an entry in the words of the page: ``MultiPolygonEntry`` is multipolygon."""
    return name.removesuffix("Entry").lower()


def as_json(value: object) -> str:
    """A value as it stands in JSON."""
    return json.dumps(value, ensure_ascii=False)


# --- the Python API ---------------------------------------------------------------------------


def python_page() -> str:
    """The public functions and classes, with their signatures."""
    parts = [getattr(api, name) for name in api.__all__]
    functions = [part for part in parts if inspect.isfunction(part)]
    errors = [part for part in parts if inspect.isclass(part) and issubclass(part, Exception)]
    nouns = [part for part in parts if inspect.isclass(part) and part not in errors]
    return "\n".join(
        [
            PYTHON_HEAD,
            "## Functions\n",
            *(_described(function) for function in functions),
            "## Nouns\n",
            *(_described(noun) for noun in nouns),
            "## Errors\n",
            *_error_lines(errors),
            "",
        ]
    )


def _described(part: Any) -> str:
    text = re.sub(r":\w+:`~?(.*?)`|``(.*?)``", r"`\1\2`", inspect.cleandoc(part.__doc__ or ""))
    first, _, rest = text.partition("\n\n")
    more = f"\n\n```text\n{rest}\n```" if rest else ""
    return f"### `{_signature(part)}`\n\n{first}{more}\n"


def _signature(part: Any) -> str:
    """Names and defaults; types stand in the code."""
    signature = inspect.signature(part)
    plain = [
        parameter.replace(
            annotation=inspect.Parameter.empty,
            default=_default(parameter.default),
        )
        for parameter in signature.parameters.values()
    ]
    shown = signature.replace(parameters=plain, return_annotation=inspect.Signature.empty)
    return f"{part.__name__}{shown}"


class _Shown:
    """A default that prints as a word."""

    def __init__(self, text: str) -> None:
        self._text = text

    def __repr__(self) -> str:
        return self._text


def _default(value: Any) -> Any:
    if inspect.isfunction(value):
        return _Shown(value.__name__)
    if value is inspect.Parameter.empty or isinstance(value, str | int | float | tuple | None):
        return value
    return _Shown("…")


def _error_lines(errors: list[Any]) -> Iterator[str]:
    for error in errors:
        yield f"- `{error.__name__}`: {inspect.cleandoc(error.__doc__).splitlines()[0]}"
