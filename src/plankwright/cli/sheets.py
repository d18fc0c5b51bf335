"""``plankwright sheets``: the job on paper."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from plankwright.cli.buy import JobBeside, PlanOrJob
from plankwright.cli.options import AsDxf, AsJson, FeatureName, UnitName

if TYPE_CHECKING:
    from plankwright.drawing.sheet import Paper

FOLDER = Path("plankwright-sheets")


def sheets(
    source: PlanOrJob,
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for what is written.")
    ] = FOLDER,
    job: JobBeside = None,
    paper: Annotated[
        str | None,
        typer.Option(metavar="A4|Letter", help="Paper; Letter for inch jobs, else A4."),
    ] = None,
    sheet: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME", help="Only this sheet; may be given several times."),
    ] = None,
    unit: UnitName = None,
    feature: FeatureName = None,
    dxf: AsDxf = False,
    json_output: AsJson = False,
) -> None:
    """Print the job: a PDF for each sheet.

    A job file is planned first. A plan file alone knows no doors, prices and slab: add --job.
    """
    from plankwright import api
    from plankwright.cli.terminal import print_json, progress, say
    from plankwright.files.writing import write_whole
    from plankwright.units import parse_unit

    chosen = _paper(paper)
    read = parse_unit(unit, where="--unit") if unit else None
    with progress("Printing the sheets"):
        opened = api.open_buy(source, job=job, unit=read, feature=feature)
        printed = api.sheets(opened, paper=chosen, names=tuple(sheet or ()))
        written = api.save_sheets(printed, out)
        if dxf:
            written.append(write_whole(out / "plan.dxf", api.draw_dxf(opened.plan)))
    missing = "".join(dict.fromkeys(c for one in printed for c in one.lacking))
    if missing:
        say(f"The sheets' font lacks {' '.join(missing)}: a box stands for each on paper.")
    if json_output:
        print_json({"files": [str(path) for path in written], "lacking": missing})
        return
    for path in written:
        say(f"Wrote {path}")


def _paper(word: str | None) -> "Paper | None":
    from plankwright.errors import InputError

    if word is None:
        return None
    for paper in ("A4", "Letter"):
        if word.lower() == paper.lower():
            return paper
    raise InputError("unknown paper", where="--paper", value=word, remedy="Use A4 or Letter.")
