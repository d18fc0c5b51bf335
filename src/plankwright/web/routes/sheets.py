"""Sheets: everything on paper, one by one or all in one file."""

import io
import zipfile
from typing import TYPE_CHECKING, Annotated, Literal

from fastapi import APIRouter, Path
from pydantic import BaseModel, Field
from starlette.responses import Response

from plankwright.web.media import Pdf, Zip
from plankwright.web.planning import Planning
from plankwright.web.refusals import BODY, may_refuse
from plankwright.web.routes.buy import buy_job
from plankwright.web.routes.jobs import DocumentOf
from plankwright.web.work import Standing, Work, Workshop

if TYPE_CHECKING:
    from plankwright.paper.material import Material

Name = Annotated[str, Path(max_length=40, description="The sheet, as the list names it.")]
FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the same sheets are the same bytes


class SheetsBody(BaseModel):
    """A job document, and the paper that is in the printer."""

    document: DocumentOf
    paper: Literal["A4", "Letter"] = Field("A4", description="The paper in the printer.")


def sheets_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of sheets."""
    router = APIRouter(prefix="/api", tags=["keep"])

    @router.get("/sheets")
    def names() -> list[str]:
        """The names of all sheets, in the order in which a job needs them."""
        from plankwright.paper.all_sheets import SHEETS

        return list(SHEETS)

    @router.post("/sheets", status_code=202, responses=may_refuse(*BODY))
    def all_sheets(body: SheetsBody) -> Standing:
        """Begin to print every sheet the job has something for.

        Its result is a ZIP file of PDF files.
        """
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
            return Zip(made.getvalue())

        return workshop.start("sheets", printing).shown()

    @router.post("/sheets/{name}", status_code=202, responses=may_refuse(*BODY))
    def one_sheet(name: Name, body: SheetsBody) -> Standing:
        """Begin to print one sheet.

        Its result is a PDF file.
        """
        planning.job(body.document)

        def printing(_: Work) -> Response:
            from plankwright.paper.all_sheets import print_sheets

            (sheet,) = print_sheets(_material(planning, body), (name,))
            return Pdf(sheet.pdf)

        return workshop.start("sheet", printing).shown()

    return router


def _material(planning: Planning, body: SheetsBody) -> "Material":
    from plankwright.paper.material import Material

    return Material(buy_job(planning, body.document), body.paper)
