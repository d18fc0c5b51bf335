"""Row direction, start wall and start line; the trade's worked examples."""

import math
from collections import Counter

import pytest
from shapely import Polygon, box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.errors import InputError
from plankwright.geometry.floor import build_floor
from plankwright.model.board import Board, Laid
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.layout import choose_rows, row_angle, start_wall
from plankwright.testing.zoo import rectangle, zoo

QUICK = Effort(moves=0, prove=False)
IN = 25.4


def widths(plan: Plan) -> list[float]:
    """The width of every row, from row 1 on."""
    rows = {piece.row: piece.width_mm for piece in plan.pieces}
    return [rows[row] for row in sorted(rows)]


def planned(depth_mm: float, board: Board, rules: Rules, wishes: Wishes | None = None) -> Plan:
    room = Room(rectangle(4000.0, depth_mm).outline)
    return plan_room(room, board, rules, wishes, effort=QUICK)


# --- worked examples -------------------------------------------------------------------------


def strips(narrowest_in: float) -> Plan:
    """113.5 in across in strips of 2 3/8 in (arithmetic of a common trade example)."""
    rules = Rules(gap_mm=0.0, narrowest_row_mm=narrowest_in * IN)
    return planned(113.5 * IN, Board(48 * IN, 2.375 * IN), rules)


def test_113_and_a_half_inches_whole_rows_first() -> None:
    # 47 x 2 3/8 = 111 5/8; 113 1/2 - 111 5/8 = 1 7/8, which is no sliver if 1 in is allowed
    found = [round(width / IN, 4) for width in widths(strips(1.0))]
    assert found == [2.375] * 47 + [1.875]


def test_113_and_a_half_inches_between_two_equal_rows() -> None:
    # with 2 in the least: 46 x 2 3/8 = 109 1/4; (113 1/2 - 109 1/4) / 2 = 2 1/8
    found = [round(width / IN, 4) for width in widths(strips(2.0))]
    assert found == [2.125] + [2.375] * 46 + [2.125]


W28 = Rules(gap_mm=10.0, narrowest_row_mm=50.0)


def test_3200_is_16_whole_rows_and_108() -> None:
    # handbook example W28: 3200 - 2 x 10 = 3180 = 16 x 192 + 108
    assert widths(planned(3200.0, Board(1285.0, 192.0), W28)) == [192.0] * 16 + [108.0]


def test_3100_shares_its_remainder() -> None:
    # W28: 3080 = 16 x 192 + 8; 8 is a sliver, so (192 + 8) / 2 = 100 twice and 15 whole rows;
    # halving the remainder itself would have left two slivers of 4
    assert widths(planned(3100.0, Board(1285.0, 192.0), W28)) == [100.0] + [192.0] * 15 + [100.0]


@pytest.mark.parametrize("remainder", [2, 8, 30, 49])
def test_a_small_remainder_is_shared_with_a_whole_row_never_halved(remainder: int) -> None:
    found = widths(planned(20.0 + 10 * 192 + remainder, Board(1285.0, 192.0), W28))
    shared = (192.0 + remainder) / 2.0
    assert found == [shared] + [192.0] * 9 + [shared]


def test_a_remainder_of_a_millimeter_is_left_to_the_gaps() -> None:
    # 1921 = 10 x 192 + 1: nobody rips two rows for it; half of it is left open beside each wall
    plan = planned(20.0 + 10 * 192 + 1, Board(1285.0, 192.0), W28)
    assert widths(plan) == [192.0] * 10
    assert [finding.code for finding in plan.findings] == ["scrap"]
    assert plan.findings[0].where == "beside rows 1 and 10"


def test_every_narrow_limit_up_to_half_a_board_can_be_kept() -> None:
    """From any depth: no outer row below half a board has to be left."""
    for depth in range(1000, 1200, 7):
        found = widths(planned(float(depth), Board(1285.0, 192.0), Rules(narrowest_row_mm=96.0)))
        assert min(found) >= 96.0 - 0.001, depth
        assert sum(found) == pytest.approx(depth - 16.0, abs=0.01)


