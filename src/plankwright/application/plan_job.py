"""Use case: plan what a job file says, with the job's own findings told first."""

from collections.abc import Callable
from dataclasses import replace

from plankwright.application.break_advice import with_breaks
from plankwright.application.plan_room import plan_room
from plankwright.errors import InputError
from plankwright.geometry.floor import build_floor
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.optimize.solve import Effort, never, solve
from plankwright.plan.planner import Solver
from plankwright.units import told_in


def plan_job(
    job: Job,
    *,
    effort: Effort | None = None,
    stop: Callable[[], bool] = never,
    solver: Solver = solve,
) -> Plan:
    """A checked plan of a job.

    Parameters
    ----------
    effort : how long to look for fewer boards.
    stop : asked now and then; when it says True the best plan so far is taken.
    solver : finds the starters, see :func:`plankwright.application.plan_room.plan_room`.

    Raises
    ------
    InputError : the gaps leave no floor, or room, board and wishes cannot go together.
    PlanFaultError : the checker refused the plan: a defect of this program.
    """
    if build_floor(job.room, job.rules).parts.is_empty:
        with told_in(job.unit):
            raise InputError(
                "the gaps leave no floor at all",
                where="rules.gap",
                value_mm=job.rules.gap_mm,
                remedy="Check the gaps, the room's corners and their units.",
            )
    job, told = with_breaks(job)
    plan = plan_room(
        job.room, job.board, job.rules, job.wishes,
        unit=job.unit, effort=effort, stop=stop, solver=solver,
    )  # fmt: skip
    return replace(plan, findings=(*job.findings, *told, *plan.findings))
