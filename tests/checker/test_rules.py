"""Single rules on small plans whose joints are given: neighbors, nesting, rips, excuses."""

import pytest
import shapely
from shapely import MultiPolygon, Polygon, box
from tests.checker.plan_maker import (
    BOARD,
    NOTHING,
    changed,
    make_plan,
    plain_room,
    post_room,
    ring,
    slanted_room,
)
from tests.checker.test_corruptions import near_joint, piece_of, short_end, sliver_row

from plankwright.checker.check import check_plan
from plankwright.checker.chords import chords_of_lines
from plankwright.checker.counts import proven_by_prices
from plankwright.checker.edges import find_meetings
from plankwright.checker.verdict import FAULT_CODES
from plankwright.checker.view import look_at, wide_parts
from plankwright.model.board import Board, EndLock
from plankwright.model.findings import Finding
from plankwright.model.plan import Evidence, Plan, PlanFixed, RowKind, StockBoard


def codes(plan: Plan) -> set[str]:
    return {fault.code for fault in check_plan(plan).faults}


# --- joint offsets ---------------------------------------------------------------------------


def two_rows(first: float, second: float, *things: PlanFixed) -> Plan:
    """2.2 m, two rows, one joint in each; fixed things of gap 0 cut out of the floor."""
    floor = box(0, 0, 2200, 384)
    for thing in things:
        floor = floor.difference(thing.outline)
    return make_plan(
        ring(0, 0, 2200, 384),
        floor,
        rules=NOTHING,
        start_line=0.0,
        fixed=things,
        cuts={(1, 1): [first], (2, 1): [second]},
    )


def test_joints_closer_than_the_offset_are_found() -> None:
    faults = check_plan(two_rows(1000.0, 1100.0)).faults
    assert [fault.code for fault in faults] == ["joint-offset"]
    assert faults[0].place == "1.1.1 1.1.2 2.1.1 2.1.2"
    assert "100.0 mm apart" in faults[0].message


def test_joints_at_the_offset_pass() -> None:
    assert check_plan(two_rows(950.0, 1250.0)).ok
    assert codes(two_rows(950.0, 1249.0)) == {"joint-offset"}


def test_a_post_on_the_row_line_parts_two_joints() -> None:
    post = PlanFixed("post", box(1040, 160, 1060, 220), 0.0, "post")
    assert check_plan(two_rows(1000.0, 1100.0, post)).ok


def test_a_post_off_the_row_line_does_not() -> None:
    post = PlanFixed("post", box(1040, 60, 1060, 160), 0.0, "post")
    assert codes(two_rows(1000.0, 1100.0, post)) == {"joint-offset"}


# --- cuts ------------------------------------------------------------------------------------

LEAN = 19.2  # over one row
# Two pieces whose slanted ends lie 3 mm apart, measured square to the saw cut.
ALONG = 3.0 * (1.0 + (LEAN / 192.0) ** 2) ** 0.5


def nested_plan(apart: float) -> Plan:
    """One stretch, longer than a board, from one board: both walls lean, so the ends nest.

    The parallelogram is a + b = 1285 + 19.2 - ``apart`` long in all.
    """
    a = 700.0
    total = 1285.0 + LEAN - apart
    floor = Polygon([(0, 0), (total - LEAN, 0), (total, 192), (LEAN, 192)])
    rules = changed(NOTHING, kerf_mm=3.0)
    plan = make_plan(floor, floor, rules=rules, start_line=0.0, cuts={(1, 1): [a]})
    first = changed(plan.pieces[0], cut_order=1)
    end = changed(
        plan.pieces[1], board=first.board, from_near_mm=0.0, near_end="factory", label="A"
    )
    boards = changed(plan.boards, used=1, bound=1, status="optimal")
    return changed(plan, pieces=(first, end), boards=boards, packs=1)


def test_slanted_ends_nest_by_true_shape() -> None:
    verdict = check_plan(nested_plan(ALONG))
    assert verdict.ok, verdict.faults


