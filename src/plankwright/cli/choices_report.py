"""The choices on a terminal: one column for each, the best figure of a line marked."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from plankwright.application.choices import Choice, Choices
from plankwright.application.merits import Merits
from plankwright.cli.request import Request
from plankwright.units import Unit, format_length

if TYPE_CHECKING:
    from plankwright.model.job import Job

BEST = "*"
NEAR_MM = 0.5


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the table: its name, the figure shown, and what is better when it is less."""

    name: str
    shown: Callable[[Merits, Unit], str]
    cost: Callable[[Merits], float]


LINES: tuple[Line, ...] = (
    Line("Boards", lambda m, _: str(m.boards), lambda m: m.boards),
    Line("Packs", lambda m, _: str(m.packs), lambda m: m.packs),
    Line(
        "Narrowest row",
        lambda m, unit: format_length(m.narrowest_row_mm, unit),
        lambda m: -round(m.narrowest_row_mm),
    ),
    Line("Cuts across", lambda m, _: str(m.crosscuts), lambda m: m.crosscuts),
    Line("Rips", lambda m, _: str(m.rips), lambda m: m.rips),
    Line("H-joints", lambda m, _: str(m.joints.h_joints), lambda m: m.joints.h_joints),
    Line("Stairs of joints", lambda m, _: str(m.joints.stairs), lambda m: m.joints.stairs),
    Line(
        "Taper along a wall",
        lambda m, unit: "none" if m.taper_mm < NEAR_MM else format_length(m.taper_mm, unit),
        lambda m: round(m.taper_mm),
    ),
    Line(
        "Off the longest wall",
        lambda m, _: _degrees(m.off_longest_deg),
        lambda m: round(m.off_longest_deg, 1),
    ),
    Line(
        "Off the window's light",
        lambda m, _: "" if m.off_window_deg is None else _degrees(m.off_window_deg),
        lambda m: round(m.off_window_deg or 0.0, 1),
    ),
    Line("Awkward pieces", lambda m, _: str(m.handling.awkward), lambda m: m.handling.awkward),
    Line(
        "Rows laid backwards",
        lambda m, _: str(m.handling.backwards),
        lambda m: m.handling.backwards,
    ),
    Line("More start lines", lambda m, _: str(m.handling.starts), lambda m: m.handling.starts),
    Line("Rules broken", lambda m, _: str(m.broken), lambda m: m.broken),
)
SILENT_AT_ZERO = frozenset(
    {"Awkward pieces", "Rows laid backwards", "More start lines", "Rules broken"}
)


def offer_choices(request: Request) -> None:
    """Find the choices of a job, write them and show them."""
    from plankwright.api import InputError, choices, save_choices
    from plankwright.application.choices import WITH_CARE
    from plankwright.cli.terminal import print_json, progress, say

    job, out = request.job, request.out
    with progress(f"Looking for choices for {job.name}"):
        try:
            effort = replace(WITH_CARE, seed=request.seed)
            found = choices(job, effort=effort, stop=request.stop)
        except InputError as error:
            raise error.at(request.where) from None
    written = [] if out is None else save_choices(found, job, out)
    if request.json_output:
        print_json({"name": job.name, **found.record(), "files": [str(path) for path in written]})
        return
    print_choices(found, job.name, job.unit)
    print_crooked(job)
    for path in written:
        say(f"Wrote {path}")
    if out is None:
        say("Nothing was written; add --out DIR for a drawing of all and the plan file of each.")
    else:
        say("Take one by its plan file: it works with check, buy and sheets.")


def print_choices(found: Choices, name: str, unit: Unit, console: Console | None = None) -> None:
    """The table, then how the rows of each choice run and what speaks for it."""
    console = console or Console()
    count = f"{len(found.choices)} choices, {found.tried} ways of laying looked at"
    console.print(Text(f"{name}: {count}"), style="bold")
    console.print(Padding(choices_table(found.choices, unit), (0, 0, 0, 2), expand=False))
    console.print()
    told = Table.grid(padding=(0, 1))
    for choice in found.choices:
        words = Text(f"{choice.title}. ", style="bold")
        words.append(choice.reason, style="not bold")
        told.add_row(str(choice.number), words)
    console.print(Padding(told, (0, 0, 0, 2), expand=False))
    for reason in found.refused:
        console.print(Text(f"Not offered: {reason}"))


def print_crooked(job: "Job", console: Console | None = None) -> None:
    """Walls that are not parallel, and what can be done about them; nothing for a true room."""
    from plankwright.application.crooked import crooked_walls, crooked_words

    console = console or Console()
    for pair in crooked_walls(job):
        told, *ways = crooked_words(pair, job.unit)
        console.print()
        console.print(Text(told, style="bold"))
        for way in ways:
            console.print(Padding(Text(way), (0, 0, 0, 2)))


def choices_table(choices: Sequence[Choice], unit: Unit) -> Table:
    """One column for each choice; a star marks the best figure where they differ."""
    table = Table.grid(padding=(0, 2))
    table.add_column()
    for _ in choices:
        table.add_column(justify="right")
    table.add_row("", *(Text(str(choice.number), style="bold") for choice in choices))
    for line in LINES:
        cells = _cells(line, [choice.merits for choice in choices], unit)
        if any(cell.plain.strip() for cell in cells):
            table.add_row(line.name, *cells)
    return table


def _cells(line: Line, found: Sequence[Merits], unit: Unit) -> list[Text]:
    costs = [line.cost(merits) for merits in found]
    if line.name in SILENT_AT_ZERO and not any(costs):
        return []
    shown = [line.shown(merits, unit) for merits in found]
    best, differ = min(costs), len(set(costs)) > 1
    return [
        Text(f"{figure}{BEST}", style="bold") if differ and cost == best else Text(f"{figure} ")
        for figure, cost in zip(shown, costs, strict=True)
    ]


def _degrees(angle: float) -> str:
    return f"{angle:.1f}°" if angle >= 0.05 else "0°"
