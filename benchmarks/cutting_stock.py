"""Cutting stock against published optima: 42 instances, each to be met and proven.

Run ``python -m benchmarks.cutting_stock``. Instances: E. Falkenauer (Journal of Heuristics 2, 1996)
and A. Scholl, R. Klein and C. Jürgens (Computers & Operations Research 24, 1997), with their
published optima, from ``cutting_stock.json`` of the test data.
"""

import json
import time
from typing import Any

from tests.data import DATA

from plankwright.optimize.packing import Packing, best_fit, pack
from plankwright.optimize.pattern_program import Bar
from plankwright.optimize.patterns import Pieces

HEADER = f"{'instance':20} {'pieces':>6} {'optimum':>7} {'best fit':>8} {'found':>5} {'bound':>5}"


def main() -> None:
    """Print a line for every instance, and how many were met and proven."""
    instances = json.loads((DATA / "cutting_stock.json").read_text())["instances"]
    print(f"{HEADER} {'evidence':>8} {'seconds':>7}")
    proven, began = 0, time.perf_counter()
    for instance in instances:
        start = time.perf_counter()
        packing = pack(instance["items"], [Bar(instance["capacity"])])
        print(f"{_line(instance, packing)} {time.perf_counter() - start:7.2f}", flush=True)
        proven += packing.is_optimal and packing.cost == instance["optimum"]
    seconds = time.perf_counter() - began
    print(f"{proven} of {len(instances)} met and proven, {seconds:.1f} s in all")


def _line(instance: dict[str, Any], packing: Packing) -> str:
    items = instance["items"]
    lengths = tuple(sorted(set(items), reverse=True))
    pieces = Pieces(lengths, tuple(items.count(length) for length in lengths))
    quick = len(best_fit(pieces, [Bar(instance["capacity"])]))
    return (
        f"{instance['name']:20} {len(items):6} {instance['optimum']:7} {quick:8} "
        f"{packing.cost:5} {packing.bound:5} {packing.evidence:>8}"
    )


if __name__ == "__main__":
    main()
