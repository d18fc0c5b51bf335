"""A batch with executors made by hand: every case gets a line, whatever breaks."""

from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Executor, Future
from dataclasses import replace
from typing import Any

import pytest

from plankwright.application.batch import (
    Case,
    Orders,
    Outcome,
    fingerprint,
    plan_case,
    plan_cases,
)
from plankwright.errors import PlanFaultError
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.optimize.solve import Effort, never
from plankwright.testing.zoo import rectangle


def make_stop() -> Callable[[], bool]:
    return never


def name_it(plan: Plan, job: Job) -> dict[str, str]:
    return {"name.txt": f"{plan.name} of {job.name}"}


ORDERS = Orders(Effort(), make_stop, name_it)
SMALL = Job(rectangle(1500, 1200), name="small")


class Here(Executor):
    """Runs everything at once in this process; dies at some cases as a killed process would."""

    def __init__(self, deadly: set[str], started: list[str]) -> None:
        self.deadly, self.started, self.is_broken = deadly, started, False

    def submit(self, fn: Any, /, *args: Any, **_: Any) -> "Future[Any]":
        if self.is_broken:
            raise BrokenExecutor
        case: Case = args[0]
        self.started.append(case.key)
        future: Future[Any] = Future()
        if case.key in self.deadly:
            self.is_broken = True
            future.set_exception(BrokenExecutor())
        else:
            future.set_result(fn(*args))
        return future


def run(cases: list[Case], deadly: set[str]) -> tuple[list[Outcome], list[str]]:
    started: list[str] = []
    outcomes = list(plan_cases(cases, ORDERS, lambda: Here(deadly, started), at_once=2))
    return outcomes, started


def test_a_planned_room_by_hand() -> None:
    # 1500 x 1200 with a gap of 8: a floor of 1484 x 1184 mm = 1.7571 m2.
    outcome = plan_case(Case("small", SMALL), ORDERS)
    row = outcome.row
    assert (row.state, row.name, row.floor_m2) == ("planned", "rectangle", 1.7571)
    assert row.boards >= row.bound >= 8  # 1.7571 / (1.285 * 0.192) = 7.12
    assert row.packs * 8 - row.boards == row.spares
    assert outcome.texts == {"name.txt": "rectangle of small"}


def test_what_cannot_be_planned_is_refused_with_its_reason() -> None:
    no_floor = replace(SMALL, rules=replace(SMALL.rules, gap_mm=700.0))
    row = plan_case(Case("thin", no_floor), ORDERS).row
    assert row.state == "refused"
    assert "no floor" in row.message
    row = plan_case(Case("bad.toml", None, "not valid TOML"), ORDERS).row
    assert (row.state, row.message) == ("refused", "not valid TOML")


@pytest.mark.parametrize("error", [PlanFaultError("not checked"), ZeroDivisionError("none")])
def test_a_defect_is_a_line_of_the_table(error: Exception) -> None:
    def render(_plan: Plan, _job: Job) -> dict[str, str]:
        raise error

    row = plan_case(Case("small", SMALL), replace(ORDERS, render=render)).row
    assert row.state == "failed"
    assert str(error) in row.message


def test_only_the_room_that_kills_its_process_fails() -> None:
    cases = [Case(name, SMALL) for name in "abcdef"]
    outcomes, started = run(cases, deadly={"c"})
    states = {outcome.row.key: outcome.row.state for outcome in outcomes}
    assert states == {**dict.fromkeys("abdef", "planned"), "c": "failed"}
    assert len(outcomes) == len(cases)
    assert started.count("c") == 2  # once with others, once alone


def test_nothing_is_done_twice_when_nothing_breaks() -> None:
    outcomes, started = run([Case(name, SMALL) for name in "abcdef"], deadly=set())
    assert started == list("abcdef")
    assert sorted(outcome.row.key for outcome in outcomes) == list("abcdef")


def test_a_fingerprint_tells_every_input_apart() -> None:
    case = Case("a", SMALL)
    others = [
        fingerprint(Case("b", SMALL), {}),
        fingerprint(case, {"seconds": 2}),
        fingerprint(Case("a", replace(SMALL, room=rectangle(1500, 1200.001))), {}),
        fingerprint(Case("a", replace(SMALL, unit="in")), {}),
        fingerprint(Case("a", replace(SMALL, board=replace(SMALL.board, per_pack=9))), {}),
        fingerprint(Case("a", None, "x"), {}),
    ]
    own = fingerprint(case, {})
    assert own == fingerprint(Case("a", Job(rectangle(1500, 1200), name="small")), {})
    assert len({own, *others}) == 7
