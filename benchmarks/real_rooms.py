"""Every room and dwelling of the test data: boards, bounds, two people by hand, checks, seconds.

``python -m benchmarks.real_rooms [--board 1215x196] [--allowance 3] [--seconds 2] [--lines]``
Board 1285 x 192, gap 8, kerf 3, allowance 0, shortest piece 300, joint offset 300 mm; rows along
the longest wall. Resumable: see ``benchmarks/results.py``. The rooms are nobody's on this project;
their origin is told in the README of the test data.
"""

import argparse
import json
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

import numpy as np
from tests.data import DATA

from benchmarks.measured_room import Settings, measure
from benchmarks.results import Case, Result, fingerprint, resume
from plankwright.files import geojson
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.optimize.solve import Effort

FILES = ("rooms.geojson", "rooms_agpl.geojson", "dwellings_agpl.geojson")
GROUPS = ("rooms", "small rooms", "dwellings", "floor plates")
SMALL_M2 = 3.0
LINE = (
    "{case:26} {floor_m2:7.2f} {rows:4} {pieces:6} {boards:6} {area_bound:5} {bound:5} "
    "{status:9} {packs:5} {habit:5}{habit_mark} {careful:5}{careful_mark} {plan_s:7.2f} "
    "{check_s:7.2f} {fault_count:6} {excused_count:7}"
)
HEAD = (
    f"{'room':26} {'m2':>7} {'rows':>4} {'pieces':>6} {'boards':>6} {'area':>5} {'bound':>5} "
    f"{'status':9} {'packs':>5} {'habit':>6} {'care':>6} {'plan s':>7} {'check s':>7} "
    f"{'faults':>6} {'excused':>7}"
)


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure what is asked for and print the tables."""
    chosen = _parser().parse_args(arguments)
    settings = _settings(chosen)
    cases = [
        (f"{name}:{room.name}", (room, group, settings))
        for name in chosen.files
        for room, group in rooms_of(name)
        if chosen.group is None or group == chosen.group
    ][:: chosen.every]
    if chosen.first is not None:
        cases = cases[: chosen.first]
    results = run(cases, settings, chosen.processes)
    print(f"{_told(settings)}: {len(results)} rooms")
    if chosen.lines:
        print("\n".join([HEAD, *map(line, planned(results).items())]))
    print("\n".join(summary(results, settings.board)))


def run(cases: list[Case], settings: Settings, processes: int = 2) -> dict[str, Result]:
    """The result of every room."""
    return resume("real-rooms", fingerprint(asdict(settings)), cases, measure, processes)


def rooms_of(name: str) -> Iterator[tuple[Room, str]]:
    """The rooms of a file of the test data, with their group."""
    if not (DATA / name).exists():
        raise SystemExit(f"no {name}: set PLANKWRIGHT_DATA to the folder of the test data")
    data = json.loads((DATA / name).read_text(encoding="utf-8"))
    uses = {feature["id"]: feature["properties"].get("use", "") for feature in data["features"]}
    for room in geojson.read_rooms(data, name):
        yield room, _group(name, uses.get(room.name, ""), room)


def _group(name: str, use: str, room: Room) -> str:
    if name.startswith("dwellings"):
        return "dwellings"
    if use == "floorplate":
        return "floor plates"
    return "rooms" if room.outline.area >= SMALL_M2 * 1e6 else "small rooms"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*", default=FILES, help="of the test data; all three")
    parser.add_argument("--board", default="1285x192", help="length x width [mm]")
    parser.add_argument("--allowance", type=float, default=0.0, help="[mm]")
    parser.add_argument("--seconds", type=float, help="time limit a room; none: work limit alone")
    parser.add_argument("--cpu", action="store_true", help="seconds of the processor")
    parser.add_argument("--looks", type=int, default=Effort().looks, help="work limit for looks")
    parser.add_argument("--moves", type=int, default=Effort().moves, help="work limit")
    parser.add_argument("--seed", type=int, default=Effort().seed)
    parser.add_argument("--group", choices=GROUPS)
    parser.add_argument("--every", type=int, default=1, help="only every so many-th room")
    parser.add_argument("--first", type=int, help="only so many rooms")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--lines", action="store_true", help="a line for every room, too")
    return parser


def _settings(chosen: argparse.Namespace) -> Settings:
    length, width = map(float, chosen.board.split("x"))
    return Settings(
        Board(length, width),
        Rules(allowance_mm=chosen.allowance),
        Effort(moves=chosen.moves, seed=chosen.seed, looks=chosen.looks),
        chosen.seconds,
        chosen.cpu,
    )


def _told(settings: Settings) -> str:
    board, rules = settings.board, settings.rules
    limit = f"{settings.effort.moves} moves"
    if settings.seconds is not None:
        limit += f" or {settings.seconds:g} s" + (" of the processor" if settings.cpu else "")
    return (
        f"Board {board.length_mm:g} x {board.width_mm:g}, gap {rules.gap_mm:g}, kerf "
        f"{rules.kerf_mm:g}, allowance {rules.allowance_mm:g}, at most {limit}"
    )


# --- the tables -------------------------------------------------------------------------------


def planned(results: dict[str, Result]) -> dict[str, Result]:
    """The rooms that got a plan with pieces."""
    return {case: result for case, result in results.items() if result.get("pieces")}


def line(entry: tuple[str, Result]) -> str:
    """One room; a star marks a person by hand who broke a rule."""
    case, result = entry
    return LINE.format(
        **result,
        case=case.partition(":")[2][:26],
        habit_mark=" " if result["habit_legal"] else "*",
        careful_mark=" " if result["careful_legal"] else "*",
        fault_count=len(result["faults"]),
        excused_count=sum(result["excused"].values()),
    )


def summary(results: dict[str, Result], board: Board) -> Iterator[str]:
    """Totals of every group, then everything that should not be."""
    for group in GROUPS:
        inside = {case: r for case, r in results.items() if r["group"] == group}
        if inside:
            yield from ("", f"{group}: {len(inside)}", *_group_lines(inside, board))
    yield from ("", "What should not be:", *troubles(results))


def _group_lines(results: dict[str, Result], board: Board) -> Iterator[str]:
    rows = list(planned(results).values())
    if not rows:
        yield "  none with a floor"
        return
    total = {key: sum(row[key] for row in rows) for key in ("boards", "area_bound", "bound")}
    proven = sum(row["status"] == "optimal" for row in rows)
    packs = sum(row["packs"] == math.ceil(row["bound"] / board.per_pack) for row in rows)
    beyond = Counter(row["boards"] - row["bound"] for row in rows)
    yield f"  floors {len(rows)}, pieces {sum(row['pieces'] for row in rows)}"
    yield (
        f"  boards {total['boards']}, proven bound {total['bound']}, "
        f"area bound {total['area_bound']}"
    )
    yield f"  fewest boards proven in {_share(proven, rows)}, fewest packs in {_share(packs, rows)}"
    yield "  boards over the bound: " + ", ".join(
        f"{over} in {count}" for over, count in sorted(beyond.items())
    )
    yield (
        f"  total boards over total bound {total['boards'] / total['bound']:.4f}; proven by prices "
        f"{sum(_is_proof(row, 'prices', offsets=False) for row in rows)}, along chains "
        f"{sum(_is_proof(row, 'prices', offsets=True) for row in rows)}, by area "
        f"{sum(_is_proof(row, 'area', offsets=False) for row in rows)}"
    )
    yield _looks_line(rows)
    for who in ("habit", "careful"):
        yield _by_hand_line(who, [row for row in rows if row[f"{who}_legal"]], len(rows))
    yield _waste_line(rows, board)
    yield _short_line(rows, board)
    for key in ("plan_s", "check_s"):
        seconds = [row[key] for row in rows]
        yield (
            f"  seconds to {key[:-2]}: median {np.median(seconds):.2f}, "
            f"95 % {np.quantile(seconds, 0.95):.2f}, most {max(seconds):.2f}"
        )
    excused = sum((Counter(row["excused"]) for row in rows), Counter[str]())
    yield "  excused: " + (", ".join(f"{k} {n}" for k, n in sorted(excused.items())) or "nothing")


def _is_proof(row: Result, kind: str, *, offsets: bool) -> bool:
    optimal = row["status"] == "optimal"
    return optimal and row["evidence"] == kind and bool(row.get("offsets")) == offsets


def _looks_line(rows: list[Result]) -> str:
    """Plans with an H-joint, with a stair of three or more, with an offset hardly kept."""
    shares = [
        100.0 * sum(row["looks"][k] > 0 for row in rows if "looks" in row) / len(rows)
        for k in range(3)
    ]
    return (
        f"  % of plans with an H-joint {shares[0]:.1f}, a stair of three {shares[1]:.1f}, a joint "
        f"offset within 10 % of its minimum {shares[2]:.1f}"
    )


def _by_hand_line(who: str, legal: list[Result], count: int) -> str:
    if not legal:
        return f"  {who}: never within the rules"
    fewer = sum(row["boards"] < row[who] for row in legal)
    more = sum(row["boards"] > row[who] for row in legal)
    saved = sum(row[who] - row["boards"] for row in legal)
    return (
        f"  {who}: within the rules in {len(legal)} of {count}; there it takes "
        f"{sum(row[who] for row in legal)} boards, the plans {abs(saved)} "
        f"{'fewer' if saved >= 0 else 'MORE'} (fewer in {fewer}, more in {more})"
    )


def _waste_line(rows: list[Result], board: Board) -> str:
    parts = []
    for who in ("boards", "careful", "habit"):
        over = [100.0 * (row[who] * board.area_mm2 / 1e6 / row["floor_m2"] - 1.0) for row in rows]
        name = "plans" if who == "boards" else who
        parts.append(f"{name} {np.median(over):.1f} and {np.quantile(over, 0.95):.1f}")
    return "  % over the floor's area, median and 95 %: " + "; ".join(parts)


def _short_line(rows: list[Result], board: Board) -> str:
    """How often the rule of thumb "area plus 10 %, rounded up to packs" buys too little."""
    short = Counter[str]()
    for row in rows:
        packs = math.ceil(1.1 * row["floor_m2"] * 1e6 / board.area_mm2 / board.per_pack)
        for who in ("boards", "careful", "habit"):
            short[who] += row[who] > packs * board.per_pack
    return (
        f"  area plus 10 % in packs runs short: plans {short['boards']}, "
        f"careful {short['careful']}, habit {short['habit']} of {len(rows)}"
    )


def _share(count: int, rows: Sequence[Any]) -> str:
    return f"{count} of {len(rows)} ({100.0 * count / len(rows):.1f} %)"


def troubles(results: dict[str, Result]) -> list[str]:
    """Crashes, checker faults, floors without pieces, and plans worse than the habit."""
    found = []
    for case, result in results.items():
        if "crash" in result:
            found.append(f"{case}: crashed: {result['crash'].strip().splitlines()[-1]}")
        elif "refused" in result:
            found.append(f"{case}: refused: {result['refused']}")
        elif not result["pieces"]:
            told = ", ".join(sorted(result["findings"])) or "NO FINDING"
            found.append(f"{case}: no pieces ({told})")
        else:
            found += [f"{case}: {fault}" for fault in result["faults"][:3]]
            for who in ("habit", "careful"):
                if result[f"{who}_legal"] and result["boards"] > result[who]:
                    found.append(f"{case}: {result['boards']} boards, {who} {result[who]}")
    return [f"  {trouble}" for trouble in found] or ["  nothing"]


if __name__ == "__main__":
    main()
