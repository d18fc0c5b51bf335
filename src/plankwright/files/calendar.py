"""Reminders as an iCalendar file (RFC 5545)."""

import hashlib
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta

from plankwright.model.advice import Reminder

_LONGEST_LINE = 75  # octets, without the line break (RFC 5545, 3.1)


def calendar(reminders: Sequence[Reminder], stamp: datetime) -> str:
    """The reminders as the text of an ``.ics`` file.

    Times are local without a zone (RFC 5545, 3.3.5, form 1): the clock on the wall of the room.

    Parameters
    ----------
    stamp : when the file was made, in UTC; passed in, so that the same input and stamp give the
        same file.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Plankwright//Slab and air//EN",
        "CALSCALE:GREGORIAN",
    ]
    for reminder in reminders:
        lines += _event(reminder, stamp)
    lines.append("END:VCALENDAR")
    return "".join(part + "\r\n" for line in lines for part in _folded(line))


def _event(reminder: Reminder, stamp: datetime) -> list[str]:
    end = reminder.when + timedelta(minutes=reminder.minutes)
    return [
        "BEGIN:VEVENT",
        f"UID:{_uid(reminder)}@plankwright.invalid",
        f"DTSTAMP:{stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}",
        f"DTSTART:{reminder.when:%Y%m%dT%H%M%S}",
        f"DTEND:{end:%Y%m%dT%H%M%S}",
        f"SUMMARY:{_escaped(reminder.title)}",
        *([f"DESCRIPTION:{_escaped(reminder.text)}"] if reminder.text else []),
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        f"DESCRIPTION:{_escaped(reminder.title)}",
        "TRIGGER:PT0S",
        "END:VALARM",
        "END:VEVENT",
    ]


def _uid(reminder: Reminder) -> str:
    """The same for the same reminder, so that a second import replaces the first."""
    told = f"{reminder.when.isoformat()} {reminder.title}"
    return hashlib.sha256(told.encode()).hexdigest()[:24]


def _escaped(text: str) -> str:
    """Text as RFC 5545, 3.3.11 wants it."""
    for plain, escaped in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, escaped)
    return text


def _folded(line: str) -> Iterator[str]:
    """A line in parts of at most 75 octets, those after the first led by a space."""
    part, size = "", 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > _LONGEST_LINE:
            yield part
            part, size = " ", 1
        part, size = part + letter, size + octets
    yield part
