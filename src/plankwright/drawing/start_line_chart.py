"""Two charts over one axis, the width of row 1: boards needed, and the narrowest row left."""

import math
from collections.abc import Iterator, Sequence

from plankwright.application.choices import ChartPoint, Choices
from plankwright.drawing.lettering import carpenter_figure
from plankwright.drawing.scene import Group, Item, Polyline, Text, circle
from plankwright.drawing.sheet import Frame
from plankwright.drawing.style import TEXT_MM
from plankwright.units import MM_PER, Unit, format_length

LEFT_MM, BOTTOM_MM, TOP_MM = 13.0, 9.0, 10.0
GUTTER_MM = 6.0
DOT_MM = 0.5
RING_MM = 1.3
TICKS = 4


def draw_charts(found: Choices, frame: Frame, unit: Unit) -> list[Group]:
    """Both charts side by side in a frame; none where fewer than two start lines were tried."""
    points = found.chart
    if len(points) < 2:
        return []
    chosen = found.choices[0].wishes.first_row_mm
    half = (frame.width - GUTTER_MM) / 2.0
    left = Frame(frame.left, frame.top, frame.left + half, frame.bottom)
    right = Frame(frame.right - half, frame.top, frame.right, frame.bottom)
    boards = [float(point.boards) for point in points]
    narrowest = [point.narrowest_row_mm for point in points]
    axis = _Axis(points, unit, chosen)
    return [
        Group(
            tuple(axis.draw(left, boards, _count_marks(boards), "Boards (a quick plan of each)")),
            title="Boards against the width of row 1",
        ),
        Group(
            tuple(axis.draw(right, narrowest, _length_marks(narrowest, unit), "Narrowest row")),
            title="Narrowest row against the width of row 1",
        ),
    ]


Mark = tuple[float, str]  # a value on an axis and its figure


class _Axis:
    """The width of row 1 along a chart, for every chart that shares it."""

    def __init__(self, points: Sequence[ChartPoint], unit: Unit, chosen: float | None) -> None:
        self._at = [point.first_row_mm for point in points]
        self._unit = unit
        self._chosen = chosen

    def draw(
        self, frame: Frame, values: Sequence[float], marks: Sequence[Mark], title: str
    ) -> Iterator[Item]:
        """Title, axes with figures, the line and a ring at the first choice."""
        plot = Frame(
            frame.left + LEFT_MM, frame.top + TOP_MM, frame.right - 3.0, frame.bottom - BOTTOM_MM
        )
        low, high = marks[0][0], marks[-1][0]
        widest = max(self._at)

        def place(at: float, value: float) -> tuple[float, float]:
            share = (value - low) / (high - low)
            return plot.left + plot.width * at / widest, plot.bottom - plot.height * share

        yield Text((frame.left, frame.top + TEXT_MM), title, TEXT_MM, "strong")
        for value, figure in marks:
            x, y = place(0.0, value)
            yield Polyline(((x, y), (plot.right, y)), "frame")
            spot = (x - 1.5, y)
            yield Text(spot, carpenter_figure(figure), TEXT_MM, "figure", "end", "middle")
        for at, figure in _length_marks([0.0, widest], self._unit):
            if at <= widest * 1.001:
                x, y = place(at, low)
                yield Polyline(((x, y), (x, y + 1.2)), "dimension")
                spot = (x, y + 2.0)
                yield Text(spot, carpenter_figure(figure), TEXT_MM, "figure", "middle", "top")
        yield Text((plot.right, frame.bottom - 0.6), "width of row 1", TEXT_MM, "note", "end")
        line = [place(at, value) for at, value in zip(self._at, values, strict=True)]
        yield Polyline(tuple(line), "measured")
        for spot in line:
            yield circle(spot, DOT_MM, "start")
        if self._chosen in self._at:
            yield circle(line[self._at.index(self._chosen)], RING_MM, "error")


def _count_marks(values: Sequence[float]) -> list[Mark]:
    """Whole numbers from below the least value to above the greatest."""
    low, high = min(values), max(values)
    step = max(math.ceil((high - low) / TICKS), 1)
    first = math.floor(low / step) * step
    count = max(math.ceil((high - first) / step), 1)
    return [(float(first + k * step), f"{first + k * step:.0f}") for k in range(count + 1)]


def _length_marks(values: Sequence[float], unit: Unit) -> list[Mark]:
    """Round lengths from 0 to above the greatest value."""
    inches = unit in ("in", "ft")
    steps = [s * float(MM_PER["in"]) for s in (0.5, 1, 2, 3, 4, 6)] if inches else [10, 20, 25, 50]
    steps += [100.0, 200.0, 500.0]
    highest = max(*values, 1.0)
    step = next((s for s in steps if highest / s <= TICKS), steps[-1])
    count = max(math.ceil(highest / step - 1e-6), 1)
    return [(k * step, format_length(k * step, unit, with_unit=inches)) for k in range(count + 1)]
