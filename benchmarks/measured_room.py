"""One room measured: the plan, its check, and two people who lay by hand on the same row lines."""

import math
import time
import traceback
from collections import Counter
from dataclasses import astuple, dataclass, field

from benchmarks.baselines import careful, habit
from benchmarks.results import Result
from plankwright.application.joint_looks import joint_looks
from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.optimize.solve import Effort
from plankwright.plan.compile import compile_instance
from plankwright.plan.planner import Task, area_bound, make_plan


@dataclass(frozen=True, slots=True)
class Settings:
    """Board, rules and effort of a table; ``seconds`` None leaves the work limit to end it.

    ``cpu`` counts the seconds of the processor instead of the clock's: on a busy machine.
    """

    board: Board = field(default_factory=lambda: Board(1285.0, 192.0))
    rules: Rules = field(default_factory=lambda: Rules(allowance_mm=0.0))
    effort: Effort = field(default_factory=Effort)
    seconds: float | None = None
    cpu: bool = False


def measure(case: tuple[Room, str, Settings]) -> Result:
    """Everything the table shows of a room, as plain values.

    ``refused`` holds what the command would tell a person; ``crash`` a traceback, which is a
    defect of the program.
    """
    room, group, settings = case
    result: Result = {"group": group, "room_m2": room.outline.area / 1e6}
    try:
        task = task_of(room, settings)
        clock = time.process_time if settings.cpu else time.perf_counter
        began = clock()
        end = math.inf if settings.seconds is None else began + settings.seconds
        plan = make_plan(task, stop=lambda: clock() >= end)
        planned = clock()
        verdict = check_plan(plan)
        checked = clock()
        return {
            **result,
            **_counts(plan),
            **_by_hand(plan, task),
            "plan_s": round(planned - began, 4),
            "check_s": round(checked - planned, 4),
            "faults": [str(fault) for fault in verdict.faults],
            "excused": dict(Counter(fault.code for fault in verdict.excused)),
        }
    except InputError as error:
        return {**result, "refused": str(error)}
    except Exception:
        return {**result, "crash": traceback.format_exc()}


def task_of(room: Room, settings: Settings) -> Task:
    """What the planner gets."""
    job = Job(room, settings.board, settings.rules)  # refuses what the command refuses
    return Task(job.room, job.board, job.rules, job.wishes, effort=settings.effort)


def _counts(plan: Plan) -> Result:
    return {
        "floor_m2": plan.floor.area / 1e6,
        "rows": len({piece.row for piece in plan.pieces}),
        "pieces": len(plan.pieces),
        "boards": plan.boards.used,
        "area_bound": area_bound(plan.floor, plan.board).boards,
        "bound": plan.boards.bound,
        "status": plan.boards.status,
        "evidence": plan.boards.evidence.kind,
        "packs": plan.packs,
        "findings": dict(Counter(finding.code for finding in plan.findings)),
        "offsets": plan.boards.evidence.joint_offsets,
        "looks": astuple(joint_looks(plan)),
    }


def _by_hand(plan: Plan, task: Task) -> Result:
    """The two baselines on the row lines of the plan."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    stretches = cut_rows(
        frame.to_plan_grid(plan.floor), plan.board.width_mm, plan.laying.start_line_mm
    )
    instance = compile_instance(
        stretches, contacts(stretches), plan.board, plan.rules, task.grid_mm
    )
    by_habit, with_care = habit(instance), careful(instance)
    return {
        "stretches": len(stretches),
        "habit": by_habit.boards,
        "habit_legal": by_habit.legal,
        "careful": with_care.boards,
        "careful_legal": with_care.legal,
    }
