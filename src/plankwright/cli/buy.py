"""``plankwright buy``: what to buy for a plan, how sure, and why."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from plankwright.cli.options import AsJson, FeatureName, OutFolder, UnitName

if TYPE_CHECKING:
    from decimal import Decimal

    from plankwright.application.buy_job import BuyJob, Part
    from plankwright.application.shopping_list import ShoppingList
    from plankwright.model.shopping import Line
    from plankwright.plan.roll_cuts import RollPlan

PlanOrJob = Annotated[
    Path,
    typer.Argument(metavar="PLAN.json|JOB", help="A plan file, a job file or a room outline."),
]
JobBeside = Annotated[
    Path | None,
    typer.Option("--job", metavar="JOB", help="With a plan file: the job file it was made from."),
]


def buy(
    source: PlanOrJob,
    job: JobBeside = None,
    out: OutFolder = None,
    unit: UnitName = None,
    feature: FeatureName = None,
    json_output: AsJson = False,
) -> None:
    """Work out what to buy, how sure that is, and why.

    A job file is planned first; prices, store sizes and tools stand in its [buy] table. A plan file
    alone knows no doors and no prices: add --job, or keep its job.toml beside it. With --out the
    list (shopping.txt, shopping.csv) and the drawings of strips and trim are written.
    """
    from plankwright import api
    from plankwright.cli.terminal import DONE, print_json, progress
    from plankwright.units import parse_unit

    with progress("Working out what to buy"):
        read = parse_unit(unit, where="--unit") if unit else None
        opened = api.open_buy(source, job=job, unit=read, feature=feature)
        found = api.buy(opened)
    if out is not None:
        _write(opened, found, out)
    if json_output:
        print_json(as_plain(found))
    else:
        typer.echo(page(found, opened))
    raise typer.Exit(DONE)


def _write(opened: "BuyJob", found: "ShoppingList", out: Path) -> None:
    from plankwright.api import save_shopping
    from plankwright.cli.terminal import say
    from plankwright.files.writing import write_whole

    for path in save_shopping(opened, found, out):
        say(f"wrote {path}")
    say(f"wrote {write_whole(out / 'shopping.txt', page(found, opened) + chr(10))}")


def page(found: "ShoppingList", opened: "BuyJob") -> str:
    """The list as text: what to carry to the cash desk first, then why and how."""
    currency = opened.buying.prices.currency
    blocks = [f"SHOPPING LIST: {opened.plan.name}"]
    for part in found.parts:
        lines = [line for line in found.lines if line.section == part.title]
        if lines:
            rows = [told for line in lines for told in _line(line, currency)]
            blocks.append("\n".join([part.title.upper(), *rows]))
    blocks += _sums(found, currency)
    blocks.append(_back(found))
    for part in found.parts:
        if part.notes or part.findings:
            blocks.append("\n".join(_notes(part)))
    return "\n\n".join(_wrapped(block) for block in blocks)


def _line(line: "Line", currency: str) -> list[str]:
    from plankwright.model.money import told_money

    amount = "" if line.amount is None else f": {told_money(line.amount, currency)}"
    unit = "" if line.unit.startswith("piece") else f" {line.unit}"
    return [f"  [ ] {line.count}{unit}  {line.item}{amount}", f"        {line.why}"]


def _sums(found: "ShoppingList", currency: str) -> list[str]:
    from plankwright.application.told import counted
    from plankwright.model.money import told_money

    sums = found.totals
    if sums.unpriced == len(found.lines):
        return []
    rows = [
        f"  Together {told_money(sums.subtotal, currency)}",
        f"  Tax      {told_money(sums.tax, currency)}",
        f"  To pay   {told_money(sums.total, currency)}",
    ]
    if sums.unpriced:
        rows.append(f"  not counted: {counted(sums.unpriced, 'line')} without a price")
    return ["\n".join(["SUM", *rows])]


def _back(found: "ShoppingList") -> str:
    names = [line.item.partition(",")[0] for line in found.back]
    return f"MAY GO BACK UNOPENED\n  {', '.join(dict.fromkeys(names))}"


def _notes(part: "Part") -> list[str]:
    rows = [f"{part.title.upper()}: HOW AND WHY", *(f"  {note}" for note in part.notes)]
    for finding in part.findings:
        remedy = f" {finding.remedy}" if finding.remedy else ""
        rows.append(f"  Check this: {finding.where}: {finding.message}.{remedy}")
    return rows


def _wrapped(block: str, width: int = 96) -> str:
    import textwrap

    return "\n".join(
        textwrap.fill(line, width, subsequent_indent=" " * (len(line) - len(line.lstrip()) + 2))
        for line in block.splitlines()
    )


def as_plain(found: "ShoppingList") -> dict[str, Any]:
    """The list as plain values for ``--json``; money as text, lengths in millimeters."""
    from dataclasses import asdict

    sums = found.totals
    return {
        "lines": [
            {
                "section": line.section,
                "item": line.item,
                "count": line.count,
                "unit": line.unit,
                "price": _text(line.price),
                "amount": _text(line.amount),
                "may_go_back": line.back,
                "why": line.why,
            }
            for line in found.lines
        ],
        "totals": {
            "subtotal": str(sums.subtotal),
            "tax": str(sums.tax),
            "total": str(sums.total),
            "unpriced": sums.unpriced,
        },
        "packs": {
            "needed": found.packs.needed,
            "keep_for_repair": found.packs.keep,
            "taken": found.packs.taken.packs,
            "area_plus_10_pct": found.packs.by_area,
            "choices": [
                {
                    "packs": choice.packs,
                    "spares": choice.spares,
                    "chance_short": dict(zip(("3 %", "5 %", "8 %"), choice.chances, strict=True)),
                    "expected_cost": _text(choice.expected),
                }
                for choice in found.packs.choices
            ],
        },
        "vapor_barrier": _rolls(found.sheets.film),
        "underlayment": _rolls(found.sheets.pad),
        "trim": {
            "pieces": [_rounded(asdict(piece)) for piece in found.trim.pieces],
            "lengths": [
                {
                    "length_mm": stick.stock.length_mm,
                    "pieces": [piece.label for piece in stick.pieces],
                }
                for stick in found.trim.cuts.sticks
            ],
            "least": found.trim.cuts.least,
            "bound": found.trim.cuts.bound,
            "measure": found.trim.cuts.measure,
            "covers": [_rounded(asdict(cover)) for cover in found.trim.covers],
        },
        "transitions": [_rounded(asdict(transition)) for transition in found.transitions],
        "time": {
            "hours": round(found.work.hours, 2),
            "minutes": dict(found.work.minutes),
            "stop_after_rows": list(found.work.stops),
        },
        "notes": {part.title: list(part.notes) for part in found.parts if part.notes},
        "findings": [asdict(finding) for finding in found.findings],
    }


def _rounded(entry: dict[str, Any]) -> dict[str, Any]:
    """Lengths to 0.1 mm and angles to 0.1 degree: finer than any tape or saw."""
    return {
        key: round(value, 1) if isinstance(value, float) else value for key, value in entry.items()
    }


def _rolls(rolls: "RollPlan | None") -> dict[str, Any] | None:
    if rolls is None:
        return None
    return {
        "direction_deg": round(rolls.plan.angle_deg, 2),
        "strips": [
            {"strip": strip.number, "length_mm": round(strip.length_mm, 1)}
            for strip in rolls.plan.strips
        ],
        "rolls": [
            [{"strip": part.strip, "length_mm": round(part.length_mm, 1)} for part in cut]
            for cut in rolls.rolls
        ],
        "least_rolls": rolls.least_rolls,
        "seam_mm": round(rolls.seam_mm, 1),
        "end_joints": rolls.end_joints,
    }


def _text(amount: "Decimal | None") -> str | None:
    from plankwright.model.money import to_cents

    return None if amount is None else str(to_cents(amount))
