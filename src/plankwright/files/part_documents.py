"""The job documents of a floor's parts: each with what the whole job says of slab, air and buying.

What is bought once for the whole floor stands on the list of the first part alone: spare boards,
tools and the compound that makes the slab flat. What is said of the whole floor's size, and of
doors that other parts have, is left out.
"""

from collections.abc import Sequence
from copy import deepcopy
from os import PathLike
from pathlib import Path

from plankwright.buying.tools import TOOL_NAMES
from plankwright.files.job_document import Document, read_document
from plankwright.files.job_writer import job_document
from plankwright.files.source import LARGEST_BYTES, kind_of, read_text
from plankwright.model.job import Job

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
        rest["slab"] = _slab(rest["slab"], elsewhere, is_first=number == 0)
    if number > 0:
        rest["buy"] = _bought_before(rest.get("buy", {}))
    return {**job_document(job), **rest}


def _slab(slab: Document, elsewhere: set[str], *, is_first: bool) -> Document:
    slab.pop("area", None)
    for side in ("along", "across"):
        slab.get("movement", {}).pop(side, None)
    if "door" in slab:
        slab["door"] = [door for door in slab["door"] if door.get("name") not in elsewhere]
    if not is_first:
        slab.pop("heights", None)
    return slab


def _bought_before(buy: Document) -> Document:
    """What is said of buying when spares and tools are on another list already."""
    return {**buy, "spares": 0, "tools": {**buy.get("tools", {}), "own": list(TOOL_NAMES)}}
