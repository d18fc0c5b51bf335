"""Threads of floor thinner than a hair: rounding, not carpentry."""

import shapely
from shapely import Polygon, box
from tests.checker.plan_maker import NOTHING, changed, make_plan

from plankwright.checker.view import look_at


def stretches_of(floor: Polygon) -> list[tuple[int, float, float]]:
    plan = make_plan(floor, floor, rules=NOTHING, start_line=0.0, cuts={})
    view = look_at(changed(plan, pieces=()))
    found = zip(view.stretch_rows, shapely.bounds(view.stretches), strict=True)
    return [(int(row), round(u0, 1), round(u1, 1)) for row, (u0, _, u1, _) in found]


def test_a_hair_along_a_row_line_is_no_floor_of_that_row() -> None:
    # row 2 begins 0.001 below its line: row 1 ends at 1000 all the same
    floor = box(0, 0, 1000, 192).union(box(999.9, 191.999, 2000, 384))
    assert stretches_of(floor) == [(1, 0.0, 1000.0), (2, 999.9, 2000.0)]


def test_a_hair_joins_no_stretches() -> None:
    # a post fills row 1 from line to line but for 0.001
    floor = box(0, 0, 2000, 384).difference(box(900, 0, 1000, 191.999))
    assert stretches_of(floor) == [(1, 0.0, 900.0), (1, 1000.0, 2000.0), (2, 0.0, 2000.0)]
    # a neck of 0.1 does
    floor = box(0, 0, 2000, 384).difference(box(900, 0, 1000, 191.9))
    assert stretches_of(floor) == [(1, 0.0, 2000.0), (2, 0.0, 2000.0)]
