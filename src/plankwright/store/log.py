"""The log of a job: its events, only ever added, each once however often it is given."""

import json
import sqlite3
from collections.abc import Iterable

from plankwright.errors import InputError
from plankwright.guide.events import Event, event_entry, known_event
from plankwright.guide.laying_log import LayingLog, log_of
from plankwright.store.database import Database
from plankwright.store.jobs import utc_now


class BehindError(InputError):
    """Events were made without knowing the last ones: read those and make them anew."""


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

    def append(self, events: Iterable[Event], *, seen: int | None = None) -> int:
        """Write events down; they are on the disk when this returns. How many were new.

        An event whose id is there already does nothing.

        Parameters
        ----------
        seen : number of the last event that was known when they were made; None: never mind.

        Raises
        ------
        BehindError : somebody wrote events behind ``seen``; none is written then.
        InputError : another event has the id of one of them; none is written then.
        """
        with self._database.writing() as connection:
            if seen is not None and self._newest(connection) != seen:
                raise BehindError("somebody wrote something down in between", where="events")
            return sum(self._add(connection, event) for event in events)

    def newest(self) -> int:
        """Number of the last event that came in; 0 where there is none."""
        query = "SELECT coalesce(max(number), 0) FROM event WHERE job = ?"
        return int(self._database.rows(query, (self._job,))[0][0])

    def _newest(self, connection: sqlite3.Connection) -> int:
        query = "SELECT coalesce(max(number), 0) FROM event WHERE job = ?"
        return int(connection.execute(query, (self._job,)).fetchone()[0])

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
