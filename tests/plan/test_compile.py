"""From floats to ticks: what is rounded which way, and where no joint may be."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, box

from plankwright.geometry.rows import contacts, cut_rows
from plankwright.model.board import Board
from plankwright.model.rules import Rules
from plankwright.optimize.instance import Instance
from plankwright.plan.compile import compile_instance, down, up

BOARD = Board(1000.0, 200.0)
RULES = Rules(gap_mm=0.0, shortest_piece_mm=250.0, joint_offset_mm=200.0)


def compiled(floor: Polygon, rules: Rules = RULES, board: Board = BOARD) -> Instance:
    stretches = cut_rows(MultiPolygon([floor]), board.width_mm, 0.0)
    return compile_instance(stretches, contacts(stretches), board, rules, 1.0)


@settings(derandomize=True)
@given(st.integers(0, 10**8))
def test_a_length_on_the_tape_is_exact(sixteenths: int) -> None:
    # 1/16 in is 15,875 ticks of 1/10,000 mm
    mm = float(Fraction(127, 80) * sixteenths)
    assert up(mm) == down(mm) == 15_875 * sixteenths


def test_needs_go_up_and_room_goes_down() -> None:
    assert (up(1.00004), down(1.00006)) == (10_001, 10_000)
    assert (up(1.00001), down(0.99999)) == (10_001, 9_999)
    # a thousandth of a tick is float noise
    assert (up(0.1 + 0.2), down(0.3 - 1e-12)) == (3000, 3000)


def test_a_floor_of_two_rows() -> None:
    instance = compiled(box(0, 0, 2500, 400))
    assert (instance.board, instance.cut, instance.shortest) == (10_000_000, 60_000, 2_500_000)
    assert (instance.offset, instance.grid) == (2_000_000, 10_000)
    assert [(s.length, s.start, s.forbidden) for s in instance.stretches] == [
        (25_000_000, 0, ())
    ] * 2
    (contact,) = instance.contacts
    assert (contact.wall_side, contact.room_side, contact.low, contact.high) == (
        0, 1, 0, 25_000_000,
    )  # fmt: skip


def fork(*, far: bool) -> Polygon:
    """A row of 2500 with a slot at one end: the upper prong is 50 shorter than the lower."""
    shape = box(0, 0, 2500, 200).difference(box(0, 80, 400, 120)).difference(box(0, 80, 50, 200))
    return Polygon([(2500 - u, v) for u, v in shape.exterior.coords]) if far else shape


def test_no_joint_where_it_leaves_a_near_prong_too_short() -> None:
    # the upper prong runs from 50 to 400; a joint before 50 + 250 = 300 cuts it too short
    (stretch,) = compiled(fork(far=False)).stretches
    assert stretch.forbidden == ((500_000, 3_000_000),)


def test_no_joint_where_it_leaves_a_far_prong_too_short() -> None:
    # mirrored: from 2500 - 300 = 2200 to 2500 - 50 = 2450
    (stretch,) = compiled(fork(far=True)).stretches
    assert stretch.forbidden == ((22_000_000, 24_500_000),)


def test_a_short_prong_is_kept_whole() -> None:
    # shorter than the shortest piece, 50 to 250: no joint in it at all
    shape = box(0, 0, 2500, 200).difference(box(0, 80, 250, 120)).difference(box(0, 80, 50, 200))
    (stretch,) = compiled(shape).stretches
    assert stretch.forbidden == ((500_000, 2_500_000),)


def test_no_joint_where_a_tip_is_too_thin_for_one() -> None:
    # a tip that opens by 1 in 50: 1 mm thick 50 mm from its point
    shape = Polygon([(0, 200), (10_000, 0), (12_000, 0), (12_000, 200)])
    (stretch,) = compiled(shape).stretches
    assert stretch.forbidden == ((0, 500_000),)


def test_no_piece_that_nobody_could_saw() -> None:
    assert compiled(box(0, 0, 2500, 200), Rules(shortest_piece_mm=0.0)).shortest == 50_000
