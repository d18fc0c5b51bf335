"""Rows at 45 degrees in the demo room and in 50 real ones: what nesting by true shape saves.

``python -m benchmarks.diagonal [--rooms 50]``
*box*: slanted pieces cut as their bounding boxes; *shape*: nested by true shape, as a plan does it.
Waste is the boards' area over the floor's. Every plan is checked. Resumable.
"""

import argparse
from collections.abc import Sequence
from importlib import resources
from unittest import mock

from benchmarks.real_rooms import SMALL_M2, rooms_of
from benchmarks.results import Result, fingerprint, resume
from plankwright.application.plan_figures import plan_figures
from plankwright.checker.check import check_plan
from plankwright.files.job import read_job
from plankwright.geometry.walls import walls
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort
from plankwright.plan import planner
from plankwright.plan.planner import Task, make_plan

EFFORT = Effort(moves=2_000, prove=False)
HEAD = (
    f"{'room':26} {'m2':>6} {'straight':>8} {'box':>5} {'shape':>5} {'saved':>5} "
    f"{'straight %':>10} {'box %':>6} {'shape %':>7} {'faults':>6}"
)


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rooms", type=int, default=50)
    parser.add_argument("--processes", type=int, default=2)
    chosen = parser.parse_args(arguments)
    cases = [(job.name, job) for job in jobs(chosen.rooms)]
    settings = fingerprint({"moves": EFFORT.moves})
    results = resume("diagonal", settings, cases, measure, chosen.processes)
    print(HEAD)
    for name, result in results.items():
        print(line(name, result))
    print("\n".join(summary(list(results.values()))))


def jobs(rooms: int) -> list[Job]:
    """The demo room, then real rooms spread over the file."""
    name = "demo_room.toml"
    text = resources.files("plankwright").joinpath("data", name).read_text(encoding="utf-8")
    found = [room for room, _ in rooms_of("rooms_agpl.geojson")]
    large = [room for room in found if room.outline.area >= SMALL_M2 * 1e6]
    spread = large[:: max(len(large) // rooms, 1)][:rooms]
    return [read_job(text, name), *(Job(r, Board(1285.0, 192.0), name=r.name) for r in spread)]


def measure(job: Job) -> Result:
    """One room laid straight and on the diagonal, with and without nesting."""
    along = walls(job.room)[0].inward_deg + 90.0
    straight = _planned(job, along)
    shape = _planned(job, along + 45.0)
    with mock.patch.object(planner, "is_slanted", return_value=False):
        box = _planned(job, along + 45.0)
    plans = (straight, box, shape)
    wastes = [plan_figures(plan).waste_pct for plan in plans]
    return {
        "m2": straight.floor.area / 1e6,
        "boards": [plan.boards.used for plan in plans],
        "waste_pct": wastes,
        "faults": sum(not check_plan(plan).ok for plan in plans),
    }


def _planned(job: Job, angle_deg: float) -> Plan:
    wishes = Wishes(row_angle_deg=angle_deg % 360.0)
    return make_plan(Task(job.room, job.board, job.rules, wishes, job.unit, EFFORT))


def line(name: str, result: Result) -> str:
    """One room."""
    straight, box, shape = result["boards"]
    waste = result["waste_pct"]
    return (
        f"{name[:26]:26} {result['m2']:6.1f} {straight:8} {box:5} {shape:5} {box - shape:5} "
        f"{waste[0]:10.1f} {waste[1]:6.1f} {waste[2]:7.1f} {result['faults']:6}"
    )


def summary(results: Sequence[Result]) -> list[str]:
    """Totals, and the median waste of each way."""
    totals = [sum(result["boards"][i] for result in results) for i in range(3)]
    middle = [sorted(r["waste_pct"][i] for r in results)[len(results) // 2] for i in range(3)]
    fewer = sum(result["boards"][2] < result["boards"][1] for result in results)
    return [
        f"rooms {len(results)}; boards straight {totals[0]}, diagonal by boxes {totals[1]}, by "
        f"shape {totals[2]}: {100.0 * (1.0 - totals[2] / totals[1]):.1f} % fewer, in {fewer} rooms",
        f"median waste straight {middle[0]:.1f} %, by boxes {middle[1]:.1f} %, by shape "
        f"{middle[2]:.1f} %",
        f"plans with a fault: {sum(result['faults'] for result in results)}",
    ]


if __name__ == "__main__":
    main()
