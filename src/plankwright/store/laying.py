"""A laying day in its store: the plan that is laid and its log, read once and kept in step."""

import secrets
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Self

from plankwright.application.lay_day import board_size, day_of
from plankwright.errors import FileError, InputError
from plankwright.guide.events import Event, Photographed, PlanTaken, Undone, What
from plankwright.guide.laying_log import LayingLog
from plankwright.model.plan import Plan
from plankwright.store.database import Database
from plankwright.store.events_file import GivenBack
from plankwright.store.jobs import Document, Jobs, utc_now
from plankwright.store.log import BehindError, EventLog
from plankwright.store.photographs import Photographs

ReadPlan = Callable[[str], Plan]


class Laying:
    """A job that is being laid.

    What is written is on the disk before the call returns, and only then counts in :attr:`day`.

    Parameters
    ----------
    database : the open store.
    job_id : the job; it has a plan.
    read_plan : reads the text of a plan file.
    device : who writes: it stands in every event.
    """

    def __init__(
        self, database: Database, job_id: str, read_plan: ReadPlan, device: str = "command"
    ) -> None:
        self.database = database
        self.job_id = job_id
        self.device = device
        self._read_plan = read_plan
        self._jobs = Jobs(database)
        self._log = EventLog(database, job_id)
        first = self._document(1)
        self.first_plan = read_plan(first.body)
        self._seen = self._log.newest()
        log = self._log.folded(board_size(self.first_plan))
        self._revision = log.state.revision
        self.day = day_of(self._plan(max(self._revision, 1)), log)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.database.close()

    def _document(self, revision: int) -> Document:
        document = self._jobs.document(self.job_id, "plan", revision)
        if document is None:
            raise InputError("the job has no such plan", where="plan", value=revision)
        return document

    def _plan(self, revision: int) -> Plan:
        return self.first_plan if revision == 1 else self._read_plan(self._document(revision).body)

    def job_text(self) -> str | None:
        """The text of the job file, where the job has one."""
        document = self._jobs.document(self.job_id, "job")
        return None if document is None else document.body

    def write(self, whats: Iterable[What]) -> tuple[Event, ...]:
        """Write down what happened, all of it or nothing.

        Raises
        ------
        InputError : it cannot have happened; FileError : the disk is full or read-only.
        """
        made = tuple(whats)
        while True:
            log, events = self._with(made)
            try:
                self._log.append(events, seen=self._seen)
                break
            except BehindError:  # another program wrote to the same log
                self._catch_up()
        self._seen = self._log.newest()
        self.day = replace(self.day, log=log)
        return events

    def _with(self, whats: tuple[What, ...]) -> tuple[LayingLog, tuple[Event, ...]]:
        log, events = self.day.log, list[Event]()
        for what in whats:
            log = log.write(what, secrets.token_hex(8), device=self.device, at=utc_now())
            events.append(log.events[-1])
        return log, tuple(events)

    def _catch_up(self) -> None:
        """Read what others wrote."""
        fresh = self._log.events(after=self._seen)
        self._seen = max((number for number, _ in fresh), default=self._seen)
        log = self.day.log.merged(event for _, event in fresh)
        self.day = replace(self.day, log=log)
        self._follow_plan()

    def undo(self, event_id: str = "") -> Event:
        """Take an event back, the last one where none is named.

        Raises
        ------
        InputError : there is none, or later events rest on it.
        """
        last = self.day.log.last()
        target = event_id or ("" if last is None else last.id)
        if not target:
            raise InputError("nothing was written down yet", where="undo")
        (event,) = self.write([Undone(target)])
        self._follow_plan()
        return event

    def merge(self, events: Iterable[Event]) -> int:
        """Add events from elsewhere; how many were new.

        Raises
        ------
        InputError : two different events have one id; nothing is added then.
        """
        given = tuple(events)
        self.day.log.merged(given)  # refuses before anything is written
        new = self._log.append(given)
        self._catch_up()
        return new

    def keep_photograph(self, data: bytes, where: str = "", caption: str = "") -> Event:
        """Keep a photograph and write down that it was taken."""
        photo = Photographs(self.database, self.job_id).add(data)
        (event,) = self.write([Photographed(photo.digest, where, caption)])
        return event

    def merge_given_back(self, given: GivenBack) -> int:
        """Add what a phone gave back, photographs first; how many events were new."""
        photographs = Photographs(self.database, self.job_id)
        for data in given.photographs:
            photographs.add(data)
        return self.merge(given.events)

    def take_plan(self, text: str, why: str, before: Iterable[What] = ()) -> int:
        """Go on with another plan; its revision.

        Parameters
        ----------
        before : what is done to the floor and the shelf for it.
        """
        plan = self._read_plan(text)
        document = self._jobs.save(self.job_id, "plan", text, why=why)
        self.write([*before, PlanTaken(document.revision)])
        self._revision = document.revision
        self.day = day_of(plan, self.day.log)
        return document.revision

    def _follow_plan(self) -> None:
        """The plan that the log now says is laid."""
        if self.day.state.revision == self._revision:
            return
        self._revision = self.day.state.revision
        self.day = day_of(self._plan(max(self.day.state.revision, 1)), self.day.log)


def begin_laying(
    path: Path, name: str, plan_text: str, read_plan: ReadPlan, job_text: str | None = None
) -> Laying:
    """A new log file with a job, its plan and, where there is one, its job file."""
    database = Database(path)
    try:
        jobs = Jobs(database)
        job = jobs.add(name)
        if job_text is not None:
            jobs.save(job.id, "job", job_text)
        jobs.save(job.id, "plan", plan_text, why="the plan as it was first made")
        return Laying(database, job.id, read_plan)
    except BaseException:
        database.close()
        raise


def open_log(path: Path, read_plan: ReadPlan, *, read_only: bool = False) -> Laying:
    """The laying day in a log file that holds one job.

    Parameters
    ----------
    read_only : nothing will be written, so that it need not be possible. Where it is, the file is
        opened as usual, which leaves nothing beside it.

    Raises
    ------
    FileError : no such file, not a log file, damaged.
    """
    if not path.is_file():
        raise FileError(
            "no such log file",
            where=str(path),
            remedy="Make one with: plankwright lay start PLAN.json --log LOG",
        )
    try:
        database = Database(path)
    except FileError:
        if not read_only:
            raise
        database = Database(path, read_only=True)
    try:
        return Laying(database, Jobs(database).only().id, read_plan)
    except BaseException:
        database.close()
        raise
