"""The job documents of a floor's parts: each with what the whole job says of slab, air and buying.

What is bought once for the whole floor stands on the list of the first part alone: spare boards and
tools. What is said of the whole floor's size, of doors that other parts have and of the slab's
heights beyond a part is left out of its job.
"""

from collections.abc import Sequence
from copy import deepcopy
from os import PathLike
from pathlib import Path

from shapely import Point

from plankwright.buying.tools import TOOL_NAMES
from plankwright.files.job_document import Document, read_document
from plankwright.files.job_slab_tables import HeightsTable
from plankwright.files.job_writer import job_document
from plankwright.files.source import LARGEST_BYTES, kind_of, read_text
from plankwright.files.table import read_table
from plankwright.model.job import Job

LEAST_READINGS = 3
OF_THE_FILE = ("slab", "air", "buy")  # tables that only a job file has


def part_documents(jobs: Sequence[Job], whole: Document) -> list[Document]:
    """A job document for each part, in order.

    Parameters
    ----------
    jobs : of the parts, the one with what is bought once first.
    whole : the document of the job they are parts of; empty where there is none.
    """
    doors = {doorway.name for job in jobs for doorway in job.room.doorways}
    return [_document(job, whole, number, doors) for number, job in enumerate(jobs)]


def whole_document(path: str | PathLike[str] | None) -> Document:
    """The document in a job file; empty for a drawing, or where there is no file."""
    if path is None or kind_of(Path(path)) != "toml":
        return {}
    return read_document(read_text(Path(path), LARGEST_BYTES["toml"]), str(path))


def _document(job: Job, whole: Document, number: int, doors: set[str]) -> Document:
    rest = deepcopy({name: whole[name] for name in OF_THE_FILE if name in whole})
    if "slab" in rest:
        elsewhere = doors - {doorway.name for doorway in job.room.doorways}
        rest["slab"] = _slab(rest["slab"], job, elsewhere)
    if number > 0:
        rest["buy"] = _bought_before(rest.get("buy", {}))
    return {**job_document(job), **rest}


def _slab(slab: Document, job: Job, elsewhere: set[str]) -> Document:
    slab.pop("area", None)
    for side in ("along", "across"):
        slab.get("movement", {}).pop(side, None)
    if "door" in slab:
        slab["door"] = [door for door in slab["door"] if door.get("name") not in elsewhere]
    if "heights" in slab:
        slab["heights"] = _heights(slab["heights"], job)
    return slab


def _heights(heights: Document, job: Job) -> Document:
    """The heights on a part: those of a grid up to half a step beyond, all where they are few."""
    table = read_table(HeightsTable, heights, unit=job.unit, where="slab.heights")
    if table.readings:
        readings = heights["readings"]
        on = [_is_on(job, (x, y), 0.0) for x, y, _ in table.readings]
        kept = [reading for reading, is_on in zip(readings, on, strict=True) if is_on]
        return {**heights, "readings": kept if len(kept) >= LEAST_READINGS else readings}
    if table.step is None:
        return heights
    (across, up), (x0, y0) = table.step, table.origin
    reach = max(across, up) / 2.0
    rows = [
        [
            height if _is_on(job, (x0 + i * across, y0 + j * up), reach) else ""
            for i, height in enumerate(row)
        ]
        for j, row in enumerate(heights["rows"])
    ]
    return {**heights, "rows": rows}


def _is_on(job: Job, place: tuple[float, float], reach_mm: float) -> bool:
    return bool(job.room.outline.distance(Point(place)) <= reach_mm)


def _bought_before(buy: Document) -> Document:
    """What is said of buying when spares and tools are on another list already."""
    return {**buy, "spares": 0, "tools": {**buy.get("tools", {}), "own": list(TOOL_NAMES)}}
