"""Choices for every dwelling of the test data: how many, how long, checked, none beaten by another.

``python -m benchmarks.choices [--every 5] [--steps 96]``
Board 1285 x 192 and the usual rules; 20 s a dwelling on two cores are the aim. Seconds are those of
one processor, so that other programs do not count; all is done in one process. *avoidable* is the
length of slivers in a choice beyond what the best of many row lines along its rows leaves (see
``benchmarks/sliver_scan.py``). Resumable: see ``benchmarks/results.py``.
"""

import argparse
import math
import time
from collections.abc import Sequence
from itertools import permutations
from pathlib import Path

from benchmarks.real_rooms import rooms_of
from benchmarks.results import MEASURED, PACKAGE, Result, fingerprint, resume
from benchmarks.sliver_scan import least_slivers
from plankwright.application.choices import Choices, find_choices
from plankwright.application.merits import dominates
from plankwright.checker.check import check_plan
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.room import Room

LONGEST_S = 20.0
SAME_MM = 50.0  # less is told by the steps of the scan
SOURCES = (
    *MEASURED,
    *sorted((PACKAGE / "application").glob("*.py")),
    Path(__file__).with_name("sliver_scan.py"),
)
HEAD = (
    f"{'dwelling':24} {'m2':>6} {'tried':>5} {'list':>4} {'boards':>11} {'seconds':>7} "
    f"{'faults':>6} {'refused':>7} {'beaten':>6} {'slivers':>8} {'avoidable':>9}"
)


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="only every so many-th dwelling")
    parser.add_argument("--steps", type=int, default=96, help="row lines that are scanned")
    parser.add_argument("--processes", type=int, default=2)
    chosen = parser.parse_args(arguments)
    rooms = [room for room, _ in rooms_of("dwellings_agpl.geojson")][:: chosen.every]
    cases = [(room.name, (room, chosen.steps)) for room in rooms]
    settings = fingerprint({"steps": chosen.steps}, SOURCES)
    results = resume("choices", settings, cases, measure, chosen.processes)
    print(HEAD)
    for name, result in results.items():
        print(line(name, result))
    print("\n".join(summary(list(results.values()))))


def measure(case: tuple[Room, int]) -> Result:
    """The choices of one dwelling, checked and held against each other."""
    room, steps = case
    began = time.process_time()
    found = find_choices(Job(room, Board(1285.0, 192.0)))
    seconds = time.process_time() - began
    slivers = [least_slivers(choice.plan, steps) for choice in found.choices]
    return {
        "m2": room.outline.area / 1e6,
        "tried": found.tried,
        "choices": len(found.choices),
        "boards": [choice.merits.boards for choice in found.choices],
        "seconds": round(seconds, 2),
        "faults": sum(not check_plan(choice.plan).ok for choice in found.choices),
        "refused": len(found.refused),
        "beaten": beaten(found),
        "slivers_mm": round(sum(own for own, _ in slivers)),
        "avoidable_mm": round(max(own - least for own, least in slivers)),
    }


def beaten(found: Choices) -> int:
    """How many choices another one of the list beats in everything."""
    pairs = permutations([choice.merits for choice in found.choices], 2)
    return sum(dominates(one, other) for one, other in pairs)


def line(name: str, result: Result) -> str:
    """One dwelling."""
    boards = f"{min(result['boards'])} to {max(result['boards'])}"
    return (
        f"{name[:24]:24} {result['m2']:6.1f} {result['tried']:5} {result['choices']:4} "
        f"{boards:>11} {result['seconds']:7.1f} {result['faults']:6} {result['refused']:7} "
        f"{result['beaten']:6} {result['slivers_mm']:8} {result['avoidable_mm']:9}"
    )


def summary(results: Sequence[Result]) -> list[str]:
    """What the table comes to."""
    seconds = sorted(result["seconds"] for result in results)
    lengths = sorted(result["choices"] for result in results)
    slow = sum(second > LONGEST_S for second in seconds)
    avoidable = sum(result["avoidable_mm"] > SAME_MM for result in results)
    counts = ", ".join(f"{number}: {lengths.count(number)}" for number in sorted(set(lengths)))
    return [
        f"dwellings {len(results)}, choices {sum(lengths)} (dwellings by their number {counts})",
        f"seconds: median {seconds[len(seconds) // 2]:.1f}, 95 % within "
        f"{seconds[math.ceil(0.95 * len(seconds)) - 1]:.1f}, most {seconds[-1]:.1f}; "
        f"over {LONGEST_S:g} s: {slow}",
        f"choices with a fault {sum(result['faults'] for result in results)}, plans refused "
        f"{sum(result['refused'] for result in results)}, choices beaten by another "
        f"{sum(result['beaten'] for result in results)}",
        f"dwellings with more than {SAME_MM:g} mm of sliver that another line avoids: {avoidable}",
    ]


if __name__ == "__main__":
    main()
