"""Choices: three to six plans side by side, each with what speaks for it, and the chart."""

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter

from plankwright.model.wishes import Wishes
from plankwright.units import Unit, format_length
from plankwright.web.picture import picture_of
from plankwright.web.planning import Planning
from plankwright.web.refusals import BODY, may_refuse
from plankwright.web.routes.measure import DocumentBody
from plankwright.web.work import Standing, Work, Workshop

if TYPE_CHECKING:
    from plankwright.application.choices import Choice, Choices

MOST_PIECES = 700  # of a small drawing; of larger floors only the rows are shown


def choices_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of choices."""
    router = APIRouter(prefix="/api", tags=["plan"])

    @router.post("/choices", status_code=202, responses=may_refuse(*BODY))
    def choices(body: DocumentBody) -> Standing:
        """Begin to look at every way of laying that is worth it; three to six are offered.

        Its result: `tried`, `refused` (why plans did not pass their own check, a sentence each;
        they are not offered), `choices` (each `number`, `title`, `reason`, `boards`, `packs`,
        `cuts`, `bound` (boards that any plan with its rows needs), `status`, its `picture`, and
        `laying`, the table to put into the document) and `chart`.
        """
        from plankwright.application.choices import find_choices

        job = planning.job(body.document)

        def look(work: Work) -> dict[str, Any]:
            return choices_of(find_choices(job, stop=work.stop), job.unit)

        return workshop.start("choices", look).shown()

    return router


def choices_of(found: "Choices", unit: Unit) -> dict[str, Any]:
    """The choices as the page shows them."""
    return {
        "tried": found.tried,
        "refused": list(found.refused),
        "choices": [_choice(choice, unit) for choice in found.choices],
        "chart": [
            {**asdict(point), "first_row": format_length(point.first_row_mm, unit),
             "narrowest_row": format_length(point.narrowest_row_mm, unit)}
            for point in found.chart
        ],
    }  # fmt: skip


def laying_entry(wishes: Wishes) -> dict[str, str | int]:
    """What a choice decides, as the ``[laying]`` table of a job file says it."""
    angle = None if wishes.row_angle_deg is None else repr(wishes.row_angle_deg)
    first = None if wishes.first_row_mm is None else f"{wishes.first_row_mm!r} mm"
    entry = {
        "row_angle": wishes.row_wall or angle,
        "start_wall": wishes.start_wall,
        "first_row": first,
        "laid": wishes.laid,
        "prefer": None if wishes.prefer == "spares" else wishes.prefer,
        "spend_boards": wishes.spend_boards,
    }
    return {key: value for key, value in entry.items() if value is not None}


def _choice(choice: "Choice", unit: Unit) -> dict[str, Any]:
    merits, picture = choice.merits, picture_of(choice.plan)
    if len(choice.plan.pieces) > MOST_PIECES:
        picture["pieces"] = []
    return {
        "number": choice.number,
        "title": choice.title,
        "reason": choice.reason,
        "laying": laying_entry(choice.wishes),
        "boards": choice.plan.boards.used,
        "bound": choice.plan.boards.bound,
        "status": choice.plan.boards.status,
        "packs": choice.plan.packs,
        "narrowest_row": format_length(merits.narrowest_row_mm, unit),
        "cuts": merits.crosscuts + merits.rips,
        "picture": picture,
    }
