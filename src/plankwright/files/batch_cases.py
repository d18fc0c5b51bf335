"""The rooms of a batch: every room of the files that were named, and of those in the folders."""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from plankwright.application.batch import Case
from plankwright.errors import FileError, InputError
from plankwright.files.job import found_job, open_job
from plankwright.files.room_file import find_rooms
from plankwright.files.source import SUFFIXES, kind_of
from plankwright.model.job import Job
from plankwright.units import Unit

Amend = Callable[[Job], Job]


def batch_files(paths: Sequence[Path], without: Path | None = None) -> list[Path]:
    """The files that were named, and those of a known kind in the folders, in order of names.

    Parameters
    ----------
    without : a folder whose files do not count: what the batch itself writes.
    """
    found: dict[Path, None] = {}
    skipped = without.resolve() if without is not None else None
    for path in paths:
        if not path.is_dir():
            found[path] = None
            continue
        inside = sorted(
            file
            for file in path.rglob("*")
            if file.is_file()
            and file.suffix.lower() in SUFFIXES
            and (skipped is None or skipped not in file.resolve().parents)
        )
        if not inside:
            raise FileError(
                "no room in this folder",
                where=str(path),
                remedy=f"Files of these kinds are looked for: {', '.join(sorted(SUFFIXES))}.",
            )
        found.update(dict.fromkeys(inside))
    return list(found)


def batch_cases(files: Sequence[Path], unit: Unit | None, amend: Amend) -> Iterator[Case]:
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


def _cases_of(file: Path, unit: Unit | None, amend: Amend) -> Iterator[Case]:
    try:
        if kind_of(file) == "toml":
            yield Case(file.name, amend(open_job(file, unit=unit)))
            return
        found = find_rooms(file, unit=unit)
    except InputError as error:
        yield Case(file.name, None, str(error))
        return
    for room in found.rooms:
        key = f"{file.name}: {room.id}"
        try:
            yield Case(key, amend(found_job(found, room, unit)))
        except InputError as error:
            yield Case(key, None, str(error))
    for finding in found.findings:
        if finding.code == "import-left" and finding.where != file.name:
            yield Case(f"{file.name}: {finding.where}", None, finding.message)
    if not found.rooms:
        told = "; ".join(finding.message for finding in found.findings)
        yield Case(file.name, None, f"no room was found ({told})")
