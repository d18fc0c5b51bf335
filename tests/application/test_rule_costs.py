"""What rules cost in boards, where that can be worked out by hand."""

from dataclasses import replace

from shapely import box

from plankwright.application.plan_job import plan_job
from plankwright.application.rule_costs import RuleCost, cost_findings, rule_costs
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes


def job(**rules: float) -> Job:
    """Two whole rows of 1500 mm in boards of 1000 x 200, no gap, no kerf."""
    bare = replace(Rules(0, 0, 0, 0, 0, 0), **rules)
    return Job(
        Room(box(0, 0, 1500, 400)), Board(1000, 200, per_pack=2), bare, Wishes(row_angle_deg=0.0)
    )


def costs_of(wanted: Job) -> dict[str, RuleCost]:
    return {cost.where: cost for cost in rule_costs(wanted, plan_job(wanted))}


def test_the_allowance_costs_a_board() -> None:
    # without it two halves come from one board: whole + 500 twice, 3 boards; with 5 mm between
    # the two pieces of a board, starter and end piece of 1500 need 500 + 500 + 5 > 1000 of room,
    # and no other split does better: 4 boards
    found = costs_of(job(allowance_mm=5.0, shortest_piece_mm=100.0))
    assert found["rules.allowance"] == RuleCost(
        "the allowance of 5 mm", "rules.allowance", 3, 1, True
    )


def test_a_rule_that_costs_nothing_says_so() -> None:
    found = costs_of(job(shortest_piece_mm=100.0))
    assert (found["rules.shortest_piece"].costs, found["rules.shortest_piece"].boards) == (0, 3)


def test_the_finding_tells_boards_and_packs() -> None:
    wanted = job(allowance_mm=5.0, shortest_piece_mm=100.0)
    plan = plan_job(wanted)
    (finding,) = cost_findings(plan, rule_costs(wanted, plan))
    assert finding.message == "the allowance of 5 mm costs 1 board: 4 with it, 3 without"
    # packs of two: 4 boards are two packs, and so are 3
    assert finding.remedy == "It costs no pack: the boards saved would only be spares."


def test_wishes_have_their_cost_too() -> None:
    # rows of 100 + 200 + 100 mm need three rows: two ripped boards' worth more than two whole rows
    wanted = replace(job(), wishes=Wishes(row_angle_deg=0.0, first_row_mm=100.0))
    found = costs_of(wanted)
    assert found["laying.first_row"].boards == 3
    assert set(found) == {"laying.first_row", "laying.row_angle"}


def test_a_stop_ends_it() -> None:
    wanted = job(allowance_mm=5.0)
    assert rule_costs(wanted, plan_job(wanted), stop=lambda: True) == ()
