"""Long work in threads: progress that can be followed, a stop that keeps the best so far."""

import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any, Literal

from pydantic import BaseModel, Field

from plankwright.errors import InputError, PlankwrightError
from plankwright.web.refusals import Refusal, of_input

State = Literal["waiting", "working", "done", "failed", "stopped"]
Task = Callable[["Work"], Any]
MOST_KEPT = 64
AT_ONCE = 3


class Standing(BaseModel):
    """How a piece of long work stands."""

    id: str = Field(description="Its name in addresses.")
    kind: str = Field(description="What it is, for a person.")
    state: State = Field(description="Over with the last three; only *done* has a result.")
    told: str = Field(description="How far it is, in words; often empty.")
    seconds: float = Field(description="Since it was begun.")
    error: Refusal | None = Field(description="Why nothing came out, where it failed.")


@dataclass(eq=False, slots=True)
class Work:
    """One piece of long work.

    Parameters
    ----------
    id : its name in addresses.
    kind : what it is, for the person.
    result : what came out, once it is done.
    refusal : why nothing came out.
    """

    id: str
    kind: str
    state: State = "waiting"
    told: str = ""
    result: Any = None
    refusal: Refusal | None = None
    begun: float = field(default_factory=time.monotonic)
    changes: int = 0
    _stop: threading.Event = field(default_factory=threading.Event)

    def stop(self) -> bool:
        """Whether it shall come to an end: handed to what asks now and then."""
        return self._stop.is_set()

    def end(self) -> None:
        """Ask it to come to an end."""
        self._stop.set()

    def tell(self, told: str) -> None:
        """Say how far it is."""
        self.told = told
        self.changes += 1

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come."""
        return self.state in ("done", "failed", "stopped")

    def shown(self) -> Standing:
        """How it stands, for the page; the result is fetched by itself."""
        return Standing(
            id=self.id,
            kind=self.kind,
            state=self.state,
            told=self.told,
            seconds=round(time.monotonic() - self.begun, 1),
            error=self.refusal,
        )


class Workshop:
    """Runs work, a few at a time, and keeps the last results."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(AT_ONCE, thread_name_prefix="work")
        self._works: OrderedDict[str, Work] = OrderedDict()
        self._lock = threading.Lock()

    def start(self, kind: str, task: Task) -> Work:
        """Begin a piece of work as soon as a hand is free."""
        work = Work(secrets.token_hex(8), kind)
        with self._lock:
            self._works[work.id] = work
            self._forget()
        self._pool.submit(_run, work, task)
        return work

    def get(self, work_id: str) -> Work | None:
        """The work of that name, or None."""
        return self._works.get(work_id)

    def close(self) -> None:
        """Ask everything to come to an end and wait for nothing."""
        for work in list(self._works.values()):
            work.end()
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _forget(self) -> None:
        over = [key for key, work in self._works.items() if work.is_over]
        for key in over[: max(0, len(self._works) - MOST_KEPT)]:
            del self._works[key]


def _run(work: Work, task: Task) -> None:
    if work.stop():
        work.state = "stopped"
        return
    work.state = "working"
    try:
        work.result = task(work)
        work.state = "done"
    except InputError as error:
        work.refusal, work.state = of_input(error), "failed"
    except PlankwrightError as error:
        work.refusal, work.state = Refusal(message=str(error)), "failed"
    except Exception as error:  # nothing may end silently in a thread
        told = f"a defect of the program: {type(error).__name__}"
        work.refusal, work.state = Refusal(message=told), "failed"
    finally:
        work.changes += 1
