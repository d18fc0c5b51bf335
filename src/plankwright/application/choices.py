"""Use case: a short list of plans to choose from, none of them better in everything than another.

Every direction and start line worth trying is planned quickly; those that another one beats in
everything are left out, and for each merit its champion is planned with care and checked. So a
person sees three to six plans, each with what speaks for it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from plankwright.application.choice_words import reasons
from plankwright.application.laying_advice import count_handling
from plankwright.application.merits import CountHandling, Merits, dominates, merits
from plankwright.application.plan_job import plan_job
from plankwright.errors import InputError, PlanFaultError
from plankwright.geometry.floor import Floor, build_floor
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.wishes import Prefer, Wishes
from plankwright.optimize.solve import WHILE_DRAGGING, Effort, never
from plankwright.plan.candidates import Candidate, candidates, from_other_side
from plankwright.plan.planner import Task, make_plan
from plankwright.units import told_in

FEWEST, MOST = 3, 6
WITH_CARE = Effort(moves=1_000, looks=15)
PROVABLE_BOARDS = 80  # of a larger floor, or a diagonal one, the proof would take too long here
SKETCH = Effort(moves=60, looks=0, prove=False)
TOO_MANY = 1.08  # boards over the fewest: a plan that takes more is offered only if it was wished
BROKEN_RULE = 3.0  # boards that a rule kept is worth
LIKE_MM = 8.0
MOST_TRIED = 9  # careful plans; after these a list of FEWEST is long enough
CHART_STEPS = 16
LEAST_FIRST_ROW_MM = 5.0


@dataclass(frozen=True, slots=True)
class Choice:
    """One plan to choose.

    Parameters
    ----------
    number : from 1.
    title : how its rows run, in a few words.
    reason : what speaks for it, and what it costs, in one sentence.
    wishes : planning with these gives its rows again.
    merits : its figures.
    plan : the checked plan.
    """

    number: int
    title: str
    reason: str
    wishes: Wishes
    merits: Merits
    plan: Plan


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """What a start line comes to: width of row 1, boards of a quick plan, the narrowest row."""

    first_row_mm: float
    boards: int
    narrowest_row_mm: float


@dataclass(frozen=True, slots=True)
class Choices:
    """The short list.

    Parameters
    ----------
    choices : three to six, or fewer where everything else is worse in everything.
    chart : boards and narrowest row against the start line, for the rows of the first choice.
    tried : how many ways of laying were looked at.
    refused : why plans did not pass their own check, a sentence each; they are not offered.
    """

    choices: tuple[Choice, ...]
    chart: tuple[ChartPoint, ...]
    tried: int
    refused: tuple[str, ...] = ()

    def record(self) -> dict[str, Any]:
        """Plain values, for machines: everything but the plans themselves."""
        from dataclasses import asdict

        return {
            "tried": self.tried,
            "refused": list(self.refused),
            "choices": [
                {
                    "number": choice.number,
                    "title": choice.title,
                    "reason": choice.reason,
                    "wishes": asdict(choice.wishes),
                    "merits": asdict(choice.merits),
                    "start_wall": choice.plan.laying.start_wall,
                    "status": choice.plan.boards.status,
                    "bound": choice.plan.boards.bound,
                }
                for choice in self.choices
            ],
            "chart": [asdict(point) for point in self.chart],
        }


@dataclass(frozen=True, slots=True)
class _Look:
    """A candidate and what a quick plan of it comes to."""

    candidate: Candidate
    merits: Merits


def find_choices(
    job: Job,
    *,
    effort: Effort = WITH_CARE,
    stop: Callable[[], bool] = never,
    count: CountHandling | None = count_handling,
) -> Choices:
    """The choices for a job: three to six checked plans, and a chart.

    Parameters
    ----------
    effort : how long to look for fewer boards in each plan that is offered.
    stop : asked now and then; when it says True no further plan is begun, and the one in hand
        is taken as it is.
    count : counts what is awkward to lay.

    Raises
    ------
    InputError : the gaps leave no floor, or room, board and wishes cannot go together.
    PlanFaultError : the checker refused every plan: a defect of this program.
    """
    floor = build_floor(job.room, job.rules)
    found = candidates(job.room, floor, job.board, job.rules, job.wishes)
    if not found:
        with told_in(job.unit):
            raise InputError(
                "the gaps leave no floor at all",
                where="rules.gap",
                value_mm=job.rules.gap_mm,
                remedy="Check the gaps, the room's corners and their units.",
            )
    looks: list[_Look] = []
    for one in found:
        if looks and stop():
            break
        looks.append(_Look(one, _quick(job, one.wishes, count)))
    offered, refused = _offered(job, _champions(looks), effort, stop, count, floor)
    told = reasons([(look.candidate, look.merits) for look, _ in offered], job)
    choices = tuple(
        Choice(number, title, reason, look.candidate.wishes, look.merits, plan)
        for number, ((look, plan), (title, reason)) in enumerate(
            zip(offered, told, strict=True), start=1
        )
    )
    chart = tuple(_chart(job, choices[0].wishes, stop))
    return Choices(choices, chart, len(looks), tuple(str(fault) for fault in refused))


def _quick(job: Job, wishes: Wishes, count: CountHandling | None) -> Merits:
    return merits(_sketch(job, wishes, WHILE_DRAGGING), job.room, wishes.window_wall, count)


def _sketch(job: Job, wishes: Wishes, effort: Effort) -> Plan:
    return make_plan(Task(job.room, job.board, job.rules, wishes, unit=job.unit, effort=effort))


def _champions(looks: Sequence[_Look]) -> list[_Look]:
    """The candidates worth planning with care, the best of each merit first."""
    fewest = min(look.merits.boards for look in looks)
    dear = fewest * TOO_MANY + 1.0
    near = [
        look
        for look in looks
        if look.merits.boards <= dear or look.candidate.direction.course == "wished"
    ]
    front = [
        look for look in near if not any(dominates(other.merits, look.merits) for other in near)
    ]
    ranked = [
        min(front, key=lambda look: (key(look.merits), look.merits.costs())) for key in _ROLES
    ]
    rest = sorted(front, key=lambda look: look.merits.costs())
    distinct: list[_Look] = []
    for look in (*ranked, *rest):
        if look not in distinct:
            distinct.append(look)
    return distinct


_ROLES: tuple[Callable[[Merits], float], ...] = (
    lambda m: m.boards + BROKEN_RULE * m.broken,
    lambda m: m.off_longest_deg,
    lambda m: m.off_window_deg or 0.0,
    lambda m: -m.narrowest_row_mm,
    lambda m: float(m.crosscuts + m.rips),
    lambda m: m.taper_mm,
    lambda m: float(m.handling.awkward + m.handling.backwards + m.handling.starts),
    lambda m: float(m.joints.cost),
)


def _offered(
    job: Job,
    ranked: Sequence[_Look],
    effort: Effort,
    stop: Callable[[], bool],
    count: CountHandling | None,
    floor: Floor,
) -> tuple[list[tuple[_Look, Plan]], list[PlanFaultError]]:
    """Careful plans of the champions, none better than another in everything; what was refused."""
    offered: list[tuple[_Look, Plan]] = []
    refused: list[PlanFaultError] = []
    for tried, look in enumerate(_to_plan(job, ranked)):
        enough = FEWEST if tried >= MOST_TRIED else MOST
        if len(offered) >= enough or (offered and stop()):
            break
        if len(offered) >= FEWEST and any(_is_like(look, other) for other, _ in offered):
            continue
        best = _better_side(job, look, count, floor)
        try:
            plan = _with_care(job, best.candidate, effort, stop)
        except PlanFaultError as fault:  # what the checker refuses is not offered
            refused.append(fault)
            continue
        exact = merits(plan, job.room, job.wishes.window_wall, count)
        if _is_idle(best.candidate.wishes, exact, offered):
            continue
        offered = [pair for pair in offered if not dominates(exact, pair[0].merits)]
        offered.append((_Look(best.candidate, exact), plan))
    if refused and not offered:
        raise refused[0]
    return sorted(offered, key=lambda pair: _order(pair[0])), refused


def _is_idle(wishes: Wishes, exact: Merits, offered: Sequence[tuple[_Look, Plan]]) -> bool:
    """Whether a plan adds nothing: another one is as good, or it opens a pack for its taste."""
    others = [look.merits for look, _ in offered]
    if any(dominates(old, exact) or old.costs() == exact.costs() for old in others):
        return True
    return wishes.prefer != "spares" and exact.packs > min(
        (old.packs for old in others), default=exact.packs
    )


def _is_like(look: _Look, other: _Look) -> bool:
    """Whether a person would see no difference, or has seen rows on the diagonal already."""
    one, two = look.candidate, other.candidate
    if one.direction.course == two.direction.course == "diagonal":
        return True
    apart = abs(one.first_row_mm - two.first_row_mm)
    same_rows = one.direction == two.direction and apart < LIKE_MM
    return same_rows and one.wishes.prefer == two.wishes.prefer


def _with_care(job: Job, candidate: Candidate, effort: Effort, stop: Callable[[], bool]) -> Plan:
    """A checked plan; whoever takes it can have it planned again for a better proof."""
    boards = job.room.outline.area / job.board.area_mm2
    provable = boards <= PROVABLE_BOARDS and candidate.direction.course != "diagonal"
    within = effort if provable else replace(effort, prove=False)
    return plan_job(replace(job, wishes=candidate.wishes), effort=within, stop=stop)


def _order(look: _Look) -> tuple[float, ...]:
    """What a person is told first: rows not on the diagonal, rules kept, few packs, few boards."""
    found = look.merits
    is_diagonal = look.candidate.direction.course == "diagonal"
    worth = found.boards + BROKEN_RULE * found.broken
    return (is_diagonal, found.broken > 0, found.packs, worth, *found.costs())


def _to_plan(job: Job, ranked: Sequence[_Look]) -> Iterator[_Look]:
    """The champions, and two ways of spending boards on the best of them."""
    yield from ranked[:4]
    if job.wishes.prefer == "spares":
        tastes: tuple[Prefer, ...] = ("looks", "cuts")
        for taste in tastes:
            first = ranked[0].candidate
            wishes = replace(first.wishes, prefer=taste)
            yield _Look(replace(first, wishes=wishes), ranked[0].merits)
    yield from ranked[4:]


def _better_side(job: Job, look: _Look, count: CountHandling | None, floor: Floor) -> _Look:
    """The same rows from whichever of the two walls is less awkward to lay."""
    if count is None or job.wishes.start_wall or look.candidate.direction.course == "wished":
        return look
    other = from_other_side(look.candidate, floor, job.board)
    seen = _Look(other, _quick(job, other.wishes, count))
    return min((look, seen), key=lambda one: _effort_of(one.merits))


def _effort_of(found: Merits) -> tuple[int, int, int]:
    return found.handling.backwards, found.handling.awkward, found.handling.starts


def _chart(job: Job, wishes: Wishes, stop: Callable[[], bool]) -> Iterator[ChartPoint]:
    """Boards and narrowest row for start lines all over a board's width."""
    width = job.board.width_mm
    steps = {round(width * (step + 1) / CHART_STEPS, 1) for step in range(CHART_STEPS)}
    steps |= {wishes.first_row_mm or width}
    for first in sorted(step for step in steps if step >= LEAST_FIRST_ROW_MM):
        if stop():
            return
        plan = _sketch(job, replace(wishes, first_row_mm=first), SKETCH)
        yield ChartPoint(first, plan.boards.used, merits(plan, job.room).narrowest_row_mm)
