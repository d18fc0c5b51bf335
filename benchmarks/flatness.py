"""Long runs of the straightedge search and of the leveling program, as tables.

``python -m benchmarks.flatness [SURFACES] [SLABS]``: by default 500 random surfaces, searched and
compared with brute force (other triangles, sampled lines, all pairs of contacts), and 200 random
slabs, mended by troweled patch and searched again. Resumable: results are kept, line by line, in
``.bench/flatness-*.csv``.
"""

import csv
import math
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from tests.physics.brute_force import random_points, sampled_gap

from plankwright.physics.flatness import worst_on_surface
from plankwright.physics.flatness_rules import single_rule
from plankwright.physics.leveling import best_plane_fill_l, least_material
from plankwright.physics.pouring import Compound, lowest_passing_pour, whole_floor_pour
from plankwright.physics.surface import Surface, grid_surface, scattered_surface

RESULTS = Path(".bench")
RULE = single_rule("3 mm in 2 m", 2000.0, 3.0, "common leaflet figure", "common practice")
Row = dict[str, float]


def compare_with_brute_force(seed: int) -> Row:
    """One random surface of 25 to 36 readings and an edge of 0.8 to 2.4 m."""
    rng = np.random.default_rng(seed)
    points = random_points(rng, int(rng.integers(5, 7)))
    heights = rng.normal(0, 3, len(points))
    edge_mm = float(rng.uniform(800, 2400))
    started = time.perf_counter()
    found = worst_on_surface(
        scattered_surface(points, heights), single_rule("edge", edge_mm, 3.0, "test")
    )
    searched = time.perf_counter()
    brute = sampled_gap(points, heights, edge_mm, angles=12, apart_mm=100.0, step_mm=30.0)
    gap = found.gap_mm if found else 0.0
    sampled = time.perf_counter()
    return {
        "seed": seed, "readings": len(points), "edge_mm": edge_mm, "search_mm": gap,
        "brute_mm": brute, "search_s": searched - started, "brute_s": sampled - searched,
    }  # fmt: skip


def random_slab(seed: int) -> Surface:
    """A slab of 3 × 2.5 to 5 × 4.5 m: a slope, waves, a settled corner, a little noise."""
    rng = np.random.default_rng(10_000 + seed)
    columns, rows = int(rng.integers(7, 12)), int(rng.integers(6, 11))
    x, y = np.meshgrid(np.arange(columns), np.arange(rows))
    heights = rng.normal(0, 0.4, x.shape) + rng.uniform(-2, 2) * x + rng.uniform(-2, 2) * y
    for _ in range(5):
        turn, number, phase = rng.uniform(0, np.pi), rng.uniform(0.3, 1.4), rng.uniform(0, 6.3)
        heights += rng.normal(0, 4.0) * np.cos(
            number * (x * np.cos(turn) + y * np.sin(turn)) + phase
        )
    heights -= rng.uniform(0, 10) * np.exp(-(x**2 + y**2) / 6.0)
    return grid_surface(heights.tolist(), 500.0)


def level_one(seed: int) -> Row:
    """One random slab: patch and best plane; every fifth also by the other ways."""
    slab = random_slab(seed)
    before = worst_on_surface(slab, RULE)
    started = time.perf_counter()
    patch = least_material(slab, RULE)
    patched = time.perf_counter()
    assert before is not None
    assert patch is not None
    assert patch.worst is not None
    return {
        "seed": seed,
        "readings": len(slab.heights),
        "worst_before_mm": before.gap_mm,
        "patch_l": patch.fill_l,
        "passes": float(patch.passes),
        "worst_after_mm": patch.worst.gap_mm,
        "plane_l": best_plane_fill_l(slab)[0],
        "patch_s": patched - started,
        **(_other_ways(slab) if seed % 5 == 0 else dict.fromkeys(OTHER_WAYS, math.nan)),
    }


OTHER_WAYS = ("both_fill_l", "both_grind_l", "both_passes", "pour_l", "whole_pour_l")


