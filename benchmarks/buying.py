"""What buying comes to in every real room, and trim of random houses against brute force.

``python -m benchmarks.buying [--every 1] [--processes 2]``. Packs by our plan, by "area plus 10 %",
by the habit and by the careful layer (board 1285 x 192 mm, packs of 8, as in
``benchmarks/real_rooms.py``, whose stored results are used); strips of film against a counter that
walks scan lines; 200 random houses of walls, stock lengths and prices against brute force.
"""

import argparse
import math
import random
from collections.abc import Sequence
from decimal import Decimal

import numpy as np
import shapely
from shapely import Polygon, affinity, box
from shapely.geometry.base import BaseGeometry
from tests.plan.brute_sticks import least_cost

from benchmarks.measured_room import Settings
from benchmarks.real_rooms import planned, rooms_of, run
from benchmarks.results import Case
from plankwright.buying.packs import packs_by_area
from plankwright.buying.strips import BRIDGE_MM, StripPlan, lay_strips
from plankwright.buying.trim_pieces import trim_pieces
from plankwright.buying.wall_runs import Opening, Run, wall_runs
from plankwright.model.roll import Roll, Sheeting
from plankwright.model.trim import StockLength, Trim
from plankwright.plan.trim_sticks import cut_trim

FILES = ("rooms.geojson", "rooms_agpl.geojson")
FILM = Sheeting(Roll(2000.0, 25_000.0), 200.0, 200.0, 75.0)
SCAN_MM = 7.0  # between scan lines
HOUSES = 200
MOST_PIECES = 14  # brute force takes 3 to this power


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the three tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="only every so many-th room")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--houses", type=int, default=HOUSES)
    parser.add_argument("--skip-packs", action="store_true", help="strips and houses alone")
    chosen = parser.parse_args(arguments)
    print("\n".join(house_lines(chosen.houses)), flush=True)
    print("\n".join(strip_lines(chosen.every)), flush=True)
    if not chosen.skip_packs:
        print("\n".join(pack_lines(chosen.every, chosen.processes)), flush=True)


# --- packs ------------------------------------------------------------------------------------


def pack_lines(every: int, processes: int) -> list[str]:
    """Packs in every room of 3 m² and more, and how often the rule of thumb falls short."""
    settings = Settings()
    cases: list[Case] = [
        (f"{name}:{room.name}", (room, group, settings))
        for name in FILES
        for room, group in rooms_of(name)
        if group == "rooms"
    ][::every]
    rows = list(planned(run(cases, settings, processes)).values())
    per_pack = settings.board.per_pack
    pack_m2 = settings.board.area_mm2 * per_pack / 1e6
    rule = [packs_by_area(row["floor_m2"], pack_m2, 10.0) for row in rows]
    told = [
        f"Packs of {per_pack} in {len(rows)} rooms; area plus 10 %: {sum(rule)} packs",
        f"{'boards are':12} {'packs':>6} {'rule short':>11} {'boards missing':>15} "
        f"{'packs missing':>14} {'rule over':>10} {'packs over':>11}",
    ]
    for who, name in (("boards", "planned"), ("careful", "careful"), ("habit", "habit")):
        told.append(_pack_line(name, [row[who] for row in rows], rule, per_pack))
    return told


def _pack_line(name: str, boards: list[int], rule: list[int], per_pack: int) -> str:
    needed = [math.ceil(count / per_pack) for count in boards]
    missing = [n - r * per_pack for n, r in zip(boards, rule, strict=True) if n > r * per_pack]
    short = sum(max(0, n - r) for n, r in zip(needed, rule, strict=True))
    over = [r - n for n, r in zip(needed, rule, strict=True) if r > n]
    spread = f"{np.median(missing):.0f}, at most {max(missing)}" if missing else "-"
    return (
        f"{name:12} {sum(needed):6} {len(missing):11} {spread:>15} {short:14} {len(over):10} "
        f"{sum(over):11}"
    )


# --- strips -----------------------------------------------------------------------------------


def strip_lines(every: int) -> list[str]:
    """Strips in every room, counted twice."""
    rooms = strips = 0
    wrong: list[str] = []
    for name in FILES:
        for room, _ in list(rooms_of(name))[::every]:
            plan = lay_strips(room.outline, FILM, 0.0)
            counted = scanned_strips(plan.region, FILM)
            rooms, strips = rooms + 1, strips + len(plan.strips)
            found = [strip.length_mm for strip in plan.strips]
            if not _agree(found, counted):
                wrong.append(f"  {room.name}: {found} against {counted}")
            if (bare := uncovered_mm2(plan)) > 1.0:
                wrong.append(f"  {room.name}: {bare:.1f} mm2 uncovered")
    return [f"Strips: {strips} in {rooms} rooms, {len(wrong)} disagree", *wrong[:10]]


