"""Opening what a person gave: size, encoding and kind are looked at before anything is read."""

import json
import tomllib
from pathlib import Path
from typing import Any, Literal

from plankwright.errors import FileError
from plankwright.files.suggest import nearest_words

Kind = Literal["toml", "json", "dxf", "ifc"]

LARGEST_BYTES: dict[Kind, int] = {
    "toml": 300_000,
    "json": 20_000_000,
    "dxf": 60_000_000,
    "ifc": 150_000_000,
}
LARGEST_PLAN_BYTES = 200_000_000  # 10,000 m² of floor make a plan file of some 30 MB
SUFFIXES: dict[str, Kind] = {
    ".toml": "toml",
    ".json": "json",
    ".geojson": "json",
    ".dxf": "dxf",
    ".ifc": "ifc",
}


def read_text(path: Path, largest_bytes: int) -> str:
    """The text of a file of a person's, UTF-8, not larger than ``largest_bytes``."""
    try:
        return read_bytes(path, largest_bytes).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise FileError(
            f"not a text file in UTF-8 (byte {error.start})",
            where=str(path),
            remedy="Save it as UTF-8 text.",
        ) from None


def read_bytes(path: Path, largest_bytes: int) -> bytes:
    """What stands in a file of a person's, not larger than ``largest_bytes``."""
    where = str(path)
    if not path.exists():
        raise FileError("there is no such file", where=where, remedy=_neighbor(path))
    if not path.is_file():
        raise FileError("this is not a file", where=where, remedy="Name the file itself.")
    try:
        size = path.stat().st_size
        if size > largest_bytes:
            raise FileError(
                f"the file is too large: {size / 1e6:.1f} MB, {largest_bytes / 1e6:g} MB allowed",
                where=where,
                remedy="Cut it down to the room in question.",
            )
        return path.read_bytes()
    except OSError as error:
        raise FileError(
            f"cannot be read: {error.strerror}", where=where, remedy="Check who may read it."
        ) from None


def kind_of(path: Path) -> Kind:
    """TOML or JSON, from the file's ending."""
    try:
        return SUFFIXES[path.suffix.lower()]
    except KeyError:
        raise FileError(
            "not a kind of file that can be read here",
            where=str(path),
            value=path.suffix,
            remedy="Give a job file (.toml) or a room outline (.geojson, .json, .dxf, .ifc).",
        ) from None


def parse_toml(text: str, where: str) -> dict[str, Any]:
    """TOML as a dictionary."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # TOMLDecodeError names line and column
        raise FileError(
            f"not valid TOML: {_first_line(error)}",
            where=where,
            remedy="Text stands in quotes, lengths like 12' 3 5/8\" in '''three single quotes'''.",
        ) from None


def parse_json(text: str, where: str) -> dict[str, Any]:
    """JSON as a dictionary; NaN and Infinity, which JSON does not know, are refused."""
    try:
        value = json.loads(text, parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as error:
        raise FileError(
            f"not valid JSON: {_first_line(error)}",
            where=where,
            remedy="Export it again from the program that made it.",
        ) from None
    if not isinstance(value, dict):
        raise FileError(
            "expected a JSON object at the top",
            where=where,
            value=value,
            remedy="Give a Feature or a FeatureCollection.",
        )
    return value


def _refuse_constant(word: str) -> float:
    raise ValueError(f"{word} is not a number")


def _first_line(error: Exception) -> str:
    if isinstance(error, RecursionError):
        return "nested too deeply"
    return str(error).splitlines()[0]


def _neighbor(path: Path) -> str:
    """A file beside it whose name is nearly the same."""
    try:
        names = sorted(entry.name for entry in path.parent.iterdir())[:2000]
    except OSError:
        return "Check the folder's name."
    remedy = nearest_words(path.name, names)
    return remedy if remedy.startswith("Did") else "Check the name and the folder."
