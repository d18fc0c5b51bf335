"""Batches of real rooms: rooms a second, the same bytes from 1 and 2 processes and from a cluster.

``python -m benchmarks.batch [FILE ...] [--every 20] [--way 1 --way 2 --way dask] [--moves 2000]``
Without ``--every`` all rooms of the test data. Resumable: a batch goes on where it was stopped, in
``.bench/batch/``; one that went on tells no rooms a second. The way ``killed`` is way 2 killed
half-way and gone on with; it always starts anew.
"""

import argparse
import json
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict
from importlib import import_module
from pathlib import Path
from typing import Any

from tests.data import DATA

from benchmarks.batch_kill import kill_half_way
from benchmarks.results import FOLDER, PACKAGE, fingerprint
from plankwright import api
from plankwright.optimize.solve import Effort

FILES = ("rooms.geojson", "rooms_agpl.geojson", "dwellings_agpl.geojson")
WAYS = ("1", "2", "dask", "killed")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the batches, print their lines and what differs between them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*", default=FILES, help="of the test data; all three")
    parser.add_argument("--every", type=int, default=1, help="only every so many-th room")
    parser.add_argument("--way", action="append", choices=WAYS, help="all four")
    parser.add_argument("--into", help="a folder's name; else that of the way")
    parser.add_argument("--moves", type=int, default=Effort().moves, help="work limit a room")
    parser.add_argument("--looks", type=int, default=Effort().looks, help="work limit for looks")
    chosen = parser.parse_args(arguments)
    effort = Effort(moves=chosen.moves, looks=chosen.looks)
    # A batch goes on only where neither the rooms nor the program are others now.
    settings = {"files": list(chosen.files), "every": chosen.every, "effort": asdict(effort)}
    work = FOLDER / "batch" / fingerprint(settings, sorted(PACKAGE.rglob("*.py")))
    sources = [_source(name, chosen.every, work / "source") for name in chosen.files]
    ways = chosen.way or WAYS
    for way in ways:
        folder = work / (chosen.into or way)
        if way == "killed":
            wishes = ["--every", chosen.every, "--moves", chosen.moves, "--looks", chosen.looks]
            told = kill_half_way([*chosen.files, *wishes, "--way", 2], sources, folder)
        else:
            told = _batch(way, sources, folder, effort)
        print(told, flush=True)
    different = _different([work / way for way in ways])
    print("Files that differ:", ", ".join(different[:20]) or "none")
    return len(different)


def _source(name: str, every: int, folder: Path) -> Path:
    """Some rooms of a file of the test data, as a file of their own."""
    if not (DATA / name).exists():
        raise SystemExit(f"no {name}: set PLANKWRIGHT_DATA to the folder of the test data")
    data = json.loads((DATA / name).read_text(encoding="utf-8"))
    data["features"] = data["features"][::every]
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(json.dumps(data), encoding="utf-8")
    return folder / name


def _batch(way: str, sources: list[Path], folder: Path, effort: Effort) -> str:
    """One batch, told in a line."""
    before = len(list(folder.glob("rooms/*/result.json")))
    with _cluster(way) as wish:
        began = time.monotonic()
        rows = api.batch(sources, folder, effort=effort, **wish)
        seconds = time.monotonic() - began
    states = {state: sum(row.state == state for row in rows) for state in ("planned", "refused")}
    failed = len(rows) - sum(states.values())
    told = f"{way:>5}: {len(rows)} rooms, {states['planned']} planned, {failed} failed"
    if before:
        return f"{told}; {before} of them stood there already"
    return f"{told}; {seconds:.0f} s, {len(rows) / seconds:.2f} rooms a second"


@contextmanager
def _cluster(way: str) -> Iterator[dict[str, Any]]:
    if way != "dask":
        yield {"processes": int(way)}
        return
    local_cluster: Any = import_module("distributed").LocalCluster
    with local_cluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as made:
        yield {"cluster": made.scheduler_address}


def _different(folders: list[Path]) -> list[str]:
    """The files that are not the same in all folders."""
    first, *others = folders
    names = {
        path.relative_to(folder) for folder in folders for path in folder.rglob("*.*")
        if path.is_file()
    }  # fmt: skip
    return [
        str(name)
        for name in sorted(names)
        if any(_bytes(folder / name) != _bytes(first / name) for folder in others)
    ]


def _bytes(path: Path) -> bytes | None:
    return path.read_bytes() if path.exists() else None


if __name__ == "__main__":
    raise SystemExit(main())
