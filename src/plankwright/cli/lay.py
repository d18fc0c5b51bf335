"""``plankwright lay``: the laying day on a log file, a step at a time."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from plankwright.cli.lay_repair import repair
from plankwright.cli.options import AsJson, PlanFile

if TYPE_CHECKING:
    from plankwright.guide.events import Event
    from plankwright.plan.saw_view import SawView
    from plankwright.store.laying import Laying

lay = typer.Typer(
    help="The laying day: the next card, what happened, planning again; on a log file.",
    no_args_is_help=True,
)

LogFile = Annotated[Path, typer.Argument(metavar="LOG", help="The log file of the job.")]
OutFile = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="The file that is written.")
]
SawName = Annotated[
    str,
    typer.Option("--saw", metavar="NAME", help="The saw in use: it says which face is up."),
]
PackName = Annotated[
    str, typer.Option("--pack", metavar="NAME", help="The pack that a new board came from.")
]
MITER = "miter saw"


@lay.command()
def start(
    plan: PlanFile,
    log: Annotated[Path, typer.Option("--log", metavar="LOG", help="The log file to make.")],
    job: Annotated[
        Path | None,
        typer.Option("--job", metavar="JOB", help="The job file the plan was made from; kept."),
    ] = None,
    json_output: AsJson = False,
) -> None:
    """Begin the laying day of a plan: make its log file."""
    from plankwright.api import start_laying
    from plankwright.cli.terminal import print_json, say

    with start_laying(plan, log, job=job) as laying:
        if json_output:
            print_json({"log": str(log), "job": laying.job_id, "cards": len(laying.day.cards)})
        else:
            say(f"Wrote {log}: {len(laying.day.cards)} cards.")
            say(f"Go on with: plankwright lay next {log}")


@lay.command("next")
def next_(log: LogFile, saw: SawName = MITER, json_output: AsJson = False) -> None:
    """Show the next step and only that: a check that is due, or a card."""
    with _open(log, read_only=True) as laying:
        _show_next(laying, saw, json_output)


@lay.command()
def cuts(
    log: LogFile,
    rows: Annotated[
        int, typer.Option("--rows", min=1, metavar="NUMBER", help="Rows cut on one walk.")
    ] = 1,
    saw: SawName = MITER,
    json_output: AsJson = False,
) -> None:
    """Show what is still to cut, grouped by walks to the saw."""
    from plankwright.cli.lay_report import print_walks, walks_json
    from plankwright.cli.terminal import print_json
    from plankwright.guide.cards import walks

    with _open(log, read_only=True) as laying:
        done = {*laying.day.state.laid, *laying.day.state.hand}
        left = [card for card in laying.day.cards if card.piece not in done]
        found, view = walks(left, rows), _view(saw)
        if json_output:
            print_json({"walks": walks_json(found, laying.day, view)})
        else:
            print_walks(found, laying.day, view)


@lay.command()
def did(
    log: LogFile,
    piece: Annotated[
        str, typer.Argument(metavar="[PIECE]", help="The piece; the next one where none is named.")
    ] = "",
    pack: PackName = "",
    saw: SawName = MITER,
    json_output: AsJson = False,
) -> None:
    """Write down that a card is done, as it says, and show the next."""
    from plankwright.application.lay_day import step_done

    with _open(log) as laying:
        laying.write(step_done(laying.day, piece, pack=pack))
        _show_next(laying, saw, json_output)


@lay.command()
def tell(
    log: LogFile,
    words: Annotated[
        list[str], typer.Argument(metavar="WORDS", help="What happened; --help lists it.")
    ],
    json_output: AsJson = False,
) -> None:
    """Write down what happened otherwise, in one of these sentences; lengths as on the tape.

    opened PACK [BATCH [BOARDS]]: a pack was opened, of a batch, with so many boards.

    cut PIECE [LENGTH]: a piece was cut, as its card says or to another length.

    laid PIECE: a piece was laid.

    wrong-end PIECE: the wrong end was kept: both parts go on the shelf.

    spoiled PIECE: a piece in the hand is of no use.

    shelved PIECE LETTER LENGTH near|far|both|none: a piece in the hand goes on the shelf, with
    the factory ends that it has.

    damaged PIECE | damaged board [PACK]: a piece that lies, or a new board, is damaged.

    lifted PIECE: a piece that lay was lifted.

    found LETTER LENGTH near|far|both|none [WIDTH]: an offcut was found.

    thrown LETTER: an offcut on the shelf was thrown away, lost or split.

    measured ROW near|far LENGTH [to the far wall|row length|laid width|open joint]: a distance
    was measured at an end of a row; to the far wall where nothing is said.

    gap PLACE LENGTH: the gap was measured at a wall, a post, an end of a row.

    locked ROW: a row was found straight and was locked so.

    checked NAME good|bad: a check was made: before row 1, after row 2, before trim.

    note TEXT [PLACE]: something to remember.
    """
    from plankwright.application.lay_words import told

    with _open(log) as laying:
        written = laying.write(told(words, laying.day))
        _show_written(laying, written, json_output)
        if not json_output and any(event.kind == "distance-measured" for event in written):
            _show_forecast(laying)


@lay.command()
def photo(
    log: LogFile,
    file: Annotated[Path, typer.Argument(metavar="PHOTO", help="A JPEG, PNG or WebP picture.")],
    where: Annotated[
        str, typer.Option("--where", metavar="PLACE", help="A piece, a row, a wall.")
    ] = "",
    caption: Annotated[str, typer.Option("--caption", metavar="WORDS", help="What it shows.")] = "",
    json_output: AsJson = False,
) -> None:
    """Keep a photograph in the log."""
    with _open(log) as laying:
        written = laying.keep_photograph(file.read_bytes(), where, caption)
        _show_written(laying, (written,), json_output)


@lay.command()
def undo(
    log: LogFile,
    event: Annotated[
        str, typer.Argument(metavar="[EVENT]", help="Its id; the last one where none is named.")
    ] = "",
    json_output: AsJson = False,
) -> None:
    """Take back the last event, or any that nothing later rests on."""
    with _open(log) as laying:
        written = laying.undo(event)
        _show_written(laying, (written,), json_output)


@lay.command()
def state(log: LogFile, json_output: AsJson = False) -> None:
    """Show what lies and what is at hand, planned against used, and the last row to come."""
    from plankwright.application.lay_used import planned_and_used
    from plankwright.cli.lay_report import print_state, state_json
    from plankwright.cli.terminal import print_json, say
    from plankwright.errors import InputError
    from plankwright.guide.checks import forecast

    with _open(log, read_only=True) as laying:
        day = laying.day
        used = planned_and_used(laying.first_plan, day)
        try:
            drift = forecast(day.plan, day.state)
        except InputError as error:
            drift = None
            say(f"Check this: {error}")
        if json_output:
            print_json(state_json(day, used, drift))
        else:
            print_state(day, used, drift)


@lay.command()
def events(log: LogFile, json_output: AsJson = False) -> None:
    """Show everything that was written down, oldest first."""
    from plankwright.cli.lay_report import print_log
    from plankwright.cli.terminal import print_json
    from plankwright.guide.events import event_entry
    from plankwright.guide.laying_state import taken_back
    from plankwright.units import parse_unit

    with _open(log, read_only=True) as laying:
        known = laying.day.log.events
        if json_output:
            print_json({"events": [event_entry(event) for event in known]})
        else:
            print_log(known, taken_back(known), parse_unit(laying.day.plan.unit))


@lay.command()
def again(
    log: LogFile,
    wall: Annotated[
        list[str] | None,
        typer.Option(metavar="A-B=LENGTH", help="A wall is nearer by this; -LENGTH: farther."),
    ] = None,
    lift: Annotated[
        list[int] | None, typer.Option(metavar="ROW", help="Take this row up; several times.")
    ] = None,
    left: Annotated[
        int | None, typer.Option(metavar="BOARDS", help="Whole boards at hand, of all batches.")
    ] = None,
    second_batch: Annotated[
        int | None,
        typer.Option(
            metavar="BOARDS", min=0, help="So many of them are of another batch than what lies."
        ),
    ] = None,
    second_from: Annotated[
        str | None,
        typer.Option(
            metavar="ROW", help="Those are laid from this row or piece on; not given: the best row."
        ),
    ] = None,
    keep: Annotated[
        bool,
        typer.Option("--keep", help="Keep rows to come as planned, even for a board more."),
    ] = False,
    take: Annotated[bool, typer.Option("--take", help="Go on with the new plan.")] = False,
    json_output: AsJson = False,
) -> None:
    """Plan again from what lies: what changes, whether the boards suffice, how many are missing."""
    from plankwright.api import plan_laying_again, take_plan
    from plankwright.cli.lay_report import again_json, asked_of, print_again
    from plankwright.cli.terminal import print_json, progress, say

    with _open(log, read_only=not take) as laying:
        asked = asked_of(
            laying.day, wall or [], lift or [], left, (second_batch, second_from), keep
        )
        with progress("Planning again"):
            answer = plan_laying_again(laying, asked)
        revision = take_plan(laying, answer, asked) if take and answer.changes else None
        if json_output:
            print_json({**again_json(answer), "revision": revision})
            return
        print_again(answer)
        if revision is not None:
            say(f"The log goes on with plan {revision}.")
        elif answer.changes:
            say("Nothing was changed yet; add --take to go on with this plan.")


lay.command("repair")(repair)


@lay.command()
def merge(
    log: LogFile,
    files: Annotated[
        list[Path], typer.Argument(metavar="EVENTS.json", help="Files that phones gave back.")
    ],
    json_output: AsJson = False,
) -> None:
    """Add the events that phones gave back: each once, in whatever order the files come."""
    from plankwright.api import read_given_back
    from plankwright.cli.lay_report import aside_lines
    from plankwright.cli.terminal import print_json, say

    with _open(log) as laying:
        given = {str(path): read_given_back(path, job_id=laying.job_id) for path in files}
        counts = {name: laying.merge_given_back(back) for name, back in given.items()}
        aside = laying.day.state.set_aside
        if json_output:
            print_json({"new": counts, "set_aside": dict(aside)})
            return
        for name, count in counts.items():
            say(f"{name}: {count} new events")
        for line in aside_lines(laying.day):
            say(f"Check this: {line}")


@lay.command()
def drawing(log: LogFile, out: OutFile = None, json_output: AsJson = False) -> None:
    """Draw the floor as planned and, beside it, as it lies."""
    from plankwright.api import draw_laid
    from plankwright.cli.terminal import print_json, say
    from plankwright.files.writing import write_whole

    with _open(log, read_only=True) as laying:
        path = write_whole(out or Path("as-laid.svg"), draw_laid(laying))
    print_json({"files": [str(path)]}) if json_output else say(f"Wrote {path}")


@lay.command()
def phone(
    log: LogFile, out: OutFile = None, saw: SawName = MITER, json_output: AsJson = False
) -> None:
    """Write the job as one page for a phone: cards, drawing and log, no network needed."""
    from plankwright.api import phone_page
    from plankwright.cli.terminal import print_json, say
    from plankwright.files.writing import write_whole

    with _open(log, read_only=True) as laying:
        path = write_whole(out or Path("laying-day.html"), phone_page(laying, _view(saw)))
    if json_output:
        print_json({"files": [str(path)], "bytes": path.stat().st_size})
        return
    size = path.stat().st_size / 1e6
    say(f"Wrote {path} ({size:.1f} MB). Send it to the phone and open it there;")
    say(f"the file it gives back is read with: plankwright lay merge {log} EVENTS.json")


@lay.command()
def export(log: LogFile, out: OutFile = None, json_output: AsJson = False) -> None:
    """Write the whole job as JSON: documents, events, photographs."""
    from plankwright.cli.terminal import print_json, say
    from plankwright.files.writing import write_whole
    from plankwright.store.export import export_job

    with _open(log, read_only=True) as laying:
        path = write_whole(
            out or Path("job-export.json"), export_job(laying.database, laying.job_id)
        )
    print_json({"files": [str(path)]}) if json_output else say(f"Wrote {path}")


@lay.command("import")
def import_(
    exported: Annotated[Path, typer.Argument(metavar="EXPORT.json", help="An exported job.")],
    log: Annotated[Path, typer.Option("--log", metavar="LOG", help="The log file to put it in.")],
    json_output: AsJson = False,
) -> None:
    """Read an exported job into a log file."""
    from plankwright.api import import_laying
    from plankwright.cli.terminal import print_json, say

    job = import_laying(exported, log)
    print_json({"log": str(log), "job": job.id}) if json_output else say(f"Wrote {log}: {job.name}")


@lay.command()
def copy(
    log: LogFile,
    target: Annotated[Path, typer.Argument(metavar="COPY", help="A new file for the copy.")],
    json_output: AsJson = False,
) -> None:
    """Copy the log file whole, even while it is in use."""
    from plankwright.cli.terminal import print_json, say
    from plankwright.store.database import Database

    with Database(log, read_only=True) as database:
        database.copy_to(target)
    print_json({"files": [str(target)]}) if json_output else say(f"Wrote {target}")


@contextmanager
def _open(log: Path, *, read_only: bool = False) -> Iterator["Laying"]:
    from plankwright.api import open_laying

    with open_laying(log, read_only=read_only) as laying:
        yield laying


def _show_next(laying: "Laying", saw: str, json_output: bool) -> None:
    from plankwright.application.lay_day import next_step
    from plankwright.cli.lay_report import print_step, step_entry
    from plankwright.cli.terminal import print_json

    step, view = next_step(laying.day), _view(saw)
    if json_output:
        print_json(step_entry(step, laying.day, view))
    else:
        print_step(step, laying.day, view)


def _view(saw: str) -> "SawView":
    from plankwright.errors import InputError
    from plankwright.plan.saw_view import FACE_UP, view_at

    if saw not in FACE_UP:
        raise InputError(
            "no such saw", where="--saw", value=saw, remedy="Name one of: " + ", ".join(FACE_UP)
        )
    return view_at(saw)


def _show_forecast(laying: "Laying") -> None:
    from plankwright.cli.lay_report import print_forecast
    from plankwright.cli.terminal import say
    from plankwright.errors import InputError
    from plankwright.guide.checks import forecast

    try:
        drift = forecast(laying.day.plan, laying.day.state)
    except InputError as error:
        say(f"Check this: {error}")
        return
    if drift is not None:
        print_forecast(drift, laying.day)


def _show_written(laying: "Laying", written: "tuple[Event, ...]", json_output: bool) -> None:
    from plankwright.cli.lay_report import sentences
    from plankwright.cli.terminal import print_json
    from plankwright.guide.events import event_entry
    from plankwright.units import parse_unit

    if json_output:
        print_json({"events": [event_entry(event) for event in written]})
        return
    unit = parse_unit(laying.day.plan.unit)
    for event, sentence in zip(
        written, sentences(written, unit, laying.day.log.events), strict=True
    ):
        lead = "" if event.kind == "undone" else "Written down: "
        typer.echo(f"{lead}{sentence}.")
