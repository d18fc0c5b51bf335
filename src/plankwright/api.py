"""The Python API: what the command line can do, in the same words and as few of them.

>>> import plankwright
>>> from shapely import box
>>> room = plankwright.Room(box(0, 0, 4000, 3000))
>>> plan = plankwright.plan_room(room, plankwright.Board(1285, 192))
>>> plankwright.check_plan(plan).ok
True

From a job file: ``plan = plankwright.plan_job(plankwright.open_job("room.toml"))``, then
``plankwright.save_plan(plan, "folder")``. At most five seconds:
``plan_job(job, stop=stop_after(5))``. Lengths are millimeters; what cannot be used raises
:class:`plankwright.errors.InputError` with place, value and remedy.

Longer than other modules since it is a list: every public call in one place, each a few lines that
hand on to the use case behind it, with a quarter of its lines docstrings.
"""

# What only some calls need is imported by them: the drawing, the survey and the slab bring half
# as much again to load as a plan does.

import time
from collections.abc import Callable, Sequence
from dataclasses import asdict
from functools import partial
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from plankwright import __version__
from plankwright.application.batch import Orders, Row
from plankwright.application.plan_figures import PlanFigures, plan_figures
from plankwright.application.plan_job import plan_job
from plankwright.application.plan_room import plan_room
from plankwright.application.rule_costs import RuleCost, rule_costs
from plankwright.checker.check import check_plan
from plankwright.checker.verdict import Fault, Verdict
from plankwright.drawing.svg_text import SvgText
from plankwright.errors import FileError, InputError, PlanFaultError, PlankwrightError, RangeError
from plankwright.files import job as job_file
from plankwright.files import plan_file, room_file
from plankwright.files.source import LARGEST_BYTES, LARGEST_PLAN_BYTES, read_text
from plankwright.files.writing import make_folder, write_whole
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort, never
from plankwright.units import Unit

if TYPE_CHECKING:
    from plankwright.application.buy_job import BuyJob
    from plankwright.application.choices import Choices
    from plankwright.application.how_to import HowToSource, Wanted
    from plankwright.application.lay_again import Asked
    from plankwright.application.measured_room import MeasuredRoom
    from plankwright.application.part_jobs import PlannedParts
    from plankwright.application.repair_piece import RepairAdvice
    from plankwright.application.shopping_list import ShoppingList
    from plankwright.application.slab_advice import SlabReport
    from plankwright.drawing.sheet import Paper
    from plankwright.guide.repair import LiftingRates
    from plankwright.guide.replan import Replanned
    from plankwright.model.found_rooms import FoundRooms
    from plankwright.paper.how_to_folder import SavedHowTo
    from plankwright.paper.press import Printed
    from plankwright.plan.saw_view import SawView
    from plankwright.store.events_file import GivenBack
    from plankwright.store.jobs import StoredJob
    from plankwright.store.laying import Laying

AnyPath = str | PathLike[str]
LONGEST_SEARCH_S = 86_400.0

__all__ = [
    "Board",
    "Effort",
    "Fault",
    "Finding",
    "InputError",
    "Job",
    "Plan",
    "PlanFaultError",
    "PlanFigures",
    "PlankwrightError",
    "RangeError",
    "Room",
    "RuleCost",
    "Rules",
    "Verdict",
    "Wishes",
    "batch",
    "buy",
    "check_file",
    "check_plan",
    "choices",
    "cut_list",
    "draw",
    "draw_choices",
    "draw_dxf",
    "draw_laid",
    "find_rooms",
    "found_job",
    "how_to",
    "import_laying",
    "is_drawing",
    "load_plan",
    "measure",
    "open_buy",
    "open_job",
    "open_laying",
    "phone_page",
    "plan_figures",
    "plan_job",
    "plan_laying_again",
    "plan_parts",
    "plan_room",
    "plan_texts",
    "read_given_back",
    "repair_floor",
    "rule_costs",
    "save_choices",
    "save_how_to",
    "save_parts",
    "save_plan",
    "save_rooms",
    "save_sheets",
    "save_shopping",
    "sheets",
    "slab",
    "start_laying",
    "stop_after",
    "take_plan",
]


