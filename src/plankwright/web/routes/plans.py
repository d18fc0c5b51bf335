"""Plans: at once while something is dragged, the best one when the hand rests."""

from typing import Any

from fastapi import APIRouter, Response

from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.svg import render_svg
from plankwright.files.plan_file import dump_plan
from plankwright.web.picture import picture_of
from plankwright.web.planning import Planning, as_json
from plankwright.web.refusals import REFUSALS
from plankwright.web.routes.measure import DocumentBody
from plankwright.web.work import Work, Workshop

JSON = "application/json"


def plans_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of plans."""
    router = APIRouter(prefix="/api", tags=["plan"], responses=REFUSALS)

    @router.post("/plan-now")
    def plan_now(body: DocumentBody) -> Response:
        """A checked plan at once: good, not proven."""
        return Response(
            as_json(picture_of(planning.now(body.document), live=True)), media_type=JSON
        )

    @router.post("/plan", status_code=202)
    def plan(body: DocumentBody) -> dict[str, Any]:
        """Begin to look for the best plan, with its proof; follow it under ``/api/work``."""
        planning.job(body.document)  # what cannot be read is told at once

        def look(work: Work) -> dict[str, Any]:
            return picture_of(planning.best(body.document, work.stop))

        return workshop.start("plan", look).shown()

    @router.post("/plan-file")
    def plan_file(body: DocumentBody) -> Response:
        """The plan file of the best plan that is known."""
        return Response(dump_plan(planning.known(body.document)), media_type=JSON)

    @router.post("/plan-drawing")
    def plan_drawing(body: DocumentBody) -> Response:
        """The floor plan to scale on one sheet, as SVG."""
        plan, room = planning.known(body.document), planning.job(body.document).room
        return Response(render_svg(compose_plan(plan, room=room)), media_type="image/svg+xml")

    @router.post("/plan-dxf")
    def plan_dxf(body: DocumentBody) -> Response:
        """The floor plan for drawing programs, as DXF."""
        from plankwright.api import draw_dxf

        plan, room = planning.known(body.document), planning.job(body.document).room
        return Response(draw_dxf(plan, room=room), media_type="image/vnd.dxf")

    return router
