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
from plankwright.web.picture import picture_of
from plankwright.web.planning import Planning, as_json
from plankwright.web.refusals import REFUSALS, RefusedError
from plankwright.web.routes.jobs import JobId, download
from plankwright.web.work import Work, Workshop

MOST_EVENTS = 2000
JSON = "application/json"
Digest = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]


class EventsBody(BaseModel):
    """Events in the order in which they happened; each is written down once."""

    events: list[dict[str, Any]] = Field(max_length=MOST_EVENTS)


class MovedWall(BaseModel):
    """A wall that is not where the plan has it: so much into the room, below 0 out of it."""

    wall: str = Field(max_length=40)
    nearer_mm: float = Field(ge=-1000.0, le=1000.0)


class AgainBody(BaseModel):
    """What is known beside the log when the rest is planned again."""

    walls: list[MovedWall] = Field(default_factory=list, max_length=100)
    lifted_rows: list[Annotated[int, Field(ge=1, le=10_000)]] = Field(
        default_factory=list, max_length=1000
    )
    boards_left: int | None = Field(None, ge=0, le=10_000)


def lay_router(store: JobStore, planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of the laying day."""
    router = APIRouter(prefix="/api/jobs/{job_id}", tags=["lay"], responses=REFUSALS)

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

    @router.get("/laying")
    def laying(job_id: JobId) -> Response:
        """The plan that is laid, its cards in words, and how far it is; null before it is begun."""
        if not store.is_begun(job_id):
            return Response(b"null", media_type=JSON)
        return Response(as_json(laying_of(job_id)), media_type=JSON)

    @router.post("/laying", status_code=201)
    def begin(job_id: JobId) -> Response:
        """Begin to lay the plan of the job as it is now known."""
        document = store.get(job_id).document
        store.begin(job_id, dump_plan(planning.known(document)))
        return Response(as_json(laying_of(job_id)), media_type=JSON, status_code=201)

    @router.get("/laying/pictures")
    def pictures(job_id: JobId) -> Response:
        """The board at the saw for every cut, as SVG by piece: kept by the page for the cellar."""
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
        return Response(as_json(drawn), media_type=JSON)

    @router.post("/events")
    def events(job_id: JobId, body: EventsBody) -> dict[str, Any]:
        """Write events down, each once however often it is given; how things stand then."""
        happened = [read_event(entry) for entry in body.events]
        with store.laying(job_id) as laying:
            new = laying.merge(happened)
            return {"new": new, **stand_entry(laying.day)}

    @router.get("/events")
    def stand(job_id: JobId) -> dict[str, Any]:
        """How things stand on the floor."""
        with store.laying(job_id) as laying:
            return stand_entry(laying.day)

    @router.post("/plan-again", status_code=202)
    def plan_rest(job_id: JobId, body: AgainBody) -> dict[str, Any]:
        """Begin to plan the rest again from what lies; the new plan is laid from there on."""
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

    @router.get("/laying/phone")
    def phone(job_id: JobId) -> Response:
        """The job as one page for a phone: cards, drawing and log, no network needed."""
        from plankwright.phone.page import phone_html

        with store.laying(job_id) as laying:
            text = phone_html(laying.day, job_id)
            name = laying.day.plan.name
        return download(text, "text/html", name, "phone.html")

    @router.post("/photographs", status_code=201)
    async def photograph(job_id: JobId, request: Request) -> dict[str, str]:
        """Keep a photograph (JPEG, PNG or WebP); it is the body of the request."""
        photo = store.add_photograph(job_id, await request.body())
        return {"photo": photo.digest, "media_type": photo.media_type}

    @router.get("/photographs/{digest}")
    def show(job_id: JobId, digest: Digest) -> Response:
        """A photograph."""
        photo = store.photograph(job_id, digest)
        if photo is None:
            raise RefusedError(404, "there is no such photograph", where="photograph")
        return Response(photo.bytes, media_type=photo.media_type)

    return router
