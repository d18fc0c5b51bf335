"""Repair: what comes up for a damaged piece of the floor that is laid, against cutting it out."""

from typing import Annotated, Any

from fastapi import APIRouter, Query

from plankwright.application.repair_piece import repair_entry, repair_on_day
from plankwright.web.job_store import JobStore
from plankwright.web.refusals import may_refuse
from plankwright.web.routes.jobs import JobId

Pieces = Annotated[
    list[Annotated[str, Query(max_length=40)]] | None,
    Query(max_length=100, description="Damaged pieces; those told as damaged if none is named."),
]


def repair_router(store: JobStore) -> APIRouter:
    """The route of repairs."""
    router = APIRouter(prefix="/api/jobs/{job_id}", tags=["lay"])

    @router.get("/repair", responses=may_refuse(400, 404, 422))
    def repair(job_id: JobId, piece: Pieces = None) -> dict[str, Any]:
        """Both ways to repair a laid floor: lift rows up to the piece, or cut the piece out.

        Answers for both: rows, pieces in order, labels, boards, minutes and how far they can be
        trusted, `steps`, and `advice`, which way costs less.
        """
        with store.laying(job_id) as laying:
            return repair_entry(repair_on_day(laying.day, piece or ()))

    return router
