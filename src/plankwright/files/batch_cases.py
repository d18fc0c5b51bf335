"""The rooms of a batch: every room of the files that were named, and of those in the folders."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from plankwright.application.batch import Case
from plankwright.errors import FileError, InputError
from plankwright.files.job import found_job, open_job
from plankwright.files.room_file import find_rooms
from plankwright.files.source import SUFFIXES, kind_of
from plankwright.model.job import Job
from plankwright.units import Unit

Amend = Callable[[Job], Job]


# A folder may hold plan files and tables, which are .json as well; name such a room's file itself.
IN_FOLDERS = tuple(suffix for suffix in SUFFIXES if suffix != ".json")


@dataclass(frozen=True, slots=True)
class BatchFile:
    """A file of a batch, and how the table calls it."""

    path: Path
    label: str


def batch_files(paths: Sequence[Path], without: Path | None = None) -> list[BatchFile]:
    """The files that were named, and those of a known kind in the folders, in order of names.

    Parameters
    ----------
    without : a folder whose files do not count: what the batch itself writes.
    """
    found: dict[Path, BatchFile] = {}
    for path in paths:
        files = _inside(path, without) if path.is_dir() else [BatchFile(path, path.name)]
        for file in files:
            found.setdefault(file.path, file)
    return list(found.values())


def _inside(folder: Path, without: Path | None) -> list[BatchFile]:
    skipped = None if without is None else without.resolve()
    files = [
        BatchFile(file, file.relative_to(folder).as_posix())
        for file in sorted(folder.rglob("*"))
        if file.is_file()
        and file.suffix.lower() in IN_FOLDERS
        and skipped not in file.resolve().parents
    ]
    if not files:
        raise FileError(
            "no room in this folder",
            where=str(folder),
            remedy=f"Files of these kinds are looked for: {', '.join(IN_FOLDERS)}.",
        )
    return files


def batch_cases(files: Sequence[BatchFile], unit: Unit | None, amend: Amend) -> Iterator[Case]:
    """Every room of some files; what cannot be read or used is a case without a job.

    Parameters
    ----------
    unit : of bare numbers, instead of what the files say.
    amend : puts what was typed in place of what stands in a job.
    """
    seen: set[str] = set()
    for file in files:
        for case in _cases_of(file, unit, amend):
            key, number = case.key, 2
            while key in seen:
                key, number = f"{case.key} ({number})", number + 1
            seen.add(key)
            yield case if key == case.key else Case(key, case.job, case.refusal)


def _cases_of(file: BatchFile, unit: Unit | None, amend: Amend) -> Iterator[Case]:
    try:
        if kind_of(file.path) == "toml":
            yield Case(file.label, amend(open_job(file.path, unit=unit)))
            return
        found = find_rooms(file.path, unit=unit)
    except InputError as error:
        yield Case(file.label, None, str(error))
        return
    for room in found.rooms:
        key = f"{file.label}: {room.id}"
        try:
            yield Case(key, amend(found_job(found, room, unit)))
        except InputError as error:
            yield Case(key, None, str(error))
    for finding in found.findings:
        if finding.code == "import-left" and finding.where != file.path.name:
            yield Case(f"{file.label}: {finding.where}", None, finding.message)
    if not found.rooms:
        told = "; ".join(finding.message for finding in found.findings)
        yield Case(file.label, None, f"no room was found ({told})")