def open_job(
    path: AnyPath,
    *,
    feature: str | None = None,
    unit: Unit | None = None,
    layer: str | None = None,
) -> Job:
    """The job in a job file (TOML), or a room in GeoJSON, DXF or IFC.

    Parameters
    ----------
    feature : which room of a file with several.
    unit : unit of bare numbers, instead of what the file says.
    layer : of a DXF drawing with the rooms' outlines or the walls, instead of a guess.
    """
    return job_file.open_job(Path(path), feature=feature, unit=unit, layer=layer)


def is_drawing(path: AnyPath) -> bool:
    """Whether a file is a drawing (DXF, IFC), out of which rooms must be found first."""
    return room_file.is_drawing(Path(path))


def find_rooms(
    path: AnyPath, *, unit: Unit | None = None, layer: str | None = None
) -> "FoundRooms":
    """The rooms in a drawing (DXF, IFC) or in GeoJSON, and what was taken, left and doubted.

    Parameters
    ----------
    unit : of the file's coordinates, instead of what it says.
    layer : of a DXF drawing with the rooms' outlines or the walls, instead of a guess.
    """
    return room_file.find_rooms(Path(path), unit=unit, layer=layer)


def found_job(
    found: "FoundRooms",
    feature: str | None = None,
    *,
    where: str = "drawing",
    unit: Unit | None = None,
) -> Job:
    """The job of one room of a drawing: the only one, or the one of an id or a name."""
    return job_file.found_job(found, room_file.choose_room(found, feature, where), unit)


def save_rooms(found: "FoundRooms", folder: AnyPath, *, name: str = "drawing") -> list[Path]:
    """Write the rooms of a drawing as GeoJSON, and a picture of each storey."""
    from plankwright.drawing.import_picture import compose_rooms
    from plankwright.drawing.svg import render_svg
    from plankwright.files.geojson_rooms import dump_rooms

    scenes = compose_rooms(found, name)
    texts = {"rooms.geojson": dump_rooms(found)}
    for number, scene in enumerate(scenes, start=1):
        texts["rooms.svg" if len(scenes) == 1 else f"rooms-{number}.svg"] = render_svg(scene)
    make_folder(Path(folder))
    return [write_whole(Path(folder) / file, text) for file, text in texts.items()]


def stop_after(seconds: float | None, *, where: str = "seconds") -> Callable[[], bool]:
    """A ``stop`` for :func:`plan_job` and :func:`plan_room`: True once the time is over.

    None never stops: the work limit ends the search, and the plan is the same on every machine.

    Raises
    ------
    InputError : less than nothing or more than a day; ``where`` names the option in the message.
    """
    if seconds is None:
        return never
    if not 0.0 <= seconds <= LONGEST_SEARCH_S:
        raise InputError(
            "must be from 0 to 86400 seconds",
            where=where,
            value=seconds,
            remedy="A day is the longest search.",
        )
    end = time.monotonic() + seconds
    return lambda: time.monotonic() >= end


def load_plan(path: AnyPath) -> Plan:
    """The plan in a plan file."""
    return plan_file.load_plan(read_text(Path(path), LARGEST_PLAN_BYTES), str(path))


def check_file(path: AnyPath) -> Verdict:
    """What the independent checker says about a plan file."""
    return check_plan(load_plan(path))


def save_plan(
    plan: Plan, folder: AnyPath, *, room: Room | None = None, dxf: bool = False
) -> list[Path]:
    """Write plan file, drawing and cut list into a folder; each appears whole or not at all.

    Parameters
    ----------
    room : adds to the drawing the doorways that the floor does not run into.
    dxf : write the plan as DXF, too.
    """
    texts = plan_texts(plan, room=room, dxf=dxf)
    make_folder(Path(folder))
    return [write_whole(Path(folder) / name, text) for name, text in texts.items()]


