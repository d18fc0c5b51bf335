"""The file that a phone gives back: its events and photographs, as JSON."""

import base64
import json
from collections.abc import Iterable
from dataclasses import dataclass

from plankwright.errors import FileError, InputError
from plankwright.guide.events import Event, event_entry, read_event

FORMAT = "plankwright-events"
VERSION = 1
MOST_EVENTS = 200_000


def events_text(job_id: str, events: Iterable[Event]) -> str:
    """The text of an events file, an event a line."""
    head = {"format": FORMAT, "version": VERSION, "job": job_id}
    lines = [json.dumps(event_entry(event), ensure_ascii=False) for event in events]
    listed = ",\n".join(lines)
    return json.dumps(head, ensure_ascii=False)[:-1] + ', "events": [\n' + listed + "\n]}\n"


@dataclass(frozen=True, slots=True)
class GivenBack:
    """What a phone gave back: events, and the bytes of its photographs."""

    events: tuple[Event, ...]
    photographs: tuple[bytes, ...] = ()


def read_given_back(text: str, where: str, job_id: str = "") -> GivenBack:
    """What is in the text of an events file.

    Parameters
    ----------
    where : names the file in messages.
    job_id : the job they should be of; "" for any.

    Raises
    ------
    FileError : not an events file, of a later version, or of another job.
    InputError : an event that cannot be read; its number is told.
    """
    try:
        entry = json.loads(text)
    except (ValueError, RecursionError):
        remedy = "Give the file as the phone made it."
        raise FileError("not JSON", where=where, remedy=remedy) from None
    _require_ours(entry, where, job_id)
    listed, pictures = entry.get("events"), entry.get("photographs", [])
    if not isinstance(listed, list) or len(listed) > MOST_EVENTS:
        raise FileError("holds no list of events", where=where)
    if not isinstance(pictures, list):
        raise FileError("holds no list of photographs", where=where)
    return GivenBack(
        tuple(_read(value, f"{where}: events[{number}]") for number, value in enumerate(listed)),
        tuple(_bytes(value, f"{where}: photographs[{n}]") for n, value in enumerate(pictures)),
    )


def read_events_text(text: str, where: str, job_id: str = "") -> tuple[Event, ...]:
    """The events in the text of an events file; see :func:`read_given_back`."""
    return read_given_back(text, where, job_id).events


def _require_ours(entry: object, where: str, job_id: str) -> None:
    if not isinstance(entry, dict) or entry.get("format") != FORMAT:
        raise FileError(
            "not a file of events", where=where, remedy="Give the file that the phone gave back."
        )
    if entry.get("version") != VERSION:
        raise FileError(
            "made by another version of the program", where=where, value=entry.get("version")
        )
    if job_id and entry.get("job") not in (None, job_id):
        raise FileError(
            "the events are of another job", where=where, value=entry.get("job"),
            remedy="Merge them into the log of their own job.",
        )  # fmt: skip


def _bytes(value: object, where: str) -> bytes:
    try:
        return base64.b64decode(value["bytes"], validate=True)  # type: ignore[index]
    except (KeyError, TypeError, ValueError):
        raise InputError("a photograph that cannot be read", where=where) from None


def _read(value: object, where: str) -> Event:
    try:
        return read_event(value)
    except InputError as error:
        raise error.at(where) from None
