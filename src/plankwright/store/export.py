"""A whole job as one JSON text, and back: documents with their revisions, events, photographs.

Exported, read into another store and exported again it is the same text.
"""

import base64
import binascii
import json
from typing import Any

from plankwright.errors import FileError, InputError
from plankwright.guide.events import event_entry, read_event
from plankwright.store.database import Database
from plankwright.store.jobs import Document, Jobs, StoredJob
from plankwright.store.log import EventLog, event_text
from plankwright.store.photographs import Photographs, digest_of, media_type_of

FORMAT = "plankwright-job"
VERSION = 1
KINDS = ("job", "plan")


def export_job(database: Database, job_id: str) -> str:
    """The job with everything that belongs to it, as JSON text: always the same bytes."""
    jobs = Jobs(database)
    job = jobs.get(job_id)
    entry = {
        "format": FORMAT,
        "version": VERSION,
        "job": {"id": job.id, "name": job.name, "made": job.made},
        "documents": [
            {
                "kind": document.kind,
                "revision": document.revision,
                "made": document.made,
                "why": document.why,
                "body": document.body,
            }
            for kind in KINDS
            for document in jobs.revisions(job_id, kind)  # type: ignore[arg-type]
        ],
        "events": [event_entry(event) for _, event in EventLog(database, job_id).events()],
        "photographs": [
            {"media_type": photo.media_type, "bytes": base64.b64encode(photo.bytes).decode()}
            for photo in Photographs(database, job_id).all()
        ],
    }
    return json.dumps(entry, ensure_ascii=False, indent=1) + "\n"


def import_job(database: Database, text: str, where: str = "") -> StoredJob:
    """Read an exported job into a store, whole or not at all.

    Raises
    ------
    FileError : not an export of a job, or of a later version.
    InputError : the store holds a job of that id.
    """
    entry = _entry(text, where)
    try:
        job = StoredJob(*(_text(entry["job"], key) for key in ("id", "name", "made")))
        documents = [_document(value) for value in entry["documents"]]
        events = [read_event(value) for value in entry["events"]]
        pictures = [
            base64.b64decode(value["bytes"], validate=True) for value in entry["photographs"]
        ]
    except (KeyError, TypeError, AttributeError, binascii.Error) as error:
        raise FileError("an export with a part missing", where=where, value=str(error)) from None
    except InputError as error:
        raise error.at(where) from None
    _require_in_turn(documents, where)
    with database.writing() as connection:
        if connection.execute("SELECT 1 FROM job WHERE id = ?", (job.id,)).fetchone():
            raise InputError("there is such a job already", where="job", value=job.id)
        connection.execute(
            "INSERT INTO job (id, name, made) VALUES (?, ?, ?)", (job.id, job.name, job.made)
        )
        connection.executemany(
            "INSERT INTO document (job, kind, revision, body, made, why) VALUES (?, ?, ?, ?, ?, ?)",
            [(job.id, d.kind, d.revision, d.body, d.made, d.why) for d in documents],
        )
        connection.executemany(
            "INSERT INTO event (job, id, body, came) VALUES (?, ?, ?, ?)",
            [(job.id, event.id, event_text(event), event.at) for event in events],
        )
        connection.executemany(
            "INSERT INTO photograph (job, digest, media_type, bytes) VALUES (?, ?, ?, ?)",
            [(job.id, digest_of(data), media_type_of(data), data) for data in pictures],
        )
    return job


def _entry(text: str, where: str) -> dict[str, Any]:
    try:
        entry = json.loads(text)
    except (ValueError, RecursionError):
        raise FileError(
            "not JSON", where=where, remedy="Give the file as it was exported."
        ) from None
    if not isinstance(entry, dict) or entry.get("format") != FORMAT:
        raise FileError("not an exported job", where=where, remedy="Export the job again.")
    if entry.get("version") != VERSION:
        raise FileError(
            "exported by another version of the program", where=where, value=entry.get("version")
        )
    return entry


def _document(value: dict[str, Any]) -> Document:
    kind, revision = value["kind"], value["revision"]
    if kind not in KINDS or not isinstance(revision, int):
        raise InputError("no such document", where="documents", value=kind)
    body, made, why = (_text(value, key) for key in ("body", "made", "why"))
    return Document(kind, revision, body, made, why)


def _require_in_turn(documents: list[Document], where: str) -> None:
    for kind in KINDS:
        numbers = [document.revision for document in documents if document.kind == kind]
        if numbers != list(range(1, len(numbers) + 1)):
            raise FileError("revisions are missing", where=where, value=kind)


def _text(values: dict[str, Any], key: str) -> str:
    value = values[key]
    if not isinstance(value, str):
        raise InputError("must be text", where=key, value=value)
    return value
