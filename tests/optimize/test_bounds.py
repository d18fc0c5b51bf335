"""Bounds: worked by hand, and never above what brute force finds."""

import random
from collections.abc import Sequence
from dataclasses import replace

import pytest
from tests.optimize.oracle import Piece, Row, Shop, fewest_boards, ways_to_cut

from plankwright.optimize.bounds import (
    Bound,
    area_bound,
    circulation_bound,
    packs,
    strips_bound,
)
from plankwright.optimize.prices import total, whole_boards
from plankwright.optimize.spans import Offcut, Side, Span

MM = 10_000
SIXTEENTH = 15_875  # 1/16 in


def room(length: int, rows: int, shortest: int = 300) -> list[Span]:
    return [Span(length * MM, shortest * MM)] * rows


def test_the_room_of_4_by_3_meters_needs_51_boards() -> None:
    # 16 x (3 + 1/6) = 50.67; by area alone 12 / (1.285 x 0.192) = 48.64, that is 49.
    bound = circulation_bound(1285 * MM, 0, room(4000, 16))
    assert bound.boards == 51
    assert bound.value == pytest.approx(50.0 + 2 / 3, abs=1e-6)
    assert bound.prices is not None
    assert len(bound.prices.lengths) == 7
    assert area_bound(4000 * 3000, 1285 * 192).boards == 49
    assert packs(bound.boards, 8) == 7


def test_the_same_room_with_a_gap_of_10_and_a_kerf_of_3_needs_51_too() -> None:
    # 3980 = 3 x 1285 + 125, and 128 with the kerf goes 7 times into 300 to 1160 + 128:
    # 16 x (3 + 1/7) = 50.29.
    bound = circulation_bound(1285 * MM, 3 * MM, room(3980, 16))
    assert bound.value == pytest.approx(16 * (3 + 1 / 7), abs=1e-6)
    assert bound.boards == 51


def test_lengths_in_inches_are_as_exact_as_lengths_in_millimeters() -> None:
    # Boards of 36 in, rows of 134 in, kerf 1/8 in: 134 = 3 x 36 + 26, so either a starter a leaves
    # a - 26 1/8, or with one board more it leaves a + 9 7/8.
    inch = 16 * SIXTEENTH
    spans = [Span(134 * inch, 12 * inch)] * 12
    bound = circulation_bound(36 * inch, 2 * SIXTEENTH, spans)
    by_area = 12 * 134 / 36
    assert by_area <= bound.value <= 48.0


def test_evidence_adds_up_to_the_bound() -> None:
    spans = [Span(length * MM, 300 * MM) for length in (3112, 3127, 3355, 4003, 4021, 700)]
    bound = circulation_bound(1285 * MM, 6 * MM, spans)
    assert bound.prices is not None
    assert bound.counted == tuple(range(6))
    assert whole_boards(total(bound.prices, spans, 1285 * MM, 6 * MM)) == bound.boards


def test_a_plan_in_hand_stops_the_work_early() -> None:
    spans = [Span(length * MM, 300 * MM) for length in range(3000, 3400, 13)]
    full = circulation_bound(1285 * MM, 3 * MM, spans)
    early = circulation_bound(1285 * MM, 3 * MM, spans, target=full.boards)
    coarse = circulation_bound(1285 * MM, 3 * MM, spans, arc_limit=0)
    assert early.boards == full.boards
    assert coarse.value <= full.value


def test_strips_of_the_two_sides_may_share_boards_when_they_fit() -> None:
    # Two rows of 1000, both narrower than a board of 192: 90 + 3 + 90 fit side by side, so one
    # board may do; 100 + 3 + 90 do not, so it takes two.
    def bound(first: int, last: int) -> int:
        spans = [Span(1000, side="room", width=first), Span(1000, side="wall", width=last)]
        return strips_bound(1285, 3, spans, board_width=192, kerf=3).boards

    assert bound(90, 90) == 1
    assert bound(100, 90) == 2


