"""The log of a job: its events, only ever added, each once however often it is given."""

import json
import sqlite3
from collections.abc import Iterable

from plankwright.errors import InputError
from plankwright.guide.events import Event, event_entry, known_event
from plankwright.guide.laying_log import LayingLog, log_of
from plankwright.store.database import Database
from plankwright.store.jobs import utc_now


class EventLog:
    """The events of one job in a store.

    Parameters
    ----------
    database : the open file.
    job_id : the job.
    """

    def __init__(self, database: Database, job_id: str) -> None:
        self._database = database
        self._job = job_id

    def append(self, events: Iterable[Event]) -> int:
        """Write events down; they are on the disk when this returns. How many were new.

        An event whose id is there already does nothing.

        Raises
        ------
        InputError : another event has the id of one of them; none is written then.
        """
        with self._database.writing() as connection:
            return sum(self._add(connection, event) for event in events)

    def _add(self, connection: sqlite3.Connection, event: Event) -> int:
        body = event_text(event)
        done = connection.execute(
            "INSERT INTO event (job, id, body, came) VALUES (?, ?, ?, ?)"
            " ON CONFLICT (job, id) DO NOTHING",
            (self._job, event.id, body, utc_now()),
        )
        if done.rowcount == 1:
            return 1
        (known,) = connection.execute(
            "SELECT body FROM event WHERE job = ? AND id = ?", (self._job, event.id)
        ).fetchone()
        if known != body:
            raise InputError(
                "two different events have the same id",
                where="events",
                value=event.id,
                remedy="One of the two was changed by hand; give the other one.",
            )
        return 0

    def events(self, after: int = 0) -> tuple[tuple[int, Event], ...]:
        """Events with their numbers, in the order in which they came in, those after a number."""
        rows = self._database.rows(
            "SELECT number, body FROM event WHERE job = ? AND number > ? ORDER BY number",
            (self._job, after),
        )
        entries = json.loads("[" + ",".join(body for _, body in rows) + "]")
        numbers = (number for number, _ in rows)
        return tuple(zip(numbers, map(known_event, entries), strict=True))

    def folded(self, board_mm: tuple[float, float]) -> LayingLog:
        """The events in their own order, with their state.

        Parameters
        ----------
        board_mm : length and width of a new board.
        """
        return log_of((event for _, event in self.events()), board_mm)


def event_text(event: Event) -> str:
    """An event as it is kept: one line of JSON, always the same bytes."""
    return json.dumps(event_entry(event), ensure_ascii=False, separators=(",", ":"))
