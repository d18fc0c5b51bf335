"""Use case: plan again from what is on the floor; nothing leaves that the checker refuses."""

from collections.abc import Callable

from plankwright.application.plan_room import require_checked
from plankwright.guide.replan import EFFORT, FloorState, Replanned
from plankwright.guide.replan import plan_again as _plan_again
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.optimize.solve import Effort, never


def plan_again(
    plan: Plan,
    room: Room,
    state: FloorState,
    *,
    effort: Effort = EFFORT,
    stop: Callable[[], bool] = never,
    keeps_rows: bool = False,
) -> Replanned:
    """A checked plan from the floor as it is, and what that means for boards and packs.

    Parameters
    ----------
    plan : the plan that was laid by so far.
    room : the room it was made for.
    state : what lies, what is at hand and what was measured.
    effort : how long to look for fewer boards.
    stop : asked now and then; when it says True the best plan so far is taken.
    keeps_rows : rows to come are laid as planned wherever they can be, for boards more if need be.

    Raises
    ------
    InputError : the state names what the plan does not have, or cannot be.
    PlanFaultError : the checker refused the plan: a defect of this program.
    """
    answer = _plan_again(plan, room, state, effort=effort, stop=stop, keeps_rows=keeps_rows)
    require_checked(answer.plan)
    return answer


__all__ = ["FloorState", "Replanned", "plan_again"]