# --- direction and walls ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("laid", "wall", "angle"),
    [
        # facing A-B from inside (looking down the page), left is +x: left to right runs to -x
        ("left-to-right", "A-B", 180.0),
        ("right-to-left", "A-B", 0.0),
        ("left-to-right", "C-D", 0.0),
        # facing B-C (looking to +x), left is +y: left to right runs down the page
        ("left-to-right", "B-C", 270.0),
        ("right-to-left", "B-C", 90.0),
        ("right-to-left", "D-A", 270.0),
    ],
)
def test_row_angle_of_a_start_wall(laid: Laid, wall: str, angle: float) -> None:
    assert row_angle(rectangle(), laid, Wishes(start_wall=wall)) == angle


def test_rows_run_along_the_longest_wall_unless_wished() -> None:
    deep = Room(rectangle(3000.0, 5000.0).outline)
    assert row_angle(deep, "left-to-right", Wishes()) % 180.0 == 90.0
    assert row_angle(deep, "left-to-right", Wishes(row_wall="A-B")) % 180.0 == 0.0
    assert row_angle(deep, "left-to-right", Wishes(row_angle_deg=-30.0)) == 330.0


def test_the_start_wall_is_the_one_wished_or_faced() -> None:
    room, board = rectangle(), Board(1285.0, 192.0)
    for wall in ("A-B", "B-C", "C-D", "D-A"):
        rowing = choose_rows(
            build_floor(room, Rules()), room, board, Rules(), Wishes(start_wall=wall)
        )
        assert rowing.laying.start_wall == wall
        assert rowing.laying.laid == "left-to-right"
    # rows at 40 degrees: the wall nearest to facing them
    rowing = choose_rows(
        build_floor(room, Rules()), room, board, Rules(), Wishes(row_angle_deg=40.0)
    )
    assert rowing.laying.start_wall == start_wall(room, rowing.frame) == "C-D"


def test_a_wished_first_row_is_taken_as_it_is() -> None:
    found = widths(planned(1000.0, Board(1285.0, 192.0), Rules(), Wishes(first_row_mm=120.0)))
    # 984 = 120 + 4 x 192 + 96
    assert found == pytest.approx([120.0, 192.0, 192.0, 192.0, 192.0, 96.0])


def test_an_impossible_direction_is_refused_before_anything_is_cut() -> None:
    with pytest.raises(InputError, match="under a laid tongue"):
        planned(3000.0, Board(1285.0, 192.0), Rules(), Wishes(laid="right-to-left"))


def test_a_crooked_room_has_no_narrow_row_where_one_can_be_avoided() -> None:
    # the far wall falls by 60 over 4000: some offset leaves 50 everywhere
    room = Room(Polygon([(0, 0), (4000, 0), (4000, 2940), (0, 3000)]))
    plan = plan_room(room, Board(1285.0, 192.0), effort=QUICK)
    assert "narrow-row" not in Counter(finding.code for finding in plan.findings)


@pytest.mark.parametrize("name", zoo())
def test_row_one_is_the_first_there_is(name: str) -> None:
    plan = plan_room(zoo()[name], Board(1285.0, 192.0), effort=QUICK)
    rows = {piece.row for piece in plan.pieces}
    assert rows == set(range(1, len(rows) + 1))


def test_outer_rows_grow_where_the_packs_stay_the_same() -> None:
    # 3000 x 1980: 10 rows of 192 and 60, under a third of a board (64): with a board a pack the
    # row 1 stays whole; with 8, both outer rows are (192 + 60) / 2 = 126, and no pack more is taken
    room = Room(box(0.0, 0.0, 3000.0, 1980.0))
    rules = Rules(gap_mm=0.0, narrowest_row_mm=50.0)

    def outer(per_pack: int) -> tuple[float, float, int]:
        plan = plan_room(room, Board(1285.0, 192.0, per_pack=per_pack), rules, effort=QUICK)
        found = widths(plan)
        return found[0], found[-1], plan.packs

    assert outer(8)[:2] == (126.0, 126.0)
    assert outer(8)[2] <= math.ceil(outer(1)[2] / 8)


def test_a_last_row_of_a_third_of_a_board_leaves_row_1_whole() -> None:
    room = Room(box(0.0, 0.0, 3000.0, 10 * 192.0 + 70.0))
    plan = plan_room(room, Board(1285.0, 192.0), Rules(gap_mm=0.0), effort=QUICK)
    assert widths(plan) == [192.0] * 10 + [70.0]
