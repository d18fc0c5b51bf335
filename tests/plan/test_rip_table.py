"""The rip table of tapered and bowed rows, by hand."""

import pytest
from shapely import Polygon

from plankwright.application.plan_room import Effort, plan_room
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.rip_table import RipLine, rip_table, ripped_rows

BARE = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0, narrowest_row_mm=20.0)


def planned(*corners: tuple[float, float]) -> Plan:
    room = Room(Polygon([(0, 0), (4000, 0), *corners]))
    wishes = Wishes(row_angle_deg=0.0, laid="right-to-left", first_row_mm=200.0)
    board = Board(1200.0, 200.0, tongue_end="right")
    return plan_room(room, board, BARE, wishes, effort=Effort(moves=0, prove=False))


def at_ends(lines: tuple[RipLine, ...]) -> list[float]:
    return [width for line in lines for width in (line.near_mm, line.far_mm)]


def test_the_last_row_of_a_room_that_is_wider_at_one_end() -> None:
    # 1100 mm at the near end, 1180 at the far one, 4 m long: row 6 runs from 100 to 180 mm and
    # gains 80 / 4000 = 0.02 mm for every mm along it
    plan = planned((4000, 1180), (0, 1100))
    assert ripped_rows(plan) == (6,)
    table = rip_table(plan, 6)
    for line in table:
        assert line.near_mm == pytest.approx(100.0 + 0.02 * line.from_near_mm, abs=0.01)
        length = line.marks[-1].from_near_mm
        assert line.taper_mm == pytest.approx(0.02 * length, abs=0.01)
        assert line.keeps == "wall side"
        assert len(line.marks) == 2
    widths = at_ends(table)
    assert (widths[0], widths[-1]) == pytest.approx((100.0, 180.0), abs=0.01)
    # each piece begins as wide as the one before it ends
    assert widths[1:-1:2] == pytest.approx(widths[2::2], abs=0.01)


def test_a_bowed_wall_has_a_mark_where_it_bends() -> None:
    # the far wall bulges by 60 mm in its middle, at 2000 mm
    plan = planned((4000, 1100), (2000, 1160), (0, 1100))
    marks = [
        (line.from_near_mm + mark.from_near_mm, mark.width_mm)
        for line in rip_table(plan, 6)
        for mark in line.marks
    ]
    assert (2000.0, 160.0) in [(round(at, 1), round(width, 1)) for at, width in marks]
    assert sum(len(line.marks) for line in rip_table(plan, 6)) == 2 * len(rip_table(plan, 6)) + 1


def test_a_row_of_whole_width_and_a_row_that_is_not_there() -> None:
    plan = planned((4000, 1100), (0, 1100))
    assert {line.near_mm for line in rip_table(plan, 2)} == {200.0}
    assert {line.keeps for line in rip_table(plan, 2)} == {"both"}
    assert rip_table(plan, 99) == ()
