"""The planner: a room, a board and rules in; a plan out, not yet checked."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from shapely import MultiPolygon

from plankwright.geometry.floor import build_floor
from plankwright.geometry.frame import on_grid
from plankwright.geometry.rows import Contact, Stretch, contacts, cut_rows
from plankwright.geometry.slivers import scraps
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.plan import BoardCount, Piece, Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.solution import Solution
from plankwright.optimize.solve import Aim, Effort, never, solve
from plankwright.plan.aim import aim_of
from plankwright.plan.assemble import assemble
from plankwright.plan.bound import BoundLine, bound_lines, evidence
from plankwright.plan.compile import compile_instance
from plankwright.plan.diagonal import nested
from plankwright.plan.inspect_rows import inspect_pieces, offset_findings, scrap_findings
from plankwright.plan.layout import Rowing, choose_rows
from plankwright.plan.nesting import is_slanted
from plankwright.units import parse_unit

COARSENESS = 0.75  # boards that fine prices hardly ever prove beyond coarse ones
MOST_BY_OFFSETS = 0.3  # boards that joint offsets hardly ever prove beyond fine prices


@dataclass(frozen=True, slots=True)
class Task:
    """Everything a plan is made from.

    Parameters
    ----------
    room, board, rules, wishes : what the person gave.
    unit : unit of the job; starters fall on marks of its tape.
    effort : how long to look for fewer boards.
    """

    room: Room
    board: Board
    rules: Rules = field(default_factory=Rules)
    wishes: Wishes = field(default_factory=Wishes)
    unit: str = "mm"
    effort: Effort = field(default_factory=Effort)

    @property
    def grid_mm(self) -> float:
        """Step of the starters: 1/16 in or 1 mm."""
        return 25.4 / 16.0 if self.unit in ("in", "ft") else 1.0


Solver = Callable[
    [Instance, Bound, Effort, Callable[[], bool], Callable[[int], Bound], Aim],
    tuple[Solution, Bound],
]
"""What finds a solution: :func:`plankwright.optimize.solve.solve`, or what remembers its own."""


def make_plan(task: Task, stop: Callable[[], bool] = never, solver: Solver = solve) -> Plan:
    """A plan of a room, legal wherever it can be and with a finding wherever it cannot.

    ``stop`` is asked now and then; once it has said True the best plan so far is taken, and a
    finding says so.
    """
    watch = _Watch(stop)
    floor = build_floor(task.room, task.rules, parse_unit(task.unit))
    rowing = choose_rows(floor, task.room, task.board, task.rules, task.wishes)
    plan_floor = rowing.frame.to_plan_grid(floor.parts)
    stretches = cut_rows(plan_floor, task.board.width_mm, rowing.laying.start_line_mm)
    if stretches and stretches[0].row != 1:  # what lay before it was too thin to be a row
        rowing, stretches = _from_first_row(rowing, stretches, task.board.width_mm)
    filled = _fill(task, rowing, stretches, plan_floor, watch, solver)
    used = len({piece.board for piece in filled.pieces})
    return Plan(
        board=task.board,
        rules=task.rules,
        laying=rowing.laying,
        room=task.room.outline,
        floor=on_grid(rowing.frame.to_room(plan_floor)),
        pieces=filled.pieces,
        boards=BoardCount(
            used,
            filled.proof.boards,
            "optimal" if used == filled.proof.boards else "feasible",
            evidence(filled.proof),
        ),
        packs=math.ceil(used / task.board.per_pack),
        edges=task.room.edge_gaps,
        fixed=floor.fixed,
        recesses=floor.recesses,
        findings=floor.findings + filled.findings + watch.findings(),
        name=task.room.name,
        unit=task.unit,
        overhangs=floor.overhangs,
    )


class _Watch:
    """Asks a stop, and remembers whether it ever said True."""

    def __init__(self, stop: Callable[[], bool]) -> None:
        self._stop = stop
        self._stopped = False

    def __call__(self) -> bool:
        self._stopped = self._stopped or self._stop()
        return self._stopped

    def findings(self) -> tuple[Finding, ...]:
        """That the search was stopped, if it was."""
        if not self._stopped:
            return ()
        return (
            Finding(
                "time-limit",
                "boards",
                "the time limit stopped the search, so this is the best plan found until then",
                "Give it more time for fewer boards or better looks.",
            ),
        )


def _from_first_row(
    rowing: Rowing, stretches: Sequence[Stretch], width: float
) -> tuple[Rowing, list[Stretch]]:
    """The same row lines, counted from the first row that there is."""
    skipped = stretches[0].row - 1
    start = round(rowing.laying.start_line_mm + skipped * width, 4)
    counted = [replace(stretch, row=stretch.row - skipped) for stretch in stretches]
    return replace(rowing, laying=replace(rowing.laying, start_line_mm=start)), counted


@dataclass(frozen=True, slots=True)
class _Filled:
    """The pieces that fill the stretches, what is odd about them, and the proven bound."""

    pieces: tuple[Piece, ...]
    findings: tuple[Finding, ...]
    proof: Bound


def _fill(
    task: Task,
    rowing: Rowing,
    stretches: Sequence[Stretch],
    parts: MultiPolygon,
    stop: Callable[[], bool],
    solver: Solver,
) -> _Filled:
    left_open = scraps(parts, stretches)
    area = area_bound(parts, task.board, sum(part.area for part in left_open))
    last, unit = stretches[-1].row if stretches else 1, parse_unit(task.unit)
    told = scrap_findings(left_open, rowing.laying.start_line_mm, task.board.width_mm, last, unit)
    if not stretches:
        return _Filled((), told, Bound(0, 0.0, "area"))
    touching = contacts(stretches)
    instance = compile_instance(
        stretches, touching, task.board, task.rules, task.grid_mm, lanes=task.effort.prove
    )
    lines = _Lines(task, stretches, touching, area, stop)
    aim = aim_of(task.wishes, task.board.per_pack)
    solution, proof = solver(instance, lines.first(), task.effort, stop, lines.prove, aim)
    pieces = assemble(stretches, instance, solution, task.board, task.rules, rowing.frame)
    if is_slanted(stretches):
        solution, pieces = nested(
            instance, stretches, (solution, pieces), task.board, task.rules, rowing.frame,
            task.effort, proof, aim, stop,
        )  # fmt: skip
    odd = inspect_pieces(stretches, pieces, task.rules, rowing.frame, unit)
    offsets = offset_findings(stretches, instance, solution, unit)
    if offsets or any(finding.code == "short-piece" for finding in odd):
        proof = area  # the prices count on the rules that are broken here
    return _Filled(pieces, told + odd + offsets, proof)


class _Lines:
    """The proofs of one floor: lines across the boards, looked at only when they are needed."""

    def __init__(
        self,
        task: Task,
        stretches: Sequence[Stretch],
        touching: Sequence[Contact],
        area: Bound,
        stop: Callable[[], bool],
    ) -> None:
        provable = task.effort.prove and not task.board.reversible
        found = bound_lines(stretches, touching, task.board, task.rules, stop=stop)
        self._lines: Iterator[BoundLine] = found if provable else iter(())
        self._seen: list[BoundLine] = []
        self._fine: list[tuple[BoundLine, Bound]] = []
        self._best = area
        self._stop = stop

    def first(self) -> Bound:
        """A quick bound: by area, or by coarse prices along the most promising line."""
        line = next(self._lines, None)
        if line is not None:
            self._seen.append(line)
            self._best = max(self._best, line.bound, key=_strength)
        return self._best

    def prove(self, target: int) -> Bound:
        """The best bound found, up to a target: fine prices on the lines, then joint offsets.

        May be asked again with fewer boards in hand: what was proven is not proven twice.
        """
        for line in (*self._seen, *self._lines):
            if self._best.boards >= target or self._stop():
                return self._best
            if line.bound.value >= self._best.value - COARSENESS:
                fine = line.refined(target, self._stop)
                self._best = max(self._best, fine, key=_strength)
                self._fine.append((line, fine))
        self._seen = []
        for line, fine in tuple(self._fine):
            if self._best.boards >= target or self._stop():
                break
            if fine.value > target - 1 - MOST_BY_OFFSETS:
                self._fine.remove((line, fine))
                kept = line.with_offsets(fine, target, self._stop)
                self._best = max(self._best, kept, key=_strength)
        return self._best


def _strength(bound: Bound) -> tuple[int, float]:
    return bound.boards, bound.value


def area_bound(floor: MultiPolygon, board: Board, left_open_mm2: float = 0.0) -> Bound:
    """Least number of boards by area alone: floor area over board area, rounded up."""
    rounding = 0.002 * float(floor.length)  # of coordinates, twice
    floor_mm2 = float(floor.area) - left_open_mm2 - rounding
    boards = floor_mm2 / board.area_mm2
    return Bound(max(math.ceil(boards), 0), boards, "area")
