"""``plankwright demo``: the demo room through the whole job."""

from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from plankwright.cli.options import AsJson

if TYPE_CHECKING:
    from plankwright.api import Plan
    from plankwright.application.measured_room import MeasuredRoom
    from plankwright.application.shopping_list import ShoppingList
    from plankwright.application.slab_advice import SlabReport

FOLDER = Path("plankwright-demo")
JOB = "demo_room.toml"
SHOWN = ("Rows", "Boards", "Packs", "Waste", "Shortest piece", "Joint offset", "To saw")
Lines = list[tuple[str, str]]


def demo(
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for what is written.")
    ] = FOLDER,
    json_output: AsJson = False,
) -> None:
    """Take the demo room, below grade and crooked, through the whole job."""
    from plankwright import api
    from plankwright.cli.terminal import print_json, progress
    from plankwright.files.writing import make_folder, write_whole

    make_folder(out)
    text = resources.files("plankwright").joinpath("data", JOB).read_text(encoding="utf-8")
    job_file = write_whole(out / JOB, text)
    with progress("Measuring, judging the slab, planning"):
        room, slab = api.measure(job_file), api.slab(job_file)
        opened = api.open_buy(job_file)
        shopping = api.buy(opened)
    with progress("Printing the sheets, writing the how-to"):
        written = [
            job_file,
            *api.save_plan(opened.plan, out, room=api.open_job(job_file).room),
            *api.save_shopping(opened, shopping, out),
        ]
        sheets = api.save_sheets(api.sheets(opened), out / "sheets")
        how_to = api.save_how_to(api.how_to(opened), out / "how-to")
    if json_output:
        files = [*written, *sheets, *how_to.files]
        print_json(_as_plain(opened.plan, room, slab, shopping, files))
        return
    lines = [
        *_before(room, slab),
        *_planned(opened.plan),
        ("To buy", _bought(shopping, opened.buying.prices.currency)),
        ("Sheets", f"{len(sheets)} in {out / 'sheets'}, from floor plan to offcut labels"),
        ("How-to", f"{len(how_to.files)} files in {out / 'how-to'}, for you to complete"),
    ]
    _print(opened.plan.name, lines)
    _tell_next(out, written)


def _before(room: "MeasuredRoom", slab: "SlabReport") -> Lines:
    """What measuring and the slab come to."""
    from plankwright.cli.measure_report import summary_lines

    measured = dict(summary_lines(room))
    steps = f"{len(slab.steps)} steps before row 1" if slab.steps else "nothing to do first"
    return [
        ("Measured", f"worst corner {measured['Worst corner']}"),
        ("Slab", f"{slab.advice[0].rstrip('.')}; {steps}"),
    ]


def _planned(plan: "Plan") -> Lines:
    from plankwright.api import plan_figures
    from plankwright.cli.summary import summary_lines

    figures = dict(summary_lines(plan, plan_figures(plan)))
    return [(name, figures[name]) for name in SHOWN if name in figures]


def _bought(shopping: "ShoppingList", currency: str) -> str:
    from plankwright.model.money import told_money

    total = told_money(shopping.totals.total, currency)
    return f"{len(shopping.lines)} lines, together {total} with tax"


def _print(name: str, lines: Lines) -> None:
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    console = Console()
    console.print(Text(name, style="bold"))
    table = Table.grid(padding=(0, 2))
    for line in lines:
        table.add_row(*(Text(part) for part in line))
    console.print(Padding(table, (0, 0, 0, 2), expand=False))


def _tell_next(out: Path, written: list[Path]) -> None:
    from plankwright.cli.terminal import say

    say(f"Wrote {', '.join(path.name for path in written)} into {out}")
    say("Look at plan.svg there, print the sheets, or lay it: plankwright lay start --help")


def _as_plain(
    plan: "Plan",
    room: "MeasuredRoom",
    slab: "SlabReport",
    shopping: "ShoppingList",
    files: list[Path],
) -> dict[str, Any]:
    from plankwright.api import plan_figures
    from plankwright.cli.summary import summary_json

    return {
        **summary_json(plan, plan_figures(plan)),
        "worst_corner_mm": room.worst_mm,
        "slab_ready": slab.ready,
        "slab_steps": len(slab.steps),
        "shopping_lines": len(shopping.lines),
        "files": [str(path) for path in files],
    }
