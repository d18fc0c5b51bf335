"""What a change of the solver changed: the same rooms on this tree and on an earlier commit.

``python -m benchmarks.compare COMMIT [--every 40] [--moves 20000]``. The commit is checked out by
``git worktree`` into a temporary folder, which goes afterwards. Both trees run their own
``benchmarks.real_rooms``; what it keeps under ``.bench/`` is read and printed side by side.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from tests.data import DATA

from benchmarks.results import Result, read_all

HERE = Path(__file__).parents[1]


def main(arguments: Sequence[str] | None = None) -> None:
    """Run both and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("commit", help="an earlier commit, as git knows it")
    parser.add_argument("--every", type=int, default=40, help="only every so many-th room")
    parser.add_argument("--moves", type=int, default=20_000, help="work limit")
    chosen = parser.parse_args(arguments)
    options = ["--group", "rooms", "--every", str(chosen.every), "--moves", str(chosen.moves)]
    with tempfile.TemporaryDirectory() as folder:
        then = Path(folder) / "tree"
        _git("worktree", "add", "--detach", str(then), chosen.commit)
        try:
            before = measured(then, Path(folder) / "then", options)
            now = measured(HERE, Path(folder) / "now", options)
        finally:
            _git("worktree", "remove", "--force", str(then))
    print("\n".join(table(before, now, chosen.commit)))


def _git(*arguments: str) -> None:
    subprocess.run(["git", "-C", str(HERE), *arguments], check=True, stdout=subprocess.DEVNULL)


def measured(tree: Path, folder: Path, options: Sequence[str]) -> dict[str, Result]:
    """Results of a tree's own table of real rooms, run in a folder of its own."""
    folder.mkdir()
    paths = os.pathsep.join([str(tree / "src"), str(tree)])
    command = [sys.executable, "-m", "benchmarks.real_rooms", "--processes", "1", *options]
    environment = os.environ | {"PYTHONPATH": paths, "PLANKWRIGHT_DATA": str(DATA.resolve())}
    subprocess.run(command, cwd=folder, env=environment, check=True, stdout=subprocess.DEVNULL)
    return read_all(folder / ".bench" / "real-rooms.jsonl")


def table(before: Mapping[str, Result], now: Mapping[str, Result], commit: str) -> Iterator[str]:
    """Rooms that changed, then totals of the rooms that both planned."""
    both = [case for case in now if case in before and _planned(before[case], now[case])]
    yield f"{'room':30} {commit[:12]:>24} {'this tree':>24}"
    for case in both:
        old, new = before[case], now[case]
        if (old["boards"], old["bound"]) != (new["boards"], new["bound"]):
            yield f"{case.partition(':')[2][:30]:30} {_told(old):>24} {_told(new):>24}"
    yield ""
    yield f"{len(both)} rooms"
    for key, name in (("boards", "boards"), ("bound", "proven bound"), ("plan_s", "seconds")):
        old_sum, new_sum = (sum(tree[case][key] for case in both) for tree in (before, now))
        yield f"{name:30} {old_sum:24.1f} {new_sum:24.1f}"
    proven = [sum(tree[case]["status"] == "optimal" for case in both) for tree in (before, now)]
    yield f"{'proven optimal':30} {proven[0]:24} {proven[1]:24}"


def _planned(*results: Result) -> bool:
    return all(result.get("pieces") for result in results)


def _told(result: Result) -> str:
    return f"{result['boards']} of {result['bound']}, {result['plan_s']:.2f} s"


if __name__ == "__main__":
    main()
