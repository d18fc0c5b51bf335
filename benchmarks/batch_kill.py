"""A batch killed half-way with all its processes, and gone on with by the same command.

Every file of a batch is written under another name and moved to its place, so a file that is
written again has another inode and time: a room was done twice where those of its result changed.
"""

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from plankwright.files.batch_cases import batch_cases, batch_files

LOOK_EVERY_S = 0.5

Marks = dict[Path, tuple[int, int]]  # of each room's result: inode, time of writing


def kill_half_way(arguments: Sequence[object], sources: Sequence[Path], folder: Path) -> str:
    """Run ``benchmarks.batch`` into an empty folder, kill it, go on; tell what was done twice."""
    shutil.rmtree(folder, ignore_errors=True)
    command = [sys.executable, "-m", "benchmarks.batch", *map(str, arguments)]
    command += ["--into", folder.name]
    many = sum(1 for _ in batch_cases(batch_files(sources), None, lambda job: job))
    cut = _start_and_kill(command, folder, many // 2)
    before = _marks(folder)
    begun = len(list(folder.glob("rooms/*"))) - len(before)
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    after = _marks(folder)
    twice = sum(after.get(path) != mark for path, mark in before.items())
    return (
        f"killed: {many} rooms; {cut}; {len(before)} were done then, {begun} half written; "
        f"{len(after) - len(before)} done after it, {twice} done twice, "
        f"{many - len(after)} missing, {len(list(folder.rglob('*.part*')))} scraps left"
    )


def _start_and_kill(command: Sequence[str], folder: Path, enough: int) -> str:
    """Start a batch as a group of processes; kill them all once so many rooms are done."""
    running = subprocess.Popen(command, start_new_session=True, stdout=subprocess.DEVNULL)
    while running.poll() is None and len(_marks(folder)) < enough:
        time.sleep(LOOK_EVERY_S)
    if running.poll() is not None:
        return f"ended by itself with {running.returncode}"
    os.killpg(running.pid, signal.SIGKILL)
    running.wait()
    return "killed half-way"


def _marks(folder: Path) -> Marks:
    """What would change if a room were done again."""
    found = {path: path.stat() for path in folder.glob("rooms/*/result.json")}
    return {path: (stat.st_ino, stat.st_mtime_ns) for path, stat in found.items()}
