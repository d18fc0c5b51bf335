"""``plankwright lay repair``: which rows come up for a damaged piece, against cutting it out."""

from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from plankwright.cli.options import AsJson

if TYPE_CHECKING:
    from plankwright.application.repair_piece import RepairAdvice
    from plankwright.guide.repair import LiftingRates, Way

OWN = "Your own pace"
BECAUSE = {
    "lift": "the floor stays as it was, free to move and to be lifted again",
    "cut out": "far too much would have to come up for it",
}


def _minutes(what: str) -> Any:
    """An option of the own pace: the minutes it takes."""
    return typer.Option(metavar="MINUTES", min=0.0, max=1000.0, rich_help_panel=OWN, help=what)


def repair(
    floor: Annotated[
        Path,
        typer.Argument(metavar="LOG", help="A log file, or the plan file of a finished floor."),
    ],
    pieces: Annotated[
        list[str] | None,
        typer.Argument(metavar="[PIECES]", help="Damaged; those told as damaged if none is named."),
    ] = None,
    lift_row: Annotated[float | None, _minutes("To tilt a row up and carry it away.")] = None,
    slide_piece: Annotated[
        float | None, _minutes("To slide a piece off the next and label it.")
    ] = None,
    cut_out: Annotated[
        float | None, _minutes("To cut a piece out where it lies and glue in a new one.")
    ] = None,
    both: Annotated[bool, typer.Option("--both", help="Show the steps of both ways.")] = False,
    json_output: AsJson = False,
) -> None:
    """Show which rows come up for a damaged piece, what that takes, and cutting it out in place."""
    from plankwright.api import repair_floor
    from plankwright.application.repair_piece import repair_entry
    from plankwright.cli.terminal import print_json

    advice = repair_floor(floor, pieces or (), lifting=_rates(lift_row, slide_piece, cut_out))
    print_json(repair_entry(advice)) if json_output else print_repair(advice, both=both)


def _rates(row: float | None, piece: float | None, cut_out: float | None) -> "LiftingRates | None":
    from plankwright.guide.repair import LiftingRates

    given = {"row": row, "piece": piece, "cut_out": cut_out}
    said = {name: value for name, value in given.items() if value is not None}
    return LiftingRates(**said) if said else None


def print_repair(advice: "RepairAdvice", *, both: bool) -> None:
    """Both ways against each other, then the steps and what to write on the pieces."""
    found = advice.repair
    rows = f"row {found.rows[0]}" if len(found.rows) == 1 else (
        f"rows {found.rows[-1]} to {found.rows[0]}"
    )  # fmt: skip
    pieces = "1 piece" if len(found.lifted) == 1 else f"{len(found.lifted)} pieces"
    typer.echo("Repair of " + ", ".join(found.pieces))
    typer.echo(f"  Lift           {rows}, {pieces}: {_takes(found.lift)}")
    typer.echo(f"  Cut out        in its place, with glue: {_takes(found.cut_out)}")
    typer.echo(f"  Better         {found.advice}: {BECAUSE[found.advice]}")
    for line in advice.minutes_from:
        typer.echo(f"  Minutes        {line}")
    ways = (("lift", advice.lifting, found.lift), ("cut out", advice.cutting_out, found.cut_out))
    for name, steps, way in ways:
        if both or found.advice == name:
            typer.echo(f"{name.capitalize()}:")
            for caution in way.against:
                typer.echo(f"  ! {caution}")
            for number, step in enumerate(steps, start=1):
                typer.echo(f"  {number}. {step}")
    if found.labels and (both or found.advice == "lift"):
        typer.echo("Write on the pieces, as they come up:")
        for row, of_row in groupby(found.labels, key=lambda label: label[0].partition(".")[0]):
            typer.echo(f"  Row {row:11}" + ", ".join(text for _, text in of_row))


def _takes(way: "Way") -> str:
    boards = "1 new board" if way.boards == 1 else f"{way.boards} new boards"
    return f"{boards if way.boards else 'no new board'}, about {_time(way.minutes)}"


def _time(minutes: float) -> str:
    """Minutes as a person says them: to 5 minutes, hours above an hour and a half."""
    whole = max(5 * round(minutes / 5.0), 5)
    if whole <= 90:
        return f"{whole} min"
    return f"{whole // 60} h {whole % 60} min" if whole % 60 else f"{whole // 60} h"
