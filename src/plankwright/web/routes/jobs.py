"""Jobs: the list, a job's document with its revision, copies, job files in and out."""

import re
from datetime import UTC
from importlib import resources
from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Response
from pydantic import BaseModel, Field

from plankwright.files.job_document import Document, document_text, read_document
from plankwright.web.refusals import REFUSALS, RefusedError
from plankwright.web.shelf import JobShelf, ShelvedJob, StaleError

JobId = Annotated[str, Path(max_length=64, pattern=r"^[A-Za-z0-9_-]+$")]
LARGEST_TEXT = 1_000_000
DEMO = "demo_room.toml"


class JobLine(BaseModel):
    """A job in the list."""

    id: str
    name: str
    revision: int
    changed: str


class JobBody(BaseModel):
    """A job: its document and the revision it has."""

    id: str
    revision: int
    document: dict[str, Any]


class NewJob(BaseModel):
    """A new job: empty, from a document, or the demo room to play with."""

    document: dict[str, Any] = Field(default_factory=dict)
    demo: bool = False


class ChangedJob(BaseModel):
    """A job's document and the revision it was changed from."""

    revision: int = Field(ge=0, le=2**53)
    document: dict[str, Any]


class JobText(BaseModel):
    """The text of a job file and what the file is called."""

    text: str = Field(max_length=LARGEST_TEXT)
    name: str = Field("job.toml", max_length=20_000)


def jobs_router(shelf: JobShelf) -> APIRouter:
    """The routes of jobs on a shelf."""
    router = APIRouter(prefix="/api/jobs", tags=["jobs"], responses=REFUSALS)

    @router.get("")
    def list_jobs() -> list[JobLine]:
        """Every job, the last changed first."""
        return [
            JobLine(
                id=job.id,
                name=name_of(job.document),
                revision=job.revision,
                changed=job.changed.astimezone(UTC).isoformat(timespec="seconds"),
            )
            for job in shelf.all()
        ]

    @router.post("", status_code=201)
    def new_job(new: NewJob) -> JobBody:
        """Start a job."""
        document = demo_document() if new.demo else new.document
        return _body(shelf.add(kept(document)))

    @router.post("/import", status_code=201)
    def import_job(file: JobText) -> JobBody:
        """A job from the text of a job file."""
        return _body(shelf.add(kept(read_document(file.text, shown_name(file.name)))))

    @router.get("/{job_id}")
    def read(job_id: JobId) -> JobBody:
        """A job's document."""
        return _body(require(shelf, job_id))

    @router.put("/{job_id}")
    def save(job_id: JobId, changed: ChangedJob) -> JobBody:
        """Keep a changed document; 409 when somebody else changed it in between."""
        require(shelf, job_id)
        try:
            return _body(shelf.save(job_id, kept(changed.document), changed.revision))
        except StaleError:
            raise RefusedError(
                409,
                "this job was changed somewhere else in between",
                where="revision",
                remedy="Load it again; what you typed is kept until then.",
            ) from None

    @router.post("/{job_id}/copy", status_code=201)
    def copy(job_id: JobId, name: Annotated[str, Body(embed=True, max_length=2000)]) -> JobBody:
        """A second job that starts as this one is now."""
        document = dict(require(shelf, job_id).document)
        table = document.get("job")
        document["job"] = {**(table if isinstance(table, dict) else {}), "name": name}
        return _body(shelf.add(kept(document)))

    @router.delete("/{job_id}", status_code=204)
    def remove(job_id: JobId) -> None:
        """Put a job away for good."""
        require(shelf, job_id)
        shelf.remove(job_id)

    @router.get("/{job_id}/file")
    def export(job_id: JobId) -> Response:
        """The job file."""
        document = require(shelf, job_id).document
        return download(document_text(document), "application/toml", name_of(document), "toml")

    return router


def require(shelf: JobShelf, job_id: str) -> ShelvedJob:
    """The job of that name, or a refusal."""
    job = shelf.get(job_id)
    if job is None:
        raise RefusedError(404, "there is no such job", where="job", remedy="See the list of jobs.")
    return job


def kept(document: Document) -> Document:
    """The document, if a job file can hold it."""
    document_text(document)
    return document


def name_of(document: Document) -> str:
    """How the person calls the job; empty when it has no name."""
    table = document.get("job")
    return str(table.get("name", "")) if isinstance(table, dict) else ""


def demo_document() -> Document:
    """The demo room."""
    text = resources.files("plankwright").joinpath("data", DEMO).read_text(encoding="utf-8")
    return read_document(text, DEMO)


def shown_name(name: str) -> str:
    """A file's name without folders, short enough for a message."""
    return re.split(r"[\\/]", name)[-1][:80] or "job.toml"


def download(content: str | bytes, kind: str, name: str, ending: str) -> Response:
    """An answer that a browser saves under the job's name."""
    plain = re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-").lower()[:60] or "job"
    disposition = f'attachment; filename="{plain}.{ending}"'
    return Response(content, media_type=kind, headers={"content-disposition": disposition})


def _body(job: ShelvedJob) -> JobBody:
    return JobBody(id=job.id, revision=job.revision, document=job.document)
