"""The spline between rows that are turned end for end and the others: a line of its own."""

from collections.abc import Iterator, Sequence

from plankwright.drawing.plan_view import PlanView
from plankwright.drawing.scene import Group, Item, Point, Polyline
from plankwright.plan.turned_rows import spline_runs


def draw_spline(view: PlanView) -> tuple[Group, ...]:
    """Every spline of a plan as one group; none where no row is turned."""
    lines: list[Item] = []
    for run in spline_runs(view.plan):
        ends = view.point(run.u0_mm, run.v_mm), view.point(run.u1_mm, run.v_mm)
        lines += spline_line(ends)
    return (Group(tuple(lines), layer="spline", title="Spline"),) if lines else ()


def spline_line(points: Sequence[Point]) -> Iterator[Polyline]:
    """A spline as it is drawn: a heavy line with a broken white core."""
    yield Polyline(tuple(points), "spline")
    yield Polyline(tuple(points), "spline-core")


def spline_words(view: PlanView) -> str:
    """What the legend says of it; "" where there is none."""
    rows = sorted({run.row for run in spline_runs(view.plan)})
    if not rows:
        return ""
    return f"spline, in the groove of row {rows[0]}" if len(rows) == 1 else "spline"
