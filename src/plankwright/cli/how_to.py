"""``plankwright how-to``: the floor told so that others can lay theirs."""

from pathlib import Path
from typing import Annotated

import typer

from plankwright.cli.buy import JobBeside, PlanOrJob
from plankwright.cli.options import AsJson, FeatureName, UnitName

FOLDER = Path("plankwright-how-to")


def how_to(
    source: PlanOrJob,
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for what is written.")
    ] = FOLDER,
    job: JobBeside = None,
    log: Annotated[
        Path | None,
        typer.Option("--log", metavar="LOG", help="The laying day: planned against used."),
    ] = None,
    name: Annotated[
        bool, typer.Option("--name", help="Tell what you call the room and its things.")
    ] = False,
    prices: Annotated[bool, typer.Option("--prices", help="Tell what it cost.")] = False,
    notes: Annotated[bool, typer.Option("--notes", help="Tell the notes of the log.")] = False,
    unit: UnitName = None,
    feature: FeatureName = None,
    json_output: AsJson = False,
) -> None:
    """Write an article about the floor: Markdown with drawings, and one HTML page.

    Names, prices and notes stay out unless you ask. Your own words go between the marked lines of
    how-to.md; a new export keeps them and brings them into the page.
    """
    from contextlib import nullcontext

    from plankwright import api
    from plankwright.application.how_to import Wanted
    from plankwright.cli.terminal import print_json, progress, say
    from plankwright.units import parse_unit

    read = parse_unit(unit, where="--unit") if unit else None
    with progress("Writing the how-to"):
        opened = api.open_buy(source, job=job, unit=read, feature=feature)
        with nullcontext() if log is None else api.open_laying(log, read_only=True) as laying:
            told = api.how_to(opened, laying=laying, wanted=Wanted(name, prices, notes))
            saved = api.save_how_to(told, out)
    for notice in saved.notices:
        say(f"Check this: {notice}")
    if json_output:
        print_json({"files": [str(path) for path in saved.files], "notices": list(saved.notices)})
        return
    for path in saved.files:
        say(f"Wrote {path}")
