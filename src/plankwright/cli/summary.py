"""What a person reads first after planning: the figures at a glance, then what to check."""

from dataclasses import asdict
from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from plankwright.application.plan_figures import PlanFigures
from plankwright.application.saw_work import SawWork, saw_work
from plankwright.application.told import counted
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan
from plankwright.units import Unit, describe_length, format_area, format_length, parse_unit

MOST_FINDINGS = 12


def print_summary(plan: Plan, figures: PlanFigures, console: Console | None = None) -> None:
    """The summary of a plan on a terminal."""
    console = console or Console()
    console.print(Text(plan.name, style="bold"))
    console.print(Padding(_figures_table(plan, figures), (0, 0, 0, 2), expand=False))
    if plan.findings:
        console.print()
        console.print(Text("Check this", style="bold red"))
        console.print(Padding(findings_table(plan.findings), (0, 0, 0, 2), expand=False))


def summary_lines(plan: Plan, figures: PlanFigures) -> list[tuple[str, str]]:
    """The figures as pairs of a name and what it comes to."""
    unit = parse_unit(plan.unit)
    lines = [
        ("Board", _board_words(plan, unit)),
        ("Floor", format_area(figures.floor_m2, unit)),
        ("Rows", f"{figures.rows}, {_laying_words(plan)}"),
        ("Boards", _boards_words(figures)),
        ("Packs", _packs_words(figures, plan.board.per_pack)),
        ("Waste", f"{figures.waste_pct:.1f} % over the floor's area"),
        ("First row", _width_words(figures.first_row_mm, unit)),
        ("Last row", _width_words(figures.last_row_mm, unit)),
        ("Shortest piece", _shortest_words(figures, unit)),
        ("Joint offset", _offset_words(figures, plan.rules.joint_offset_mm, unit)),
        ("To saw", _saw_words(figures, saw_work(plan))),
    ]
    return [(name, words) for name, words in lines if words]


def summary_json(plan: Plan, figures: PlanFigures) -> dict[str, Any]:
    """The same for machines: figures in millimeters, findings whole."""
    return {
        "name": plan.name,
        "unit": plan.unit,
        **asdict(figures),
        "cuts": asdict(saw_work(plan)),
        "laying": asdict(plan.laying),
        "findings": [asdict(finding) for finding in plan.findings],
    }


def _figures_table(plan: Plan, figures: PlanFigures) -> Table:
    table = Table.grid(padding=(0, 2))
    for name, words in summary_lines(plan, figures):
        style = "bold" if name in ("Boards", "Packs") else ""
        table.add_row(name, Text(words, style=style))
    return table


def findings_table(findings: tuple[Finding, ...]) -> Table:
    """One line for each kind of finding and message, with the places it was noticed at."""
    places: dict[tuple[str, str, str], list[str]] = {}
    for finding in findings:
        key = (finding.code, finding.message, finding.remedy)
        places.setdefault(key, []).append(finding.where)
    table = Table.grid(padding=(0, 2))
    for (_, message, remedy), where in list(places.items())[:MOST_FINDINGS]:
        told = ", ".join(where[:4]) + (f" and {len(where) - 4} more" if len(where) > 4 else "")
        text = Text(message[:1].upper() + message[1:] + ".")
        if remedy:
            text.append(" " + remedy, style="dim")
        table.add_row(told, text)
    if len(places) > MOST_FINDINGS:
        table.add_row("", f"and {len(places) - MOST_FINDINGS} more, all in the plan file")
    return table


def _board_words(plan: Plan, unit: Unit) -> str:
    """The board and the gap as they were understood, in both systems of measure."""
    board = plan.board
    size = f"{describe_length(board.length_mm, unit)} x {describe_length(board.width_mm, unit)}"
    return f"{size}, gap {describe_length(plan.rules.gap_mm, unit)}"


def _boards_words(figures: PlanFigures) -> str:
    if figures.status == "optimal":
        return f"{figures.boards}; no plan with these rows needs fewer"
    return f"{figures.boards}; at least {figures.bound} are needed"


def _saw_words(figures: PlanFigures, work: SawWork) -> str:
    sawn = f"{figures.cut_pieces} of {counted(figures.pieces, 'piece')}"
    if not work.trims:
        return sawn
    return f"{sawn}; tongue or lip to trim off at walls: {counted(work.trims, 'edge')}"


def _packs_words(figures: PlanFigures, per_pack: int) -> str:
    spares = "no spare board" if figures.spares == 0 else _count(figures.spares, "spare board")
    fewest = (
        "; no plan with these rows needs fewer packs" if _fewest_packs(figures, per_pack) else ""
    )
    return f"{figures.packs} of {per_pack}, {spares}{fewest}"


def _fewest_packs(figures: PlanFigures, per_pack: int) -> bool:
    """Whether fewer packs are out of the question though fewer boards may not be."""
    least = -(-figures.bound // per_pack)
    return figures.status != "optimal" and least == figures.packs


def _laying_words(plan: Plan) -> str:
    direction = plan.laying.laid.replace("-", " ")
    return f"from wall {plan.laying.start_wall}, laid {direction}"


def _width_words(width_mm: tuple[float, float] | None, unit: Unit) -> str:
    if width_mm is None:
        return ""
    least, most = (format_length(side, unit) for side in width_mm)
    return f"{most} wide" if least == most else f"{least} to {most} wide"


def _shortest_words(figures: PlanFigures, unit: Unit) -> str:
    if figures.shortest_piece_mm is None:
        return ""
    return f"{format_length(figures.shortest_piece_mm, unit)} (piece {figures.shortest_piece})"


def _offset_words(figures: PlanFigures, least_mm: float, unit: Unit) -> str:
    if figures.joint_offset_mm is None:
        return "no end joints in neighboring rows"
    offset = format_length(figures.joint_offset_mm, unit)
    least = format_length(least_mm, unit)
    return f"{offset} (rows {figures.joint_offset_rows}); the least allowed is {least}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
