"""The search beside what anyone would reach for: two people by hand, and a direct model in CP-SAT.

``python -m benchmarks.peers [--seconds 60] [--rooms 40]``. Rooms are drawn by the seed
``"forty rooms"`` among the real rooms all of whose rows are longer than a board. The direct model
has a starter for every row, and a variable for every pairing of an end piece with a starter that
could come from one board; it keeps joint offsets and shortest pieces, on marks of 1 mm. CP-SAT is
the extra ``ortools``; without it that column is left out.
"""

import argparse
import importlib
import random
import time
from collections.abc import Sequence
from typing import Any

import numpy as np

from benchmarks.baselines import careful, habit
from benchmarks.measured_room import Settings, task_of
from benchmarks.real_rooms import FILES, rooms_of
from plankwright.geometry.floor import build_floor
from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.room import Room
from plankwright.optimize.instance import TICKS_PER_MM, Instance, in_one_lane
from plankwright.plan.compile import compile_instance
from plankwright.plan.layout import choose_rows
from plankwright.plan.planner import make_plan

SEED = "forty rooms"
Row = dict[str, Any]


def main(arguments: Sequence[str] | None = None) -> None:
    """Draw the rooms, measure all four, print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0, help="limit of CP-SAT a room")
    parser.add_argument("--rooms", type=int, default=40)
    chosen = parser.parse_args(arguments)
    model = _cp_model()
    if model is None:
        print("CP-SAT is left out: install the extra ortools to see it")
    rows = []
    for room, instance in drawn(chosen.rooms):
        row = measured(room, instance)
        if model is not None:
            row |= by_cp_sat(model, instance, chosen.seconds, row["boards"])
        rows.append(row)
        print(_line(row), flush=True)
    print("\n".join(_totals(rows)))


def _cp_model() -> Any:
    try:
        return importlib.import_module("ortools.sat.python.cp_model")
    except ImportError:
        return None


def drawn(count: int) -> list[tuple[Room, Instance]]:
    """Rooms drawn by the seed, with their instances."""
    rooms = [room for name in FILES[:2] for room, group in rooms_of(name) if group == "rooms"]
    random.Random(SEED).shuffle(rooms)
    found: list[tuple[Room, Instance]] = []
    for room in rooms:
        instance = instance_of(room)
        if instance.stretches and all(s.length > instance.board for s in instance.stretches):
            found.append((room, instance))
        if len(found) == count:
            break
    return found


def instance_of(room: Room) -> Instance:
    """The instance of a room on the row lines that the planner chooses."""
    task = task_of(room, Settings())
    floor = build_floor(task.room, task.rules)
    rowing = choose_rows(floor, task.room, task.board, task.rules, task.wishes)
    parts = rowing.frame.to_plan_grid(floor.parts)
    stretches = cut_rows(parts, task.board.width_mm, rowing.laying.start_line_mm)
    touching = contacts(stretches)
    return in_one_lane(compile_instance(stretches, touching, task.board, task.rules, task.grid_mm))


def measured(room: Room, instance: Instance) -> Row:
    """Boards by hand and by the search, and the seconds it took."""
    began = time.perf_counter()
    plan = make_plan(task_of(room, Settings()))
    return {
        "room": room.name,
        "habit": habit(instance).boards,
        "careful": careful(instance).boards,
        "boards": plan.boards.used,
        "proven": plan.boards.status == "optimal",
        "seconds": time.perf_counter() - began,
    }


def by_cp_sat(cp: Any, instance: Instance, seconds: float, ours: int) -> Row:
    """Boards of the direct model, whether proven, and when it was as good as the search."""
    model = _Direct(cp, instance)
    solver = cp.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    met = _Met(cp, ours)
    began = time.perf_counter()
    status = solver.Solve(model.model, met.callback)
    found = status in (cp.OPTIMAL, cp.FEASIBLE)
    return {
        "cp_boards": round(solver.ObjectiveValue()) if found else None,
        "cp_proven": status == cp.OPTIMAL,
        "cp_seconds": time.perf_counter() - began,
        "cp_met": met.seconds,
    }


class _Met:
    """Remembers when a solution with no more than so many boards was found."""

    def __init__(self, cp: Any, boards: int) -> None:
        self.seconds: float | None = None
        began = time.perf_counter()
        outer = self

        class Callback(cp.CpSolverSolutionCallback):  # type: ignore[misc]
            def on_solution_callback(self) -> None:
                if outer.seconds is None and self.ObjectiveValue() <= boards:
                    outer.seconds = time.perf_counter() - began

        self.callback = Callback()


class _Direct:
    """Starters, end pieces and pairings, in whole millimeters."""

    def __init__(self, cp: Any, instance: Instance) -> None:
        self.model = cp.CpModel()
        self._instance = instance
        self._board = instance.board // TICKS_PER_MM
        self._starts: list[Any] = []
        self._ends: list[Any] = []
        self._opened: list[Any] = []
        self._most: list[int] = []
        for need in instance.stretches:
            self._stretch(-(-need.length // TICKS_PER_MM), need.forbidden)
        for contact in instance.contacts:
            self._keep_offset(contact.wall_side, contact.room_side, contact.low, contact.high)
        pairs = self._pairings()
        self.model.Minimize(sum(self._opened) + len(self._starts) - sum(pairs))

    def _stretch(self, length: int, forbidden: Sequence[tuple[int, int]]) -> None:
        shortest, board, model = self._instance.shortest // TICKS_PER_MM, self._board, self.model
        a, b = (model.NewIntVar(shortest, board, "") for _ in range(2))
        wholes = model.NewIntVar(0, length // board, "")
        model.Add(a + b + board * wholes == length)
        self._starts.append(a)
        self._ends.append(b)
        self._opened.append(wholes + 1)
        self._most.append(length // board + 1)
        for low, high in forbidden:
            for k in range(self._most[-1]):
                place = k * board
                self._either(
                    [
                        (a + place, -1, low // TICKS_PER_MM),
                        (a + place, 1, -(-high // TICKS_PER_MM)),
                        (wholes, -1, k - 1),
                    ]
                )

    def _either(self, ways: Sequence[tuple[Any, int, int]]) -> None:
        """One of some bounds holds: at most (-1) or at least (1) a value."""
        chosen = []
        for expression, sign, value in ways:
            literal = self.model.NewBoolVar("")
            bound = expression <= value if sign < 0 else expression >= value
            self.model.Add(bound).OnlyEnforceIf(literal)
            chosen.append(literal)
        self.model.AddBoolOr(chosen)

    def _keep_offset(self, one: int, other: int, low: int, high: int) -> None:
        offset = -(-self._instance.offset // TICKS_PER_MM)
        if offset == 0:
            return
        begin, beside = (self._instance.stretches[i].start // TICKS_PER_MM for i in (one, other))
        first, last = low // TICKS_PER_MM, -(-high // TICKS_PER_MM)
        for k in range(self._most[one]):
            u = self._starts[one] + begin + k * self._board
            for m in range(self._most[other]):
                v = self._starts[other] + beside + m * self._board
                if abs(begin + k * self._board - beside - m * self._board) > self._board + offset:
                    continue
                self._either(
                    [
                        (u - v, -1, -offset),
                        (u - v, 1, offset),
                        *((place, sign, edge) for place in (u, v)
                          for sign, edge in ((-1, first - 1), (1, last + 1))),
                        (self._opened[one], -1, k),
                        (self._opened[other], -1, m),
                    ]
                )  # fmt: skip

    def _pairings(self) -> list[Any]:
        cut, pairs = -(-self._instance.cut // TICKS_PER_MM), []
        count = range(len(self._starts))
        table = [[self.model.NewBoolVar("") for _ in count] for _ in count]
        for i in count:
            self.model.AddAtMostOne(table[i])
            self.model.AddAtMostOne(row[i] for row in table)
            for j in count:
                fits = self._ends[i] + self._starts[j] + cut <= self._board
                self.model.Add(fits).OnlyEnforceIf(table[i][j])
                pairs.append(table[i][j])
        return pairs


def _line(row: Row) -> str:
    told = (
        f"{row['room'][:26]:26} habit {row['habit']:4} careful {row['careful']:4} plan "
        f"{row['boards']:4}{'=' if row['proven'] else ' '} {row['seconds']:6.2f} s"
    )
    if "cp_boards" in row:
        met = f"{row['cp_met']:.2f} s" if row["cp_met"] is not None else "never"
        told += (
            f"  CP-SAT {row['cp_boards']!s:>4}{'=' if row['cp_proven'] else ' '} "
            f"{row['cp_seconds']:6.2f} s, as good after {met}"
        )
    return told


def _totals(rows: list[Row]) -> list[str]:
    ours = sum(row["boards"] for row in rows)
    told = [f"{len(rows)} rooms; boards as ratios of the plans' {ours}:"]
    told += [f"  {who} {sum(row[who] for row in rows) / ours:.4f}" for who in ("habit", "careful")]
    told.append(f"  proven by the search {sum(row['proven'] for row in rows)}")
    peer = [row for row in rows if row.get("cp_boards") is not None]
    if peer:
        both = sum(row["boards"] for row in peer)
        ratio = [row["cp_met"] / row["seconds"] for row in peer if row["cp_met"] is not None]
        told += [
            f"  CP-SAT {sum(row['cp_boards'] for row in peer) / both:.4f}, in {len(peer)} rooms",
            f"  proven by CP-SAT {sum(row['cp_proven'] for row in peer)}",
            f"  as good as the plan in {len(ratio)}, median time over the plan's "
            f"{np.median(ratio) if ratio else float('nan'):.1f}",
        ]
    return told


if __name__ == "__main__":
    main()
