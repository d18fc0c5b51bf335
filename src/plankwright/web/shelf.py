"""Where jobs lie: what the server asks of a store, and one that lies in memory."""

import secrets
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from threading import Lock
from typing import Protocol

from plankwright.files.job_document import Document


@dataclass(frozen=True, slots=True)
class ShelvedJob:
    """A job as it lies on the shelf.

    Parameters
    ----------
    id : its name in addresses.
    document : the job document.
    revision : grows by one with every change.
    changed : when it was last changed, UTC.
    """

    id: str
    document: Document
    revision: int
    changed: datetime


class StaleError(Exception):
    """Somebody else changed the job in between."""


class JobShelf(Protocol):
    """What the server asks of a store of jobs."""

    place: str

    def all(self) -> list[ShelvedJob]:
        """Every job, the last changed first."""

    def add(self, document: Document) -> ShelvedJob:
        """A new job."""

    def get(self, job_id: str) -> ShelvedJob | None:
        """The job, or None."""

    def save(self, job_id: str, document: Document, base: int) -> ShelvedJob:
        """The job with a new document; raises KeyError or StaleError."""

    def remove(self, job_id: str) -> None:
        """Put a job away; raises KeyError."""


class MemoryShelf:
    """A shelf that is empty again when the server ends: for tests."""

    place = ""

    def __init__(self) -> None:
        self._jobs: dict[str, ShelvedJob] = {}
        self._lock = Lock()

    def all(self) -> list[ShelvedJob]:
        """Every job, the last changed first."""
        return sorted(self._jobs.values(), key=lambda job: job.changed, reverse=True)

    def add(self, document: Document) -> ShelvedJob:
        """A new job."""
        job = ShelvedJob(secrets.token_hex(8), document, 1, datetime.now(UTC))
        with self._lock:
            self._jobs[job.id] = job
        return job

    def get(self, job_id: str) -> ShelvedJob | None:
        """The job, or None."""
        return self._jobs.get(job_id)

    def save(self, job_id: str, document: Document, base: int) -> ShelvedJob:
        """The job with a new document."""
        with self._lock:
            job = self._jobs[job_id]
            if job.revision != base:
                raise StaleError
            job = replace(job, document=document, revision=base + 1, changed=datetime.now(UTC))
            self._jobs[job_id] = job
        return job

    def remove(self, job_id: str) -> None:
        """Put a job away."""
        with self._lock:
            del self._jobs[job_id]
