"""The parts of a floor on a terminal: a line for each, and what they take together."""

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from plankwright.application.part_jobs import PlannedParts
from plankwright.application.plan_figures import plan_figures
from plankwright.cli.request import Request
from plankwright.cli.summary import findings_table, summary_json
from plankwright.units import format_area, format_length


def offer_parts(request: Request, *, dxf: bool = False) -> None:
    """Plan the parts of a job, write them and show them."""
    from plankwright.api import Effort, InputError, plan_parts, save_parts
    from plankwright.cli.terminal import print_json, progress, say

    job, out = request.job, request.out
    with progress(f"Planning the parts of {job.name}"):
        try:
            found = plan_parts(job, effort=Effort(seed=request.seed), stop=request.stop)
        except InputError as error:
            raise error.at(request.where) from None
    written = [] if out is None else save_parts(found, out, request.where, dxf=dxf)
    if request.json_output:
        plans = [summary_json(plan, plan_figures(plan)) for plan in found.plans]
        files = [str(path) for path in written]
        print_json({"boards": found.boards, "packs": found.packs, "parts": plans, "files": files})
        return
    print_parts(found, job.name)
    for path in written:
        say(f"Wrote {path}")
    if out is None:
        say("Nothing was written; add --out DIR for a job file, plan file and drawing of each.")


def print_parts(found: PlannedParts, name: str, console: Console | None = None) -> None:
    """The table, what the parts take together, and what to check in each."""
    console = console or Console()
    console.print(Text(f"{name}: {len(found.plans)} parts"), style="bold")
    console.print(Padding(_table(found), (0, 0, 0, 2), expand=False))
    per_pack = found.jobs[0].board.per_pack
    total = f"Together {found.boards} boards: {found.packs} packs of {per_pack}"
    console.print(Padding(Text(total, style="bold"), (1, 0, 0, 2)))
    for number, plan in enumerate(found.plans, start=1):
        if plan.findings:
            console.print()
            console.print(Text(f"Check this in part {number}", style="bold red"))
            console.print(Padding(findings_table(plan.findings), (0, 0, 0, 2), expand=False))


def _table(found: PlannedParts) -> Table:
    table = Table.grid(padding=(0, 2))
    table.add_row("Part", "Floor", "Rows", "From wall", "First row", "Boards", "At least")
    for number, (job, plan) in enumerate(zip(found.jobs, found.plans, strict=True), start=1):
        figures = plan_figures(plan)
        first = figures.first_row_mm
        table.add_row(
            str(number),
            format_area(figures.floor_m2, job.unit),
            str(figures.rows),
            plan.laying.start_wall,
            "" if first is None else format_length(first[1], job.unit),
            str(figures.boards),
            str(figures.bound),
        )
    return table
