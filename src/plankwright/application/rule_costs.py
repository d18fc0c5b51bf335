"""Use case: what each rule and wish of a job costs in boards.

Every rule is let go in turn, all others kept, and the room is planned again: the boards saved are
what the rule costs. Proven are those numbers where both plans are.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from plankwright.application.plan_job import plan_job
from plankwright.model.findings import Finding
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort, never
from plankwright.units import Unit, format_length


@dataclass(frozen=True, slots=True)
class RuleCost:
    """What one rule costs.

    Parameters
    ----------
    rule : its name and value, such as ``"the joint offset of 300 mm"``.
    where : its place in the job file.
    boards : boards needed without it.
    costs : how many more are needed with it, at least 0.
    proven : whether no plan does better, with the rule or without it.
    """

    rule: str
    where: str
    boards: int
    costs: int
    proven: bool


def rule_costs(
    job: Job,
    plan: Plan,
    *,
    effort: Effort | None = None,
    stop: Callable[[], bool] = never,
) -> tuple[RuleCost, ...]:
    """What each rule of a job costs in boards, for a plan made of it, the dearest first."""
    found = []
    for rule, where, freer in _freer_jobs(job):
        if stop():
            break
        other = plan_job(freer, effort=effort, stop=stop)
        boards = min(plan.boards.used, other.boards.used)  # what keeps a rule is legal without it
        proven = plan.boards.status == "optimal" and boards == other.boards.bound
        found.append(RuleCost(rule, where, boards, plan.boards.used - boards, proven))
    return tuple(sorted(found, key=lambda cost: -cost.costs))


def cost_findings(plan: Plan, costs: tuple[RuleCost, ...]) -> tuple[Finding, ...]:
    """A finding for each rule that costs boards."""
    return tuple(
        Finding(
            "rule-cost",
            cost.where,
            f"{cost.rule} costs {_boards(cost.costs)}: {plan.boards.used} with it, {cost.boards} "
            f"without{'' if cost.proven else ', as far as was found'}",
            _packs_words(plan, cost),
        )
        for cost in costs
        if cost.costs
    )


def _packs_words(plan: Plan, cost: RuleCost) -> str:
    packs = plan.packs - -(-cost.boards // plan.board.per_pack)
    if packs <= 0:
        return "It costs no pack: the boards saved would only be spares."
    return f"That is {packs} pack{'s' if packs > 1 else ''} more to buy."


def _boards(number: int) -> str:
    return f"{number} board" if number == 1 else f"{number} boards"


def _freer_jobs(job: Job) -> Iterator[tuple[str, str, Job]]:
    """Each rule or wish by name and place, and the job without it."""
    rules, unit = job.rules, job.unit
    for field, name in (
        ("joint_offset_mm", "the joint offset"),
        ("shortest_piece_mm", "the shortest piece"),
        ("allowance_mm", "the allowance"),
        ("narrowest_row_mm", "the narrowest row"),
    ):
        value = float(getattr(rules, field))
        if value > 0.0:
            changes = {field: 0.0}
            freer = replace(job, rules=replace(rules, **changes))
            yield _told(name, value, unit), f"rules.{field.removesuffix('_mm')}", freer
    yield from _without_wishes(job)


def _told(name: str, value_mm: float, unit: Unit) -> str:
    return f"{name} of {format_length(value_mm, unit)}"


def _without_wishes(job: Job) -> Iterator[tuple[str, str, Job]]:
    wishes = job.wishes
    if wishes.first_row_mm is not None:
        name = _told("a first row", wishes.first_row_mm, job.unit)
        yield name, "laying.first_row", _wishing(job, replace(wishes, first_row_mm=None))
    if wishes.row_wall is not None or wishes.row_angle_deg is not None:
        freer = replace(wishes, row_wall=None, row_angle_deg=None)
        yield "the direction of the rows", "laying.row_angle", _wishing(job, freer)
    if wishes.start_wall is not None:
        name = f"starting at wall {wishes.start_wall}"
        yield name, "laying.start_wall", _wishing(job, replace(wishes, start_wall=None))
    if wishes.prefer != "spares":
        name = f"spending boards on {wishes.prefer}"
        yield name, "laying.prefer", _wishing(job, replace(wishes, prefer="spares"))


def _wishing(job: Job, wishes: Wishes) -> Job:
    return replace(job, wishes=wishes)
