"""Laying orders that can be followed on paper, and two hundred that a simulator lays."""

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from shapely import Polygon, box
from tests.application.test_plan_room import sample
from tests.plan.laying_rooms import any_u, closet_room, l_room, post_room, u_room
from tests.plan.laying_simulator import lay_all

from plankwright.checker.check import check_plan
from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.plan import Plan, RowKind
from plankwright.model.room import Doorway, FixedThing, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort
from plankwright.plan.laying_order import LayingOrder, in_order, order_plan
from plankwright.plan.planner import Task, make_plan
from plankwright.testing.zoo import rectangle, zoo

BOARD = Board(1285.0, 192.0)
BACKWARDS = replace(BOARD, laid_backwards=True)
NO_GAP = Rules(gap_mm=0.0)
QUICK = Effort(moves=10, looks=0, prove=False)


def planned(
    room: Room, board: Board = BOARD, wishes: Wishes | None = None, rules: Rules = NO_GAP
) -> Plan:
    return make_plan(Task(room, board, rules, wishes or Wishes(), effort=QUICK))


def ordered(
    room: Room, board: Board = BOARD, wishes: Wishes | None = None, rules: Rules = NO_GAP
) -> tuple[Plan, LayingOrder]:
    plan = planned(room, board, wishes, rules)
    order = order_plan(plan, wishes)
    return in_order(plan, order), order


def rows_in_order(plan: Plan) -> list[tuple[int, int]]:
    """Row and stretch of each piece as it is laid, each stretch once."""
    laid = sorted(plan.pieces, key=lambda piece: piece.lay_order)
    return list(dict.fromkeys((piece.row, piece.stretch) for piece in laid))


# --- on paper ----------------------------------------------------------------------------------


def test_a_plain_room_is_laid_row_by_row() -> None:
    plan, order = ordered(rectangle())
    assert rows_in_order(plan) == [(row, 1) for row in range(1, 17)]
    assert [start.row for start in order.starts] == [1]
    assert (order.rows, order.awkward, order.too_long, order.rows_backwards) == ((), (), (), 0)
    assert [piece.lay_order for piece in plan.pieces] == list(range(1, len(plan.pieces) + 1))


U_FROM_BELOW = Wishes(start_wall="A-B", first_row_mm=192.0)


def test_two_legs_are_laid_one_after_the_other_before_the_row_that_joins_them() -> None:
    # legs of 1920 mm: ten rows each; row 11 lies across both
    room = u_room(leg=1920.0)
    plan, order = ordered(room, wishes=U_FROM_BELOW)
    legs = [(row, 1) for row in range(1, 11)] + [(row, 2) for row in range(1, 11)]
    assert rows_in_order(plan)[:21] == [*legs, (11, 1)]
    assert [(s.row, s.stretch, s.meets_row) for s in order.starts] == [(1, 1, None), (1, 2, 11)]
    assert check_plan(plan).ok


def test_a_short_leg_is_laid_backwards_where_the_leaflet_allows_it() -> None:
    # three rows of the right leg: cheaper to lay backwards than to snap a second line for
    room = u_room(leg=576.0)
    plan, order = ordered(room, BACKWARDS, U_FROM_BELOW)
    assert len(order.starts) == 1
    assert order.rows == tuple(
        RowKind(row, joined="room-side", stretches=(2,)) for row in (1, 2, 3)
    )
    assert rows_in_order(plan)[:4] == [(1, 1), (2, 1), (3, 1), (4, 1)]
    assert rows_in_order(plan)[-3:] == [(3, 2), (2, 2), (1, 2)]
    assert check_plan(plan).ok
    assert lay_all(plan).refused == []


def test_a_long_leg_gets_a_line_of_its_own_even_so() -> None:
    _, order = ordered(u_room(leg=1920.0), BACKWARDS, U_FROM_BELOW)
    assert order.rows == ()
    assert len(order.starts) == 2


CLOSET = Wishes(start_wall="A-B", first_row_mm=192.0)


def test_a_closet_behind_the_start_wall_comes_first_or_backwards() -> None:
    # closet of 768 mm: rows 1 to 4, 900 long; row 5 of 4200 hangs on 900 of them: less than a
    # quarter of its length, so it needs a line of its own
    room = closet_room(deep=768.0)
    plan, order = ordered(room, wishes=CLOSET)
    assert rows_in_order(plan)[0] == (1, 1)
    assert [(s.row, s.meets_row) for s in order.starts] == [(1, None), (5, 5)]
    plan, order = ordered(room, BACKWARDS, CLOSET)
    assert [s.row for s in order.starts] == [5]
    assert rows_in_order(plan)[0] == (5, 1)
    assert rows_in_order(plan)[-4:] == [(4, 1), (3, 1), (2, 1), (1, 1)]
    assert order.rows_backwards == 4
    assert check_plan(plan).ok
    assert lay_all(plan).refused == []


