"""What a batch has done: a folder for each room, whole or not there, so that a batch can go on.

A room's ``result.json`` is written last; a room that has one with the same fingerprint is done.
"""

import hashlib
import json
import re
from dataclasses import asdict, dataclass
from pathlib import Path

from plankwright.application.batch import Outcome, Row
from plankwright.files.writing import make_folder, write_whole

RESULT = "result.json"
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Results:
    """The folder of a batch."""

    folder: Path

    def of(self, key: str, fingerprint: str) -> Row | None:
        """The room's line from an earlier run, if it was made from the same input."""
        try:
            told = json.loads((self.place(key) / RESULT).read_text(encoding="utf-8"))
            if told["fingerprint"] != fingerprint:
                return None
            row = told["row"]
            if row["state"] == "failed":
                return None  # worth another try
            return Row(**{**row, "findings": tuple(row["findings"])})
        except (OSError, ValueError, KeyError, TypeError):
            return None  # not there, or cut off by another hand

    def keep(self, outcome: Outcome, fingerprint: str) -> None:
        """Write a room's files, its result last."""
        place = self.place(outcome.row.key)
        make_folder(place)
        (place / RESULT).unlink(missing_ok=True)
        for name, text in outcome.texts.items():
            write_whole(place / name, text)
        told = {"fingerprint": fingerprint, "row": asdict(outcome.row)}
        write_whole(place / RESULT, json.dumps(told, ensure_ascii=False, indent=1) + "\n")

    def place(self, key: str) -> Path:
        """The folder of a room."""
        return self.folder / "rooms" / folder_name(key)


def folder_name(key: str) -> str:
    """A name that every disk takes, another one for every key.

    >>> folder_name("den.toml")
    'den.toml'
    >>> folder_name("../a.dxf: 1")[:8]
    'a.dxf-1-'
    """
    plain = re.sub(r"[^A-Za-z0-9._-]+", "-", key).strip("-.")[:LONGEST_NAME]
    if plain and plain == key:
        return plain
    return f"{plain or 'room'}-{hashlib.sha256(key.encode('utf-8')).hexdigest()[:8]}"
