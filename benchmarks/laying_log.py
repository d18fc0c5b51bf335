"""A log of 5,000 events: how long the state takes, and a new event beside the disk's own sync.

The sync is measured on the same disk with the same bytes, so that the table says what the program
adds to it. Nothing here asserts a time.
"""

import argparse
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from plankwright.guide.events import (
    BoardsOpened,
    DistanceMeasured,
    Event,
    PieceCut,
    PieceLaid,
    Rest,
    RowLocked,
    Undone,
    What,
)
from plankwright.guide.laying_log import LayingLog, log_of
from plankwright.store.database import Database
from plankwright.store.jobs import Jobs
from plankwright.store.log import EventLog, event_text

BOARD_MM = (1285.0, 192.0)
JOB = "job"


def whats(count: int) -> list[What]:
    """A large house: row after row of starter, whole boards and an end piece from an offcut."""
    found: list[What] = []
    row = 0
    while len(found) < count:
        row += 1
        if row % 4 == 1:
            found.append(BoardsOpened(f"p{row}", "b1", 8))
        letter = f"L{row}"
        rest = Rest(letter, 880.0, 192.0, "near")
        found += [PieceCut(f"{row}.1.1", "", 400.0, 192.0, "far", (rest,)), PieceLaid(f"{row}.1.1")]
        found += [PieceLaid(f"{row}.1.{seat}", whole=True) for seat in (2, 3, 4)]
        found += [
            PieceCut(f"{row}.1.5", letter, 300.0, 192.0, "near"),
            PieceLaid(f"{row}.1.5"),
            DistanceMeasured("to the far wall", row, "near", 1000.0),
            RowLocked(row),
        ]
    return found[:count]


def timed(work: Callable[[], object], clock: Callable[[], float] = time.perf_counter) -> float:
    """Milliseconds."""
    began = clock()
    work()
    return (clock() - began) * 1000.0


def summary(times: list[float]) -> str:
    """Median and the worst of a hundred."""
    ordered = sorted(times)
    worst = ordered[int(0.99 * len(ordered))]
    return f"median {statistics.median(times):7.2f} ms, 99 % {worst:7.2f} ms"


def main() -> None:
    """Fill a log, then time what a person waits for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--events", type=int, default=5000)
    parser.add_argument("--times", type=int, default=200)
    given = parser.parse_args()
    events = [
        Event(f"e{number:06d}", number, "bench", "2026-01-03T09:00:00Z", what)
        for number, what in enumerate(whats(given.events), start=1)
    ]
    with tempfile.TemporaryDirectory(dir=".") as folder:
        path = Path(folder) / "bench.log"
        with Database(path) as database:
            Jobs(database).add("bench", JOB)
            EventLog(database, JOB).append(events)
        with Database(path) as database:
            log = EventLog(database, JOB)
            reads = [timed(lambda: log.folded(BOARD_MM)) for _ in range(20)]
            print(f"{given.events} events read and folded: {summary(reads)}")
            own = [timed(lambda: log.folded(BOARD_MM), time.process_time) for _ in range(20)]
            print(f"  of that, processor time:            {summary(own)}")
            folds = [timed(lambda: log_of(events, BOARD_MM)) for _ in range(20)]
            print(f"{given.events} events folded only:     {summary(folds)}")
            state, writes = log.folded(BOARD_MM), []
            for number in range(given.times):
                began = time.perf_counter()
                state = _written(state, log, number)
                writes.append((time.perf_counter() - began) * 1000.0)
            print(f"a new event, checked and on the disk: {summary(writes)}")
            undos = []
            for number in range(given.times // 4):
                began = time.perf_counter()
                state = _undone(state, log, number)
                undos.append((time.perf_counter() - began) * 1000.0)
            print(f"the last event taken back:            {summary(undos)}")
        syncs = sync_times(Path(folder) / "sync", event_text(events[0]).encode(), given.times)
        print(f"the disk's own sync of such an event: {summary(syncs)}")


def _written(state: LayingLog, log: EventLog, number: int) -> LayingLog:
    state = state.write(PieceLaid(f"9999.1.{number}", whole=True), f"new-{number}")
    log.append([state.events[-1]])
    return state


def _undone(state: LayingLog, log: EventLog, number: int) -> LayingLog:
    last = state.last()
    assert last is not None
    state = state.write(Undone(last.id), f"undo-{number}")
    log.append([state.events[-1]])
    return state


def sync_times(path: Path, data: bytes, count: int) -> list[float]:
    """What appending to a file and asking the disk to keep it costs."""
    descriptor = os.open(path, os.O_CREAT | os.O_WRONLY | os.O_APPEND)

    def append() -> None:
        os.write(descriptor, data.ljust(4096))
        os.fdatasync(descriptor)

    times = [timed(append) for _ in range(count)]
    os.close(descriptor)
    return times


if __name__ == "__main__":
    main()
