"""``plankwright rooms``: what rooms are in somebody else's drawing."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from plankwright.cli.options import AsJson, LayerName, OutFolder, UnitName

if TYPE_CHECKING:
    from rich.console import Console

    from plankwright.model.found_rooms import FoundRooms
    from plankwright.model.job import Job


def rooms(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A drawing or outlines: .dxf, .ifc, .geojson.")
    ],
    out: OutFolder = None,
    unit: UnitName = None,
    layer: LayerName = None,
    json_output: AsJson = False,
) -> None:
    """List the rooms in a drawing, what was taken and what was left, with a picture."""
    from plankwright.cli.terminal import print_json, say

    found = _find(file, unit, layer)
    written = _save(found, file, out)
    if json_output:
        print_json({**rooms_json(found), "files": [str(path) for path in written]})
    else:
        print_rooms(found)
    for path in written:
        say(f"Wrote {path}")
    if found.rooms and not json_output:
        say(f"Plan one: plankwright plan {file} --feature {found.rooms[0].id!r}")


def chosen_job(
    file: Path, feature: str | None, unit: str | None, layer: str | None, out: Path | None
) -> "Job":
    """The job of the room of a drawing that was chosen; where none was, they are listed."""
    from plankwright.api import found_job
    from plankwright.cli.terminal import say
    from plankwright.units import parse_unit

    found = _find(file, unit, layer)
    if feature is None and len(found.rooms) > 1:
        from rich.console import Console

        print_rooms(found, Console(stderr=True))
    named = None if unit is None else parse_unit(unit, where="--unit")
    job = found_job(found, feature, where=str(file), unit=named)
    for path in _save(found, file, out):
        say(f"Wrote {path}")
    return job


def _find(file: Path, unit: str | None, layer: str | None) -> "FoundRooms":
    from plankwright.api import find_rooms
    from plankwright.cli.terminal import progress
    from plankwright.units import parse_unit

    named = None if unit is None else parse_unit(unit, where="--unit")
    with progress(f"Reading {file.name}"):
        return find_rooms(file, unit=named, layer=layer)


def _save(found: "FoundRooms", file: Path, out: Path | None) -> list[Path]:
    from plankwright.api import save_rooms

    return save_rooms(found, out, name=file.name) if out is not None and found.rooms else []


def print_rooms(found: "FoundRooms", console: "Console | None" = None) -> None:
    """A table of the rooms on a terminal, and below it what was taken, left and doubted."""
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    from plankwright.cli.summary import findings_table
    from plankwright.units import format_area, format_length

    console = console or Console()
    unit = found.job_unit
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    table.add_column("id", no_wrap=True)
    table.add_column("room")
    table.add_column("area", justify="right", no_wrap=True)
    table.add_column("size", no_wrap=True)
    for head in ("doors", "fixed", "storey"):
        table.add_column(head)
    for room in found.rooms:
        wide, deep = (side * 1e3 for side in room.extent_m)
        with_unit = unit in ("in", "ft")
        size = f"{format_length(wide, unit, with_unit=with_unit)} x {format_length(deep, unit)}"
        doors, fixed = len(room.room.doorways), len(room.room.fixed)
        cells = (room.id, room.room.name, format_area(room.area_m2, unit), size)
        more = (str(doors or ""), str(fixed or ""), room.storey)
        table.add_row(*(Text(cell) for cell in (*cells, *more)))
    console.print(table)
    if found.findings:
        console.print()
        console.print(Text("Taken, left and doubted", style="bold"))
        console.print(Padding(findings_table(found.findings), (0, 0, 0, 2), expand=False))


def rooms_json(found: "FoundRooms") -> dict[str, object]:
    """The same for machines."""
    from dataclasses import asdict

    return {
        "unit": found.unit,
        "rooms": [
            {
                "id": room.id,
                "name": room.room.name,
                "storey": room.storey,
                "area_m2": round(room.area_m2, 4),
                "extent_m": [round(side, 4) for side in room.extent_m],
                "doorways": len(room.room.doorways),
                "fixed": [thing.kind for thing in room.room.fixed],
                "origin": room.origin,
                "texts": list(room.texts),
            }
            for room in found.rooms
        ],
        "findings": [asdict(finding) for finding in found.findings],
    }
