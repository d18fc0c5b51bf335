"""Use case: plan a room, and let nothing out that the independent checker refuses."""

from collections.abc import Callable

from plankwright.application.laying_advice import laid_out
from plankwright.checker.check import check_plan
from plankwright.errors import PlanFaultError
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort, never, solve
from plankwright.plan.legal_change import explained
from plankwright.plan.planner import Solver, Task, make_plan


def plan_room(
    room: Room,
    board: Board,
    rules: Rules | None = None,
    wishes: Wishes | None = None,
    *,
    unit: str = "mm",
    effort: Effort | None = None,
    stop: Callable[[], bool] = never,
    solver: Solver = solve,
) -> Plan:
    """A checked plan of a room.

    Parameters
    ----------
    room, board : what is to be floored, and with what.
    rules, wishes : defaults where None.
    unit : unit of the job; starters fall on marks of its tape.
    effort : how long to look for fewer boards.
    stop : asked now and then; when it says True the best plan so far is taken.
    solver : finds the starters; one that remembers answers sooner while something is dragged.

    Raises
    ------
    InputError : the room, the board and the wishes cannot go together.
    PlanFaultError : the checker refused the plan: a defect of this program.
    """
    task = Task(
        room, board, rules or Rules(), wishes or Wishes(), unit=unit, effort=effort or Effort()
    )
    plan = make_plan(task, stop, solver)
    plan = explained(task, plan, stop) if task.effort.prove else plan
    return require_checked(laid_out(plan, room, task.wishes))


def require_checked(plan: Plan) -> Plan:
    """The plan, if the independent checker finds no fault in it."""
    verdict = check_plan(plan)
    if not verdict.ok:
        told = "; ".join(str(fault) for fault in verdict.faults[:3])
        raise PlanFaultError(
            f"the plan of {plan.name} did not pass its own check ({len(verdict.faults)} faults: "
            f"{told}). This is a fault of the program; please report it with the room's file."
        )
    return plan


__all__ = ["Effort", "PlanFaultError", "plan_room", "require_checked"]
