"""The laying order of 200 plans, laid piece by piece by a simulator that knows nothing of it.

``python -m benchmarks.laying_order [--plans 200]``
Real rooms, Ls, Us and rooms with posts, each with a lock that takes no row laid backwards and with
one that does; lines snapped inside the room; furnished rooms laid half at a time. *refused*: pieces
that would be pushed between two, lie where they cannot be joined, or as lock and leaflet do not
allow. *too soon*: pieces of the half where the furniture stands, laid before the stop. Every plan
is checked. Resumable: see ``benchmarks/results.py``.
"""

import argparse
import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from tests.plan.laying_rooms import any_u, l_room, post_room
from tests.plan.laying_simulator import lay_all

from benchmarks.real_rooms import SMALL_M2, rooms_of
from benchmarks.results import MEASURED, Result, fingerprint, resume
from plankwright.checker.check import check_plan
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort
from plankwright.plan.laying_order import LayingOrder, in_order, order_plan
from plankwright.plan.planner import Task, make_plan

BOARD = Board(1285.0, 192.0)
BACKWARDS = replace(BOARD, laid_backwards=True)
QUICK = Effort(moves=60, looks=0, prove=False)
KINDS = ("real room", "L", "U", "posts", "inner line", "half at a time")
HEAD = (
    f"{'kind':16} {'plans':>5} {'pieces':>7} {'refused':>7} {'too soon':>8} {'backwards':>9} "
    f"{'start lines':>11} {'awkward':>7} {'faults':>6}"
)
COUNTS = ("pieces", "refused", "too_soon", "backwards", "starts", "awkward", "faults")

Case = tuple[Room, Board, Wishes]


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--plans", type=int, default=200)
    parser.add_argument("--processes", type=int, default=2)
    chosen = parser.parse_args(arguments)
    cases = [(f"{kind} {n}", case) for n, (kind, case) in enumerate(drawn(chosen.plans))]
    sources = (*MEASURED, Path(__file__))
    results = resume("laying-order", fingerprint({}, sources), cases, measure, chosen.processes)
    print(HEAD)
    for kind in KINDS:
        print(line(kind, [r for name, r in results.items() if name.rsplit(" ", 1)[0] == kind]))
    print(line("all", list(results.values())))


def drawn(plans: int) -> Iterator[tuple[str, Case]]:
    """So many cases, the kinds in turn."""
    chance = random.Random(200)
    found = [room for room, _ in rooms_of("rooms_agpl.geojson")]
    real = iter(chance.sample([r for r in found if r.outline.area >= SMALL_M2 * 1e6], plans))
    for number in range(plans):
        kind = KINDS[number % len(KINDS)]
        board = BACKWARDS if number // len(KINDS) % 2 or kind == "inner line" else BOARD
        room = _room(kind, real, chance)
        wall = chance.choice([edge.name for edge in room.edges()])
        yield kind, (room, board, _wishes(kind, wall, chance))


def _room(kind: str, real: Iterator[Room], chance: random.Random) -> Room:
    drawings = {"L": l_room, "U": any_u, "posts": post_room}
    if kind == "real room" or (kind not in drawings and chance.random() < 0.5):
        return next(real)
    draw = drawings.get(kind) or chance.choice((l_room, any_u, post_room))
    return draw(chance)


def _wishes(kind: str, wall: str, chance: random.Random) -> Wishes:
    if kind == "real room":
        return Wishes()
    begin = chance.randint(2, 4) if kind == "inner line" else None
    return Wishes(start_wall=wall, begin_row=begin, half_at_a_time=kind == "half at a time")


def measure(case: Case) -> Result:
    """One plan, ordered, checked and laid."""
    room, board, wishes = case
    bare = make_plan(Task(room, board, Rules(), wishes, effort=QUICK))
    order = order_plan(bare, wishes)
    plan = in_order(bare, order)
    refused = lay_all(plan).refused
    return {
        "pieces": len(plan.pieces),
        "refused": len(refused),
        "why": refused[:3],
        "too_soon": too_soon(plan, order),
        "backwards": order.rows_backwards,
        "starts": len(order.starts),
        "awkward": len(order.awkward),
        "faults": len(check_plan(plan).faults),
    }


def too_soon(plan: Plan, order: LayingOrder) -> int:
    """Pieces beyond the stop line that are laid before the last one on its near side."""
    if order.stop is None:
        return 0
    here = [piece for piece in plan.pieces if piece.row <= order.stop.after_row]
    last = max(piece.lay_order for piece in here)
    return sum(piece.lay_order < last for piece in plan.pieces if piece not in here)


def line(kind: str, results: Sequence[Result]) -> str:
    """The plans of a kind together."""
    pieces, refused, soon, backwards, starts, awkward, faults = (
        sum(result[count] for result in results) for count in COUNTS
    )
    return (
        f"{kind:16} {len(results):5} {pieces:7} {refused:7} {soon:8} {backwards:9} {starts:11} "
        f"{awkward:7} {faults:6}"
    )


if __name__ == "__main__":
    main()