def _other_ways(slab: Surface) -> Row:
    both = least_material(slab, RULE, "both")
    assert both is not None
    compound = Compound()
    lowest, whole = (
        lowest_passing_pour(slab, RULE, compound, 1.0), whole_floor_pour(slab, RULE, compound),
    )  # fmt: skip
    figures = (both.fill_l, both.grind_l, float(both.passes), lowest.liters, whole.liters)
    return dict(zip(OTHER_WAYS, figures, strict=True))


def run(name: str, count: int, work: Callable[[int], Row]) -> list[Row]:
    """Results for seeds 0 to count - 1; what an earlier run wrote is not done again."""
    RESULTS.mkdir(exist_ok=True)
    target = RESULTS / f"{name}.csv"
    rows = []
    if target.exists():
        with target.open(newline="") as file:
            rows = [{k: float(v) for k, v in row.items()} for row in csv.DictReader(file)]
    for seed in range(len(rows), count):
        row = work(seed)
        with target.open("a", newline="") as file:
            table = csv.DictWriter(file, row, lineterminator="\n")
            if seed == 0:
                table.writeheader()
            table.writerow({k: f"{v:.6g}" for k, v in row.items()})
        rows.append(row)
        if seed % 25 == 24:
            print(f"{name}: {seed + 1} of {count}", file=sys.stderr)
    return rows[:count]


def report_search(rows: list[Row]) -> None:
    """Table of the search against brute force."""
    less = np.array([row["brute_mm"] - row["search_mm"] for row in rows])
    print(f"\nStraightedge search against brute force, {len(rows)} surfaces")
    print(f"  brute force finds more (over 0.01 mm)   {int((less > 0.01).sum())}")
    print(f"  most that the search misses             {max(float(less.max()), 0.0):.4f} mm")
    print(f"  search finds more, median               {float(np.median(-less)):.3f} mm")
    print(f"  seconds, search and brute (median)      {_median(rows, 'search_s'):.2f} "
          f"{_median(rows, 'brute_s'):.2f}")  # fmt: skip


def report_leveling(rows: list[Row]) -> None:
    """Table of material by method."""
    print(f"\nMaterial that makes a slab pass 3 mm in 2 m, {len(rows)} slabs (L, median)")
    mended = [row for row in rows if row["patch_l"] > 0.0]
    saving = np.array([1 - row["patch_l"] / row["plane_l"] for row in mended])
    more = sum(row["patch_l"] > row["plane_l"] + 1e-6 for row in rows)
    others = [row for row in rows if not math.isnan(row["both_passes"])]
    print(f"  slabs that failed before                {len(mended)}")
    print(f"  slabs that pass with the patch          {sum(r['passes'] for r in rows):.0f}")
    print(
        f"  largest gap left                        {max(r['worst_after_mm'] for r in rows):.4f} mm"
    )
    print(f"  more material than the best plane       {more}")
    print(f"  saving against it, median and least     {np.median(saving):.1%} {saving.min():.1%}")
    print(f"  least patch                             {_median(rows, 'patch_l'):.1f}")
    print(f"  filled to the best plane                {_median(rows, 'plane_l'):.1f}")
    print(f"  seconds for the patch, median           {_median(rows, 'patch_s'):.1f}")
    print(f"\n  of them {len(others)} by every way (L, median)")
    for key, words in (
        ("patch_l", "least patch"), ("both_fill_l", "patch, with grinding"),
        ("both_grind_l", "ground off with it"), ("plane_l", "filled to the best plane"),
        ("pour_l", "lowest pour that passes"), ("whole_pour_l", "whole floor poured"),
    ):  # fmt: skip
        print(f"  {words:39} {_median(others, key):.1f}")


def _median(rows: list[Row], key: str) -> float:
    return float(np.median([row[key] for row in rows]))


def main(surfaces: int = 500, slabs: int = 200) -> None:
    """Run both and print the tables."""
    report_search(run("flatness-search", surfaces, compare_with_brute_force))
    report_leveling(run("flatness-leveling", slabs, level_one))


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:3]))