def test_nested_pieces_keep_the_kerf() -> None:
    assert codes(nested_plan(ALONG - 0.2)) == {"board-clash"}


def test_prices_do_not_forget_nesting() -> None:
    # Along the rows' bounding rectangle the stretch is longer than a board, and a bound of 2
    # would follow; along any one line it is not.
    plan = nested_plan(ALONG)
    prices = Evidence("prices", ((0.0, 0.0), (1.0, 1.0)))
    plan = changed(plan, boards=changed(plan.boards, bound=2, evidence=prices))
    view = look_at(plan)
    proven = proven_by_prices(view, find_meetings(view), 2)
    assert isinstance(proven, int)
    assert proven <= 1


def test_lines_measure_slanted_stretches_where_they_cut_them() -> None:
    # The near wall leans 19.2 mm over a row: the chord is shorter than the extent by up to that.
    view = look_at(slanted_room())
    needs = [chord.need for chord in next(chords_of_lines(view, find_meetings(view)))]
    extents = shapely.bounds(view.stretches)
    assert len(needs) == len(extents) == 11
    for need, (u0, _, u1, _) in zip(needs, extents, strict=True):
        lost = u1 - u0 - need.length / 10_000
        assert 0.0 < lost < 19.2
        assert need.starter == pytest.approx((300.0 - lost) * 10_000, abs=2)
        assert need.end == 3_000_000


# --- lines for the bound ---------------------------------------------------------------------


def test_one_line_meets_all_rows_of_a_plain_room() -> None:
    view = look_at(plain_room())
    needs = [chord.need for chord in next(chords_of_lines(view, find_meetings(view)))]
    assert [need.length for need in needs] == [39_840_000] * 16  # 4000 less two gaps of 8 mm


def test_two_rips_that_fit_in_one_board_are_not_both_counted() -> None:
    # rows of 80, 192 and 60 mm: 80 + 60 < 192, so the two outer rows can share boards
    plan = make_plan(ring(0, 0, 3000, 332), box(0, 0, 3000, 332), rules=NOTHING, start_line=-112.0)
    view = look_at(plan)
    assert max(len(chords) for chords in chords_of_lines(view, find_meetings(view))) == 2


def test_two_rips_that_overlap_are_both_counted() -> None:
    # rows of 120, 192 and 100 mm: 120 + 100 > 192, so some line meets all three
    plan = make_plan(ring(0, 0, 3000, 412), box(0, 0, 3000, 412), rules=NOTHING, start_line=-72.0)
    view = look_at(plan)
    assert len(next(chords_of_lines(view, find_meetings(view)))) == 3


# --- laying ----------------------------------------------------------------------------------


def backwards(plan: Plan, first: int) -> Plan:
    """Rows before ``first`` joined on their room side, laid after all others."""
    ahead = [piece for piece in plan.pieces if piece.row >= first]
    behind = [piece for piece in plan.pieces if piece.row < first]
    behind.sort(key=lambda piece: (-piece.row, piece.stretch, piece.seat))
    order = {piece.id: number for number, piece in enumerate(ahead + behind, start=1)}
    pieces = tuple(changed(piece, lay_order=order[piece.id]) for piece in plan.pieces)
    rows = tuple(RowKind(row, joined="room-side") for row in range(1, first))
    return changed(plan, pieces=pieces, rows=rows)


def test_rows_may_be_laid_backwards_when_they_say_so() -> None:
    allowed = plain_room(board=changed(BOARD, laid_backwards=True))
    assert check_plan(backwards(allowed, 5)).ok
    assert codes(changed(backwards(allowed, 5), rows=())) == {"lay-order"}


def test_rows_are_not_laid_backwards_where_the_leaflet_does_not_say_so() -> None:
    assert codes(backwards(plain_room(), 5)) == {"lay-order"}


