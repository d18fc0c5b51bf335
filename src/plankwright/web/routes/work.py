"""Long work: how it stands, as a stream; its result; its end."""

import asyncio
from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Path, Response
from starlette.responses import StreamingResponse

from plankwright.web.media import EventStream
from plankwright.web.planning import as_json
from plankwright.web.refusals import RefusedError, may_refuse
from plankwright.web.work import Standing, Work, Workshop

WorkId = Annotated[
    str, Path(max_length=64, pattern=r"^[a-f0-9]+$", description="The `id` of the work.")
]
LOOK_EVERY_S = 0.1
TELL_EVERY = 10  # looks


def work_router(workshop: Workshop) -> APIRouter:
    """The routes of long work."""
    router = APIRouter(prefix="/api/work", tags=["work"], responses=may_refuse(404, 422))

    def require(work_id: str) -> Work:
        work = workshop.get(work_id)
        if work is None:
            raise RefusedError(404, "there is no such work", remedy="Begin it again.")
        return work

    @router.get("/{work_id}")
    def stands(work_id: WorkId) -> Standing:
        """How a piece of long work stands."""
        return require(work_id).shown()

    @router.get("/{work_id}/result")
    def result(work_id: WorkId) -> Response:
        """What came out; refused while nothing has.

        The kind of the answer is told where the work is begun. The last 64 results are kept.
        """
        work = require(work_id)
        if work.state != "done":
            raise RefusedError(404, "there is no result yet", remedy="Wait until it is done.")
        if isinstance(work.result, Response):
            return work.result
        return Response(as_json(work.result), media_type="application/json")

    @router.get("/{work_id}/progress", response_class=EventStream)
    def progress(work_id: WorkId) -> StreamingResponse:
        """How it stands, told again and again until it is over (server-sent events).

        The `data` of each event is what `/api/work/{work_id}` answers.
        """
        return StreamingResponse(_told(require(work_id)), media_type="text/event-stream")

    @router.delete("/{work_id}", status_code=202)
    def end(work_id: WorkId) -> Standing:
        """Ask a piece of work to end; a search gives the best it has found."""
        work = require(work_id)
        work.end()
        return work.shown()

    return router


async def _told(work: Work) -> AsyncIterator[str]:
    seen, looks = -1, 0
    while True:
        if work.changes != seen or looks % TELL_EVERY == 0:
            seen = work.changes
            yield f"data: {work.shown().model_dump_json()}\n\n"
        if work.is_over:
            return
        looks += 1
        await asyncio.sleep(LOOK_EVERY_S)