def test_strips_of_one_side_never_share_a_length_of_board() -> None:
    spans = [Span(1000, side="wall", width=20)] * 3
    assert strips_bound(1285, 3, spans, board_width=192, kerf=3).boards == 3
    none = [Span(1000, side="none", width=20)] * 3
    assert strips_bound(1285, 3, none, board_width=192, kerf=3).boards == 0


def test_the_better_of_the_two_sides_is_counted() -> None:
    # Three strips need the room side, one the wall side: three boards, and the wall side is not
    # counted.
    sides = [Span(1000, side="room", width=50)] * 3 + [Span(1000, side="wall", width=50)]
    bound = strips_bound(1285, 3, sides, board_width=192, kerf=3)
    assert (bound.boards, bound.counted) == (3, (0, 1, 2))


def test_nothing_to_lay_needs_no_boards() -> None:
    assert circulation_bound(1285, 3, []).boards == 0


# -- brute force ----------------------------------------------------------------------------

SEEDS = range(25)
SIDES: tuple[Side, ...] = ("full", "wall", "room", "none")
FLOORS_PER_SEED = 44  # 1,100 in all


def random_floor(rng: random.Random, with_strips: bool | None = None) -> tuple[Shop, list[Row]]:
    """A small floor: short and long stretches, some with strips, some that may be split."""
    board = rng.randint(5, 9)
    with_strips = rng.random() < 0.4 if with_strips is None else with_strips
    shop = Shop(
        board,
        cut=rng.randint(0, 2),
        shortest=rng.randint(1, board // 2),
        board_width=rng.randint(3, 5) if with_strips else 1,
        kerf=rng.randint(0, 1),
    )
    while True:
        rows = [_random_row(rng, shop) for _ in range(rng.randint(2, 4 if with_strips else 6))]
        ways = 1
        for row in rows:
            ways *= len(list(ways_to_cut(shop, row)))
        if 0 < ways <= 700:
            return shop, rows


def _random_row(rng: random.Random, shop: Shop) -> Row:
    side: Side = rng.choice(SIDES) if shop.board_width > 1 else "full"
    width = rng.randint(1, shop.board_width)
    return Row(rng.randint(1, 3 * shop.board), 0, side, width, rng.random() < 0.2)


def every_bound(shop: Shop, rows: Sequence[Row]) -> list[Bound]:
    spans = [Span(r.length, shop.shortest, r.split, r.side, r.width) for r in rows]
    widths = [shop.board_width if row.side == "full" else row.width for row in rows]
    area = sum(row.length * width for row, width in zip(rows, widths, strict=True))
    found = [
        area_bound(area, shop.board * shop.board_width),
        strips_bound(shop.board, shop.cut, spans, board_width=shop.board_width, kerf=shop.kerf),
    ]
    if shop.board_width == 1:
        found.append(circulation_bound(shop.board, shop.cut, spans))
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_no_bound_exceeds_what_brute_force_finds(seed: int) -> None:
    rng = random.Random(seed)
    met = 0
    for _ in range(FLOORS_PER_SEED):
        shop, rows = random_floor(rng)
        fewest = fewest_boards(shop, rows)
        assert fewest is not None
        bounds = [bound.boards for bound in every_bound(shop, rows)]
        assert max(bounds) <= fewest, (shop, rows)
        met += max(bounds) == fewest
    assert met >= 0.75 * FLOORS_PER_SEED  # nearly exact even on floors made to be awkward


@pytest.mark.parametrize("seed", range(10))
def test_a_bound_holds_for_reversible_boards_too(seed: int) -> None:
    # Where boards can be turned, go from stretch to board to stretch by the pieces they share, and
    # turn every stretch so that each board gives one starter and one end piece: the same count.
    rng = random.Random(1_000 + seed)
    for _ in range(20):
        shop, rows = random_floor(rng, with_strips=False)
        fewest = fewest_boards(replace(shop, reversible=True), rows)
        assert fewest is not None
        assert max(bound.boards for bound in every_bound(shop, rows)) <= fewest, (shop, rows)


def test_an_offcut_at_hand_saves_a_board_where_it_fits() -> None:
    # A row of 15, boards of 10: 15 = a + b takes two cut pieces of 5 from one board, exactly 1.5
    # boards of length; a starter of 8 at hand leaves 7 to be cut from one board.
    spans = [Span(15, shortest=3)]
    assert circulation_bound(10, 0, spans).boards == 2
    assert circulation_bound(10, 0, spans, shelf=[Offcut(8, "far")]).boards == 1
    assert circulation_bound(10, 0, spans, shelf=[Offcut(8, "near")]).boards == 1
    assert circulation_bound(10, 0, spans, shelf=[Offcut(4, "far")]).boards == 2


@pytest.mark.parametrize("seed", range(10))
def test_a_bound_holds_with_offcuts_at_hand(seed: int) -> None:
    rng = random.Random(3_000 + seed)
    for _ in range(20):
        shop, rows = random_floor(rng, with_strips=False)
        begun, shelf = [], []
        for _ in range(rng.randint(1, 2)):
            cut_off = rng.randint(1, shop.board - shop.cut - 1)
            near = rng.random() < 0.5
            begun.append(Piece((0, 0), (cut_off, cut_off), near, not near, "full", 1))
            shelf.append(Offcut(shop.board - shop.cut - cut_off, "far" if near else "near"))
        fewest = fewest_boards(shop, rows, begun=begun)
        spans = [Span(row.length, shop.shortest, row.split) for row in rows]
        bound = circulation_bound(shop.board, shop.cut, spans, shelf=shelf)
        assert fewest is not None
        assert bound.boards <= fewest, (shop, rows, shelf)


def slanted_row(rng: random.Random, shop: Shop) -> Row:
    near, far = rng.randint(-2, 2), rng.randint(-2, 2)
    return Row(rng.randint(5, 3 * shop.board), near_slant=near, far_slant=far)


def chord(shop: Shop, row: Row, at_room_side: bool) -> Span:
    """A slanted row along one side of its boards: shorter there than its pieces are."""
    near, far = (row.near_slant, row.far_slant) if at_room_side else (0, 0)
    first, last = min(0, row.near_slant), row.length + max(0, row.far_slant)
    hidden = max(near - first, last - row.length - far)
    is_long = last - first > shop.board
    return Span(row.length + far - near, max(0, shop.shortest - hidden), split=is_long)


@pytest.mark.parametrize("seed", range(10))
def test_a_bound_along_one_side_holds_for_slanted_ends_nested_by_true_shape(seed: int) -> None:
    rng = random.Random(2_000 + seed)
    for _ in range(20):
        board = rng.randint(6, 9)
        shop = Shop(board, cut=rng.randint(0, 2), shortest=rng.randint(1, board // 2))
        rows = [slanted_row(rng, shop) for _ in range(rng.randint(2, 4))]
        fewest = fewest_boards(shop, rows)
        for at_room_side in (False, True):
            spans = [chord(shop, row, at_room_side) for row in rows]
            bound = circulation_bound(shop.board, shop.cut, spans)
            assert fewest is None or bound.boards <= fewest, (shop, rows)


def test_slanted_ends_nest_in_one_board() -> None:
    # A parallel slant of 2 at both ends of two rows of 8, boards of 10: starter 5 (3 at the other
    # side) and end piece 5; in their bounding boxes two rows take 2 x 8 + 2 x 2 = 20, two boards
    # by area 1.6. One row of 8 slants to 10: one piece. Rows of 14 need 3 boards for two.
    shop = Shop(10)
    assert fewest_boards(shop, [Row(8, near_slant=2, far_slant=2)]) == 1
    assert fewest_boards(shop, [Row(14, near_slant=2, far_slant=2)] * 2) == 3
