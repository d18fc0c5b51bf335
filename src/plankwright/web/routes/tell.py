"""Keep and tell: the record of the laying, the how-to, drawings for other programs."""

import io
import zipfile
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter
from pydantic import BaseModel, Field
from starlette.responses import Response

from plankwright.application.lay_used import planned_and_used
from plankwright.drawing.style import PRINT
from plankwright.drawing.svg import render_svg
from plankwright.guide.events import event_entry
from plankwright.web.job_store import JobStore
from plankwright.web.media import Html, Zip
from plankwright.web.planning import Planning
from plankwright.web.refusals import BODY, may_refuse
from plankwright.web.routes.buy import buy_job
from plankwright.web.routes.jobs import JobId
from plankwright.web.routes.sheets import FIRST_DAY
from plankwright.web.work import Standing, Work, Workshop

if TYPE_CHECKING:
    from plankwright.application.how_to import HowToSource

# The preview is a page of its own: its style may stand in it, and nothing else may happen there.
PREVIEW_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; sandbox"
CONTEXT = ("piece-spoiled", "board-damaged", "noted", "plan-taken", "piece-damaged")


class WantedBody(BaseModel):
    """What of the household's own the how-to tells after all."""

    name: bool = Field(False, description="The name of the job.")
    prices: bool = Field(False, description="What things cost.")
    notes: bool = Field(False, description="Notes taken on the floor.")


def tell_router(store: JobStore, planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of keeping and telling."""
    router = APIRouter(prefix="/api/jobs/{job_id}", tags=["keep"])

    def source(job_id: str, wanted: WantedBody) -> "HowToSource":
        from plankwright.application.how_to import Wanted, source_of

        job = buy_job(planning, store.get(job_id).document)
        chosen = Wanted(wanted.name, wanted.prices, wanted.notes)
        if not store.is_begun(job_id):
            return source_of(job, wanted=chosen)
        with store.laying(job_id) as laying:
            return source_of(job, day=laying.day, first=laying.first_plan, wanted=chosen)

    @router.get("/record", responses=may_refuse(400, 404, 422))
    def record(job_id: JobId) -> dict[str, Any]:
        """What was planned and used, what went wrong, notes and photographs.

        Answers `used` (boards, pieces, offcuts and waste, planned and real), `happened`, the
        events that tell a story, and `photographs`: each `photo`, `where` and `caption`.
        """
        with store.laying(job_id) as laying:
            day, first = laying.day, laying.first_plan
        events = [event_entry(event) for event in day.log.events]
        return {
            "used": asdict(planned_and_used(first, day)),
            "happened": [event for event in events if event["kind"] in CONTEXT],
            "photographs": [
                {"photo": photo, "where": where, "caption": caption}
                for where, photo, caption in day.state.photos.values()
            ],
        }

    @router.post("/how-to", status_code=202, responses=may_refuse(*BODY, 404))
    def preview(job_id: JobId, wanted: WantedBody) -> Standing:
        """Begin to write the how-to.

        Its result is one page (HTML) that needs nothing else.
        """
        store.get(job_id)

        def write(_: Work) -> Response:
            page = _page(source(job_id, wanted))
            headers = {"content-security-policy": PREVIEW_POLICY}
            return Html(page, headers=headers)

        return workshop.start("how-to", write).shown()

    @router.post("/how-to/folder", status_code=202, responses=may_refuse(*BODY, 404))
    def folder(job_id: JobId, wanted: WantedBody) -> Standing:
        """Begin to write the how-to as Markdown with its drawings and as a page.

        Its result is a ZIP file.
        """
        store.get(job_id)

        def write(_: Work) -> Response:
            return Zip(_bundle(source(job_id, wanted)))

        return workshop.start("how-to", write).shown()

    return router


def _page(source: "HowToSource") -> str:
    return _texts(source)["how-to.html"]


def _bundle(source: "HowToSource") -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, text in _texts(source).items():
            bundle.writestr(zipfile.ZipInfo(name, FIRST_DAY), text)
    return made.getvalue()


def _texts(source: "HowToSource") -> dict[str, str]:
    """The how-to as Markdown, as a page, and its drawings, by the names of their files."""
    from plankwright.application.how_to_article import write_how_to
    from plankwright.paper.how_to_html import how_to_html
    from plankwright.paper.how_to_markdown import PICTURES, how_to_markdown
    from plankwright.paper.how_to_pictures import pictures_of
    from plankwright.paper.own_words import OwnWords

    article, pictures = write_how_to(source), pictures_of(source)
    named = {step.picture for step in article.steps}
    used = {key: scene for key, scene in pictures.items() if key in named}
    return {
        "how-to.md": how_to_markdown(article, used, OwnWords()),
        "how-to.html": how_to_html(article, used, OwnWords(), lambda _: None),
        **{f"{PICTURES}/{key}.svg": render_svg(scene, PRINT) for key, scene in used.items()},
    }
