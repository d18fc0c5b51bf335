"""Hours from rows and pieces, and tools by reason, on plans that can be counted."""

from dataclasses import replace

import pytest
from shapely import box

from plankwright.application.plan_room import plan_room
from plankwright.buying.labor import is_crosscut, is_ripped, work_of
from plankwright.buying.tools import Needs, saw_words, tools_for
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.toolbox import Rates, Toolbox


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_room(Room(box(0, 0, 4000, 3000)), Board(1285.0, 192.0))


def test_hours_are_the_sum_of_the_persons_own_rates(plan: Plan) -> None:
    rates = Rates(60.0, 2.0, 1.0, 4.0, 0.0, 5.0, 20.0, 10.0, 8.0, 100.0)
    work = work_of(plan, rates, jambs=2, strips=3, trim_pieces=4)
    rows = len({piece.row for piece in plan.pieces})
    cuts = sum(map(is_crosscut, plan.pieces))
    rips = sum(map(is_ripped, plan.pieces))
    by_hand = 60 + 2 * 20 + 3 * 10 + 4 * 8 + rows * 5 + len(plan.pieces) * 2 + cuts + rips * 4
    assert work.hours * 60.0 == pytest.approx(by_hand)
    assert work.stops == ()


def test_a_day_ends_with_a_whole_row(plan: Plan) -> None:
    rates = Rates(set_up=30.0, day_hours=2.0)
    work = work_of(plan, rates, jambs=0, strips=0, trim_pieces=0)
    day, spent, stops = 120.0, 30.0, list(work.stops)
    assert stops
    for row in work.rows:
        spent += row.minutes
        assert spent <= day
        if row.row in stops:
            spent = 0.0


def test_tools_have_reasons_and_are_named_once(plan: Plan) -> None:
    tools = tools_for(plan, Toolbox(), Needs(jambs=2, pipes=1, patch=True, adhesive=True))
    names = [tool.name for tool in tools]
    assert len(names) == len(set(names))
    assert {"pull bar", "undercut saw", "hole saw", "trowel", "caulking gun"} <= set(names)
    assert "last row" in next(tool.why for tool in tools if tool.name == "pull bar")


def test_what_is_owned_is_not_bought(plan: Plan) -> None:
    box = Toolbox(("miter saw", "circular saw", "pull bar"))
    names = {tool.name for tool in tools_for(plan, box, Needs())}
    assert not names & {"miter saw", "table saw", "pull bar", "hand saw"}


def test_no_saw_that_rips_is_told(plan: Plan) -> None:
    ripped = sum(map(is_ripped, plan.pieces))
    assert ripped
    assert saw_words(plan, Toolbox(), "mm") == ()
    (words,) = saw_words(plan, Toolbox(("miter saw",), rips=False), "mm")
    assert words.startswith(f"{ripped} pieces are ripped")
    whole = replace(plan, pieces=tuple(p for p in plan.pieces if not is_ripped(p)))
    assert saw_words(whole, Toolbox(rips=False), "mm") == ()


def test_a_saw_too_short_for_the_board_is_told(plan: Plan) -> None:
    (words,) = saw_words(plan, Toolbox(reach_mm=150.0), "mm")
    assert "150 mm in one pass" in words
    assert saw_words(plan, Toolbox(reach_mm=192.0), "mm") == ()
