"""Use case: what to buy for a plan, how much of it, how sure, and why."""

from dataclasses import dataclass

from plankwright.application.buy_boards import Packs, boards_part, count_packs
from plankwright.application.buy_job import BuyJob, Part
from plankwright.application.buy_rest import Rest, jambs, rest_part
from plankwright.application.buy_sheets import Sheets, cut_sheets, sheets_part
from plankwright.application.buy_transitions import (
    Transition,
    transitions_of,
    transitions_part,
)
from plankwright.application.buy_trim import TrimWork, trim_part, work_out_trim
from plankwright.application.told import counted
from plankwright.buying.labor import Work, work_of
from plankwright.errors import InputError
from plankwright.model.findings import Finding
from plankwright.model.shopping import Line, Totals, merged, priced, totals


@dataclass(frozen=True, slots=True, eq=False)
class ShoppingList:
    """The list and everything it was worked out from.

    Parameters
    ----------
    parts : headings in the order of the list, with notes and what to check.
    lines : the list, nothing twice.
    totals : sums of what has a price.
    packs, sheets, trim, transitions, work : what stands behind the lines.
    """

    parts: tuple[Part, ...]
    lines: tuple[Line, ...]
    totals: Totals
    packs: Packs
    sheets: Sheets
    trim: TrimWork
    transitions: tuple[Transition, ...]
    work: Work

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything to check."""
        return tuple(finding for part in self.parts for finding in part.findings)

    @property
    def back(self) -> tuple[Line, ...]:
        """What may go back unopened."""
        return tuple(line for line in self.lines if line.back)


def shopping_list(job: BuyJob) -> ShoppingList:
    """The shopping list of a plan.

    Raises
    ------
    InputError : the plan has no pieces, so there is nothing to buy.
    """
    if not job.plan.pieces:
        raise InputError(
            "the plan lays no board", where="plan", value=job.plan.name,
            remedy="Plan the room first: plankwright plan JOB.",
        )  # fmt: skip
    packs, sheets, trim = count_packs(job), cut_sheets(job), work_out_trim(job)
    transitions = transitions_of(job)
    strips = sum(len(rolls.plan.strips) for rolls in (sheets.film, sheets.pad) if rolls is not None)
    work = work_of(
        job.plan, job.buying.rates, jambs=jambs(job), strips=strips, trim_pieces=len(trim.pieces)
    )
    small, tools = rest_part(job, Rest(len(trim.pieces), strips > 0))
    parts = [
        boards_part(job, packs),
        sheets_part(job, sheets),
        trim_part(job, trim),
        transitions_part(job, transitions),
        small,
        tools,
        _time_part(work),
    ]
    prices = dict(job.buying.prices.things)
    lines = merged(priced(line, prices) for part in parts for line in part.lines)
    parts.append(_loose_ends(job, lines))
    return ShoppingList(
        tuple(parts), lines, totals(lines, job.buying.prices.tax_pct), packs, sheets, trim,
        transitions, work,
    )  # fmt: skip


def _time_part(work: Work) -> Part:
    told = ", ".join(f"{what} {_hours(minutes)}" for what, minutes in work.minutes if minutes)
    notes = [f"About {work.hours:.0f} hours by your rates under [buy.rates]: {told}."]
    if work.stops:
        rows = ", ".join(f"row {row}" for row in work.stops)
        plural = "s" if len(work.stops) > 1 else ""
        notes.append(
            f"Good place{plural} to stop for the night: after {rows}, a whole row, its last piece "
            "laid; the boards stay flat in the room."
        )
    return Part("Time", (), tuple(notes))


def _hours(minutes: float) -> str:
    return f"{minutes / 60.0:.1f} h"


def _loose_ends(job: BuyJob, lines: tuple[Line, ...]) -> Part:
    """Sizes that were assumed, and prices that nothing on the list uses."""
    findings = []
    if job.buying.assumed:
        findings.append(
            Finding(
                "buy-assumed", "buy",
                "usual sizes were taken for " + "; ".join(job.buying.assumed)
                + " (common practice)",
                "Write the sizes of your store under [buy].",
            )
        )  # fmt: skip
    names = {line.name for line in lines}
    unused = [name for name, _ in job.buying.prices.things if name not in names]
    if unused:
        findings.append(
            Finding(
                "price-unused", "buy.prices",
                f"{counted(len(unused), 'price')} not used: {', '.join(unused)}",
                "Write names as they stand on the list.",
            )
        )  # fmt: skip
    note = (
        "Whatever is unopened and whole may go back, if your store takes it: keep the receipt and "
        "ask before you pay. Not tools, not tests."
    )
    return Part("Going back", (), (note,), tuple(findings))