def test_only_some_stretches_of_a_row_may_be_laid_backwards() -> None:
    plan = backwards(plain_room(board=changed(BOARD, laid_backwards=True)), 5)
    named = changed(plan, rows=tuple(changed(row, stretches=(1,)) for row in plan.rows))
    assert check_plan(named).ok
    other = changed(plan, rows=tuple(changed(row, stretches=(2,)) for row in plan.rows))
    assert codes(other) == {"lay-order"}


def test_turned_rows_swap_near_and_far_wall_and_room() -> None:
    plan = plain_room()
    length, width = plan.board.length_mm, plan.board.width_mm
    last = len(plan.pieces)
    pieces = tuple(
        changed(
            piece,
            from_near_mm=length - piece.length_mm - piece.from_near_mm,
            from_wall_side_mm=width - piece.width_mm - piece.from_wall_side_mm,
            lay_order=last - piece.lay_order,
        )
        for piece in plan.pieces
    )
    rows = tuple(RowKind(row, turned=True) for row in range(1, 17))
    assert "lay-order" in codes(changed(plan, pieces=pieces, rows=rows))  # no spline
    tongues = changed(plan.board, spline=True)  # a spline joins two grooves
    assert codes(changed(plan, board=tongues, pieces=pieces, rows=rows)) == {"lay-order"}
    board = changed(tongues, start_side="groove")
    verdict = check_plan(changed(plan, board=board, pieces=pieces, rows=rows))
    assert verdict.ok, verdict.faults[:3]
    assert codes(changed(plan, pieces=pieces)) >= {"factory-joint", "lay-order"}


@pytest.mark.parametrize(
    ("lock", "either_way", "closes"),
    [
        ("drop", True, False),
        ("angle", False, False),
        ("angle", True, True),
        ("tap", False, True),
        ("loose", False, True),
    ],
)
def test_locks_that_close_with_the_groove_end_near(
    lock: EndLock, either_way: bool, closes: bool
) -> None:
    board = Board(1285.0, 192.0, tongue_end="left", end_lock=lock, either_way=either_way)
    assert (codes(plain_room(board=board)) == set()) is closes


def test_a_reversible_board_may_be_laid_in_any_order() -> None:
    board = Board(1285.0, 192.0, reversible=True)
    plan = plain_room(board=board)
    piece = piece_of(plan, "5.1.1")
    pieces = tuple(changed(p, lay_order=0) if p is piece else p for p in plan.pieces)
    assert check_plan(changed(plan, pieces=pieces)).ok


# --- excuses ---------------------------------------------------------------------------------


def excused(plan: Plan, code: str, where: str) -> tuple[set[str], set[str]]:
    verdict = check_plan(changed(plan, findings=(Finding(code, where, "…"),)))
    return {f.code for f in verdict.faults}, {f.code for f in verdict.excused}


def test_a_finding_excuses_a_joint_offset_of_the_piece_it_names() -> None:
    plan = two_rows(1000.0, 1100.0)
    for where in ("2.1.2", "1.1.1 and 2.1.1", "1.1.1 1.1.2 2.1.1 2.1.2"):
        assert excused(plan, "joint-offset", where) == (set(), {"joint-offset"})
    for where in ("3.1.1", "1.1.1 3.1.1", "2.1", "", "boards"):
        assert excused(plan, "joint-offset", where) == ({"joint-offset"}, set())


def test_a_finding_of_another_code_excuses_nothing() -> None:
    plan = two_rows(1000.0, 1100.0)
    assert excused(plan, "short-piece", "2.1.2") == ({"joint-offset"}, set())


def test_a_finding_excuses_one_piece_of_a_sliver_row_only() -> None:
    faults, lifted = excused(sliver_row(), "narrow-row", "1.1.1")
    assert "narrow-row" in faults
    assert "narrow-row" in lifted


def test_short_pieces_and_wide_gaps_can_be_excused() -> None:
    _, lifted = excused(short_end(), "short-piece", "5.1.1")
    assert "short-piece" in lifted
    plan = plain_room()
    wide = changed(plan, rules=changed(plan.rules, trim_cover_mm=5.0))
    _, lifted = excused(wide, "gap-uncovered", "A-B")
    assert lifted == {"gap-uncovered"}
    small = changed(plan, rules=changed(plan.rules, least_gap_mm=8.0), edges=(("A-B", 5.0),))
    assert "gap-too-small" in excused(small, "gap-too-small", "B-C")[0]
    assert excused(small, "gap-too-small", "A-B")[1] == {"gap-too-small"}


