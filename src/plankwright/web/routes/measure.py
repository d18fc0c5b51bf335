"""Measuring: what was understood of a document, while it is typed."""

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel

from plankwright.web.refusals import REFUSALS
from plankwright.web.understood import understand


class DocumentBody(BaseModel):
    """A job document."""

    document: dict[str, Any]


def measure_router() -> APIRouter:
    """The routes of measuring."""
    router = APIRouter(prefix="/api", tags=["measure"], responses=REFUSALS)

    @router.post("/measure")
    def measure(body: DocumentBody) -> dict[str, Any]:
        """Every length as it was understood, the room, the survey, what to measure next."""
        return understand(body.document)

    return router