def test_beginning_at_an_inner_line_is_for_locks_that_allow_it() -> None:
    wishes = Wishes(begin_row=7)
    with pytest.raises(InputError, match="laid backwards"):
        ordered(rectangle(), wishes=wishes)
    with pytest.raises(InputError, match="no such row"):
        ordered(rectangle(), BACKWARDS, Wishes(begin_row=70))
    plan, order = ordered(rectangle(), BACKWARDS, wishes)
    rows = [row for row, _ in rows_in_order(plan)]
    assert rows == [*range(7, 17), *range(6, 0, -1)]
    assert order.rows == tuple(RowKind(row, joined="room-side") for row in range(1, 7))
    plan, _ = ordered(rectangle(), wishes=Wishes(begin_row=1))
    assert [row for row, _ in rows_in_order(plan)] == list(range(1, 17))


def test_half_a_room_at_a_time_stops_on_a_row_joint() -> None:
    plan, order = ordered(rectangle(), wishes=Wishes(half_at_a_time=True))
    assert order.stop is not None
    # 3000 mm from a first row of 192: row 8 ends at 1536, just over half
    assert (order.stop.after_row, order.stop.share) == (8, 0.512)
    # with two legs the first half has the rows of both
    plan, order = ordered(u_room(leg=1920.0), wishes=replace(U_FROM_BELOW, half_at_a_time=True))
    assert order.stop is not None
    before = [row for row, _ in rows_in_order(plan) if row <= order.stop.after_row]
    assert [row for row, _ in rows_in_order(plan)][: len(before)] == before


def test_rows_one_and_two_are_woven_together() -> None:
    plan, order = ordered(rectangle(), wishes=Wishes(first_rows_together=True))
    assert order.together
    first = [piece.row for piece in plan.pieces[:8]]
    assert sorted(first) == [1, 1, 1, 1, 2, 2, 2, 2]
    assert first != sorted(first)
    assert lay_all(plan).refused == []
    assert check_plan(plan).ok


def test_a_row_that_is_tilted_in_as_a_whole_is_too_long_for_one() -> None:
    angle = replace(BOARD, end_lock="angle")
    assert ordered(rectangle(), angle)[1].too_long == ()  # 4000 mm is the limit, kept
    _, order = ordered(rectangle(), angle, Wishes(longest_alone_mm=3999.0))
    assert order.too_long == tuple(range(1, 17))
    _, order = ordered(rectangle(), BOARD, Wishes(longest_alone_mm=3999.0))
    assert order.too_long == ()  # dropped in one by one


def test_parts_of_a_floor_are_laid_one_after_the_other() -> None:
    plan, order = ordered(zoo()["parted"], rules=Rules())
    first = {piece.row for piece in plan.pieces if piece.stretch == 1}
    assert len(order.starts) == 2
    assert order.starts[1].meets_row is None
    assert [stretch for _, stretch in rows_in_order(plan)][: len(first)] == [1] * len(first)


def test_a_panel_lifts_out_with_joints_on_its_edges() -> None:
    panel = box(1000, 1000, 1600, 1500)
    room = replace(rectangle(), fixed=(FixedThing("panel", panel, name="clean-out"),))
    plan, order = ordered(room, rules=Rules())
    assert check_plan(plan).ok
    inside = [piece for piece in plan.pieces if panel.covers(piece.outline)]
    assert len(inside) >= 3
    for piece in plan.pieces:  # no piece runs across an edge
        assert piece in inside or piece.outline.intersection(panel).area < 1e-6
    assert sum(piece.outline.area for piece in inside) == pytest.approx(597 * 497)
    assert len(order.starts) == 1
    assert lay_all(plan).refused == []


# --- what cannot be tilted ---------------------------------------------------------------------


def with_thing(kind: str, outline: Polygon, clearance: float | None) -> Room:
    thing = FixedThing(kind, outline, clearance_mm=clearance, name=f"the {kind}")  # type: ignore[arg-type]
    return replace(rectangle(), fixed=(thing,))


def test_under_a_radiator_the_last_row_needs_height() -> None:
    # row 16 covers 2880 to 3000 and is 120 wide; it is tilted by 25 degrees about 2880, its far
    # edge rises by 120 tan 25 = 56 mm and the board is 8 thick: 64 mm
    over = box(1000, 2900, 2000, 3000)
    _, order = ordered(with_thing("radiator", over, 63.0), wishes=CLOSET)
    assert {a.piece.split(".")[0] for a in order.awkward} == {"16"}
    assert [round(a.needs_mm, 1) for a in order.awkward] == [64.0] * len(order.awkward)
    assert order.awkward[0].remedies == ("Take it off its hooks, or lift it, while this piece goes "
                                         "in.",)  # fmt: skip
    _, order = ordered(with_thing("radiator", over, 64.0), wishes=CLOSET)
    assert order.awkward == ()


