"""Threads of floor thinner than a hair: rounding, not carpentry."""

import shapely
from shapely import Polygon, box
from tests.checker.plan_maker import NOTHING, changed, make_plan

from plankwright.checker.check import check_plan
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


def test_a_part_of_a_row_under_a_square_centimeter_may_stay_open() -> None:
    # row 2 has 9 x 10 mm of floor: it needs no piece, and may have one; 11 x 10 mm needs one
    def nook(width: float) -> Polygon:
        return box(0, 0, 1000, 192).union(box(500, 192, 500 + width, 202))

    for width, open_allowed in ((9.0, True), (11.0, False)):
        floor = nook(width)
        plan = make_plan(floor, floor, rules=NOTHING, start_line=0.0, cuts={})
        assert "crack" not in {fault.code for fault in check_plan(plan).faults}
        row_1 = tuple(piece for piece in plan.pieces if piece.row == 1)
        assert len(row_1) == len(plan.pieces) - 1
        codes = {fault.code for fault in check_plan(changed(plan, pieces=row_1)).faults}
        assert ("crack" not in codes) == open_allowed


def test_a_small_crack_beside_a_piece_is_no_scrap() -> None:
    # the only piece of a row of 1000 stops 2 mm short along 40 mm of its end: 0.8 cm2, no scrap
    floor = box(0, 0, 1000, 192)
    plan = make_plan(floor, floor, rules=NOTHING, start_line=0.0, cuts={})
    short = plan.pieces[0].outline.difference(box(998, 0, 1001, 40))
    pieces = (changed(plan.pieces[0], outline=short),)
    assert "crack" in {fault.code for fault in check_plan(changed(plan, pieces=pieces)).faults}
