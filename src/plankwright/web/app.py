"""The server: routes put together, with the guard in front of them."""

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from urllib.parse import urlsplit

from fastapi import FastAPI

from plankwright import __version__
from plankwright.web import refusals
from plankwright.web.guard import Guard, Hosts
from plankwright.web.job_store import JobStore
from plankwright.web.pages import add_pages
from plankwright.web.pairing import Pairing
from plankwright.web.planning import Planning
from plankwright.web.routes.buy import buy_router
from plankwright.web.routes.choices import choices_router
from plankwright.web.routes.jobs import jobs_router
from plankwright.web.routes.lay import lay_router
from plankwright.web.routes.measure import measure_router
from plankwright.web.routes.plans import plans_router
from plankwright.web.routes.repair import repair_router
from plankwright.web.routes.rooms import rooms_router
from plankwright.web.routes.share import share_router
from plankwright.web.routes.sheets import sheets_router
from plankwright.web.routes.slab import slab_router
from plankwright.web.routes.tell import tell_router
from plankwright.web.routes.work import work_router
from plankwright.web.work import Workshop

SELDOM = (50_000, 20, 50)  # garbage: objects, then rounds, after which it is looked for


def make_app(store: JobStore, pairing: Pairing, shared_at: str = "") -> FastAPI:
    """The server of the jobs in a store.

    Parameters
    ----------
    store : where the jobs lie.
    pairing : who may come in from another address.
    shared_at : the address under which phones find the server; "" when it is not shared.
    """
    workshop, planning = Workshop(), Planning()

    @asynccontextmanager
    async def living(_: FastAPI) -> AsyncIterator[None]:
        gc.freeze()  # modules stay: to look through them for garbage would hold up answers,
        gc.set_threshold(*SELDOM)  # and a plan of 2,000 pieces is no reason to look for any
        yield
        workshop.close()
        store.close()

    app = FastAPI(
        title="Plankwright",
        version=__version__,
        summary="Plans, checks and explains a floating click-together floor.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=living,
        responses=refusals.may_refuse(*refusals.EVERYWHERE),
    )
    refusals.install(app)
    app.include_router(jobs_router(store))
    app.include_router(measure_router())
    app.include_router(rooms_router(workshop))
    app.include_router(plans_router(planning, workshop))
    app.include_router(choices_router(planning, workshop))
    app.include_router(sheets_router(planning, workshop))
    app.include_router(slab_router(planning, workshop))
    app.include_router(buy_router(planning, workshop))
    app.include_router(lay_router(store, planning, workshop))
    app.include_router(repair_router(store))
    app.include_router(tell_router(store, planning, workshop))
    app.include_router(share_router(pairing, shared_at))
    app.include_router(work_router(workshop))
    _add_place(app, store)
    add_pages(app)
    names = [urlsplit(shared_at).hostname or ""] if shared_at else []
    app.add_middleware(Guard, hosts=Hosts.of(names), is_signed_in=pairing.is_signed_in)
    return app


def _add_place(app: FastAPI, store: JobStore) -> None:
    """Where the data lies: a person must be able to find it."""

    @app.get("/api/place", tags=["jobs"])
    def place() -> dict[str, str]:
        """The file in which the jobs lie.

        Answers `place`, its path on the computer that serves.
        """
        return {"place": store.place}
