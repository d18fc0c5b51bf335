"""The pace of whoever lays: minutes from one laid piece to the next, read off the log's own times.

A pause is no pace, nor are ticks given for several pieces at once. What is left is compared with
what a person's rates say for the same pieces, and the rates are made longer or shorter by it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise
from statistics import median

from plankwright.buying.labor import is_crosscut, is_odd, is_ripped
from plankwright.guide.events import Event, PieceLaid
from plankwright.guide.laying_state import taken_back
from plankwright.model.plan import Piece, Plan
from plankwright.model.toolbox import Rates

BREAK_MIN = 30.0  # longer from one piece to the next, somebody paused
TICKED_MIN = 0.25  # shorter, several were ticked at once
FEWEST = 8  # fewer steps say nothing yet
SLOWEST, FASTEST = 10.0, 0.1  # times the rates: beyond that the times are of something else


@dataclass(frozen=True, slots=True)
class Pace:
    """``minutes`` from a laid piece to the next, the middle one of so many ``steps``.

    ``times_rates`` is how much longer that is than the person's rates say for these pieces.
    """

    minutes: float
    steps: int
    times_rates: float


def pace_of(plan: Plan, events: Sequence[Event], rates: Rates) -> Pace | None:
    """The pace that a log shows; None where its times say too little."""
    back = taken_back(events)
    laid = [
        (when, event.device, event.what.piece)
        for event in events
        if isinstance(event.what, PieceLaid)
        and event.id not in back
        and (when := _time(event.at)) is not None
    ]
    pieces = {piece.id: piece for piece in plan.pieces}
    row_share = rates.row * len({piece.row for piece in plan.pieces}) / max(len(pieces), 1)
    minutes: list[float] = []
    expected: list[float] = []
    for (before, one, _), (after, other, name) in pairwise(sorted(laid)):
        step = (after - before).total_seconds() / 60.0
        if one == other and name in pieces and TICKED_MIN <= step <= BREAK_MIN:
            minutes.append(step)
            expected.append(row_share + _by_rates(pieces[name], rates))
    if len(minutes) < FEWEST or sum(expected) <= 0.0:
        return None
    times = median(minutes) / (sum(expected) / len(expected))
    return Pace(median(minutes), len(minutes), min(max(times, FASTEST), SLOWEST))


def at_pace(rates: Rates, pace: Pace | None) -> Rates:
    """The rates made longer or shorter by a pace: of boards, cuts and rows, which it shows."""
    if pace is None:
        return rates
    shown = ("board", "crosscut", "rip", "odd_piece", "row")
    return replace(
        rates, **{name: min(getattr(rates, name) * pace.times_rates, 1000.0) for name in shown}
    )


def _by_rates(piece: Piece, rates: Rates) -> float:
    minutes = rates.board + rates.crosscut * is_crosscut(piece) + rates.rip * is_ripped(piece)
    return minutes + rates.odd_piece * is_odd(piece)


def _time(at: str) -> datetime | None:
    try:
        when = datetime.fromisoformat(at)
    except ValueError:
        return None
    return when if when.tzinfo is not None else None
