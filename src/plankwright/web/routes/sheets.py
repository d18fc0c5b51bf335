"""Sheets: everything on paper, one by one or all in one file."""

import io
import zipfile
from typing import TYPE_CHECKING, Annotated, Any, Literal

from fastapi import APIRouter, Path
from pydantic import BaseModel
from starlette.responses import Response

from plankwright.web.planning import Planning
from plankwright.web.refusals import REFUSALS
from plankwright.web.routes.buy import buy_job
from plankwright.web.work import Work, Workshop

if TYPE_CHECKING:
    from plankwright.paper.material import Material

Name = Annotated[str, Path(max_length=40)]
FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the same sheets are the same bytes


class SheetsBody(BaseModel):
    """A job document, and the paper that is in the printer."""

    document: dict[str, Any]
    paper: Literal["A4", "Letter"] = "A4"


def sheets_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of sheets."""
    router = APIRouter(prefix="/api", tags=["keep"], responses=REFUSALS)

    @router.get("/sheets")
    def names() -> list[str]:
        """The names of all sheets, in the order in which a job needs them."""
        from plankwright.paper.all_sheets import SHEETS

        return list(SHEETS)

    @router.post("/sheets", status_code=202)
    def all_sheets(body: SheetsBody) -> dict[str, Any]:
        """Begin to print every sheet the job has something for, into one ZIP file."""
        planning.job(body.document)

        def printing(work: Work) -> Response:
            from plankwright.paper.all_sheets import print_sheets

            made = io.BytesIO()
            with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as bundle:
                for sheet in print_sheets(_material(planning, body)):
                    work.tell(sheet.name)
                    bundle.writestr(zipfile.ZipInfo(f"{sheet.name}.pdf", FIRST_DAY), sheet.pdf)
                    if work.stop():
                        break
            return Response(made.getvalue(), media_type="application/zip")

        return workshop.start("sheets", printing).shown()

    @router.post("/sheets/{name}", status_code=202)
    def one_sheet(name: Name, body: SheetsBody) -> dict[str, Any]:
        """Begin to print one sheet, as PDF."""
        planning.job(body.document)

        def printing(_: Work) -> Response:
            from plankwright.paper.all_sheets import print_sheets

            (sheet,) = print_sheets(_material(planning, body), (name,))
            return Response(sheet.pdf, media_type="application/pdf")

        return workshop.start("sheet", printing).shown()

    return router


def _material(planning: Planning, body: SheetsBody) -> "Material":
    from plankwright.paper.material import Material

    return Material(buy_job(planning, body.document), body.paper)
