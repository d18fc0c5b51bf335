"""``plankwright measure``: adjust the tape survey and say what to trust."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from plankwright.cli.options import AsJson, OutFolder, UnitName

if TYPE_CHECKING:
    from plankwright.application.measured_room import MeasuredRoom

JobArgument = Annotated[Path, typer.Argument(metavar="JOB", help="A job file (.toml).")]
PlanOption = Annotated[
    Path | None,
    typer.Option("--plan", metavar="PLAN.json", help="Which of its last pieces to measure."),
]


def measure(
    job: JobArgument,
    out: OutFolder = None,
    plan: PlanOption = None,
    unit: UnitName = None,
    json_output: AsJson = False,
) -> None:
    """Adjust the tape survey: what fits, what to measure again, what to measure next.

    With --out, the drawing (survey.svg) is written. Exit 1 when the room should not be planned
    yet: a length does not fit, or too little was measured.
    """
    from plankwright.api import load_plan
    from plankwright.application.measure_in_place import InPlace, pieces_to_measure
    from plankwright.application.measure_room import measure_room
    from plankwright.cli.measure_report import as_plain, print_report
    from plankwright.cli.terminal import DONE, WANTING, print_json, progress, say
    from plankwright.errors import InputError
    from plankwright.files.survey_file import open_survey
    from plankwright.units import parse_unit

    read = open_survey(job, unit=parse_unit(unit, where="--unit") if unit else None)
    with progress("Adjusting the survey"):
        try:
            room = measure_room(read.survey, read.rules, unit=read.unit)
        except InputError as error:
            raise error.at(str(job)) from None
    pieces: tuple[InPlace, ...] = ()
    if plan is not None:
        made = load_plan(plan)
        pieces = pieces_to_measure(made, room)
    if out is not None:
        say(f"Written: {_draw(room, read.name, out)}")
    if json_output:
        print_json(as_plain(room, read.name, pieces))
    else:
        print_report(room, read.name, pieces, planned=plan is not None)
    raise typer.Exit(DONE if room.is_sure else WANTING)


def _draw(room: "MeasuredRoom", name: str, out: Path) -> Path:
    from plankwright.drawing.survey_drawing import compose_survey
    from plankwright.drawing.svg import render_svg
    from plankwright.files.writing import make_folder, write_whole

    make_folder(out)
    return write_whole(out / "survey.svg", render_svg(compose_survey(room, name)))
