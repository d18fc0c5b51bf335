"""Planning again on real rooms: a random moment, a random mishap; against going on by hand.

``python -m benchmarks.replanning [--rooms 300] [--seed 1] [--lines]``
Rooms of at least 3 m2, floor plates left out; board 1285 x 192, gap 8, kerf 3, shortest piece and
joint offset 300 mm, allowance 0. The careful layer of ``benchmarks/baselines.py`` goes on from the
same floor with the same offcuts. Where a kind of mishap cannot happen the next kind befalls the
room. Seconds are the processor's, check and all; the longest on the clock stands beside them. A
laid piece counts as moved when it lies otherwise on ground that is floor before and after: at a
wall measured elsewhere it was cut to it. Resumable: see ``benchmarks/results.py``.
"""

import argparse
import random
import time
import traceback
from collections.abc import Collection, Iterator, Sequence
from typing import Any

import shapely
from shapely import Polygon

from benchmarks.by_hand import go_on_by_hand
from benchmarks.mishaps import KINDS, Mishap, mishap
from benchmarks.real_rooms import FILES, rooms_of
from benchmarks.results import MEASURED, PACKAGE, Result, fingerprint, resume
from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.guide.replan import plan_again
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.plan.planner import Task, make_plan

RULES = Rules(allowance_mm=0.0)
SOURCES = (*MEASURED, *sorted((PACKAGE / "guide").rglob("*.py")))
CRACK_MM = 0.1  # a sheet thinner than that is rounding
LINE = (
    "{case:28} {kind:12} {open:5} {new:5} {least:5} {by_hand:5} {s:6.2f} {check_s:6.2f} {faults} "
    "{told}"
)