def plan_texts(plan: Plan, *, room: Room | None = None, dxf: bool = False) -> dict[str, str]:
    """What :func:`save_plan` writes, by the names of the files."""
    return {
        "plan.json": plan_file.dump_plan(plan),
        "plan.svg": draw(plan, room=room),
        "cuts.csv": cut_list(plan),
        **({"plan.dxf": draw_dxf(plan, room=room)} if dxf else {}),
    }


def draw(plan: Plan, *, room: Room | None = None, paper: "Paper" = "A4") -> SvgText:
    """The floor plan to scale on one sheet, as SVG; a notebook shows it as a picture."""
    from plankwright.drawing.plan_drawing import compose_plan
    from plankwright.drawing.svg import render_svg

    return SvgText(render_svg(compose_plan(plan, room=room, paper=paper)))


def draw_dxf(plan: Plan, *, room: Room | None = None) -> str:
    """The plan in the true size of the room, as DXF: inches for inch jobs, else millimeters."""
    from plankwright.drawing.dxf import render_dxf

    return render_dxf(plan, room=room)


def cut_list(plan: Plan) -> str:
    """The cut list in saw order, as CSV."""
    from plankwright.files.cut_list import cut_list_csv

    return cut_list_csv(plan)


def choices(
    job: Job, *, effort: Effort | None = None, stop: Callable[[], bool] = never
) -> "Choices":
    """Three to six checked plans of a job, none better in everything than another.

    Parameters
    ----------
    effort : how long to look for fewer boards in each plan that is offered.
    stop : asked now and then; when it says True no further plan is begun.
    """
    from plankwright.application.choices import WITH_CARE, find_choices

    return find_choices(job, effort=effort or WITH_CARE, stop=stop)


def plan_parts(
    job: Job, *, effort: Effort | None = None, stop: Callable[[], bool] = never
) -> "PlannedParts":
    """Each part of a floor between its expansion breaks, planned with rows of its own.

    Raises
    ------
    InputError : no expansion break parts the floor, or a part is too narrow for the board.
    """
    from plankwright.application.part_jobs import plan_parts as plan_each

    return plan_each(job, effort=effort, stop=stop)


def save_parts(
    found: "PlannedParts",
    folder: AnyPath,
    job_file: AnyPath | None = None,
    *,
    dxf: bool = False,
) -> list[Path]:
    """Write a job file, plan file, drawing and cut list of each part into folders ``part-1``, …

    Parameters
    ----------
    job_file : the file the whole job came from; what it says of slab, air and buying goes into the
        job files of the parts.
    dxf : write each plan as DXF, too.
    """
    from plankwright.files.job_document import document_text
    from plankwright.files.part_documents import part_documents, whole_document

    written = []
    documents = part_documents(found.jobs, whole_document(job_file))
    parts = zip(found.jobs, found.plans, documents, strict=True)
    for number, (job, plan, document) in enumerate(parts, start=1):
        inside = Path(folder) / f"part-{number}"
        make_folder(inside)
        written.append(write_whole(inside / "job.toml", document_text(document)))
        written += save_plan(plan, inside, room=job.room, dxf=dxf)
    return written


def draw_choices(found: "Choices", job: Job, *, paper: "Paper" = "A4") -> SvgText:
    """Every choice as a small drawing with its figures, and the chart, on one sheet, as SVG."""
    from plankwright.drawing.choices_drawing import compose_choices
    from plankwright.drawing.svg import render_svg

    scene = compose_choices(found, name=job.name, unit=job.unit, room=job.room, paper=paper)
    return SvgText(render_svg(scene))


