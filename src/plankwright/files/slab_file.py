"""The slab part of a job file by itself; the room too, where the file has one."""

from dataclasses import dataclass
from pathlib import Path

from plankwright.application.slab_advice import SlabJob
from plankwright.errors import InputError
from plankwright.files.job import read_job
from plankwright.files.job_slab import read_slab
from plankwright.files.source import LARGEST_BYTES, parse_toml, read_text
from plankwright.model.job import Job
from plankwright.units import Unit, parse_unit


@dataclass(frozen=True, slots=True)
class OpenedSlab:
    """What a job file says of the slab; ``job`` is the whole job, None where there is no room."""

    slab: SlabJob
    job: Job | None


def open_slab(path: Path, *, unit: Unit | None = None) -> OpenedSlab:
    """The slab in a job file.

    Raises
    ------
    InputError
        with file, field, value and remedy; also when the file holds no slab.
    """
    text, where = read_text(path, LARGEST_BYTES["toml"]), str(path)
    tables = parse_toml(text, where)
    try:
        if "slab" not in tables:
            raise InputError(
                "the table is missing", where="slab", remedy="Write what you know under [slab]."
            )
        job_table = tables.get("job")
        named = job_table.get("unit", "mm") if isinstance(job_table, dict) else "mm"
        read_unit = unit or parse_unit(named, where="job.unit")
        job = read_job(text, "", unit=read_unit, name=path.stem) if "room" in tables else None
        return OpenedSlab(read_slab(tables, read_unit, job), job)
    except InputError as error:
        raise error.at(where) from None
