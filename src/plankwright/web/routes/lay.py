"""Laying: the plan that is laid, its cards, and what happens on the floor."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Request, Response
from pydantic import BaseModel, Field

from plankwright.drawing.board_picture import compose_board
from plankwright.drawing.svg import render_svg
from plankwright.files.plan_file import dump_plan
from plankwright.guide.events import read_event
from plankwright.units import parse_unit
from plankwright.web.laying import card_entry, stand_entry
from plankwright.web.picture import picture_of
from plankwright.web.planning import Planning, as_json
from plankwright.web.refusals import REFUSALS, RefusedError
from plankwright.web.routes.jobs import JobId
from plankwright.web.shelf import Shelf

MOST_EVENTS = 2000
JSON = "application/json"
Digest = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]


class EventsBody(BaseModel):
    """Events in the order in which they happened; each is written down once."""

    events: list[dict[str, Any]] = Field(max_length=MOST_EVENTS)


def lay_router(shelf: Shelf, planning: Planning) -> APIRouter:
    """The routes of the laying day."""
    router = APIRouter(prefix="/api/jobs/{job_id}", tags=["lay"], responses=REFUSALS)

    def laying_of(job_id: str) -> dict[str, Any]:
        with shelf.laying(job_id) as laying:
            day = laying.day
            return {
                "picture": picture_of(day.plan),
                "cards": [card_entry(card, day.plan) for card in day.cards],
                **stand_entry(day),
            }

    @router.get("/laying")
    def laying(job_id: JobId) -> Response:
        """The plan that is laid, its cards in words, and how far it is; null before it is begun."""
        if not shelf.is_begun(job_id):
            return Response(b"null", media_type=JSON)
        return Response(as_json(laying_of(job_id)), media_type=JSON)

    @router.post("/laying", status_code=201)
    def begin(job_id: JobId) -> Response:
        """Begin to lay the plan of the job as it is now known."""
        document = shelf.get(job_id).document
        shelf.begin(job_id, dump_plan(planning.known(document)))
        return Response(as_json(laying_of(job_id)), media_type=JSON, status_code=201)

    @router.get("/laying/pictures")
    def pictures(job_id: JobId) -> Response:
        """The board at the saw for every cut, as SVG by piece: kept by the page for the cellar."""
        with shelf.laying(job_id) as laying:
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
        with shelf.laying(job_id) as laying:
            new = laying.merge(happened)
            return {"new": new, **stand_entry(laying.day)}

    @router.get("/events")
    def stand(job_id: JobId) -> dict[str, Any]:
        """How things stand on the floor."""
        with shelf.laying(job_id) as laying:
            return stand_entry(laying.day)

    @router.post("/photographs", status_code=201)
    async def photograph(job_id: JobId, request: Request) -> dict[str, str]:
        """Keep a photograph (JPEG, PNG or WebP); it is the body of the request."""
        photo = shelf.add_photograph(job_id, await request.body())
        return {"photo": photo.digest, "media_type": photo.media_type}

    @router.get("/photographs/{digest}")
    def show(job_id: JobId, digest: Digest) -> Response:
        """A photograph."""
        photo = shelf.photograph(job_id, digest)
        if photo is None:
            raise RefusedError(404, "there is no such photograph", where="photograph")
        return Response(photo.bytes, media_type=photo.media_type)

    return router