def save_choices(found: "Choices", job: Job, folder: AnyPath) -> list[Path]:
    """Write the sheet of choices and the plan file of each into a folder."""
    texts: dict[str, str] = {"choices.svg": draw_choices(found, job)}
    for choice in found.choices:
        texts[f"choice-{choice.number}.json"] = plan_file.dump_plan(choice.plan)
    make_folder(Path(folder))
    return [write_whole(Path(folder) / name, text) for name, text in texts.items()]


def measure(path: AnyPath, *, unit: Unit | None = None) -> "MeasuredRoom":
    """The tape survey of a job file, adjusted: what fits, and what to measure next."""
    from plankwright.application.measure_room import measure_room
    from plankwright.files.survey_file import open_survey

    survey = open_survey(Path(path), unit=unit)
    try:
        return measure_room(survey.survey, survey.rules, unit=survey.unit)
    except InputError as error:
        raise error.at(str(path)) from None


def slab(path: AnyPath, *, unit: Unit | None = None) -> "SlabReport":
    """The advice on slab and air for a job file: what to do before the first board, in order."""
    from plankwright.application.slab_advice import advise_on_slab
    from plankwright.files.slab_file import open_slab

    return advise_on_slab(open_slab(Path(path), unit=unit).slab)


def open_buy(
    path: AnyPath,
    *,
    job: AnyPath | None = None,
    feature: str | None = None,
    unit: Unit | None = None,
) -> "BuyJob":
    """What a shopping list is made from: a plan file, or a job file or outline that is planned.

    Parameters
    ----------
    job : with a plan file, the job file it was made from: doorways, prices, slab. Without it the
        ``job.toml`` beside the plan file is taken, if it is of the same room.
    feature : which room of a GeoJSON file.
    unit : unit of bare numbers and of what is printed, instead of what the file says.
    """
    from plankwright.files.buy_file import open_shopping

    return open_shopping(Path(path), None if job is None else Path(job), feature=feature, unit=unit)


def buy(job: "BuyJob") -> "ShoppingList":
    """What to buy for a plan, how much of it, how sure, and why."""
    from plankwright.application.shopping_list import shopping_list

    return shopping_list(job)


def save_shopping(job: "BuyJob", found: "ShoppingList", folder: AnyPath) -> list[Path]:
    """Write the list as CSV and the drawings of strips and trim into a folder."""
    from plankwright.drawing.strips_drawing import compose_strips
    from plankwright.drawing.svg import render_svg
    from plankwright.drawing.trim_drawing import compose_trim
    from plankwright.files.shopping_csv import shopping_csv

    texts = {"shopping.csv": shopping_csv(found)}
    layers = (
        ("vapor-barrier", "Vapor barrier", found.sheets.film, job.buying.film),
        ("underlayment", "Underlayment", found.sheets.pad, job.buying.pad),
    )
    for name, title, rolls, sheeting in layers:
        if rolls is not None and sheeting is not None:
            scene = compose_strips(rolls, sheeting, job.plan, job.unit, title)
            texts[f"{name}.svg"] = render_svg(scene)
    if found.trim.cuts.sticks:
        scene = compose_trim(found.trim, job.buying.trim, job.plan, job.unit)
        texts["trim.svg"] = render_svg(scene)
    make_folder(Path(folder))
    return [write_whole(Path(folder) / name, text) for name, text in texts.items()]


def sheets(
    job: "BuyJob", *, paper: "Paper | None" = None, names: Sequence[str] = ()
) -> "list[Printed]":
    """The job on paper: each sheet as a PDF.

    Parameters
    ----------
    job : from :func:`open_buy`.
    paper : A4 or Letter; None takes Letter for inch jobs, else A4.
    names : of the sheets wanted; all that the job has something for where none is given.
    """
    from plankwright.paper.all_sheets import print_sheets
    from plankwright.paper.material import Material

    chosen = paper or ("Letter" if job.inches else "A4")
    return list(print_sheets(Material(job, chosen), names))


