"""The person's aim: what spending boards buys, on a room whose ends are square."""

import pytest
from shapely import box

from plankwright.application.plan_figures import plan_figures
from plankwright.application.plan_room import plan_room
from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Prefer, Wishes
from plankwright.plan.aim import aim_of


def plan_that_prefers(prefer: Prefer, spend: int | None = None, length: float = 4000) -> Plan:
    wishes = Wishes(row_angle_deg=0.0, first_row_mm=192.0, prefer=prefer, spend_boards=spend)
    rules = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)
    return plan_room(Room(box(0, 0, length, 3000)), Board(1285, 192), rules, wishes)


def test_spares_are_kept_unless_wished_otherwise() -> None:
    # 51 boards are proven the fewest; seven packs of eight hold 56, so five are spares
    plan = plan_that_prefers("spares")
    assert (plan.boards.used, plan.boards.status, plan.packs) == (51, "optimal", 7)


def test_fewer_cuts_for_spare_boards_but_no_pack() -> None:
    # 3300 = 2 x 1285 + 730: a row can begin or end with a whole board, one cut instead of two
    plain = plan_that_prefers("spares", length=3300)
    fewer = plan_that_prefers("cuts", length=3300)
    assert plan_figures(fewer).cut_pieces < plan_figures(plain).cut_pieces
    assert plain.boards.used < fewer.boards.used
    assert fewer.packs == plain.packs
    assert fewer.boards.bound == plain.boards.used
    assert (plain.boards.status, fewer.boards.status) == ("optimal", "feasible")


def test_no_more_is_spent_than_was_said() -> None:
    plain = plan_that_prefers("spares", length=3300)
    assert plan_that_prefers("cuts", 1, length=3300).boards.used <= plain.boards.used + 1


def test_the_last_pack_bounds_what_is_spent() -> None:
    assert [aim_of(Wishes(prefer="looks"), 8).spend(n) for n in (49, 51, 56)] == [7, 5, 0]
    assert aim_of(Wishes(prefer="spares"), 8).spend(51) == 0


def test_a_number_of_boards_below_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="from 0 to 1000 boards"):
        Wishes(spend_boards=-1)
