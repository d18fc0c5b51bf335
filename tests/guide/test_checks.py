"""Which check is due when, and the forecast of the last row; sums in the comments."""

import pytest
import shapely
from tests.drawing.sample_plans import small_plan

from plankwright.application.plan_room import plan_room
from plankwright.guide.cards import cards_of
from plankwright.guide.checks import checks_of, due_check, field_at, forecast, unlocked_rows
from plankwright.guide.events import CheckMade, DistanceMeasured, PieceLaid, RowLocked, What
from plankwright.guide.laying_log import LayingLog, log_of
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import FixedThing, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort
from plankwright.plan.drift import Field
from plankwright.testing.zoo import rectangle, zoo


def tall() -> Plan:
    """4000 x 3000, gap 10, boards of 1000 x 200: 2980 open, 14 whole rows and one of 180."""
    rules = Rules(gap_mm=10.0)
    return plan_room(rectangle(), Board(1000.0, 200.0), rules, effort=Effort(moves=50))


def log_with(plan: Plan, *whats: What) -> LayingLog:
    log = log_of((), (plan.board.length_mm, plan.board.width_mm))
    for number, what in enumerate(whats):
        log = log.write(what, str(number))
    return log


def rows_laid(plan: Plan, upto: int) -> list[What]:
    return [PieceLaid(p.id, whole=True) for p in plan.pieces if p.row <= upto]


def due(plan: Plan, *whats: What) -> str | None:
    check = due_check(plan, cards_of(plan), log_with(plan, *whats).state)
    return None if check is None else check.name


def test_every_check_in_order() -> None:
    assert [check.name for check in checks_of(tall())] == [
        "before row 1", "after row 2", "after row 4", "after row 8", "after row 12", "before trim",
    ]  # fmt: skip
    assert [check.name for check in checks_of(small_plan())] == [
        "before row 1", "after row 2", "before trim",
    ]  # fmt: skip
    assert all(len(check.items) >= 3 for check in checks_of(tall()))


def test_when_each_is_due() -> None:
    plan = tall()
    assert due(plan) == "before row 1"
    good = CheckMade("before row 1", True)
    assert due(plan, good) is None
    assert due(plan, good, *rows_laid(plan, 1)) is None
    assert due(plan, good, *rows_laid(plan, 2)) == "after row 2"
    straight = CheckMade("after row 2", True)
    assert due(plan, good, *rows_laid(plan, 2), straight) is None
    assert due(plan, good, *rows_laid(plan, 2), CheckMade("after row 2", False)) == "after row 2"
    assert due(plan, good, straight, *rows_laid(plan, 4)) == "after row 4"
    assert due(plan, *rows_laid(plan, 99)) == "before trim"


def test_work_that_went_on_is_not_held_up_by_an_old_check() -> None:
    plan = tall()
    # row 2 was passed four rows ago; the check after row 4 is still worth making
    assert due(plan, *rows_laid(plan, 6)) == "after row 4"


def test_the_forecast_of_the_last_row() -> None:
    # after 8 rows of 200 and a gap of 10, 3000 - 10 - 1600 = 1390 are open as planned; 1384 at
    # both ends means that rows cover 6/8 = 0.75 mm more each. 1384 - 10 - 6 rows of 200.75 = 169.5
    plan = tall()
    first = min(p.row for p in plan.pieces)
    assert first == 1
    planned = forecast(plan, log_with(plan, *_open(8, 1390.0, 1390.0)).state)
    assert planned is not None
    assert planned.last_row_mm == pytest.approx((180.0, 180.0))
    drifted = forecast(plan, log_with(plan, *_open(8, 1384.0, 1384.0)).state)
    assert drifted is not None
    assert drifted.extra_mm == pytest.approx((0.75, 0.75))
    assert drifted.last_row_mm == pytest.approx((169.5, 169.5))
    assert drifted.has_open_joints
    assert drifted.steps[0].name == "close the joints"


def _open(row: int, near: float, far: float) -> tuple[What, What]:
    return (
        DistanceMeasured("to the far wall", row, "near", near),
        DistanceMeasured("to the far wall", row, "far", far),
    )


def test_one_end_or_another_distance_is_no_forecast() -> None:
    plan = tall()
    assert forecast(plan, log_with(plan).state) is None
    assert forecast(plan, log_with(plan, _open(8, 1.0, 1.0)[0]).state) is None
    other = DistanceMeasured("row length", 8, "near", 3980.0)
    assert forecast(plan, log_with(plan, _open(8, 1390.0, 1.0)[0], other).state) is None
    beyond = log_with(plan, *_open(99, 100.0, 100.0)).state
    assert forecast(plan, beyond) is None


@pytest.mark.parametrize("name", ["L", "post", "slanted"])
def test_as_planned_nothing_drifts(name: str) -> None:
    """Where the tape is laid, wall, gap and rows add up; near a slanted side wall farther in."""
    plan = plan_room(zoo()[name], Board(1285.0, 192.0), effort=Effort(moves=5))
    found = field_at(plan, 3)
    assert found is not None
    field, rows = found
    # 8 mm square to a wall that is up to 20 degrees off the rows are at most 8 / cos 20 = 8.5
    assert field.start_gap_mm == pytest.approx(8.25, abs=0.3)
    assert field.last_gap_mm == pytest.approx(8.25, abs=0.3)
    open_mm = _open_as_planned(field, rows)
    drift = forecast(plan, log_with(plan, *_open(3, *open_mm)).state)
    assert drift is not None
    assert drift.extra_mm == pytest.approx((0.0, 0.0), abs=1e-6)


def _open_as_planned(field: Field, rows: tuple[int, int]) -> list[float]:
    return [
        across - field.start_gap_mm - width - (count - 1) * field.board_width_mm
        for across, width, count in zip(field.across_mm, field.first_row_mm, rows, strict=True)
    ]


def test_rows_never_locked_are_told() -> None:
    plan = tall()
    log = log_with(plan, *rows_laid(plan, 5), RowLocked(1), RowLocked(3))
    assert unlocked_rows(log.state) == (2,)  # 4 and 5 are still being worked on


def test_rows_that_begin_beside_a_stair_are_counted_at_each_end() -> None:
    # a stair 960 high, five rows of 192, in the corner where row 1 begins: row 8 is the third row
    # at the stair's end and the eighth at the other; 3000 - 960 = 2040 are left beside the stair
    stair = FixedThing("stair", shapely.box(0.0, 0.0, 1000.0, 960.0), 8.0)
    outline = shapely.Polygon([(0, 0), (4000, 0), (4000, 3000), (0, 3000)])
    wishes = Wishes(start_wall="A-B", first_row_mm=192.0)
    plan = plan_room(
        Room(outline, fixed=(stair,)), Board(1285.0, 192.0), wishes=wishes, effort=Effort(moves=20)
    )
    found = field_at(plan, 8)
    assert found is not None
    field, rows = found
    assert sorted(zip(rows, field.across_mm, strict=True)) == [(3, 2040.0), (8, 3000.0)]
    assert field.first_row_mm == (192.0, 192.0)
    drift = forecast(plan, log_with(plan, *_open(8, *_open_as_planned(field, rows))).state)
    assert drift is not None
    assert drift.extra_mm == pytest.approx((0.0, 0.0), abs=1e-6)
