"""Advice as a page has it: sections of plain sentences, and steps in order."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from plankwright.model.findings import Finding

Verdict = Literal["go", "go-with-barrier", "measure", "stop"]


@dataclass(frozen=True, slots=True)
class Section:
    """A titled part of the page: lines, things to check, steps it asks for."""

    title: str
    lines: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    steps: "tuple[Step, ...]" = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do.

    Parameters
    ----------
    text : what to do, in a sentence.
    phase : steps are done by growing phase (the constants below).
    after : numbers of the steps (counted from 1) that must be done and cleared first.
    """

    text: str
    phase: int
    after: tuple[int, ...] = ()


# Order of work: settle doubts, measure, take off what is in the way, clean, mend, let dry, cover,
# get ready for row 1.
ASK, MEASURE, OPEN, CLEAN, FLATTEN, DRY, COVER, READY = range(8)


@dataclass(frozen=True, slots=True)
class Reminder:
    """Something to be reminded of, at a local time."""

    when: datetime
    title: str
    text: str = ""
    minutes: int = 15
