"""Where jobs lie: one store file, asked by many requests at once."""

from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from plankwright.errors import InputError
from plankwright.files.job_document import Document, document_text, read_document
from plankwright.guide.events import Event
from plankwright.guide.laying_log import LayingLog
from plankwright.store.database import Database
from plankwright.store.export import export_job, import_job
from plankwright.store.jobs import Jobs, StaleError, StoredJob
from plankwright.store.log import EventLog
from plankwright.store.photographs import Photograph, Photographs
from plankwright.web.refusals import RefusedError

LONGEST_NAME = 200  # of a job in the list; the document keeps the whole name


@dataclass(frozen=True, slots=True)
class ShelvedJob:
    """A job as it lies on the shelf.

    Parameters
    ----------
    id, name : in addresses, and for people.
    document : the job document.
    revision : grows by one with every change.
    changed : when it was last changed, UTC, ISO 8601.
    """

    id: str
    name: str
    document: Document
    revision: int
    changed: str


class Shelf:
    """The jobs in a store file; one request at a time speaks with the file."""

    def __init__(self, path: Path) -> None:
        self._database = Database(path)
        self._jobs = Jobs(self._database)
        self._lock = RLock()
        self.place = str(path.absolute())

    def close(self) -> None:
        """Close the file; what was written is in the one file again."""
        with self._lock:
            self._database.close()

    # --- jobs --------------------------------------------------------------------------------

    def all(self, *, put_away: bool = False) -> list[ShelvedJob]:
        """The jobs in use, or those put away, the last changed first."""
        with self._lock:
            jobs = [self._shelved(job) for job in self._jobs.all(put_away=put_away)]
        return sorted(jobs, key=lambda job: job.changed, reverse=True)

    def add(self, document: Document) -> ShelvedJob:
        """A new job."""
        text = document_text(document)
        with self._lock:
            job = self._jobs.add(name_of(document)[:LONGEST_NAME])
            self._jobs.save(job.id, "job", text, base=0)
            return self._shelved(job)

    def get(self, job_id: str) -> ShelvedJob:
        """The job; a refusal where there is none."""
        with self._lock:
            return self._shelved(self._require(job_id))

    def save(self, job_id: str, document: Document, base: int) -> ShelvedJob:
        """The job with a new document; a refusal when another one came in between."""
        text = document_text(document)
        with self._lock:
            job = self._require(job_id)
            try:
                self._jobs.save(job.id, "job", text, base=base)
            except StaleError:
                raise RefusedError(
                    409,
                    "this job was changed somewhere else in between",
                    where="revision",
                    remedy="Load it again; what you typed is kept until then.",
                ) from None
            name = name_of(document)[:LONGEST_NAME]
            if name != job.name:
                self._jobs.rename(job.id, name)
            return self._shelved(job)

    def put_away(self, job_id: str) -> None:
        """Put a job away; it stays in the file."""
        with self._lock:
            self._jobs.put_away(self._require(job_id).id)

    def take_out(self, job_id: str) -> None:
        """Take a job that was put away into use again."""
        with self._lock:
            self._jobs.take_out(self._require(job_id).id)

    def export(self, job_id: str) -> str:
        """The job with everything that belongs to it, as text."""
        with self._lock:
            return export_job(self._database, self._require(job_id).id)

    def bring_in(self, text: str, where: str) -> ShelvedJob:
        """A job that was exported."""
        with self._lock:
            return self._shelved(import_job(self._database, text, where))

    # --- the laying day ----------------------------------------------------------------------

    def plan_text(self, job_id: str) -> tuple[str, int] | None:
        """The plan that is laid, as the text of a plan file, and its revision."""
        with self._lock:
            found = self._jobs.document(self._require(job_id).id, "plan")
        return None if found is None else (found.body, found.revision)

    def save_plan(self, job_id: str, text: str, why: str) -> int:
        """From here on this plan is laid; its revision."""
        with self._lock:
            return self._jobs.save(self._require(job_id).id, "plan", text, why=why).revision

    def append(self, job_id: str, events: list[Event]) -> int:
        """Write events down, each once; how many were new."""
        with self._lock:
            return self._log(job_id).append(events)

    def log(self, job_id: str, board_mm: tuple[float, float]) -> LayingLog:
        """The events of a job in their order, with their state."""
        with self._lock:
            return self._log(job_id).folded(board_mm)

    def add_photograph(self, job_id: str, data: bytes) -> Photograph:
        """Keep a photograph."""
        with self._lock:
            return Photographs(self._database, self._require(job_id).id).add(data)

    def photograph(self, job_id: str, digest: str) -> Photograph | None:
        """The photograph of a digest, or None."""
        with self._lock:
            return Photographs(self._database, self._require(job_id).id).get(digest)

    def _log(self, job_id: str) -> EventLog:
        return EventLog(self._database, self._require(job_id).id)

    def _require(self, job_id: str) -> StoredJob:
        try:
            return self._jobs.get(job_id)
        except InputError:
            raise RefusedError(
                404, "there is no such job", where="job", remedy="See the list of jobs."
            ) from None

    def _shelved(self, job: StoredJob) -> ShelvedJob:
        found = self._jobs.document(job.id, "job")
        if found is None:
            return ShelvedJob(job.id, job.name, {"job": {"name": job.name}}, 0, job.made)
        document = read_document(found.body, job.name)
        return ShelvedJob(job.id, name_of(document), document, found.revision, found.made)


def name_of(document: Document) -> str:
    """How the person calls the job; empty when it has no name."""
    table = document.get("job")
    return str(table.get("name", "")) if isinstance(table, dict) else ""