def test_cracks_are_never_excused() -> None:
    plan = near_joint()
    plan = changed(plan, pieces=plan.pieces[:-1])
    faults, _ = excused(plan, "gap-uncovered", plan.pieces[-1].id)
    assert "crack" in faults


# --- odds and ends ---------------------------------------------------------------------------


def test_every_fault_has_a_documented_code() -> None:
    plans = (near_joint(), short_end(), sliver_row())
    assert all(fault.code in FAULT_CODES for plan in plans for fault in check_plan(plan).faults)


def test_a_floor_that_vanishes_needs_no_pieces() -> None:
    room = ring(0, 0, 3000, 14)  # two gaps of 8 mm eat it
    plan = changed(plain_room(), room=room, floor=MultiPolygon(), pieces=(), packs=0)
    plan = changed(plan, boards=changed(plan.boards, used=0, bound=0))
    assert check_plan(plan).ok
    assert "outside" in codes(changed(plain_room(), floor=MultiPolygon()))


def test_an_offcut_of_the_shelf_serves() -> None:
    plan = plain_room()
    piece = piece_of(plan, "2.1.1")
    shelf = StockBoard(500, piece.length_mm + 40.0, "far", label="S1")
    taken = changed(piece, board=500, from_near_mm=40.0, far_end="factory", label="S1")
    pieces = tuple(taken if p is piece else p for p in plan.pieces)
    used = len({p.board for p in pieces} - {500})
    spoiled = changed(plan, pieces=pieces, stock=(shelf,))
    spoiled = changed(spoiled, boards=changed(plan.boards, used=used, bound=45))
    found = codes(spoiled)
    assert found <= {"label"}  # the offcut that 2.1.1 left is now cut first
    wrong = changed(spoiled, stock=(changed(shelf, ends="near"),))
    assert "factory-joint" in codes(wrong)


def test_wide_parts_joins_the_halves_of_a_crack_and_drops_threads() -> None:
    halves = [box(0, 0, 100, 0.4), box(0, 0.4, 100, 0.8)]
    assert len(wide_parts(halves)) == 1
    assert wide_parts([box(0, 0, 100, 0.4)]) == []
    assert wide_parts([box(0, 0, 1000, 0.001)]) == []


def test_two_parts_of_a_row_are_two_stretches() -> None:
    view = look_at(post_room())
    assert (view.stretch_rows == 7).sum() == 2
    assert BOARD.length_mm == 1285.0


# --- gaps of different width at one corner ----------------------------------------------------


def corner_plan(past_corner: float, under_wide: float) -> Plan:
    """An L whose inner corner D stands out into the room: gap 16 along C-D, 5 along D-E.

    ``past_corner`` is the floor's distance from D-E, ``under_wide`` the one from C-D.
    """
    room = Polygon([(0, 0), (2000, 0), (2000, 192), (1000, 192), (1000, 384), (0, 384)])
    x, y = 1000.0 - past_corner, 192.0 - under_wide
    floor = Polygon([(0, 0), (2000, 0), (2000, y), (x, y), (x, 384), (0, 384)])
    gaps = (("C-D", 16.0), ("D-E", 5.0))
    return make_plan(room, floor, rules=NOTHING, start_line=y - 192.0, edges=gaps,
                     cuts={(1, 1): [1000.0]})  # fmt: skip


def test_a_narrow_gap_may_pass_the_end_of_a_wide_one() -> None:
    assert "gap" not in codes(corner_plan(5.0, 16.0))


def test_neither_gap_may_be_narrower_there() -> None:
    assert "gap" in codes(corner_plan(4.0, 16.0))
    assert "gap" in codes(corner_plan(5.0, 15.0))
