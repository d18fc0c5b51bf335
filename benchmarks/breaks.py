"""Expansion breaks of every dwelling of the test data: the fewest, kept limits, checked plans.

``python -m benchmarks.breaks [--every 1]``. Rows along the longest wall, gap 8 mm; each dwelling
with limits as usual leaflets have them and with tighter ones; where no room is too long by itself,
and there are at most ten thresholds, every subset of them is tried. Parted dwellings are planned
and checked.
"""

import argparse
import json
import time
from collections import Counter
from collections.abc import Sequence

from shapely import LineString, Polygon
from tests.data import DATA
from tests.plan.test_breaks import fewest_by_trying_all

from plankwright.application.plan_job import plan_job
from plankwright.files import geojson
from plankwright.geometry.floating import extent_of
from plankwright.geometry.floor import build_floor
from plankwright.geometry.frame import Frame
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.limits import Limits
from plankwright.optimize.solve import Effort
from plankwright.plan.breaks import EXACT_MM, Gate, part_floor
from plankwright.plan.layout import row_angle

FILE = "dwellings_agpl.geojson"
BOUNDS = ((10_000.0, 8_000.0), (8_000.0, 6_000.0), (7_000.0, 7_000.0))
MOST_TRIED = 10
QUICK = Effort(moves=60, looks=0, prove=False)


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="only every so many-th dwelling")
    chosen = parser.parse_args(arguments)
    data = json.loads((DATA / FILE).read_text(encoding="utf-8"))
    jobs = [Job(room, name=room.name) for room in geojson.read_rooms(data, FILE)][:: chosen.every]
    for along, across in BOUNDS:
        print("\n".join(lines(jobs, Limits(along, across))), flush=True)


def lines(jobs: Sequence[Job], limits: Limits) -> list[str]:
    """What breaks come to under some limits, in words."""
    breaks: Counter[int] = Counter()
    tried = agreed = kept = planned = 0
    slowest = 0.0
    for job in jobs:
        frame = Frame(row_angle(job.room, "left-to-right", job.wishes), "left-to-right")
        floor = frame.to_plan_grid(build_floor(job.room, job.rules).parts)
        openings = [_gate(frame.to_plan(LineString(o.seam()))) for o in job.room.openings]
        began = time.perf_counter()
        parting = part_floor(floor, openings, limits)
        slowest = max(slowest, time.perf_counter() - began)
        breaks[parting.count] += 1
        if not parting.field and len(openings) <= MOST_TRIED and len(floor.geoms) == 1:
            tried += 1
            seams = [LineString(gate.line) for gate in openings]
            agreed += fewest_by_trying_all(floor.geoms[0], seams, limits) == parting.count
        plan = plan_job(_with(job, limits), effort=QUICK)  # raises where the checker refuses it
        planned += 1
        parts = Frame(plan.laying.row_angle_deg, plan.laying.laid).to_plan(plan.floor).geoms
        kept += all(_fits(part, limits) for part in parts)
    counts = ", ".join(f"{count}: {breaks[count]}" for count in sorted(breaks))
    return [
        f"Limits {limits.longest_along_mm:.0f} x {limits.longest_across_mm:.0f} mm, {len(jobs)} "
        f"dwellings; breaks: dwellings {{{counts}}}; slowest {slowest:.3f} s",
        f"  every subset of thresholds tried in {tried}: as few in {agreed}; planned and checked "
        f"{planned}, limits kept in {kept}",
    ]


def _with(job: Job, limits: Limits) -> Job:
    board = Board(1285.0, 192.0)
    return Job(job.room, board, job.rules, job.wishes, name=job.name, limits=limits)


def _gate(line: LineString) -> Gate:
    (x0, y0), (x1, y1) = line.coords
    return Gate(((x0, y0), (x1, y1)))


def _fits(part: Polygon, limits: Limits) -> bool:
    extent = extent_of(part)
    along, across = limits.longest_along_mm or 0.0, limits.longest_across_mm or 0.0
    return extent.along_mm <= along + EXACT_MM and extent.across_mm <= across + EXACT_MM


if __name__ == "__main__":
    main()
