"""Jobs and their documents: the job text, the plans, one revision after another.

A document is text; what it means is not the store's business. A revision is never changed: saving
adds the next one, and only on the newest, so that two people do not overwrite each other.
"""

import secrets
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal

from plankwright.errors import InputError
from plankwright.store.database import Database

DocumentKind = Literal["job", "plan"]
LARGEST_DOCUMENT = 50_000_000  # letters


class StaleError(InputError):
    """Somebody saved a newer revision in between; carries it as ``newest``."""

    def __init__(self, newest: int) -> None:
        super().__init__(
            "somebody saved a newer one in between",
            value=newest,
            remedy="Look at the newest one and save again.",
        )
        self.newest = newest


@dataclass(frozen=True, slots=True)
class StoredJob:
    """A job in a store; ``put_away`` is "" while it is in use."""

    id: str
    name: str
    made: str
    put_away: str = ""


@dataclass(frozen=True, slots=True)
class Document:
    """A revision of a document; ``why`` says why it was made."""

    kind: DocumentKind
    revision: int
    body: str
    made: str
    why: str = ""


class Jobs:
    """The jobs of a store."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, name: str, job_id: str = "") -> StoredJob:
        """A new job; its id is made up where none is given.

        Raises
        ------
        InputError : the id is taken.
        """
        job = StoredJob(job_id or secrets.token_hex(8), name, utc_now())
        with self._database.writing() as connection:
            if connection.execute("SELECT 1 FROM job WHERE id = ?", (job.id,)).fetchone():
                raise InputError("there is such a job already", where="job", value=job.id)
            connection.execute(
                "INSERT INTO job (id, name, made) VALUES (?, ?, ?)", (job.id, job.name, job.made)
            )
        return job

    def all(self, *, put_away: bool = False) -> tuple[StoredJob, ...]:
        """Jobs in use, or those put away, oldest first."""
        rows = self._database.rows(
            "SELECT id, name, made, coalesce(put_away, '') FROM job"
            " WHERE (put_away IS NOT NULL) = ? ORDER BY made, rowid",
            (put_away,),
        )
        return tuple(StoredJob(*row) for row in rows)

    def get(self, job_id: str) -> StoredJob:
        """The job of an id.

        Raises
        ------
        InputError : there is none.
        """
        rows = self._database.rows(
            "SELECT id, name, made, coalesce(put_away, '') FROM job WHERE id = ?", (job_id,)
        )
        if not rows:
            raise InputError("no such job", where="job", value=job_id)
        return StoredJob(*rows[0])

    def only(self) -> StoredJob:
        """The one job of a file that holds one.

        Raises
        ------
        InputError : it holds none, or several.
        """
        jobs = self.all()
        if len(jobs) != 1:
            raise InputError(
                f"holds {len(jobs)} jobs, not one",
                where=str(self._database.path),
                remedy="Name the job, or a file that holds one.",
            )
        return jobs[0]

    def rename(self, job_id: str, name: str) -> None:
        """Give a job another name."""
        self._change(job_id, "name", name)

    def put_away(self, job_id: str) -> None:
        """Put a job away; everything of it stays in the file."""
        self._change(job_id, "put_away", utc_now())

    def take_out(self, job_id: str) -> None:
        """Take a job that was put away into use again."""
        self._change(job_id, "put_away", None)

    def _change(self, job_id: str, column: Literal["name", "put_away"], value: str | None) -> None:
        with self._database.writing() as connection:
            done = connection.execute(f"UPDATE job SET {column} = ? WHERE id = ?", (value, job_id))
            if done.rowcount == 0:
                raise InputError("no such job", where="job", value=job_id)

    # --- documents ---------------------------------------------------------------------------

    def save(
        self, job_id: str, kind: DocumentKind, body: str, *, base: int | None = None, why: str = ""
    ) -> Document:
        """The next revision of a document.

        Parameters
        ----------
        base : the revision that was changed, 0 for none; None: whichever is the newest.

        Raises
        ------
        StaleError : a newer revision than ``base`` is there.
        InputError : no such job, or far too large a document.
        """
        if len(body) > LARGEST_DOCUMENT:
            raise InputError("far too large a document", where=kind, value=len(body))
        self.get(job_id)
        with self._database.writing() as connection:
            (newest,) = connection.execute(
                "SELECT coalesce(max(revision), 0) FROM document WHERE job = ? AND kind = ?",
                (job_id, kind),
            ).fetchone()
            if base is not None and base != newest:
                raise StaleError(newest)
            document = Document(kind, newest + 1, body, utc_now(), why)
            connection.execute(
                "INSERT INTO document (job, kind, revision, body, made, why)"
                " VALUES (?, ?, ?, ?, ?, ?)",
                (job_id, kind, document.revision, body, document.made, why),
            )
        return document

    def document(
        self, job_id: str, kind: DocumentKind, revision: int | None = None
    ) -> Document | None:
        """A revision of a document, the newest where none is named; None where there is none."""
        rows = self._database.rows(
            "SELECT kind, revision, body, made, why FROM document WHERE job = ? AND kind = ?"
            " AND (?3 IS NULL OR revision = ?3) ORDER BY revision DESC LIMIT 1",
            (job_id, kind, revision),
        )
        return Document(*rows[0]) if rows else None

    def revisions(self, job_id: str, kind: DocumentKind) -> tuple[Document, ...]:
        """Every revision of a document, oldest first."""
        rows = self._database.rows(
            "SELECT kind, revision, body, made, why FROM document WHERE job = ? AND kind = ?"
            " ORDER BY revision",
            (job_id, kind),
        )
        return tuple(Document(*row) for row in rows)


def utc_now() -> str:
    """The time, UTC, to the second, as ISO 8601."""
    return datetime.now(UTC).isoformat(timespec="seconds")