def save_sheets(printed: "Sequence[Printed]", folder: AnyPath) -> list[Path]:
    """Write sheets into a folder, each a PDF under its name."""
    make_folder(Path(folder))
    return [write_whole(Path(folder) / f"{sheet.name}.pdf", sheet.pdf) for sheet in printed]


def how_to(
    job: "BuyJob", *, laying: "Laying | None" = None, wanted: "Wanted | None" = None
) -> "HowToSource":
    """What the how-to is made from: planned against used where there is a laying day.

    Parameters
    ----------
    wanted : what of the household's own is told; nothing where None.
    """
    from plankwright.application.how_to import source_of

    if laying is None:
        return source_of(job, wanted=wanted)
    return source_of(job, day=laying.day, first=laying.first_plan, wanted=wanted)


def save_how_to(source: "HowToSource", folder: AnyPath) -> "SavedHowTo":
    """Write the how-to into a folder, as Markdown with drawings and as one HTML page.

    The writer's own words in an earlier Markdown file there are kept.
    """
    from plankwright.paper.how_to_folder import write_how_to_folder

    make_folder(Path(folder))
    return write_how_to_folder(source, Path(folder))


# --- the laying day --------------------------------------------------------------------------


def start_laying(plan: AnyPath, log: AnyPath, *, job: AnyPath | None = None) -> "Laying":
    """Begin the laying day of a plan file: its log file, with the plan and the job file in it.

    Raises
    ------
    FileError : the log file exists already.
    """
    from plankwright.store.laying import begin_laying

    if Path(log).exists():
        raise FileError(
            "exists already",
            where=str(log),
            remedy="Name a new file, or go on with: plankwright lay next LOG",
        )
    text = read_text(Path(plan), LARGEST_PLAN_BYTES)
    loaded = plan_file.load_plan(text, str(plan))
    job_text = None if job is None else read_text(Path(job), LARGEST_BYTES["toml"])
    return begin_laying(Path(log), loaded.name, text, _read_plan, job_text)


def open_laying(log: AnyPath, *, read_only: bool = False) -> "Laying":
    """The laying day in a log file; close it, or use it in a ``with`` block."""
    from plankwright.store.laying import open_log

    return open_log(Path(log), _read_plan, read_only=read_only)


def import_laying(exported: AnyPath, log: AnyPath) -> "StoredJob":
    """Read an exported job into a log file, which may be new."""
    from plankwright.store.database import Database
    from plankwright.store.export import import_job

    text = read_text(Path(exported), LARGEST_PLAN_BYTES)
    with Database(Path(log)) as database:
        return import_job(database, text, str(exported))


def read_given_back(path: AnyPath, *, job_id: str = "") -> "GivenBack":
    """What is in a file that a phone gave back: events and photographs."""
    from plankwright.store import events_file

    return events_file.read_given_back(read_text(Path(path), LARGEST_PLAN_BYTES), str(path), job_id)


def draw_laid(laying: "Laying") -> SvgText:
    """The floor as first planned and, beside it, as it lies, as SVG."""
    from plankwright.drawing.as_laid import compose_planned_beside_laid, progress_of
    from plankwright.drawing.svg import render_svg

    day = laying.day
    progress = progress_of(day.state, day.cards)
    return SvgText(render_svg(compose_planned_beside_laid(laying.first_plan, day.plan, progress)))


def phone_page(laying: "Laying", view: "SawView | None" = None) -> str:
    """The job as one HTML page for a phone: cards, drawing and log, no network needed.

    Parameters
    ----------
    view : how a board lies at the saw in use; face up with the start side away where None.
    """
    from plankwright.phone.page import phone_html

    return phone_html(laying.day, laying.job_id, view)