def main(arguments: Sequence[str] | None = None) -> None:
    """Plan again in every room that was drawn, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rooms", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--lines", action="store_true", help="a line for every room, too")
    chosen = parser.parse_args(arguments)
    cases = [(room.name, case) for case in drawn(chosen.rooms, chosen.seed) for room in [case[0]]]
    settings = fingerprint({"seed": chosen.seed, "rules": str(RULES)}, SOURCES)
    results = resume("replanning", settings, cases, measure, chosen.processes)
    if chosen.lines:
        print("\n".join(LINE.format(case=c, **r) for c, r in results.items() if "new" in r))
    print("\n".join(summary(results)))


def drawn(rooms: int, seed: int) -> list[tuple[Room, str, int]]:
    """Rooms with the mishap that is to befall each."""
    every = [r for name in FILES for r, group in rooms_of(name) if group == "rooms"]
    chosen = random.Random(seed).sample(every, min(rooms, len(every)))
    return [(room, KINDS[i % len(KINDS)], seed) for i, room in enumerate(chosen)]


def measure(case: tuple[Room, str, int]) -> Result:
    """Everything the table shows of one mishap, as plain values."""
    room, kind, seed = case
    try:
        plan = make_plan(Task(room, Board(1285.0, 192.0), RULES))
        turn = KINDS.index(kind)
        befall = (mishap(plan, room, k, seed) for k in (*KINDS[turn:], *KINDS[:turn]))
        happened = next((one for one in befall if one is not None), None)
        if happened is None:
            return {"kind": kind, "refused": "no mishap can happen here"}
        return _measured(plan, room, happened)
    except InputError as error:
        return {"kind": kind, "refused": str(error)}
    except Exception:
        return {"kind": kind, "crash": traceback.format_exc()}


def _measured(plan: Plan, room: Room, happened: Mishap) -> Result:
    began, began_s = time.process_time(), time.perf_counter()
    answer = plan_again(plan, room, happened.state)
    planned = time.process_time()
    verdict = check_plan(answer.plan)
    checked, clock_s = time.process_time(), time.perf_counter() - began_s
    by_hand = go_on_by_hand(plan, room, happened.state)
    laid = happened.state.laid_ids
    return {
        "kind": happened.kind,
        "told": happened.told,
        "open": sum(piece.id not in laid for piece in answer.plan.pieces),
        "new": answer.new_boards,
        "least": answer.least_new_boards,
        "missing": answer.boards_missing,
        "changes": len(answer.changes),
        "by_hand": by_hand.boards,
        "hand_legal": by_hand.legal,
        "s": round(checked - began, 4),
        "clock_s": round(clock_s, 4),
        "check_s": round(checked - planned, 4),
        "faults": [str(fault) for fault in verdict.faults],
        "moved": len(moved(plan, answer.plan, laid)),
    }


def moved(before: Plan, after: Plan, laid: Collection[str]) -> list[str]:
    """Laid pieces that lie otherwise on ground that is floor in both plans."""
    ground = before.floor.intersection(after.floor)
    shapely.prepare(ground)
    outlines = {piece.id: piece.outline for piece in after.pieces}
    lying = [piece.outline for piece in after.pieces if piece.id in set(after.laid)]
    return [
        piece.id
        for piece in before.pieces
        if piece.id in laid
        and not _lies_as(piece.outline, outlines.get(piece.id, Polygon()), ground)
        and not any(_lies_as(piece.outline, outline, ground) for outline in lying)
    ]


def _lies_as(before: Polygon, after: Polygon, ground: shapely.Geometry) -> bool:
    """Whether two outlines are one on common ground; the second may bear another number."""
    differs = before.symmetric_difference(after).intersection(ground)
    return bool(differs.buffer(-CRACK_MM / 2).is_empty)


# --- the table --------------------------------------------------------------------------------


def summary(results: dict[str, Result]) -> Iterator[str]:
    """A line for each kind of mishap and for all, then everything that should not be."""
    yield (
        f"{'mishap':14} {'rooms':>5} {'proven':>7} {'within 1':>8} {'new':>6} {'least':>6} "
        f"{'by hand':>7} {'saved':>6} {'median s':>8} {'p95 s':>6} {'most s':>6} "
        f"{'on the clock':>12}"
    )
    for kind in (*KINDS, "all"):
        rows = [r for r in results.values() if "new" in r and (kind == "all" or r["kind"] == kind)]
        if rows:
            yield _line(kind, rows)
    yield from ("", "What should not be:", *_troubles(results))


def _line(kind: str, rows: list[Result]) -> str:
    new, least, by_hand = (sum(row[key] for row in rows) for key in ("new", "least", "by_hand"))
    proven = sum(row["new"] <= row["least"] for row in rows) / len(rows)
    within = sum(row["new"] <= row["least"] + 1 for row in rows) / len(rows)
    seconds = sorted(row["s"] for row in rows)
    saved = (by_hand - new) / by_hand if by_hand else 0.0
    return (
        f"{kind:14} {len(rows):5} {proven:7.1%} {within:8.1%} {new:6} {least:6} {by_hand:7} "
        f"{saved:6.1%} {seconds[len(seconds) // 2]:8.2f} "
        f"{seconds[min(len(seconds) - 1, len(seconds) * 95 // 100)]:6.2f} {seconds[-1]:6.2f} "
        f"{max(row['clock_s'] for row in rows):12.2f}"
    )


def _troubles(results: dict[str, Result]) -> Iterator[str]:
    for case, row in results.items():
        if "crash" in row:
            yield f"  {case} {row['kind']}: {row['crash'].splitlines()[-1]}"
        elif "refused" in row:
            yield f"  {case} {row['kind']}: {row['refused']}"
        else:
            yield from _trouble(case, row)


def _trouble(case: str, row: dict[str, Any]) -> Iterator[str]:
    if row["faults"]:
        yield f"  {case} {row['kind']}: {len(row['faults'])} faults, {row['faults'][0]}"
    if row["hand_legal"] and row["new"] > row["by_hand"]:
        yield f"  {case} {row['kind']}: {row['new']} new boards, by hand {row['by_hand']}"
    if row["moved"]:
        yield f"  {case} {row['kind']}: {row['moved']} laid pieces moved"


if __name__ == "__main__":
    main()
