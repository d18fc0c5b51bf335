"""What ``plankwright plan`` was asked for, as its reports need it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from plankwright.model.job import Job


@dataclass(frozen=True, slots=True)
class Request:
    """A job to plan, and what to do with what is found.

    Parameters
    ----------
    job : what is planned.
    where : the file it came from, for messages.
    out : folder for what is written; None writes nothing.
    seed : of the search.
    stop : asked again and again; true stops the search.
    json_output : machine-readable output instead of words.
    """

    job: "Job"
    where: str
    out: Path | None
    seed: int
    stop: Callable[[], bool]
    json_output: bool
