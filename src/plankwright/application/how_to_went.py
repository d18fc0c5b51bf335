"""How it went: what went wrong and what mended it, and hours, from the log of the laying."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime

from plankwright.application.how_to import HowToSource
from plankwright.application.told import counted
from plankwright.guide.events import Event
from plankwright.guide.laying_state import taken_back

Mishap = tuple[str, str]
RESTARTS = 40  # mishaps told at most; a log can hold thousands


def mishaps_of(source: HowToSource) -> tuple[Mishap, ...]:
    """What went wrong and the fix, as pairs; none without a log."""
    return tuple(_mishaps(source))[:RESTARTS] if source.day is not None else ()


def _mishaps(source: HowToSource) -> Iterator[Mishap]:
    used, day = source.used, source.day
    if used is None or day is None:
        return
    for piece, times in sorted(day.state.spoiled.items()):
        often = "" if times == 1 else f", {times} times"
        yield f"Piece {piece} was cut wrong{often}.", "It went to waste and was cut again."
    for piece in used.damaged_pieces:
        yield (
            f"Piece {piece} was found damaged after it was laid.",
            "It was left in place and written down; a spare board is kept for it.",
        )
    kinds = [event.kind for event in _counting(day.log.events)]
    boards = kinds.count("board-damaged")
    if boards:
        yield (
            f"{counted(boards, 'new board')} came out of the pack damaged.",
            "Inspect every board in daylight; these went back or to waste.",
        )
    shelved = kinds.count("piece-shelved")
    if shelved:
        yield (
            f"{counted(shelved, 'piece')} came out wrong but not useless.",
            "Such a piece went on the shelf with its true length, and the rest was planned again "
            "with it.",
        )
    if used.plans > 1:
        yield (
            "The floor did not go on as planned.",
            f"The rest was planned again {_times(used.plans - 1)} from what lay on the floor and "
            "what was on the shelf; what lay stayed.",
        )
    more = used.boards_taken - used.boards_planned
    if more > 0:
        yield (
            f"{counted(more, 'board')} more than planned went into the floor.",
            "The spare boards were there for that.",
        )
    if source.wanted.notes:
        for where, text in day.state.notes.values():
            yield (f"At {where}: {text}" if where else text), ""


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def hours_of(source: HowToSource) -> tuple[tuple[str, str, str], ...]:
    """Work, planned hours and used hours; used ones only as a whole, from the log's days."""
    work = source.found.work
    rows = [
        (what[0].upper() + what[1:], f"{minutes / 60.0:.1f}", "")
        for what, minutes in work.minutes
        if minutes
    ]
    days = days_of(source.day.log.events) if source.day is not None else []
    spent = sum(hours for _, hours in days)
    told = f"{spent:.1f} on {counted(len(days), 'day')}" if days else ""
    return (*rows, ("Together", f"{work.hours:.1f}", told))


def days_of(events: tuple[Event, ...]) -> list[tuple[str, float]]:
    """Each day in the log with the hours between its first and its last event."""
    times: dict[str, list[datetime]] = defaultdict(list)
    for event in _counting(events):
        try:
            at = datetime.fromisoformat(event.at)
        except ValueError:
            continue
        times[at.date().isoformat()].append(at.replace(tzinfo=None))
    return [
        (day, (max(found) - min(found)).total_seconds() / 3600.0)
        for day, found in sorted(times.items())
    ]


def _counting(events: tuple[Event, ...]) -> list[Event]:
    """The events that were not taken back."""
    back = taken_back(events)
    return [event for event in events if event.id not in back and event.kind != "undone"]
