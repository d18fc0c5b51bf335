"""Laying: the plan that is laid, its cards, and what happens on the floor."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Request, Response
from pydantic import BaseModel, Field

from plankwright.application.lay_again import Asked, again, taken_events
from plankwright.drawing.board_picture import compose_board
from plankwright.drawing.svg import render_svg
from plankwright.files.plan_file import dump_plan
from plankwright.guide.as_laid import WallShift
from plankwright.guide.events import event_entry, read_event
from plankwright.units import parse_unit
from plankwright.web.job_store import JobStore
from plankwright.web.laying import again_entry, card_entry, stand_entry
from plankwright.web.media import Html, Json, Picture
from plankwright.web.picture import picture_of
from plankwright.web.planning import Planning, as_json
from plankwright.web.refusals import BODY, RefusedError, may_refuse
from plankwright.web.routes.jobs import JobId, download
from plankwright.web.work import Standing, Work, Workshop

MOST_EVENTS = 2000
Digest = Annotated[
    str, Path(pattern=r"^[0-9a-f]{64}$", description="The photograph: SHA-256 of its bytes.")
]
PHOTOGRAPH = {
    "requestBody": {
        "required": True,
        "description": "The bytes of the picture.",
        "content": {"image/*": {"schema": {"type": "string"}}},
    }
}


class EventsBody(BaseModel):
    """Events in the order in which they happened; each is written down once."""

    events: list[dict[str, Any]] = Field(
        max_length=MOST_EVENTS, description="In the order in which they happened; see *Events*."
    )


class MovedWall(BaseModel):
    """A wall that is not where the plan has it: so much into the room, below 0 out of it."""

    wall: str = Field(max_length=40, description="The wall, such as `A-B`.")
    nearer_mm: float = Field(
        ge=-1000.0, le=1000.0, description="How far into the room it stands [mm]."
    )


class AgainBody(BaseModel):
    """What is known beside the log when the rest is planned again."""

    walls: list[MovedWall] = Field(
        default_factory=list,
        max_length=100,
        description="Walls that are not where they were drawn.",
    )
    lifted_rows: list[Annotated[int, Field(ge=1, le=10_000)]] = Field(
        default_factory=list, max_length=1000, description="Rows that are taken up again."
    )
    boards_left: int | None = Field(
        None,
        ge=0,
        le=10_000,
        description="New boards that are left; as the log has it if not given.",
    )


def lay_router(store: JobStore, planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of the laying day."""
    router = APIRouter(prefix="/api/jobs/{job_id}", tags=["lay"])

    def laying_of(job_id: str) -> dict[str, Any]:
        with store.laying(job_id) as laying:
            day = laying.day
            return {
                "picture": picture_of(day.plan),
                "cards": [card_entry(card, day.plan) for card in day.cards],
                "all": [event_entry(event) for event in day.log.events],
                "board_mm": list(day.log.board_mm),
                **stand_entry(day),
            }

    @router.get("/laying", response_class=Json, responses=may_refuse(400, 404, 422))
    def laying(job_id: JobId) -> Response:
        """The plan that is laid, its cards in words, and how far it is; null before it is begun.

        Answers `picture` (as `/api/plan-now`), `cards` (each in words, with the events that doing
        it writes down), `all` events, `board_mm`, and what `/api/jobs/{job_id}/events` answers.
        """
        if not store.is_begun(job_id):
            return Json(b"null")
        return Json(as_json(laying_of(job_id)))

    @router.post(
        "/laying",
        status_code=201,
        response_class=Json,
        responses=may_refuse(400, 404, 422),
    )
    def begin(job_id: JobId) -> Response:
        """Begin to lay the plan of the job as it is now known; refused once something lies.

        Answers what reading it answers.
        """
        document = store.get(job_id).document
        store.begin(job_id, dump_plan(planning.known(document)))
        return Json(as_json(laying_of(job_id)), status_code=201)

    @router.get("/laying/pictures", response_class=Json, responses=may_refuse(400, 404, 422))
    def pictures(job_id: JobId) -> Response:
        """The board at the saw for every cut: kept by the page for the cellar.

        Answers an SVG picture for each piece that is cut.
        """
        with store.laying(job_id) as laying:
            plan, cards = laying.day.plan, laying.day.cards
        unit = parse_unit(plan.unit)
        drawn = {
            card.piece: render_svg(
                compose_board(
                    plan.board, plan.laying.laid, card.cut, unit, small=True, shape=card.shape
                )
            )
            for card in cards
            if card.cut is not None
        }
        return Json(as_json(drawn))

    @router.post("/events", responses=may_refuse(*BODY, 404))
    def events(job_id: JobId, body: EventsBody) -> dict[str, Any]:
        """Write events down, each once however often it is given.

        Answers how many were `new`, and what reading them answers.
        """
        happened = [read_event(entry) for entry in body.events]
        with store.laying(job_id) as laying:
            new = laying.merge(happened)
            return {"new": new, **stand_entry(laying.day)}

    @router.get("/events", responses=may_refuse(400, 404, 422))
    def stand(job_id: JobId) -> dict[str, Any]:
        """How things stand on the floor.

        Answers `state` (what lies, what waits, the shelf, packs), `next_order`, the `last`
        events and how many `events` there are, the `check` that is due before the next card, and
        the `forecast` of the last row.
        """
        with store.laying(job_id) as laying:
            return stand_entry(laying.day)

    @router.post("/plan-again", status_code=202, responses=may_refuse(*BODY, 404))
    def plan_rest(job_id: JobId, body: AgainBody) -> Standing:
        """Begin to plan the rest again from what lies; the new plan is laid from there on.

        Its result: `new_boards`, `boards_missing`, `packs_missing`, `suffices`, `proven`, and the
        `changes` on paper, each `where`, `what` and `why`.
        """
        with store.laying(job_id) as laying:
            day = laying.day
        room = planning.job(store.get(job_id).document).room
        asked = Asked(
            walls=tuple(WallShift(wall.wall, wall.nearer_mm) for wall in body.walls),
            lifted_rows=tuple(body.lifted_rows),
            boards_left=body.boards_left,
        )

        def look(work: Work) -> dict[str, Any]:
            answer = again(day, room, asked, stop=work.stop)
            with store.laying(job_id) as laying:
                before = taken_events(laying.day, answer, asked.lifted_rows)
                laying.take_plan(dump_plan(answer.plan), "planned again", before)
            return again_entry(answer)

        return workshop.start("plan again", look).shown()

    @router.get("/laying/phone", response_class=Html, responses=may_refuse(400, 404, 422))
    def phone(job_id: JobId) -> Response:
        """The job as one page for a phone: cards, drawing and log, no network needed."""
        from plankwright.phone.page import phone_html

        with store.laying(job_id) as laying:
            text = phone_html(laying.day, job_id)
            name = laying.day.plan.name
        return download(text, "text/html", name, "phone.html")

    @router.post(
        "/photographs",
        status_code=201,
        responses=may_refuse(*BODY, 404),
        openapi_extra=PHOTOGRAPH,
    )
    async def photograph(job_id: JobId, request: Request) -> dict[str, str]:
        """Keep a photograph (JPEG, PNG or WebP); it is the body of the request, as it is.

        Answers `photo`, by which it is found again, and `media_type`. The same one again does
        nothing.
        """
        photo = store.add_photograph(job_id, await request.body())
        return {"photo": photo.digest, "media_type": photo.media_type}

    @router.get("/photographs/{digest}", response_class=Picture, responses=may_refuse(404, 422))
    def show(job_id: JobId, digest: Digest) -> Response:
        """A photograph of the job."""
        photo = store.photograph(job_id, digest)
        if photo is None:
            raise RefusedError(404, "there is no such photograph", where="photograph")
        return Response(photo.bytes, media_type=photo.media_type)

    return router
