"""Some 300 damaged and hostile drawings, each read in a process of its own: what is said, how long.

``python -m benchmarks.hostile_files [--each 14] [--seed 1] [--at-once 2]``. The files are made anew
from the seed; several are read at once, each with the reader's own limits. What should not be: an
answer without a remedy, a traceback, a file written beside the drawing or where programs keep
theirs, more than the reader's own limits of time and memory.
"""

import argparse
import os
import resource
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from tests.files.hostile_files import Hostile, hostile_files

from plankwright.errors import InputError
from plankwright.files.reader_process import LONGEST_S, MOST_BYTES
from plankwright.files.room_file import find_rooms

PLACES = ("HOME", "TMPDIR", "XDG_CACHE_HOME", "XDG_CONFIG_HOME")  # where programs write
SLACK_S = 5.0  # to begin a process and to end it
SLOWEST = 5


@dataclass(frozen=True, slots=True)
class Read:
    """What reading a file came to."""

    name: str
    is_rooms: bool
    seconds: float
    troubles: tuple[str, ...]

    @property
    def kind(self) -> str:
        """What is wrong with the file."""
        return self.name.rsplit("-", 1)[0]


def main(arguments: Sequence[str] | None = None) -> int:
    """Read them all and print a line for each kind; the number of what should not be."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--each", type=int, default=14, help="files of each kind")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at-once", type=int, default=2, help="files read at once")
    chosen = parser.parse_args(arguments)
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "elsewhere"
        place.mkdir()
        os.environ.update(dict.fromkeys(PLACES, str(place)))
        files = hostile_files(chosen.seed, chosen.each)
        reads = _read_all(files, Path(folder), chosen.at_once)
        left = [str(path.relative_to(folder)) for path in place.rglob("*")]
    _print_table(reads)
    troubles = [told for read in reads for told in read.troubles]
    troubles += [f"wrote {name}" for name in left]
    most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1e3
    print(
        f"\n{len(reads)} files in {time.monotonic() - began:.0f} s, {chosen.at_once} at once; "
        f"most memory of a reader {most:.0f} MB (limit {MOST_BYTES / 1e6:.0f})"
    )
    print("What should not be:", "; ".join(troubles) or "nothing")
    return len(troubles)


def _read_all(files: Iterable[Hostile], folder: Path, at_once: int) -> list[Read]:
    """In the order of the files, each made only when its turn comes."""
    waiting = iter(files)
    reads: list[Read] = []
    with ThreadPoolExecutor(at_once) as readers:
        while group := list(islice(waiting, 8 * at_once)):
            reads += readers.map(lambda one: _read(one, folder), group)
            if sys.stderr.isatty():
                print(f"{len(reads)} files", end="\r", file=sys.stderr)
    return reads


def _read(one: Hostile, folder: Path) -> Read:
    """Read a file that lies alone in a folder."""
    alone = folder / one.name.replace(".", "-")
    alone.mkdir()
    path = alone / one.name
    path.write_bytes(one.content)
    began = time.monotonic()
    is_rooms, troubles = _outcome(path)
    seconds = time.monotonic() - began
    troubles += [f"{one.name}: wrote {e.name}" for e in sorted(alone.iterdir()) if e != path]
    if seconds > LONGEST_S + SLACK_S:
        troubles.append(f"{one.name}: {seconds:.0f} s")
    path.unlink()
    return Read(one.name, is_rooms, seconds, tuple(troubles))


def _outcome(path: Path) -> tuple[bool, list[str]]:
    """Whether rooms came out, and what should not be."""
    try:
        find_rooms(path)
    except InputError as error:
        is_told = error.remedy and path.name in error.where and "Traceback" not in str(error)
        return False, [] if is_told else [f"{path.name}: {error}"]
    except Exception as error:
        return False, [f"{path.name}: {error!r}"]
    return True, []


def _print_table(reads: Sequence[Read]) -> None:
    kinds: dict[str, list[Read]] = defaultdict(list)
    for read in reads:
        kinds[read.kind].append(read)
    print(f"{'kind':18} {'files':>5} {'rooms':>5} {'refused':>7} {'median s':>8} {'most s':>7}")
    for kind, found in kinds.items():
        times = sorted(read.seconds for read in found)
        rooms = sum(read.is_rooms for read in found)
        print(
            f"{kind:18} {len(found):5} {rooms:5} {len(found) - rooms:7} "
            f"{times[len(times) // 2]:8.2f} {times[-1]:7.2f}"
        )
    slowest = sorted(reads, key=lambda read: -read.seconds)[:SLOWEST]
    print("\nSlowest:", ", ".join(f"{read.name} {read.seconds:.1f} s" for read in slowest))


if __name__ == "__main__":
    raise SystemExit(main())
