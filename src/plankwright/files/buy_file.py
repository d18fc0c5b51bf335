"""A job file opened for buying: the job, what it says of buying, and the slab where it has one."""

from dataclasses import dataclass
from pathlib import Path

from shapely import Polygon

from plankwright.application.buy_job import BuyJob
from plankwright.application.plan_job import plan_job
from plankwright.application.slab_advice import SlabJob
from plankwright.errors import InputError
from plankwright.files import plan_file
from plankwright.files.job import open_job
from plankwright.files.job_buy import BuyTable, make_buying
from plankwright.files.job_slab import read_slab
from plankwright.files.source import (
    LARGEST_BYTES,
    LARGEST_PLAN_BYTES,
    kind_of,
    parse_json,
    parse_toml,
    read_text,
)
from plankwright.files.table import read_table
from plankwright.model.buying import Buying
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.units import Unit, format_area, parse_unit

SAME_ROOM = 0.001  # of its area
JOB_BESIDE = "job.toml"  # as plans of parts have it in their folder


@dataclass(frozen=True, slots=True)
class OpenedBuy:
    """What a job file says; ``slab`` is None where it says nothing of the slab."""

    job: Job
    buying: Buying
    slab: SlabJob | None


def open_buy(path: Path, *, feature: str | None = None, unit: Unit | None = None) -> OpenedBuy:
    """The job in a file with all that buying needs; usual sizes where it says nothing.

    Raises
    ------
    InputError
        with file, field, value and remedy.
    """
    job = open_job(path, feature=feature, unit=unit)
    kind = kind_of(path)
    if kind != "toml":
        return OpenedBuy(job, usual_buying(job.unit), None)
    where = str(path)
    tables = parse_toml(read_text(path, LARGEST_BYTES[kind]), where)
    try:
        table = read_table(BuyTable, tables.get("buy", {}), unit=job.unit, where="buy")
        slab = read_slab(tables, job.unit, job) if "slab" in tables else None
        return OpenedBuy(job, make_buying(table, job.unit), slab)
    except InputError as error:
        raise error.at(where) from None


def open_shopping(
    path: Path, job: Path | None = None, *, feature: str | None = None, unit: Unit | None = None
) -> BuyJob:
    """What a shopping list is made from: a plan file, or a job that is planned first.

    Parameters
    ----------
    job : with a plan file, the job file it was made from; else the ``job.toml`` beside the plan
        file, if it is of the same room.

    Raises
    ------
    InputError
        with file, field, value and remedy; also when job and plan file are of different rooms.
    """
    plan = _plan_in(path)
    if plan is None:
        opened = open_buy(path, feature=feature, unit=unit)
        try:
            made = plan_job(opened.job)
        except InputError as error:
            raise error.at(str(path)) from None
        return _of_job(opened, made)
    beside = path.with_name(JOB_BESIDE)
    if job is None and beside.is_file() and _is_of_room(open_job(beside).room.outline, plan):
        job = beside
    if job is None:
        read = unit or parse_unit(plan.unit, where=f"{path}: length_unit")
        return BuyJob(plan, usual_buying(read), read)
    opened = open_buy(job, feature=feature, unit=unit)
    if not _is_of_room(opened.job.room.outline, plan):
        apart = opened.job.room.outline.symmetric_difference(plan.room).area
        raise InputError(
            f"the job file is of another room than {path.name}: the outlines differ by "
            f"{format_area(apart / 1e6, opened.job.unit)}",
            where=f"--job {job}",
            remedy="Name the job file the plan was made from, or plan it again.",
        )
    return _of_job(opened, plan)


def _is_of_room(outline: Polygon, plan: Plan) -> bool:
    """Whether a job's outline is that of the room a plan was made for."""
    apart = outline.symmetric_difference(plan.room).area
    return bool(apart <= SAME_ROOM * plan.room.area)


def _plan_in(path: Path) -> Plan | None:
    """The plan in a plan file; None for anything else."""
    if path.suffix.lower() != ".json":
        return None
    text, where = read_text(path, LARGEST_PLAN_BYTES), str(path)
    is_plan = parse_json(text, where).get("format") == plan_file.FORMAT
    return plan_file.load_plan(text, where) if is_plan else None


def _of_job(opened: OpenedBuy, plan: Plan) -> BuyJob:
    return BuyJob(plan, opened.buying, opened.job.unit, opened.job.room.doorways, opened.slab)


def usual_buying(unit: Unit) -> Buying:
    """Usual sizes and no prices, where nothing is said."""
    return make_buying(BuyTable(), unit)