def scanned_strips(region: BaseGeometry, film: Sheeting) -> list[float]:
    """Lengths of the strips, walked with scan lines: no bands, no bounds of parts."""
    low, bottom, high, top = region.bounds
    width, lap = film.roll.width_mm, film.lap_mm
    lengths: list[float] = []
    start = bottom
    while True:
        spans: list[tuple[float, float]] = []
        last = min(start + width, top) - 0.01
        for y in (*np.arange(start + 0.01, last, SCAN_MM), last):
            line = shapely.LineString([(low - 1.0, y), (high + 1.0, y)])
            parts = shapely.get_parts(line.intersection(region))
            spans += [(part.bounds[0], part.bounds[2]) for part in parts if part.length > 0.0]
        lengths += _united(spans)
        if start + width >= top - 1e-6:
            return lengths
        start += width - lap


def _united(spans: list[tuple[float, float]]) -> list[float]:
    lengths: list[float] = []
    end = -math.inf
    for u0, u1 in sorted(spans):
        if u0 > end + BRIDGE_MM:
            begin = u0
            lengths.append(0.0)
        end = max(end, u1)
        lengths[-1] = end - begin
    return lengths


def uncovered_mm2(plan: StripPlan) -> float:
    """What of floor and upturn no strip covers [mm²]."""
    strips = shapely.union_all([plan.outline(strip) for strip in plan.strips])
    return float(shapely.difference(plan.region, strips).area)


def _agree(found: list[float], counted: list[float]) -> bool:
    """The same strips; a scan line misses a tip by at most its distance to the next."""
    near = SCAN_MM * 3.0
    return len(found) == len(counted) and all(
        -1e-3 <= a - b <= near or abs(a - b) < 0.05 * a for a, b in zip(found, counted, strict=True)
    )


# --- random houses ----------------------------------------------------------------------------


def house_lines(houses: int) -> list[str]:
    """Random rooms with a doorway, random stock and prices, each against brute force."""
    met = proven = pieces = 0
    for seed in range(houses):
        draw = random.Random(seed)
        trim = random_trim(draw)
        cut = trim_pieces(random_walls(draw), trim)[:MOST_PIECES]
        found = cut_trim(cut, trim)
        lengths = [math.ceil(piece.blank_mm * 10 - 1e-4) for piece in cut]
        bars = [
            (math.floor(s.length_mm * 10 + 1e-4), int((s.price or Decimal(0)) * 100))
            for s in trim.stock
        ]
        met += found.least == least_cost(lengths, bars, math.ceil(trim.kerf_mm * 10))
        proven += found.proven
        pieces += len(cut)
    return [
        f"Trim of {houses} random houses, {pieces} pieces: least cost by brute force met in {met}, "
        f"proven by itself in {proven}"
    ]


def random_trim(draw: random.Random) -> Trim:
    """One to three stock lengths at prices that are not in proportion."""
    stock = sorted(draw.sample(range(2200, 5000, 20), draw.randint(1, 3)))
    prices = [Decimal(length // 4 + draw.randint(-150, 150)) / 100 for length in stock]
    lengths = tuple(StockLength(n, p) for n, p in zip(stock, prices, strict=True))
    inside = draw.choice(("coped", "mitered"))
    return Trim(lengths, inside="coped" if inside == "coped" else "mitered")


def random_walls(draw: random.Random) -> tuple[Run, ...]:
    """The runs of a room with a bite out of a corner, a slanted wall and a doorway."""
    w, h = draw.randint(2000, 7000), draw.randint(2000, 5000)
    x, y = draw.randint(900, w - 600), draw.randint(900, h - 600)
    room = shapely.difference(box(0, 0, w, h), box(x, y, w + 1, h + 1))
    slant = Polygon([(0, 0), (w, draw.randint(-80, 80)), (w, h), (0, h)])
    turned = affinity.rotate(shapely.intersection(room, slant), draw.randint(0, 359))
    door = Opening("A-B", 100.0, 100.0 + draw.choice((760.0, 860.0)))
    return wall_runs(turned, openings=[door])


if __name__ == "__main__":
    main()
