"""The shopping list on paper: boxes to tick in the store, and how each line was computed."""

from collections.abc import Iterator

from plankwright.application.buy_job import Part
from plankwright.application.told import counted
from plankwright.model.money import told_money
from plankwright.model.shopping import Line
from plankwright.paper.blocks import Block, Cell, Heading, Points, Sheet, Table, Words
from plankwright.paper.material import Material

GOING_BACK, TRIM = "Going back", "Trim"  # parts whose notes stand elsewhere


def shopping_sheet(material: Material) -> Sheet:
    """The list first, what may go back, then why and how."""
    found = material.shopping
    blocks: list[Block] = []
    for part in found.parts:
        lines = [line for line in found.lines if line.section == part.title]
        if lines:
            blocks += [Heading(part.title), _table(material, lines)]
    blocks += _sums(material)
    back = dict.fromkeys(line.item.partition(",")[0] for line in found.back)
    blocks += [Heading("May go back unopened"), Words(", ".join(back) + ".")]
    for part in found.parts:
        if part.title == GOING_BACK:
            blocks += [Words(note) for note in part.notes]
    for part in found.parts:
        blocks += _notes(part)
    return Sheet("shopping-list", "Shopping list", tuple(blocks))


def _table(material: Material, lines: list[Line]) -> Table:
    currency = material.job.buying.prices.currency
    return Table(
        ("", "how many", "what, and how it was computed", "amount"),
        tuple(
            (
                "□",
                f"{line.count}" if line.unit.startswith("piece") else f"{line.count} {line.unit}",
                Cell(line.item, line.why),
                "" if line.amount is None else told_money(line.amount, currency),
            )
            for line in lines
        ),
        (None, 0.17, 1.0, 0.2),
        ("left", "left", "left", "right"),
    )


def _sums(material: Material) -> Iterator[Block]:
    sums, lines = material.shopping.totals, material.shopping.lines
    if sums.unpriced == len(lines):
        return
    currency = material.job.buying.prices.currency
    yield Heading("Sum")
    rows = (
        ("together", told_money(sums.subtotal, currency)),
        ("tax", told_money(sums.tax, currency)),
        (Cell("to pay", strong=True), Cell(told_money(sums.total, currency), strong=True)),
    )
    yield Table(("", "amount"), rows, (1.0, 0.3), ("left", "right"))
    if sums.unpriced:
        yield Words(f"Not counted: {counted(sums.unpriced, 'line')} without a price.", "note")


def _notes(part: Part) -> Iterator[Block]:
    """Notes and what to check; the pieces of trim stand on the trim sheet."""
    notes = () if part.title in (GOING_BACK, TRIM) else part.notes
    if notes or part.findings:
        yield Heading(f"{part.title}: how and why")
    if notes:
        yield Points(notes)
    for finding in part.findings:
        told = f"{finding.where}: {finding.message}. {finding.remedy}"
        yield Words(told.strip(), "check")
