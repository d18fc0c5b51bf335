"""Some 300 damaged and hostile drawings, each read in a process of its own: what is said, how long.

``python -m benchmarks.hostile_files [--each 14] [--seed 1]``. The files are made anew from the
seed. What should not be: an answer without a remedy, a traceback, a file written, more than the
reader's own limits of time and memory.
"""

import argparse
import resource
import tempfile
import time
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path

from tests.files.hostile_files import hostile_files

from plankwright.errors import InputError
from plankwright.files.reader_process import LONGEST_S, MOST_BYTES
from plankwright.files.room_file import find_rooms


def main(arguments: Sequence[str] | None = None) -> int:
    """Read them all and print a line for each kind; the number of what should not be."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--each", type=int, default=14, help="files of each kind")
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args(arguments)
    kinds: dict[str, list[tuple[str, float]]] = defaultdict(list)
    troubles: list[str] = []
    for one in hostile_files(chosen.seed, chosen.each):
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / one.name
            path.write_bytes(one.content)
            began = time.monotonic()
            said = _said(path, troubles)
            seconds = time.monotonic() - began
            written = {entry.name for entry in Path(folder).iterdir()} - {one.name}
            troubles += [f"{one.name}: wrote {name}" for name in sorted(written)]
        if seconds > LONGEST_S + 5.0:
            troubles.append(f"{one.name}: {seconds:.0f} s")
        kinds[one.name.rsplit("-", 1)[0]].append((said, seconds))
    print(f"{'kind':18} {'files':>5} {'rooms':>5} {'refused':>7} {'median s':>8} {'most s':>7}")
    for kind, answers in kinds.items():
        times = sorted(seconds for _, seconds in answers)
        read = sum(said == "rooms" for said, _ in answers)
        print(
            f"{kind:18} {len(answers):5} {read:5} {len(answers) - read:7} "
            f"{times[len(times) // 2]:8.2f} {times[-1]:7.2f}"
        )
    most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1e3
    count = sum(map(len, kinds.values()))
    print(f"\n{count} files; most memory of a reader {most:.0f} MB (limit {MOST_BYTES / 1e6:.0f})")
    print("What should not be:", "; ".join(troubles) or "nothing")
    return len(troubles)


def _said(path: Path, troubles: list[str]) -> str:
    try:
        find_rooms(path)
        return "rooms"
    except InputError as error:
        if not error.remedy or path.name not in error.where or "Traceback" in str(error):
            troubles.append(f"{path.name}: {error}")
        return str(error)
    except Exception as error:
        troubles.append(f"{path.name}: {error!r}")
        return repr(error)


if __name__ == "__main__":
    raise SystemExit(main())
