"""Plans: at once while something is dragged, the best one when the hand rests."""

from typing import Any

from fastapi import APIRouter, Response

from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.svg import render_svg
from plankwright.files.plan_file import dump_plan
from plankwright.web.media import Dxf, Json, Svg
from plankwright.web.picture import picture_of
from plankwright.web.planning import Planning, as_json
from plankwright.web.refusals import BODY, may_refuse
from plankwright.web.routes.measure import DocumentBody
from plankwright.web.work import Standing, Work, Workshop


def plans_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of plans."""
    router = APIRouter(prefix="/api", tags=["plan"])

    @router.post("/plan-now", response_class=Json, responses=may_refuse(*BODY))
    def plan_now(body: DocumentBody) -> Response:
        """A checked plan at once: good, not proven.

        Answers the plan as it is drawn: `unit`, `board`, `laying`, `floor`, `pieces`, `figures`
        and `findings`. Outlines are whole numbers, tenths of a millimeter. For everything of a
        plan take `/api/plan-file`.
        """
        return Json(as_json(picture_of(planning.now(body.document), live=True)))

    @router.post("/plan-moving", response_class=Json, responses=may_refuse(*BODY))
    def plan_moving(body: DocumentBody) -> Response:
        """A checked plan while the start line is dragged: quicker to make, to send and to draw.

        Answers the `figures` of `/api/plan-now`, and `rows`: for each row the pieces of each kind
        as one path of an SVG in room coordinates, whole millimeters, y down: [kind, path].
        """
        return Json(planning.moving(body.document))

    @router.post("/plan", status_code=202, responses=may_refuse(*BODY))
    def plan(body: DocumentBody) -> Standing:
        """Begin to look for the best plan, with its proof.

        Its result is that of `/api/plan-now`. While the server runs the best plan of a document
        is remembered: `/api/plan-file`, sheets and lists then tell of it.
        """
        planning.job(body.document)  # what cannot be read is told at once

        def look(work: Work) -> dict[str, Any]:
            return picture_of(planning.best(body.document, work.stop))

        return workshop.start("plan", look).shown()

    @router.post("/plan-file", response_class=Json, responses=may_refuse(*BODY))
    def plan_file(body: DocumentBody) -> Response:
        """The plan file of the best plan that is known, or of one made at once.

        Answers the plan file, described on [a page of its own](plan-file.md).
        """
        return Json(dump_plan(planning.known(body.document)))

    @router.post("/plan-drawing", response_class=Svg, responses=may_refuse(*BODY))
    def plan_drawing(body: DocumentBody) -> Response:
        """The floor plan to scale on one sheet, as SVG."""
        plan, room = planning.known(body.document), planning.job(body.document).room
        return Svg(render_svg(compose_plan(plan, room=room)))

    @router.post("/plan-dxf", response_class=Dxf, responses=may_refuse(*BODY))
    def plan_dxf(body: DocumentBody) -> Response:
        """The floor plan for drawing programs, as DXF."""
        from plankwright.api import draw_dxf

        plan, room = planning.known(body.document), planning.job(body.document).room
        return Dxf(draw_dxf(plan, room=room))

    return router
