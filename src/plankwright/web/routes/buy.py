"""Buying: the shopping list with its reasons, and the drawings of strips and trim."""

from decimal import Decimal
from typing import Annotated, Any

from fastapi import APIRouter, Path, Response

from plankwright.application.buy_job import BuyJob
from plankwright.application.shopping_list import ShoppingList, shopping_list
from plankwright.drawing.scene import Scene
from plankwright.files.job_buy import BuyTable, make_buying
from plankwright.files.job_document import Document
from plankwright.files.table import read_table
from plankwright.model.money import told_money
from plankwright.units import Unit, format_length
from plankwright.web.media import Csv, Svg
from plankwright.web.planning import Planning
from plankwright.web.refusals import BODY, RefusedError, may_refuse
from plankwright.web.routes.measure import DocumentBody
from plankwright.web.understood import finding_of
from plankwright.web.work import Standing, Work, Workshop

What = Annotated[str, Path(description="`vapor-barrier`, `underlayment` or `trim`.")]


def buy_router(planning: Planning, workshop: Workshop) -> APIRouter:
    """The routes of buying."""
    router = APIRouter(prefix="/api", tags=["buy"])

    @router.post("/buy", status_code=202, responses=may_refuse(*BODY))
    def buy(body: DocumentBody) -> Standing:
        """Begin to count what to buy for the plan, how much of it, how sure, and why.

        Its result: `parts` (each `title`, `lines`, `notes`, `findings`), `sums` where prices are
        known, `hours`, `trim`, and the names of the `drawings` there are.
        """

        def count(_: Work) -> dict[str, Any]:
            job = buy_job(planning, body.document)
            return list_of(shopping_list(job), job.buying.prices.currency, job.unit)

        return workshop.start("buy", count).shown()

    @router.post("/buy/list", response_class=Csv, responses=may_refuse(*BODY))
    def buy_list(body: DocumentBody) -> Response:
        """The shopping list as a table for other programs (CSV)."""
        from plankwright.files.shopping_csv import shopping_csv

        found = shopping_list(buy_job(planning, body.document))
        return Csv(shopping_csv(found))

    @router.post("/buy/drawing/{what}", response_class=Svg, responses=may_refuse(*BODY, 404))
    def drawing(what: What, body: DocumentBody) -> Response:
        """The drawing of the vapor barrier, the underlayment or the trim, as SVG."""
        from plankwright.drawing.svg import render_svg

        scene = _scene(what, buy_job(planning, body.document))
        if scene is None:
            raise RefusedError(404, "there is no such drawing", where="what")
        return Svg(render_svg(scene))

    return router


def buy_job(planning: Planning, document: Document) -> BuyJob:
    """What a shopping list is made from: the plan as it is known, prices, the slab."""
    job = planning.job(document)
    table = read_table(BuyTable, document.get("buy", {}), unit=job.unit, where="buy")
    known = "slab" in document
    return BuyJob(
        plan=planning.known(document),
        buying=make_buying(table, job.unit),
        unit=job.unit,
        doorways=job.room.doorways,
        slab=planning.slab(document) if known else None,
        judged=planning.advice(document) if known else None,
    )


def list_of(found: ShoppingList, currency: str, unit: Unit) -> dict[str, Any]:
    """The list as the page says it."""
    sums = found.totals
    priced = sums.unpriced < len(found.lines)
    return {
        "parts": [
            {
                "title": part.title,
                "lines": [
                    {
                        "item": line.item,
                        "count": line.count,
                        "unit": line.unit,
                        "why": line.why,
                        "amount": _money(line.amount, currency),
                        "back": line.back,
                    }
                    for line in found.lines
                    if line.section == part.title
                ],
                "notes": list(part.notes),
                "findings": [finding_of(finding) for finding in part.findings],
            }
            for part in found.parts
        ],
        "sums": {
            "subtotal": _money(sums.subtotal, currency),
            "tax": _money(sums.tax, currency),
            "total": _money(sums.total, currency),
            "unpriced": sums.unpriced,
        }
        if priced
        else None,
        "hours": round(found.work.hours, 1),
        "trim": trim_of(found, unit),
        "drawings": [
            name
            for name, there in (
                ("vapor-barrier", found.sheets.film is not None),
                ("underlayment", found.sheets.pad is not None),
                ("trim", bool(found.trim.cuts.sticks)),
            )
            if there
        ],
    }


def trim_of(found: ShoppingList, unit: Unit) -> dict[str, Any]:
    """The trim: each length bought and what is cut from it; each piece, its wall and its ends."""
    cuts = found.trim.cuts
    return {
        "sticks": [
            {
                "length": format_length(stick.stock.length_mm, unit),
                "pieces": [piece.label for piece in stick.pieces],
            }
            for stick in cuts.sticks
        ],
        "pieces": [
            {
                "label": piece.label,
                "where": piece.where,
                "length": format_length(piece.long_mm, unit, rounding="down"),
                "left": piece.left,
                "right": piece.right,
            }
            for piece in found.trim.pieces
        ],
        "is_least": cuts.least == cuts.bound,
    }


def _scene(what: str, job: BuyJob) -> Scene | None:
    from plankwright.drawing.strips_drawing import compose_strips
    from plankwright.drawing.trim_drawing import compose_trim

    found = shopping_list(job)
    if what == "trim" and found.trim.cuts.sticks:
        return compose_trim(found.trim, job.buying.trim, job.plan, job.unit)
    layers = {
        "vapor-barrier": ("Vapor barrier", found.sheets.film, job.buying.film),
        "underlayment": ("Underlayment", found.sheets.pad, job.buying.pad),
    }
    title, rolls, sheeting = layers.get(what, ("", None, None))
    if rolls is None or sheeting is None:
        return None
    return compose_strips(rolls, sheeting, job.plan, job.unit, title)


def _money(amount: Decimal | None, currency: str) -> str | None:
    return None if amount is None else told_money(amount, currency)
