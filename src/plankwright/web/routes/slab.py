"""The slab: its advice, its map, its reminders."""

from dataclasses import asdict
from datetime import UTC, datetime
from typing import Any

from fastapi import APIRouter, Response

from plankwright.application.slab_advice import SlabReport
from plankwright.web.media import Calendar, Svg
from plankwright.web.planning import Planning
from plankwright.web.refusals import BODY, RefusedError, may_refuse
from plankwright.web.routes.measure import DocumentBody
from plankwright.web.understood import finding_of
from plankwright.web.work import Standing, Work, Workshop


def slab_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of the slab."""
    router = APIRouter(prefix="/api", tags=["slab"])

    @router.post("/slab", status_code=202, responses=may_refuse(*BODY))
    def slab(body: DocumentBody) -> Standing:
        """Begin to judge the slab: what to do before the first board, in order, and why.

        Its result: `verdict`, `ready`, `advice`, `sections` (each `title`, `lines`, `findings`),
        `steps` in order, `has_map`, `is_flat`, `worst` and `reminders`.
        """

        def judge(work: Work) -> dict[str, Any]:
            return report_of(planning.advice(body.document, work.tell))

        return workshop.start("slab", judge).shown()

    @router.post("/slab/map", response_class=Svg, responses=may_refuse(*BODY, 404))
    def slab_map(body: DocumentBody) -> Response:
        """The contour map of a slab whose heights were read, as SVG."""
        from plankwright.drawing.contour_map import contour_map
        from plankwright.drawing.svg import render_svg

        report = planning.advice(body.document)
        if report.flatness.surface is None:
            raise RefusedError(404, "no heights were read yet", where="slab.heights")
        job = planning.job(body.document)
        bag_kg = planning.slab(body.document).compound.bag_kg
        scene = contour_map(
            report.flatness, job.unit, name=job.name, room=job.room.outline, bag_kg=bag_kg
        )
        return Svg(render_svg(scene))

    @router.post("/slab/reminders", response_class=Calendar, responses=may_refuse(*BODY))
    def reminders(body: DocumentBody) -> Response:
        """What is to be done when, such as reading a test again, for a calendar."""
        from plankwright.files.calendar import calendar

        text = calendar(planning.advice(body.document).reminders, datetime.now(UTC))
        return Calendar(text)

    return router


def report_of(report: SlabReport) -> dict[str, Any]:
    """The advice as the page says it."""
    flat = report.flatness
    return {
        "verdict": report.verdict,
        "ready": report.ready,
        "advice": list(report.advice),
        "sections": [
            {
                "title": section.title,
                "lines": list(section.lines),
                "findings": [finding_of(finding) for finding in section.findings],
            }
            for section in report.sections
        ],
        "steps": [{"text": step.text, "after": list(step.after)} for step in report.steps],
        "has_map": flat.surface is not None,
        "is_flat": flat.passes,
        "worst": None if flat.worst is None else asdict(flat.worst),
        "reminders": [
            {"when": r.when.isoformat(), "title": r.title, "text": r.text} for r in report.reminders
        ],
    }
