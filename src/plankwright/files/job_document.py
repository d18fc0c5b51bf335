"""The job document: a job file's tables as plain values, and back to the text of a job file.

What a page or a store keeps is the job file itself, as dictionaries, lists, texts and numbers;
days and times are texts. Written out and read again it is the same document.
"""

import json
import math
from collections.abc import Iterator
from datetime import date, datetime, time
from typing import Any

from plankwright.errors import FileError, InputError
from plankwright.files.source import parse_toml

Document = dict[str, Any]

DEEPEST = 12
BARE_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")


def read_document(text: str, where: str) -> Document:
    """The document in the text of a job file; ``where`` names the file in messages."""
    document: Document = _plain(parse_toml(text, where))
    return document


def document_text(document: Document) -> str:
    """The text of the job file (TOML) that holds a document; keys without a value are left out.

    Raises
    ------
    InputError
        for what no job file can hold: nested too deeply, not a number, half a letter.
    """
    lines = list(_table(document, (), 0))
    text = "\n".join(lines).lstrip("\n") + "\n"
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise InputError(
            "holds half a letter that no file can keep", remedy="Type the text again."
        ) from None
    return text


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [_plain(entry) for entry in value]
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, float) and not math.isfinite(value):
        raise FileError("not a finite number", value=value, remedy="Measure it and write it down.")
    return value


def _table(table: Document, path: tuple[str, ...], depth: int) -> Iterator[str]:
    """Lines of a table: its own values first, then the tables in it, each under its heading."""
    if depth > DEEPEST:
        raise InputError("nested too deeply for a job file", where=".".join(path))
    known = {key: value for key, value in table.items() if value is not None}
    for key, value in known.items():
        if not _is_table(value) and not _is_tables(value):
            yield f"{_key(key)} = {_value(value, depth)}"
    for key, value in known.items():
        inner = (*path, key)
        heading = ".".join(map(_key, inner))
        if _is_table(value):
            yield from ("", f"[{heading}]")
            yield from _table(value, inner, depth + 1)
        elif _is_tables(value):
            for entry in value:
                yield from ("", f"[[{heading}]]")
                yield from _table(entry, inner, depth + 1)


def _is_table(value: object) -> bool:
    return isinstance(value, dict)


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def _key(key: str) -> str:
    return key if key and set(key) <= BARE_LETTERS else _text(key)


def _value(value: object, depth: int) -> str:
    if depth > DEEPEST:
        raise InputError("nested too deeply for a job file")
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and not math.isfinite(value):
        raise InputError("not a finite number", value=value, remedy="Measure it again.")
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, list):
        known = (entry for entry in value if entry is not None)
        return "[" + ", ".join(_value(entry, depth + 1) for entry in known) + "]"
    if isinstance(value, dict):
        entries = (f"{_key(k)} = {_value(v, depth + 1)}" for k, v in value.items() if v is not None)
        return "{ " + ", ".join(entries) + " }"
    raise InputError("not a value that a job file can hold", value=value)


def _text(text: str) -> str:
    """A basic string of TOML: JSON's, but for one letter that TOML wants written out."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")