def plan_laying_again(
    laying: "Laying", asked: "Asked | None" = None, *, stop: Callable[[], bool] = never
) -> "Replanned":
    """A plan from what lies and what is at hand, checked; nothing is written down.

    Parameters
    ----------
    asked : walls that were measured elsewhere, rows that come up, boards at hand.
    stop : asked now and then; when it says True the best plan so far is taken.
    """
    from plankwright.application.lay_again import again, room_of

    text = laying.job_text()
    room = room_of(laying.day.plan) if text is None else job_file.read_job(text, "job").room
    first = laying.first_plan
    return again(laying.day, room, asked, bought=first.packs * first.board.per_pack, stop=stop)


def take_plan(laying: "Laying", answer: "Replanned", asked: "Asked | None" = None) -> int:
    """Go on with a plan from :func:`plan_laying_again`; the number of its revision."""
    from plankwright.application.lay_again import Asked, taken_events

    rows = (asked or Asked()).lifted_rows
    why = "; ".join(f"{change.where} {change.what}" for change in answer.changes[:3])
    return laying.take_plan(
        plan_file.dump_plan(answer.plan), why, taken_events(laying.day, answer, rows)
    )


def repair_floor(
    floor: AnyPath, pieces: Sequence[str] = (), *, lifting: "LiftingRates | None" = None
) -> "RepairAdvice":
    """What to do about damaged pieces: which rows come up, or cutting them out where they lie.

    Parameters
    ----------
    floor : a log file, or the plan file of a finished floor.
    pieces : such as ``"7.1.3"``; those that the log calls damaged where none is named.
    lifting : the person's own minutes of lifting and cutting out.

    Raises
    ------
    InputError : no such piece lies.
    """
    from plankwright.application.repair_piece import repair_on_day, repair_pieces
    from plankwright.files.job_buy import read_rates

    if Path(floor).suffix.lower() == ".json":
        return repair_pieces(load_plan(floor), pieces, lifting=lifting)
    with open_laying(floor, read_only=True) as laying:
        text = laying.job_text()
        rates = None if text is None else read_rates(text, "job")
        return repair_on_day(laying.day, pieces, rates=rates, lifting=lifting)


def _read_plan(text: str) -> Plan:
    return plan_file.load_plan(text, "plan")


def batch(
    paths: Sequence[AnyPath],
    folder: AnyPath,
    *,
    processes: int | None = None,
    cluster: str | None = None,
    unit: Unit | None = None,
    amend: Callable[[Job], Job] | None = None,
    effort: Effort | None = None,
    seconds: float | None = None,
    tell: "Callable[[Row, int, int], object] | None" = None,
) -> "list[Row]":
    """Plan every room of some files and folders; each room's files and the table into a folder.

    What an earlier run into the same folder did from the same input is not done again. With more
    than one process a script needs the usual ``if __name__ == "__main__":``.

    Parameters
    ----------
    paths : job files, GeoJSON, DXF, IFC, or folders with such.
    processes : on this machine; None for as many as it has processors.
    cluster : address of a Dask scheduler instead, ``tcp://host:port``.
    unit : of bare numbers, instead of what the files say.
    amend : called with each job before it is planned.
    effort : how long to look for fewer boards.
    seconds : at most this long for each room; results then depend on the machine.
    tell : called with each line, how many are done and how many there are.
    """
    from plankwright.files.batch_cases import batch_cases, batch_files
    from plankwright.files.batch_run import run_cases

    stop_after(seconds)
    target = Path(folder)
    files = batch_files([Path(path) for path in paths], without=target)
    cases = list(batch_cases(files, unit, amend or _as_it_is))
    orders = Orders(effort or Effort(), partial(stop_after, seconds), _case_texts)
    settings = {"effort": asdict(orders.effort), "seconds": seconds, "version": __version__}
    make_folder(target)
    return run_cases(cases, orders, settings, target, processes, cluster, tell)


def _as_it_is(job: Job) -> Job:
    return job


def _case_texts(plan: Plan, job: Job) -> dict[str, str]:
    return plan_texts(plan, room=job.room)
