"""Where jobs lie: one store file, asked by many requests at once."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from plankwright.errors import InputError
from plankwright.files.job_document import Document, document_text, read_document
from plankwright.files.plan_file import load_plan
from plankwright.store.database import Database
from plankwright.store.export import export_job, import_job
from plankwright.store.jobs import Jobs, StaleError, StoredJob
from plankwright.store.laying import Laying
from plankwright.store.photographs import Photograph, Photographs
from plankwright.web.refusals import RefusedError

LONGEST_NAME = 200  # of a job in the list; the document keeps the whole name


@dataclass(frozen=True, slots=True)
class KeptJob:
    """A job as it lies in the store.

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


class JobStore:
    """The jobs in a store file; one request at a time speaks with the file."""

    def __init__(self, path: Path) -> None:
        self._database = Database(path)
        self._jobs = Jobs(self._database)
        self._days: dict[str, Laying] = {}
        self._lock = RLock()
        self.place = str(path.absolute())

    def close(self) -> None:
        """Close the file; what was written is in the one file again."""
        with self._lock:
            self._database.close()

    # --- jobs --------------------------------------------------------------------------------

    def all(self, *, put_away: bool = False) -> list[KeptJob]:
        """The jobs in use, or those put away, the last changed first."""
        with self._lock:
            jobs = [self._kept(job) for job in self._jobs.all(put_away=put_away)]
        return sorted(jobs, key=lambda job: job.changed, reverse=True)

    def add(self, document: Document) -> KeptJob:
        """A new job."""
        text = document_text(document)
        with self._lock:
            job = self._jobs.add(name_of(document)[:LONGEST_NAME])
            self._jobs.save(job.id, "job", text, base=0)
            return self._kept(job)

    def get(self, job_id: str) -> KeptJob:
        """The job; a refusal where there is none."""
        with self._lock:
            return self._kept(self._require(job_id))

    def save(self, job_id: str, document: Document, base: int) -> KeptJob:
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
            return self._kept(job)

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

    def bring_in(self, text: str, where: str) -> KeptJob:
        """A job that was exported."""
        with self._lock:
            return self._kept(import_job(self._database, text, where))

    # --- the laying day ----------------------------------------------------------------------

    def is_begun(self, job_id: str) -> bool:
        """Whether a plan of the job was taken to lay."""
        with self._lock:
            return self._jobs.document(self._require(job_id).id, "plan") is not None

    @contextmanager
    def laying(self, job_id: str) -> Iterator[Laying]:
        """The laying day of a job, read once and kept in step; a refusal before it is begun."""
        with self._lock:
            job = self._require(job_id)
            if job.id not in self._days:
                if self._jobs.document(job.id, "plan") is None:
                    raise RefusedError(
                        404, "no plan is laid yet", where="plan", remedy="Begin with the plan."
                    )
                self._days[job.id] = Laying(self._database, job.id, load_plan, "page")
            yield self._days[job.id]

    def begin(self, job_id: str, plan_text: str) -> None:
        """Lay this plan; before anything lies another one may take its place."""
        with self._lock:
            job = self._require(job_id)
            if self._jobs.document(job.id, "plan") is None:
                self._jobs.save(job.id, "plan", plan_text, base=0, why="taken to lay")
                return
        with self.laying(job_id) as laying:
            laying.take_plan(plan_text, "taken to lay")

    def add_photograph(self, job_id: str, data: bytes) -> Photograph:
        """Keep a photograph."""
        with self._lock:
            return Photographs(self._database, self._require(job_id).id).add(data)

    def photograph(self, job_id: str, digest: str) -> Photograph | None:
        """The photograph of a digest, or None."""
        with self._lock:
            return Photographs(self._database, self._require(job_id).id).get(digest)

    def _require(self, job_id: str) -> StoredJob:
        try:
            return self._jobs.get(job_id)
        except InputError:
            raise RefusedError(
                404, "there is no such job", where="job", remedy="See the list of jobs."
            ) from None

    def _kept(self, job: StoredJob) -> KeptJob:
        found = self._jobs.document(job.id, "job")
        if found is None:
            return KeptJob(job.id, job.name, {"job": {"name": job.name}}, 0, job.made)
        document = read_document(found.body, job.name)
        return KeptJob(job.id, name_of(document), document, found.revision, found.made)


def name_of(document: Document) -> str:
    """How the person calls the job; empty when it has no name."""
    table = document.get("job")
    return str(table.get("name", "")) if isinstance(table, dict) else ""
