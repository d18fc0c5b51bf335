"""The long tables, one after another: ``python -m benchmarks.run [NAME ...]``.

Each runs in its own process and prints its table; stop it when you like. Tables that keep their
results under ``.bench/`` go on where they stopped. Nothing here asserts a time.
"""

import argparse
import subprocess
import sys
from collections.abc import Sequence

TABLES: dict[str, tuple[str, tuple[str, ...]]] = {
    "real-rooms": ("Every room and dwelling of the test data.", ("real_rooms",)),
    "real-rooms-2s": ("The same, at most 2 s a room.", ("real_rooms", "--seconds", "2")),
    "real-rooms-20s": (
        "The same, 20 s a room.",
        ("real_rooms", "--seconds", "20", "--moves", "100000000"),
    ),
    "real-rooms-1215": ("Boards of 1215 x 196.", ("real_rooms", "--board", "1215x196")),
    "real-rooms-1830": ("Boards of 1830 x 127.", ("real_rooms", "--board", "1830x127")),
    "real-rooms-no-looks": ("Before joints are moved for looks.", ("real_rooms", "--looks", "0")),
    "dwellings": ("Dwellings alone.", ("real_rooms", "--group", "dwellings")),
    "floor-plates": ("Floor plates alone.", ("real_rooms", "--group", "floor plates")),
    "peers": ("40 rooms against two people by hand and CP-SAT, 60 s.", ("peers",)),
    "compare": ("A few rooms on this tree and on the commit before.", ("compare", "HEAD~1")),
    "real-rooms-allowance": ("With an allowance of 3 mm.", ("real_rooms", "--allowance", "3")),
    "cutting-stock": ("42 published cutting-stock instances.", ("cutting_stock",)),
    "buying": ("Packs, strips and trim in real rooms and random houses.", ("buying",)),
    "choices": ("Choices for every dwelling: time, checks, slivers.", ("choices",)),
    "diagonal": ("Rows at 45 degrees: slanted offcuts by box and by shape.", ("diagonal",)),
    "laying-order": ("200 plans laid piece by piece by a simulator.", ("laying_order",)),
    "survey": ("1,000 simulated tape surveys.", ("survey",)),
    "breaks": ("Expansion breaks of every dwelling, against every subset.", ("breaks",)),
    "killing": ("The laying log, killed 1,000 times while it is written.", ("killing",)),
    "hostile-files": ("300 damaged and hostile drawings.", ("hostile_files",)),
    "batch": ("All real rooms on 1 and 2 processes, a cluster, and killed half-way.", ("batch",)),
    "batch-sample": ("The same, every 20th room.", ("batch", "--every", "20")),
    "laying-log": ("A log of 5,000 events: state, a new event, the disk's sync.", ("laying_log",)),
    "page": ("The page: start, first load, frames, answers, random requests.", ("page",)),
    "paper": ("Every sheet of three jobs: pages, bytes, seconds.", ("paper",)),
    "replanning": ("300 real rooms, a mishap in each: planned again.", ("replanning",)),
    "flatness": ("Straightedge search and leveling, random slabs.", ("flatness",)),
}
USUAL = ("real-rooms", "cutting-stock", "buying", "survey", "flatness", "killing", "laying-log")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the tables that were named, or the usual ones."""
    listed = "\n".join(f"  {name:22} {about}" for name, (about, _) in TABLES.items())
    parser = argparse.ArgumentParser(
        description=__doc__,
        epilog=f"tables:\n{listed}\nwithout a name: {', '.join(USUAL)}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("names", nargs="*", metavar="NAME")
    names = parser.parse_args(arguments).names or USUAL
    if unknown := [name for name in names if name not in TABLES]:
        parser.error(f"no such table: {', '.join(unknown)}")
    failed = 0
    for name in names:
        about, (module, *options) = TABLES[name]
        print(f"\n=== {name}: {about}", flush=True)
        done = subprocess.run([sys.executable, "-m", f"benchmarks.{module}", *options], check=False)
        failed += done.returncode != 0
    return failed


if __name__ == "__main__":
    raise SystemExit(main())
