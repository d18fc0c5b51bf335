"""Two rulers at the foot of a sheet, to check whether the printer kept the true size."""

from collections.abc import Iterator

from plankwright.drawing.scene import Group, Item, Polyline, Text
from plankwright.drawing.sheet import Frame
from plankwright.drawing.style import TEXT_MM

RULERS_MM = 32.0  # room for both with their words
HUNDRED_MM = 100.0
FOUR_INCHES_MM = 4.0 * 25.4
TICK_MM = 2.0
TOLD = "Measure both lines first. Wrong? Print at 100 %, without fitting to the page."


def draw_rulers(frame: Frame) -> Group:
    """A line of 100 mm and one of 4 in, each with its marks; ``frame`` is the foot of the sheet."""
    top = frame.top + 8.0
    items = (
        Text((frame.left, frame.top + 3.6), TOLD, TEXT_MM, "label"),
        *_ruler(frame.left, top, HUNDRED_MM, 10, "100 mm"),
        *_ruler(frame.left, top + 8.0, FOUR_INCHES_MM, 4, "4″"),
    )
    return Group(items, layer="rulers", title="Rulers to check the printer")


def _ruler(left: float, level: float, length: float, fields: int, words: str) -> Iterator[Item]:
    yield Polyline(((left, level), (left + length, level)), "measured")
    for number in range(fields + 1):
        x = left + length * number / fields
        tall = TICK_MM if number % fields else 2.0 * TICK_MM
        yield Polyline(((x, level - tall / 2.0), (x, level + tall / 2.0)), "measured")
    yield Text((left + length + 3.0, level), words, TEXT_MM, "figure", level="middle")
