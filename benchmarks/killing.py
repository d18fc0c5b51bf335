"""SIGKILL at random moments while events are being written down.

A child process writes events and tells each one that was acknowledged; it is killed after a random
delay, from before the file is opened until well into writing. Afterwards every acknowledged event
must be there, none twice, the file sound, and the state what a second fold, written another way,
makes of the same events. Every fifth time the child starts on a file of its own. Resumable, 50
kills at a time: see ``benchmarks/results.py``.
"""

import argparse
import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, field
from pathlib import Path

from tests.guide.happenings import BOARD_MM, day
from tests.guide.ledger import ledger_of

from benchmarks.results import PACKAGE, Result, fingerprint, resume
from plankwright.store.database import Database
from plankwright.store.jobs import Jobs
from plankwright.store.log import EventLog

JOB = "job"
MANY = 400  # more events than a child lives to write
LONGEST_S = 0.3
START_S = 0.15  # about what a child needs before it writes
PART = 50  # kills
SOURCES = (
    Path(__file__),
    *sorted((PACKAGE / "store").rglob("*.py")),
    *(PACKAGE / "guide" / name for name in ("events.py", "laying_log.py", "laying_state.py")),
)


@dataclass
class Tally:
    """What the kills came to; every list of faults must stay empty."""

    kills: int = 0
    while_opening: int = 0
    acknowledged: int = 0
    unacknowledged: int = 0  # on the disk, though the kill came before it was told: allowed
    faults: list[str] = field(default_factory=list)


def kill_often(count: int, seed: int, folder: Path) -> Tally:
    """Kill a writing child so many times and look at what it left."""
    tally = Tally()
    dice = random.Random(seed)
    acknowledged: set[str] = set()
    path = folder / "none"
    for number in range(count):
        if number % 5 == 0:
            path = folder / f"{seed}-{number}.plankwright"
            acknowledged = set()
        told = _killed(path, seed * 100_003 + number, dice)
        tally.kills += 1
        tally.while_opening += not told
        tally.acknowledged += len(told)
        acknowledged |= told
        _look(path, acknowledged, tally)
        if number % 5 == 4:
            for left in folder.glob(path.name + "*"):
                left.unlink()
    return tally


def _killed(path: Path, seed: int, dice: random.Random) -> set[str]:
    """Ids that a child told before it was killed."""
    child = subprocess.Popen(
        [sys.executable, "-m", "benchmarks.killing", "--write", str(path), "--seed", str(seed)],
        stdout=subprocess.PIPE,
    )
    assert child.stdout is not None
    began = time.perf_counter()
    if dice.random() < 0.15:
        time.sleep(dice.uniform(0.0, START_S))
        told = b""
    else:
        told = child.stdout.read(1)  # it has begun
        opening_s = time.perf_counter() - began
        time.sleep(dice.uniform(0.0, max(LONGEST_S, opening_s)))  # a busy machine writes slowly
    child.send_signal(signal.SIGKILL)
    told += child.stdout.read()
    child.wait()
    child.stdout.close()
    *whole, _ = told.decode().split("\n")  # the last line may have been cut off
    return {line.strip() for line in whole if line.strip() and line != "."}


def _look(path: Path, acknowledged: set[str], tally: Tally) -> None:
    if not path.exists():
        if acknowledged:
            tally.faults.append(f"{path.name}: the file is gone")
        return
    try:
        with Database(path) as database:
            if damage := database.damage():
                tally.faults.append(f"{path.name}: {damage[0]}")
            events = [event for _, event in EventLog(database, JOB).events()]
            state = EventLog(database, JOB).folded(BOARD_MM).state
    except (sqlite3.Error, ValueError) as error:
        tally.faults.append(f"{path.name}: does not open: {error}")
        return
    ids = [event.id for event in events]
    if len(set(ids)) < len(ids):
        tally.faults.append(f"{path.name}: an event is there twice")
    if missing := acknowledged - set(ids):
        tally.faults.append(f"{path.name}: {len(missing)} acknowledged events are missing")
    tally.unacknowledged += len(set(ids) - acknowledged)
    acknowledged |= set(ids)  # what is there must stay there
    book = ledger_of(events, BOARD_MM)
    same = (
        set(state.laid) == book.names("laid")
        and set(state.shelf) == book.names("shelf")
        and state.waste_um2 == book.waste_um2()
        and state.stock_um2 == state.accounted_um2
    )
    if not same:
        tally.faults.append(f"{path.name}: the two folds differ")


def write_until_killed(path: Path, seed: int) -> None:
    """The child: opens the file, writes event after event, tells each that was acknowledged."""
    with Database(path) as database:
        with suppress(ValueError):
            Jobs(database).add("laying day", JOB)
        log = EventLog(database, JOB)
        os.write(1, b".\n")
        for event in day(seed, MANY, devices=(f"child {seed}",)):
            log.append([event, event])  # given twice, as a phone does that heard no answer
            os.write(1, event.id.encode() + b"\n")


def _killed_part(part: tuple[int, int]) -> Result:
    """The tally of so many kills from a seed, as plain values."""
    count, seed = part
    with tempfile.TemporaryDirectory() as folder:
        return asdict(kill_often(count, seed, Path(folder)))


def _sum(parts: Iterable[Result]) -> Tally:
    """One tally of many."""
    total = Tally()
    for part in parts:
        total.kills += part["kills"]
        total.while_opening += part["while_opening"]
        total.acknowledged += part["acknowledged"]
        total.unacknowledged += part["unacknowledged"]
        total.faults += part["faults"]
    return total


def main() -> None:
    """Kill 1,000 times, or write until killed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--write", type=Path, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.write is not None:
        write_until_killed(given.write, given.seed)
        return
    parts = {
        f"kills from {first}": (min(PART, given.kills - first), given.seed + first)
        for first in range(0, given.kills, PART)
    }
    settings = fingerprint({"seed": given.seed}, SOURCES)
    results = resume("killing", settings, parts.items(), _killed_part, processes=1)
    tally = _sum(results.values())
    print(
        f"kills {tally.kills}, of them before the first event {tally.while_opening}; "
        f"events acknowledged {tally.acknowledged}, on the disk but not yet told "
        f"{tally.unacknowledged}; faults {len(tally.faults)}"
    )
    for fault in tally.faults:
        print("  " + fault)
    raise SystemExit(1 if tally.faults else 0)


if __name__ == "__main__":
    main()
