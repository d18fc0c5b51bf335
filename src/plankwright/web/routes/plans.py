"""Plans: at once while something is dragged, proven when the hand rests."""

from typing import Any

from fastapi import APIRouter, Response

from plankwright.application.plan_job import plan_job
from plankwright.model.plan import Plan
from plankwright.optimize.solve import Effort
from plankwright.web.live_plans import LivePlans, as_json
from plankwright.web.picture import picture_of
from plankwright.web.refusals import REFUSALS
from plankwright.web.routes.measure import DocumentBody
from plankwright.web.work import Work, Workshop


def plans_router(plans: LivePlans, workshop: Workshop) -> APIRouter:
    """The routes of plans."""
    router = APIRouter(prefix="/api", tags=["plan"], responses=REFUSALS)

    @router.post("/plan-now")
    def plan_now(body: DocumentBody) -> Response:
        """A checked plan at once: good, not proven."""
        return Response(as_json(picture_of(plans.plan(body.document))), media_type=JSON)

    @router.post("/plan", status_code=202)
    def plan(body: DocumentBody) -> dict[str, Any]:
        """Begin to look for the best plan, with its proof; follow it under ``/api/work``."""
        job = plans.job(body.document)

        def look(work: Work) -> dict[str, Any]:
            work.tell("looking")
            found: Plan = plan_job(job, effort=Effort(), stop=work.stop)
            return picture_of(found)

        return workshop.start("plan", look).shown()

    return router


JSON = "application/json"
