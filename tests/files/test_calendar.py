"""The calendar file against RFC 5545."""

from datetime import UTC, datetime, timedelta, timezone

from plankwright.files.calendar import calendar
from plankwright.model.advice import Reminder

STAMP = datetime(2026, 10, 1, 12, 0, tzinfo=UTC)
WHEN = datetime(2026, 10, 12, 9)  # noqa: DTZ001 - local time on purpose


def unfolded(text: str) -> list[str]:
    """Content lines as RFC 5545, 3.1 unfolds them."""
    return text.replace("\r\n ", "").removesuffix("\r\n").split("\r\n")


def test_one_event_line_by_line() -> None:
    lines = unfolded(calendar([Reminder(WHEN, "Boards are ready", "Read the air first.")], STAMP))
    assert lines[:4] == [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Plankwright//Slab and air//EN",
        "CALSCALE:GREGORIAN",
    ]
    assert "DTSTAMP:20261001T120000Z" in lines
    assert "DTSTART:20261012T090000" in lines  # form 1: local, no zone
    assert "DTEND:20261012T091500" in lines
    assert "SUMMARY:Boards are ready" in lines
    assert lines.count("BEGIN:VEVENT") == lines.count("END:VEVENT") == 1
    assert lines.count("BEGIN:VALARM") == lines.count("END:VALARM") == 1
    assert lines[-1] == "END:VCALENDAR"


def test_text_is_escaped() -> None:
    lines = unfolded(calendar([Reminder(WHEN, "a, b; c\\d\ne")], STAMP))
    assert "SUMMARY:a\\, b\\; c\\\\d\\ne" in lines


def test_lines_are_folded_at_75_octets_and_end_with_crlf() -> None:
    words = "Temperatur größer als 20 °C und trocken " * 8
    text = calendar([Reminder(WHEN, "x", words)], STAMP)
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert "\n" not in text.replace("\r\n", "")
    assert any(line == f"DESCRIPTION:{words}" for line in unfolded(text))


def test_the_same_reminder_has_the_same_uid_and_others_another() -> None:
    def uids(*titles: str) -> list[str]:
        text = calendar([Reminder(WHEN, title) for title in titles], STAMP)
        return [line for line in unfolded(text) if line.startswith("UID:")]

    assert uids("a") == uids("a")
    assert len(set(uids("a", "b", "c"))) == 3


def test_a_stamp_of_another_zone_is_told_in_utc() -> None:
    east = datetime(2026, 10, 1, 14, 0, tzinfo=timezone(timedelta(hours=2)))
    assert calendar([Reminder(WHEN, "a")], east) == calendar([Reminder(WHEN, "a")], STAMP)


def test_no_reminders_is_an_empty_calendar() -> None:
    assert unfolded(calendar([], STAMP))[-1] == "END:VCALENDAR"