def test_shaving_and_gluing_comes_last_and_only_where_the_leaflet_allows_it() -> None:
    room = with_thing("toe-kick", box(1000, 2900, 2000, 3000), 30.0)
    plain = ordered(room, wishes=CLOSET)[1].awkward[0]
    assert len(plain.remedies) == 1
    allowed = ordered(room, replace(BOARD, shave_and_glue=True), CLOSET)[1].awkward[0]
    assert allowed.remedies[:1] == plain.remedies
    assert allowed.remedies[1].startswith("Shave the lip")


def test_the_first_row_lies_flat_and_is_pushed_under() -> None:
    room = with_thing("toe-kick", box(1000, 0, 2000, 80), 15.0)
    assert ordered(room, wishes=CLOSET)[1].awkward == ()


def test_under_the_near_jamb_a_starter_is_slid_under_the_far_one_is_awkward() -> None:
    # you face wall A-B, laying left to right: B-C is at your left, the near wall, D-A the far one
    for wall, awkward in (("B-C", False), ("D-A", True)):
        door = Doorway(wall, 1000.0, 800.0, depth_mm=80.0, stem_mm=10.0, undercut_mm=25.0)
        room = replace(rectangle(), doorways=(door,))
        wishes = Wishes(start_wall="A-B", laid="left-to-right")
        board = replace(BOARD, tongue_end="left", thickness_mm=8.0)
        plan, order = ordered(room, board, wishes, Rules())
        assert {over.kind for over in plan.overhangs} == {"jamb"}
        assert bool(order.awkward) == awkward
        for found in order.awkward:
            assert found.clearance_mm == 10.0  # board and 2 mm
            assert found.needs_mm > 10.0
        # pieces under jambs keep the gap behind them
        assert check_plan(plan).ok


# --- two hundred plans in the simulator --------------------------------------------------------


def test_the_simulator_is_no_rubber_stamp() -> None:
    plan, _ = ordered(rectangle())
    last = len(plan.pieces)
    for order, told in (
        ({p.id: last - p.lay_order for p in plan.pieces}, "cannot be joined"),
        ({p.id: (p.row % 2, p.lay_order) for p in plan.pieces}, "between two rows"),
        ({p.id: (p.row, p.seat % 2, p.seat) for p in plan.pieces}, "two pieces of its row"),
    ):
        ranks = {name: n for n, name in enumerate(sorted(order, key=lambda name: order[name]))}
        pieces = tuple(replace(p, lay_order=ranks[p.id]) for p in plan.pieces)
        assert any(told in words for words in lay_all(replace(plan, pieces=pieces)).refused)
    rows = (RowKind(1, joined="room-side"),)
    assert any("allow" in words for words in lay_all(replace(plan, rows=rows)).refused)


@cache
def real_rooms() -> list[Room]:
    return [*sample("rooms_agpl.geojson", 60), *sample("dwellings_agpl.geojson", 6)]


def drawn_rooms() -> Iterator[tuple[Room, Board, Wishes]]:
    chance = random.Random(4)
    for number in range(134):
        make = (l_room, any_u, post_room)[number % 3]
        room = make(chance)
        board = (BOARD, BACKWARDS)[number // 3 % 2]
        wall = chance.choice([edge.name for edge in room.edges()])
        begin = chance.randint(2, 6) if board is BACKWARDS and number % 4 else None
        yield room, board, Wishes(start_wall=wall, begin_row=begin)


def assert_can_be_laid(room: Room, board: Board, wishes: Wishes) -> LayingOrder:
    plan, order = ordered(room, board, wishes, Rules())
    laying = lay_all(plan)
    assert laying.refused == [], room.name
    assert laying.joined >= len(plan.pieces) - len(order.starts) - 1 - len(plan.pieces) // 8
    assert sorted(order.sequence) == sorted(piece.id for piece in plan.pieces)
    return order


def test_drawn_rooms_can_be_laid() -> None:
    orders = [assert_can_be_laid(*case) for case in drawn_rooms()]
    assert sum(order.rows_backwards > 0 for order in orders) > 40
    assert sum(len(order.starts) > 1 for order in orders) > 10


def test_real_rooms_can_be_laid() -> None:
    for room in real_rooms():
        assert_can_be_laid(room, BACKWARDS, Wishes())
