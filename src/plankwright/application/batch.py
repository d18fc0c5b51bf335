"""Use case: many rooms, one table; one bad room never stops the rest.

Which machine plans a room is for an executor to say: processes here, or a cluster. What a room
comes to does not depend on it.
"""

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from dataclasses import asdict, dataclass, replace
from itertools import islice
from typing import Literal

import shapely

from plankwright.application.plan_figures import plan_figures
from plankwright.application.plan_job import plan_job
from plankwright.errors import InputError, PlankwrightError
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.optimize.solve import Effort

State = Literal["planned", "refused", "failed"]
Texts = Mapping[str, str]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Case:
    """One room of a batch: its job, or why there is none.

    Parameters
    ----------
    key : file and room, such as ``"flats.dxf: H-0011"``; no two cases share one.
    """

    key: str
    job: Job | None
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table.

    Parameters
    ----------
    state : *planned*; *refused*: the room, board and rules cannot go together; *failed*: a defect.
    findings : their codes, each once.
    message : why there is no plan.
    """

    key: str
    name: str
    state: State
    floor_m2: float = 0.0
    boards: int = 0
    bound: int = 0
    proven: bool = False
    packs: int = 0
    spares: int = 0
    waste_pct: float = 0.0
    findings: tuple[str, ...] = ()
    message: str = ""


@dataclass(frozen=True, slots=True)
class Outcome:
    """A line of the table, and the texts of its files by their names."""

    row: Row
    texts: Texts


@dataclass(frozen=True, slots=True)
class Orders:
    """How each room is planned.

    Parameters
    ----------
    effort : how long to look, and the seed.
    make_stop : called when a room is begun; what it gives says when to stop looking.
    render : from a plan and its job to the texts of its files.
    """

    effort: Effort
    make_stop: Callable[[], Stop]
    render: Callable[[Plan, Job], Texts]


def plan_case(case: Case, orders: Orders) -> Outcome:
    """What one room comes to; whatever goes wrong with it is a line of the table, too."""
    if case.job is None:
        return Outcome(Row(case.key, "", "refused", message=case.refusal), {})
    name = case.job.name
    try:
        plan = plan_job(case.job, effort=orders.effort, stop=orders.make_stop())
        return Outcome(_row(case.key, plan), orders.render(plan, case.job))
    except InputError as error:
        return Outcome(Row(case.key, name, "refused", message=str(error)), {})
    except PlankwrightError as error:
        return Outcome(Row(case.key, name, "failed", message=str(error)), {})
    except Exception as error:  # a defect of ours must not stop the other rooms
        return Outcome(Row(case.key, name, "failed", message=f"a defect: {error!r}"), {})


def plan_cases(
    cases: Iterable[Case], orders: Orders, make_executor: Callable[[], Executor], at_once: int
) -> Iterator[Outcome]:
    """The outcomes as they come; at most ``at_once`` rooms are under way.

    A process that dies takes its pool along. The rooms that were under way are then done again,
    one at a time, so that only the one that kills its process fails.
    """
    waiting = iter(cases)
    while True:
        executor = make_executor()
        lost: list[Case] = []
        with executor:
            yield from _in_pool(waiting, orders, executor, at_once, lost)
        if not lost:
            return
        for case in lost:
            yield _alone(case, orders, make_executor)


def _in_pool(
    waiting: Iterator[Case], orders: Orders, executor: Executor, at_once: int, lost: list[Case]
) -> Iterator[Outcome]:
    """The outcomes of a pool; when it breaks, what was under way is added to ``lost``."""
    under_way: dict[Future[Outcome], Case] = {}
    try:
        while True:
            for case in islice(waiting, at_once - len(under_way)):
                under_way |= _submitted(executor, case, orders, lost)
            if not under_way:
                return
            done, _ = wait(under_way, return_when=FIRST_COMPLETED)
            for future in done:
                yield from _outcome(future, under_way.pop(future), lost)
            if lost:
                lost.extend(under_way.values())
                return
    except BaseException:
        for future in under_way:
            future.cancel()
        executor.shutdown(wait=False, cancel_futures=True)
        raise


def _submitted(
    executor: Executor, case: Case, orders: Orders, lost: list[Case]
) -> dict[Future[Outcome], Case]:
    try:
        return {executor.submit(plan_case, case, orders): case}
    except BrokenExecutor:
        lost.append(case)
        return {}


def _outcome(future: "Future[Outcome]", case: Case, lost: list[Case]) -> Iterator[Outcome]:
    try:
        yield future.result()
    except BrokenExecutor:
        lost.append(case)
    except Exception as error:  # the cluster gave up on it
        yield _died(case, f"the machine that planned it gave up: {error}")


def _alone(case: Case, orders: Orders, make_executor: Callable[[], Executor]) -> Outcome:
    with make_executor() as executor:
        try:
            return executor.submit(plan_case, case, orders).result()
        except Exception:  # it broke its pool a second time
            return _died(case, "the process that planned it died")


def _died(case: Case, message: str) -> Outcome:
    return Outcome(Row(case.key, case.job.name if case.job else "", "failed", message=message), {})


def _row(key: str, plan: Plan) -> Row:
    figures = plan_figures(plan)
    return Row(
        key=key,
        name=plan.name,
        state="planned",
        floor_m2=round(figures.floor_m2, 4),
        boards=figures.boards,
        bound=figures.bound,
        proven=figures.status == "optimal",
        packs=figures.packs,
        spares=figures.spares,
        waste_pct=round(figures.waste_pct, 2),
        findings=tuple(sorted({finding.code for finding in plan.findings})),
    )


def fingerprint(case: Case, settings: Mapping[str, object]) -> str:
    """A hash of all that a room's plan depends on, so that an older result is not taken for it."""
    told = {"key": case.key, "refusal": case.refusal, "settings": dict(settings), "job": None}
    if case.job is not None:
        plain = replace(case.job, survey=None)
        told["job"] = asdict(plain)
    text = json.dumps(told, sort_keys=True, default=_plain)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _plain(value: object) -> str:
    """Geometry as exact text; anything else that JSON does not know is a defect."""
    if isinstance(value, shapely.Geometry):
        return str(shapely.to_wkb(value, hex=True))
    raise TypeError(f"cannot be told in a fingerprint: {value!r}")
