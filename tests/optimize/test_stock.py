"""Offcuts at hand: by hand, and against brute force over every way to cut and pack."""

import random
from collections.abc import Sequence

import pytest
from tests.optimize.oracle import Piece, Row, Shop, fewest_boards

from plankwright.optimize.bounds import Bound, circulation_bound
from plankwright.optimize.instance import TICKS_PER_MM, Contact, Instance, StretchNeed
from plankwright.optimize.solution import Solution
from plankwright.optimize.solve import Effort
from plankwright.optimize.spans import Offcut, Span
from plankwright.optimize.stock_solve import Before, solve_with_stock

FLOORS_PER_SEED = 8
Pairs = list[tuple[int, int]]


def solved(
    shop: Shop,
    rows: list[Row],
    shelf: list[Offcut],
    touching: Sequence[tuple[int, int]] = (),
    before: Before | None = None,
) -> tuple[Solution, Bound]:
    """The solution of small whole numbers, told in millimeters."""
    t = TICKS_PER_MM
    stretches = tuple(StretchNeed(row.length * t) for row in rows)
    contacts = tuple(Contact(i, j, 0, min(rows[i].length, rows[j].length) * t) for i, j in touching)
    instance = Instance(
        shop.board * t, shop.cut * t, shop.shortest * t, shop.offset * t, t, stretches, contacts
    )
    offcuts = [Offcut(offcut.length * t, offcut.end) for offcut in shelf]
    spans = [Span(row.length * t, shop.shortest * t) for row in rows]
    bound = circulation_bound(instance.board, instance.cut, spans, shelf=offcuts)
    return solve_with_stock(instance, offcuts, bound, Effort(moves=1500), before)


def random_floor(rng: random.Random) -> tuple[Shop, list[Row], Pairs, list[Piece], list[Offcut]]:
    """Two to four rows, and one to four boards of which a piece was cut."""
    board = rng.randint(7, 11)
    shop = Shop(board, rng.randint(0, 1), rng.randint(1, 3), rng.randint(0, 2))
    rows = [Row(rng.randint(2, 2 * board + 3)) for _ in range(rng.randint(2, 4))]
    touching = [(i, i + 1) for i in range(len(rows) - 1)]
    begun, shelf = [], []
    for _ in range(rng.randint(1, 4)):
        cut_off = rng.randint(1, board - shop.cut - 1)
        near = rng.random() < 0.5
        begun.append(Piece((0, 0), (cut_off, cut_off), near, not near, "full", 1))
        shelf.append(Offcut(board - shop.cut - cut_off, "far" if near else "near"))
    return shop, rows, touching, begun, shelf


@pytest.mark.parametrize("seed", range(7))
def test_the_fewest_new_boards_agree_with_brute_force(seed: int) -> None:
    rng = random.Random(5_000 + seed)
    for _ in range(FLOORS_PER_SEED):
        shop, rows, touching, begun, shelf = random_floor(rng)
        fewest = fewest_boards(shop, rows, touching, begun)
        found, bound = solved(shop, rows, shelf, touching)
        if fewest is None:  # no joints keep the rules
            lengths = [seat.length / TICKS_PER_MM for seat in found.seats]
            assert found.conflicts > 0 or min(lengths) < shop.shortest, (shop, rows)
            continue
        assert bound.boards <= fewest, (shop, rows, shelf)
        assert (found.boards, found.conflicts) == (fewest, 0), (shop, rows, shelf)


SHOP = Shop(board=10, cut=1, shortest=2)


def source(solution: Solution, kind: str) -> list[int]:
    """Boards that pieces of a kind are cut from; offcuts are -1, -2, …"""
    return [seat.board for seat in solution.seats if seat.kind == kind]


def test_an_offcut_with_its_far_end_is_a_starter() -> None:
    # 15 = 5 + 10 or 6 + 9: from 6 at hand and one new board for the end piece
    found, bound = solved(SHOP, [Row(15)], [Offcut(6, "far")])
    assert (found.boards, bound.boards) == (1, 1)
    assert -1 in source(found, "starter")


def test_an_offcut_with_its_near_end_is_an_end_piece() -> None:
    found, bound = solved(SHOP, [Row(15)], [Offcut(6, "near")])
    assert (found.boards, bound.boards) == (1, 1)
    assert source(found, "end") == [-1]


def test_an_offcut_without_ends_is_a_wall_to_wall_piece_and_nothing_else() -> None:
    found, bound = solved(SHOP, [Row(6)], [Offcut(6, "none")])
    assert (found.boards, bound.boards, source(found, "wall-to-wall")) == (0, 0, [-1])
    found, _ = solved(SHOP, [Row(15)], [Offcut(9, "none")])
    assert found.boards == 2


def test_a_begun_row_takes_no_starter() -> None:
    # 13 more to lay: a whole board and an end piece of 3, which leaves 6 for the starter of 14
    t = TICKS_PER_MM
    stretches = (StretchNeed(13 * t, begun=True), StretchNeed(14 * t))
    instance = Instance(10 * t, t, 2 * t, 0, t, stretches)
    bound = circulation_bound(10 * t, t, [Span(13 * t, begun=True), Span(14 * t, 2 * t)])
    found, _ = solve_with_stock(instance, [], bound, Effort(moves=500))
    assert (found.boards, bound.boards) == (3, 3)
    assert [(s.kind, s.length // t) for s in found.seats if s.stretch == 0] == [
        ("whole", 10), ("end", 3),
    ]  # fmt: skip


def test_the_plan_that_was_there_comes_back_where_it_costs_nothing() -> None:
    rows = [Row(15), Row(16), Row(15)]
    for starter in (6, 7, 8):
        before = Before((starter * TICKS_PER_MM, 10 * TICKS_PER_MM, starter * TICKS_PER_MM), {})
        found, _ = solved(SHOP, rows, [Offcut(9, "far"), Offcut(9, "far")], before=before)
        assert found.starters == before.takes
