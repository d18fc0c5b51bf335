"""Plans of documents: at once while something is dragged, the best one when it is asked for.

Jobs are remembered without their wishes, so that dragging the start line reads no room anew;
best plans are remembered as long as nothing they depend on has changed.
"""

import json
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import replace
from threading import Lock
from typing import Any, Generic, TypeVar

from pydantic_core import to_json

from plankwright.application.plan_job import plan_job
from plankwright.application.slab_advice import SlabJob, SlabReport, advise_on_slab
from plankwright.errors import InputError
from plankwright.files.job import read_job
from plankwright.files.job_board import LayingTable, make_wishes
from plankwright.files.job_document import Document, document_text
from plankwright.files.job_slab import read_slab
from plankwright.files.table import read_table
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.slab_heights import HeightGrid, ScatteredHeights
from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import Instance
from plankwright.optimize.solution import Solution
from plankwright.optimize.solve import WHILE_DRAGGING, Aim, Effort, never, solve
from plankwright.web.picture import moving_picture_of

PLANNED = ("job", "room", "board", "rules", "laying")
SLAB = (*PLANNED[:4], "slab", "air")
MOVING = replace(WHILE_DRAGGING, moves=30, looks=1, waits=False)  # soon out of date
MOST_KEPT = 32
MOST_MOVING = 200  # a board's width, a millimeter at a time
MOST_BOARDS = 10_000
MOST_HEIGHTS = 900

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Remembered(Generic[K, V]):
    """The last values by a key; safe to be asked from several threads."""

    def __init__(self, most: int = MOST_KEPT) -> None:
        self._values: OrderedDict[K, V] = OrderedDict()
        self._most = most
        self._lock = Lock()

    def get(self, key: K) -> V | None:
        """The value, or None."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def put(self, key: K, value: V) -> None:
        """Keep a value; the one that was not asked for the longest goes."""
        with self._lock:
            self._values[key] = value
            while len(self._values) > self._most:
                self._values.popitem(last=False)


class Solved:
    """A solver that remembers: most start lines of a floor ask for the same starters.

    Only for a search that proves nothing: what it finds follows from what it is asked alone.
    """

    def __init__(self) -> None:
        self._found: Remembered[Hashable, tuple[Solution, Bound]] = Remembered()

    def __call__(
        self,
        instance: Instance,
        bound: Bound,
        effort: Effort,
        stop: Callable[[], bool],
        prove: Callable[[int], Bound],
        aim: Aim,
    ) -> tuple[Solution, Bound]:
        """The solution, found now or before."""
        key = instance, bound, effort, aim
        found = self._found.get(key)
        if found is None:
            found = solve(instance, bound, effort, stop, prove, aim)
            self._found.put(key, found)
        return found


class Planning:
    """Plans of documents, and the jobs they are made from."""

    def __init__(self) -> None:
        self._jobs: Remembered[str, Job] = Remembered()
        self._solved = Solved()
        self._moving: Remembered[str, bytes] = Remembered(MOST_MOVING)
        self._best: Remembered[str, Plan] = Remembered()
        self._advice: Remembered[str, SlabReport] = Remembered()

    def now(self, document: Document) -> Plan:
        """A checked plan with the least effort.

        Raises
        ------
        InputError
            with field, value and remedy.
        """
        return plan_job(self.job(document), effort=WHILE_DRAGGING, solver=self._solved)

    def moving(self, document: Document) -> bytes:
        """What the page draws of a checked plan while its start line is dragged, as JSON.

        It is remembered: a line is dragged to and fro.
        """
        key = _key(document)
        found = self._moving.get(key)
        if found is None:
            plan = plan_job(self.job(document), effort=MOVING, solver=self._solved)
            found = as_json(moving_picture_of(plan))
            self._moving.put(key, found)
        return found

    def best(self, document: Document, stop: Callable[[], bool] = never) -> Plan:
        """The best plan, with its proof; a search that was stopped is not remembered."""
        key = _key(document)
        found = self._best.get(key)
        if found is None:
            found = plan_job(self.job(document), effort=Effort(), stop=stop)
            if not stop():
                self._best.put(key, found)
        return found

    def known(self, document: Document) -> Plan:
        """The best plan if it is remembered, else one at once."""
        return self._best.get(_key(document)) or self.now(document)

    def job(self, document: Document) -> Job:
        """The job of a document, its wishes read anew."""
        without = {key: value for key, value in document.items() if key != "laying"}
        job = self._remembered_job(without)
        laying = document.get("laying", {})
        table = read_table(LayingTable, laying, unit=job.unit, where="laying")
        return replace(job, wishes=make_wishes(table)).with_lock_for_wish()

    def slab(self, document: Document) -> SlabJob:
        """What a document says of slab and air; where it says nothing, the usual."""
        job = self.job(document)
        slab = read_slab(document, job.unit, job)
        count = _heights_in(slab)
        if count > MOST_HEIGHTS:
            raise InputError(
                f"more than {MOST_HEIGHTS} heights",
                where="slab.heights",
                value=count,
                remedy="Read them farther apart, or use the command line: plankwright slab.",
            )
        return slab

    def advice(
        self, document: Document, tell: Callable[[str], None] = lambda _: None
    ) -> SlabReport:
        """The advice on the slab, worked out once; heights make it take seconds, which is told."""
        key = _key(document, SLAB)
        report = self._advice.get(key)
        if report is None:
            slab = self.slab(document)
            if count := _heights_in(slab):
                tell(f"Laying a straightedge over {count} heights, in every direction …")
            report = advise_on_slab(slab)
            self._advice.put(key, report)
        return report

    def _remembered_job(self, document: Document) -> Job:
        key = _key(document)
        job = self._jobs.get(key)
        if job is None:
            job = read_job(document_text(document), "")
            _require_moderate(job)
            self._jobs.put(key, job)
        return job


def _heights_in(slab: SlabJob) -> int:
    match slab.heights:
        case HeightGrid(rows=rows):
            return sum(map(len, rows))
        case ScatteredHeights(readings=readings):
            return len(readings)
    return 0


def _require_moderate(job: Job) -> None:
    """Refuse a floor that would keep the server busy for minutes while somebody drags."""
    boards = job.room.outline.area / job.board.area_mm2
    if boards > MOST_BOARDS:
        raise InputError(
            f"this floor takes about {boards:.0f} boards, more than the page plans at once",
            where="board",
            value=round(boards),
            remedy="Check the units, or plan it on the command line: plankwright plan.",
        )


def _key(document: Document, names: tuple[str, ...] = PLANNED) -> str:
    return json.dumps({name: document.get(name) for name in names}, sort_keys=True)


def as_json(value: Any) -> bytes:
    """Compact JSON; quicker than to let every number be checked on its way out."""
    return to_json(value)
