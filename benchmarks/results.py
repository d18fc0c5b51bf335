"""Results that outlive a killed run: JSON lines under ``.bench/``, one for each case.

A line is keyed by the case and by a fingerprint of the settings and of the code that is measured,
so that a run goes on where it stopped and never shows what another version of the code did.
"""

import hashlib
import json
import multiprocessing
import sys
import time
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

import plankwright

FOLDER = Path(".bench")
PACKAGE = Path(plankwright.__file__).parent
MEASURED = tuple(
    path
    for part in ("model", "geometry", "optimize", "plan", "checker")
    for path in sorted((PACKAGE / part).rglob("*.py"))
) + tuple(Path(__file__).with_name(name) for name in ("baselines.py", "measured_room.py"))
REPORT_EVERY_S = 30.0

Result = dict[str, Any]
Case = tuple[str, Any]  # its key, and what the worker gets


def fingerprint(settings: Mapping[str, object], sources: Iterable[Path] = MEASURED) -> str:
    """A hash of settings and of the code that is measured."""
    told = hashlib.sha256(json.dumps(settings, sort_keys=True).encode())
    for path in sources:
        told.update(path.read_bytes())
    return told.hexdigest()[:16]


def stored(path: Path, settings: str) -> dict[str, Result]:
    """Results that an earlier run left, by case; a line that was cut off does not count."""
    found: dict[str, Result] = {}
    if path.exists():
        for line in path.read_text(encoding="utf-8").splitlines():
            try:
                entry = json.loads(line)
            except ValueError:
                continue
            if entry.get("settings") == settings:
                found[entry["case"]] = entry["result"]
    return found


def read_all(path: Path) -> dict[str, Result]:
    """The last result of every case, whatever its settings."""
    lines = path.read_text(encoding="utf-8").splitlines()
    entries = (json.loads(line) for line in lines if line.strip())
    return {entry["case"]: entry["result"] for entry in entries}


def resume(
    name: str,
    settings: str,
    cases: Iterable[Case],
    work: Callable[[Any], Result],
    processes: int = 2,
) -> dict[str, Result]:
    """The result of every case, in order; only what no earlier run left is worked out.

    Parameters
    ----------
    name : of the table; its results stand in ``.bench/<name>.jsonl``.
    settings : a :func:`fingerprint`.
    work : a function of a module (it runs in other processes) from a case to its result.
    """
    FOLDER.mkdir(exist_ok=True)
    path = FOLDER / f"{name}.jsonl"
    cases = list(cases)
    done = stored(path, settings)
    missing = [case for case in cases if case[0] not in done]
    if len(missing) < len(cases):
        _say(f"{name}: {len(cases) - len(missing)} of {len(cases)} stood in {path} already")
    began = told = time.monotonic()
    with path.open("a", encoding="utf-8") as file:
        if file.tell():
            file.write("\n")  # ends a line that a kill may have cut off
        for count, (key, result) in enumerate(_worked_out(missing, work, processes), start=1):
            done[key] = result
            line = {"case": key, "settings": settings, "result": result}
            file.write(json.dumps(line, ensure_ascii=False) + "\n")
            file.flush()
            if time.monotonic() - told > REPORT_EVERY_S:
                told = time.monotonic()
                _say(f"{name}: {count} of {len(missing)}, {told - began:.0f} s")
    return {key: done[key] for key, _ in cases}


def _worked_out(
    cases: list[Case], work: Callable[[Any], Result], processes: int
) -> Iterable[tuple[str, Result]]:
    if processes == 1 or len(cases) < 2:
        yield from ((key, work(value)) for key, value in cases)
        return
    context = multiprocessing.get_context("spawn")
    with context.Pool(processes) as pool:
        jobs = [(work, key, value) for key, value in cases]
        yield from pool.imap_unordered(_work_one, jobs, chunksize=1)


def _work_one(job: tuple[Callable[[Any], Result], str, Any]) -> tuple[str, Result]:
    work, key, value = job
    return key, work(value)


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)
