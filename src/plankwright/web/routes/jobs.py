"""Jobs: the list, a job's document with its revision, copies, job files in and out."""

import re
from importlib import resources
from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Query, Response
from pydantic import BaseModel, Field
from shapely import LinearRing

from plankwright.files.geojson import read_room
from plankwright.files.job_document import Document, document_text, read_document
from plankwright.files.source import parse_json
from plankwright.model.room import Room
from plankwright.web.job_store import JobStore, KeptJob, name_of
from plankwright.web.media import Json, Toml
from plankwright.web.refusals import BODY, may_refuse

JobId = Annotated[
    str,
    Path(max_length=64, pattern=r"^[A-Za-z0-9_-]+$", description="The job, as the list names it."),
]
PutAway = Annotated[bool, Query(description="Those put away instead of those in use.")]
CopyName = Annotated[str, Body(embed=True, max_length=2000, description="How the copy is called.")]
DocumentOf = Annotated[
    dict[str, Any],
    Field(description="The job file as JSON: its tables, keys and values, lengths as typed."),
]
Revision = Annotated[int, Field(description="Grows by one with every change.")]
LARGEST_TEXT = 1_000_000
DEMO = "demo_room.toml"


class JobLine(BaseModel):
    """A job in the list."""

    id: str = Field(description="Its name in addresses.")
    name: str = Field(description="How the person calls it.")
    revision: Revision
    changed: str = Field(description="When it was last changed, UTC, ISO 8601.")


class JobBody(BaseModel):
    """A job: its document and the revision it has."""

    id: str = Field(description="Its name in addresses.")
    revision: Revision
    document: DocumentOf


class NewJob(BaseModel):
    """A new job: empty, from a document, or the demo room to play with."""

    document: DocumentOf = Field(default_factory=dict)
    demo: bool = Field(False, description="The demo room instead of the document.")


class ChangedJob(BaseModel):
    """A job's document and the revision it was changed from."""

    revision: int = Field(ge=0, le=2**53, description="The one that was changed.")
    document: DocumentOf


class JobText(BaseModel):
    """The text of a job file and what the file is called."""

    text: str = Field(max_length=LARGEST_TEXT, description="What stands in the file.")
    name: str = Field("job.toml", max_length=20_000, description="The file's name, for messages.")


def jobs_router(store: JobStore) -> APIRouter:
    """The routes of the jobs in a store."""
    router = APIRouter(prefix="/api/jobs", tags=["jobs"])

    @router.get("", responses=may_refuse(422))
    def list_jobs(put_away: PutAway = False) -> list[JobLine]:
        """The jobs in use, or those put away, the last changed first."""
        return [
            JobLine(id=job.id, name=job.name, revision=job.revision, changed=job.changed)
            for job in store.all(put_away=put_away)
        ]

    @router.post("", status_code=201, responses=may_refuse(*BODY))
    def new_job(new: NewJob) -> JobBody:
        """Start a job: empty, from a document, or the demo room."""
        document = demo_document() if new.demo else new.document
        return _body(store.add(document))

    @router.post("/import", status_code=201, responses=may_refuse(*BODY))
    def import_job(file: JobText) -> JobBody:
        """A job from a job file (TOML), a room outline (GeoJSON), or everything of a job (JSON)."""
        name = shown_name(file.name)
        if file.text.lstrip().startswith("{"):
            data = parse_json(file.text, name)
            if data.get("type") in ("Feature", "FeatureCollection", "Polygon"):
                return _body(store.add(outline_document(read_room(data, name))))
            return _body(store.bring_in(file.text, name))
        return _body(store.add(read_document(file.text, name)))

    @router.get("/{job_id}", responses=may_refuse(404, 422))
    def read(job_id: JobId) -> JobBody:
        """A job's document."""
        return _body(store.get(job_id))

    @router.put("/{job_id}", responses=may_refuse(*BODY, 404, 409))
    def save(job_id: JobId, changed: ChangedJob) -> JobBody:
        """Keep a changed document; refused when somebody else changed it in between."""
        return _body(store.save(job_id, changed.document, changed.revision))

    @router.post("/{job_id}/copy", status_code=201, responses=may_refuse(*BODY, 404))
    def copy(job_id: JobId, name: CopyName) -> JobBody:
        """A second job that starts as this one is now."""
        document = dict(store.get(job_id).document)
        table = document.get("job")
        document["job"] = {**(table if isinstance(table, dict) else {}), "name": name}
        return _body(store.add(document))

    @router.delete("/{job_id}", status_code=204, responses=may_refuse(404, 422))
    def remove(job_id: JobId) -> None:
        """Put a job away; it can be taken out again."""
        store.put_away(job_id)

    @router.post("/{job_id}/take-out", status_code=204, responses=may_refuse(404, 422))
    def take_out(job_id: JobId) -> None:
        """Take a job that was put away into use again."""
        store.take_out(job_id)

    @router.get("/{job_id}/file", response_class=Toml, responses=may_refuse(404, 422))
    def export(job_id: JobId) -> Response:
        """The job as a job file (TOML)."""
        document = store.get(job_id).document
        return download(document_text(document), "application/toml", name_of(document), "toml")

    @router.get("/{job_id}/whole", response_class=Json, responses=may_refuse(404, 422))
    def whole(job_id: JobId) -> Response:
        """Everything of a job: every revision, what happened on the floor, photographs.

        What it answers can be given to `/api/jobs/import` again, here or elsewhere.
        """
        text = store.export(job_id)
        return download(text, "application/json", store.get(job_id).name, "job.json")

    return router


def outline_document(room: Room) -> Document:
    """A document of a room that is only an outline."""

    def corners(ring: LinearRing) -> list[list[float]]:
        return [[round(x, 1), round(y, 1)] for x, y, *_ in ring.coords[:-1]]

    outline = room.outline
    table: Document = {"outline": corners(outline.exterior)}
    if outline.interiors:
        table["holes"] = [corners(ring) for ring in outline.interiors]
    return {"job": {"name": room.name, "unit": "mm"}, "room": table}


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


def _body(job: KeptJob) -> JobBody:
    return JobBody(id=job.id, revision=job.revision, document=job.document)
