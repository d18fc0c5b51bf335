"""``plankwright batch``: many rooms, one table."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from plankwright.cli.options import (
    Allowance,
    AsJson,
    BoardSize,
    FirstRow,
    Gap,
    Kerf,
    LaidWay,
    LockKind,
    Narrowest,
    Offset,
    PerPack,
    Preferred,
    RowAngle,
    Seconds,
    SeedNumber,
    Shortest,
    Spend,
    UnitName,
)

if TYPE_CHECKING:
    from plankwright.application.batch import Row
    from plankwright.units import Unit

TELL_EVERY = 25  # rooms, where no terminal shows a bar
MOST_SHOWN = 200  # rooms on a terminal; all are in the CSV


def batch(
    files: Annotated[
        list[Path],
        typer.Argument(metavar="DIR|FILE …", help="Folders or files: .toml .geojson .dxf .ifc."),
    ],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder for the table and every plan.")
    ],
    processes: Annotated[
        int | None,
        typer.Option(metavar="NUMBER", help="Processes on this machine; one per processor."),
    ] = None,
    cluster: Annotated[
        str | None,
        typer.Option(metavar="tcp://HOST:PORT", help="A Dask cluster instead of this machine."),
    ] = None,
    board: BoardSize = None,
    per_pack: PerPack = None,
    lock: LockKind = None,
    gap: Gap = None,
    kerf: Kerf = None,
    allowance: Allowance = None,
    shortest: Shortest = None,
    offset: Offset = None,
    narrowest: Narrowest = None,
    row_angle: RowAngle = None,
    first_row: FirstRow = None,
    laid: LaidWay = None,
    prefer: Preferred = None,
    spend: Spend = None,
    unit: UnitName = None,
    time: Seconds = None,
    seed: SeedNumber = 1,
    json_output: AsJson = False,
) -> None:
    """Plan every room of many files; run it again after a stop and it goes on."""
    from plankwright.api import Effort
    from plankwright.api import batch as run_batch
    from plankwright.cli.overrides import Overrides
    from plankwright.cli.terminal import WANTING, print_json, say
    from plankwright.files.batch_table import totals
    from plankwright.units import parse_unit

    read = None if unit is None else parse_unit(unit, where="--unit")

    overrides = Overrides(
        board=board,
        per_pack=per_pack,
        lock=lock,
        gap=gap,
        kerf=kerf,
        allowance=allowance,
        shortest=shortest,
        offset=offset,
        narrowest=narrowest,
        row_angle=row_angle,
        first_row=first_row,
        laid=laid,
        prefer=prefer,
        spend=spend,
    )
    with _told() as tell:
        rows = run_batch(
            files,
            out,
            processes=processes,
            cluster=cluster,
            unit=read,
            amend=overrides.applied_to,
            effort=Effort(seed=seed),
            seconds=time,
            tell=tell,
        )
    if json_output:
        print_json(
            {"totals": totals(rows), "files": [str(out / n) for n in ("batch.csv", "batch.json")]}
        )
    else:
        print_batch(rows, read or "mm")
    say(f"Wrote {out / 'batch.csv'} and {out / 'batch.json'}; the plans are in {out / 'rooms'}")
    if any(row.state != "planned" for row in rows):
        raise SystemExit(WANTING)


@contextmanager
def _told() -> "Iterator[Callable[[Row, int, int], object]]":
    """Progress with the time left: a bar on a terminal, else a line now and then."""
    from plankwright.cli.terminal import say

    if not sys.stderr.isatty():

        def line(_: "Row", done: int, count: int) -> None:
            if done % TELL_EVERY == 0 or done == count:
                say(f"{done} of {count} rooms")

        yield line
        return
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn("Rooms"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
        TextColumn("left, now {task.description}"),
    )
    with Progress(*columns, console=Console(stderr=True)) as bar:
        task = bar.add_task("reading", total=None)

        def advance(row: "Row", done: int, count: int) -> None:
            bar.update(task, completed=done, total=count, description=row.key[:40])

        yield advance


def print_batch(rows: "list[Row]", unit: "Unit") -> None:
    """The table on a terminal, rooms without a plan last with the reason, then the totals.

    Parameters
    ----------
    unit : areas are told in square feet for inches and feet.
    """
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from plankwright.files.batch_table import totals
    from plankwright.units import format_area

    console = Console()
    planned = [row for row in rows if row.state == "planned"]
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    table.add_column("room")
    for head in ("floor", "boards", "packs", "waste", "check"):
        table.add_column(head, justify="right", no_wrap=True)
    for row in planned[:MOST_SHOWN]:
        boards = f"{row.boards}" if row.proven else f"{row.boards} (at least {row.bound})"
        figures = (
            format_area(row.floor_m2, unit),
            boards,
            str(row.packs),
            f"{row.waste_pct:.1f} %",
        )
        table.add_row(Text(row.key), *figures, str(len(row.findings) or ""))
    console.print(table)
    if len(planned) > MOST_SHOWN:
        console.print(f"and {len(planned) - MOST_SHOWN} more, all in the table that was written")
    refused = [row for row in rows if row.state != "planned"]
    if refused:
        console.print()
        console.print(Text(f"No plan for {len(refused)} of {len(rows)}", style="bold red"))
        for row in refused[:MOST_SHOWN]:
            told = row.message.removeprefix(f"{row.key}: ")
            console.print(Text(f"  {row.key}: {told}"))
    sums = totals(rows)
    floor = format_area(sum(row.floor_m2 for row in planned), unit)
    console.print()
    console.print(
        Text(
            f"{sums['planned']:g} of {sums['rooms']:g} rooms planned: "
            f"{floor} of floor, {sums['boards']:g} boards, "
            f"{sums['packs']:g} packs if each room is bought by itself; "
            f"no plan with these rows needs fewer boards in {sums['proven']:g}",
            style="bold",
        )
    )
