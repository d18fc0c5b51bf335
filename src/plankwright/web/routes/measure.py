"""Measuring: what was understood of a document, while it is typed."""

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel

from plankwright.web.refusals import BODY, may_refuse
from plankwright.web.routes.jobs import DocumentOf
from plankwright.web.understood import understand


class DocumentBody(BaseModel):
    """A job document."""

    document: DocumentOf


def measure_router() -> APIRouter:
    """The routes of measuring."""
    router = APIRouter(prefix="/api", tags=["measure"])

    @router.post("/measure", responses=may_refuse(*BODY))
    def measure(body: DocumentBody) -> dict[str, Any]:
        """Every length as it was understood, the room, the survey, what to measure next.

        What cannot be used yet is told in `refusal`, not refused. Answers `unit`, `lengths` (by
        place in the document: `mm` and `told`, or `refusal`), `survey` (adjusted lengths, corners
        with their error, what to measure `next`), `room` (outline, area, walls, fixed things,
        doors), `findings` and `refusal`.
        """
        return understand(body.document)

    return router
