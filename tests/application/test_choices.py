"""The short list: checked, none beaten by another, said in words."""

from dataclasses import replace
from typing import Any

import pytest
from benchmarks.real_rooms import rooms_of
from benchmarks.sliver_scan import least_slivers
from rich.console import Console
from shapely import Polygon
from tests.data import data_file

from plankwright.application import choices
from plankwright.application.choice_words import reasons, title
from plankwright.application.choices import Choices, find_choices
from plankwright.application.joint_looks import JointLooks
from plankwright.application.merits import Handling, Merits, dominates, merits, narrowest_row
from plankwright.application.plan_job import plan_job
from plankwright.application.plan_room import Effort, plan_room
from plankwright.checker.check import check_plan
from plankwright.cli.choices_report import print_choices
from plankwright.errors import InputError, PlanFaultError
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.candidates import Candidate, Direction

BOARD = Board(1285.0, 192.0)
QUICK = Effort(moves=200, looks=5, prove=False)
DEN = Room(Polygon([(0, 0), (3600, 0), (3600, 2600), (0, 2600)]))


def den(wishes: Wishes | None = None) -> Job:
    return Job(DEN, BOARD, wishes=wishes or Wishes())


@pytest.fixture(scope="module")
def found() -> Choices:
    return find_choices(den(), effort=QUICK)


def test_three_to_six_checked_plans_none_better_in_all(found: Choices) -> None:
    assert 3 <= len(found.choices) <= 6
    assert all(check_plan(choice.plan).ok for choice in found.choices)
    for one in found.choices:
        assert not any(dominates(other.merits, one.merits) for other in found.choices)
        assert one.merits == merits(one.plan, DEN)
    assert [choice.number for choice in found.choices] == [*range(1, len(found.choices) + 1)]


def test_planning_with_its_wishes_gives_a_choice_again(found: Choices) -> None:
    for choice in found.choices[:2]:
        again = plan_room(DEN, BOARD, Rules(), choice.wishes, effort=QUICK)
        assert again.laying == choice.plan.laying


def test_every_choice_says_why_in_one_sentence(found: Choices) -> None:
    assert len({choice.title for choice in found.choices}) == len(found.choices)
    for choice in found.choices:
        assert choice.reason[0].isupper()
        assert choice.reason.endswith(".")
        assert ". " not in choice.reason


def test_the_chart_runs_over_the_width_of_a_board(found: Choices) -> None:
    first = [point.first_row_mm for point in found.chart]
    assert first == sorted(first)
    assert (first[0], first[-1]) == (12.0, 192.0)
    assert found.choices[0].wishes.first_row_mm in first
    # rows along the wall leave 2584 = 13 x 192 + 88 across, rows across 3584 = 18 x 192 + 128:
    # with row 1 w wide the last one is (88 - w) or (128 - w) mod 192
    assert found.choices[0].merits.off_longest_deg in (0.0, 90.0)
    rest = 88.0 if found.choices[0].merits.off_longest_deg == 0.0 else 128.0
    for point in found.chart:
        last = (rest - point.first_row_mm) % 192.0 or 192.0
        assert point.narrowest_row_mm == pytest.approx(min(point.first_row_mm, last), abs=0.1)


def test_the_same_job_gives_the_same_choices(found: Choices) -> None:
    assert find_choices(den(), effort=QUICK).record() == found.record()


def test_a_record_is_plain_values(found: Choices) -> None:
    record = found.record()
    assert set(record) == {"tried", "refused", "choices", "chart"}
    one = record["choices"][0]
    assert one["merits"]["boards"] == found.choices[0].merits.boards
    assert "plan" not in one


def test_a_wish_is_kept_in_every_choice() -> None:
    some = find_choices(den(Wishes(row_angle_deg=90.0)), effort=QUICK)
    assert {choice.plan.laying.row_angle_deg for choice in some.choices} == {90.0}
    assert len(some.choices) >= 2


def test_the_light_counts_where_the_window_is_named() -> None:
    some = find_choices(den(Wishes(window_wall="B-C")), effort=QUICK)
    # wall B-C stands upright in the plan: light comes along x, along the longest wall
    least = min(some.choices, key=lambda choice: choice.merits.off_window_deg or 0.0)
    assert least.merits.off_window_deg == pytest.approx(0.0)
    assert least.merits.off_longest_deg == pytest.approx(0.0)


def test_what_is_awkward_decides_the_side() -> None:
    """A count that dislikes one start wall: no choice starts there where the other will do."""

    def dislike(plan: Plan) -> Handling:
        return Handling(awkward=5 if plan.laying.start_wall == "A-B" else 0)

    some = find_choices(den(Wishes(row_wall=None)), effort=QUICK, count=dislike)
    assert all(choice.plan.laying.start_wall != "A-B" for choice in some.choices)
    assert all(choice.merits.handling.awkward == 0 for choice in some.choices)


def test_a_stop_ends_the_list_early() -> None:
    some = find_choices(den(), effort=QUICK, stop=lambda: True)
    assert len(some.choices) == 1
    assert some.chart == ()


def test_what_the_checker_refuses_is_counted_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    planned = 0

    def refuse_every_other(job: Job, **options: Any) -> Plan:
        nonlocal planned
        planned += 1
        if planned % 2:
            raise PlanFaultError(f"plan {planned} has a crack")
        return plan_job(job, **options)

    monkeypatch.setattr(choices, "plan_job", refuse_every_other)
    some = find_choices(den(), effort=QUICK)
    assert some.refused[:2] == ("plan 1 has a crack", "plan 3 has a crack")
    assert len(some.choices) >= 1
    console = Console(record=True, width=100)
    print_choices(some, "Den", "mm", console)
    assert "Not offered: plan 3 has a crack" in console.export_text()


def test_gaps_that_leave_no_floor() -> None:
    with pytest.raises(InputError, match="leave no floor"):
        find_choices(replace(den(), rules=Rules(gap_mm=1400.0)))


@pytest.mark.parametrize("number", [96])
def test_dwellings(number: int) -> None:
    data_file("dwellings_agpl.geojson")
    room, _ = list(rooms_of("dwellings_agpl.geojson"))[number]
    some = find_choices(Job(room, BOARD), effort=Effort(moves=50, looks=0, prove=False))
    assert 3 <= len(some.choices) <= 6
    for choice in some.choices:
        assert not any(dominates(other.merits, choice.merits) for other in some.choices)
        own, least = least_slivers(choice.plan, 24)
        assert own <= least + 50.0


# --- merits and words --------------------------------------------------------------------------


def test_the_narrowest_row_of_a_tapered_room() -> None:
    # rows of 200 along the bottom wall; the room is 1100 deep at one end and 1180 at the other:
    # row 6 grows from 100 to 180 over 4 m, 20 mm a meter. It is narrower than w for (w - 100) /
    # 0.02 mm, which is longer than w / tan(10 deg) from w = 112.8 on
    room = Room(Polygon([(0, 0), (4000, 0), (4000, 1180), (0, 1100)]))
    wishes = Wishes(row_angle_deg=0.0, laid="right-to-left", first_row_mm=200.0)
    board = Board(4000.0, 200.0, tongue_end="right")
    rules = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)
    plan = plan_room(room, board, rules, wishes, effort=Effort(moves=0, prove=False))
    assert narrowest_row(plan) == pytest.approx(100.0 / (1.0 - 0.02 / 0.17633), abs=0.5)
    found = merits(plan, room, "B-C")
    assert found.taper_mm == pytest.approx(80.0, abs=0.5)
    assert found.off_longest_deg == pytest.approx(1.146, abs=0.01)  # the far wall is the longest
    assert found.off_window_deg == pytest.approx(0.0)


PLAIN = Merits(50, 7, 100.0, 30, 5, JointLooks(2, 0, 1), Handling(), 0.0, 0.0, None, 0)


def test_domination() -> None:
    assert dominates(replace(PLAIN, boards=49), PLAIN)
    assert not dominates(PLAIN, PLAIN)
    assert not dominates(replace(PLAIN, boards=49, rips=6), PLAIN)
    assert not dominates(replace(PLAIN, narrowest_row_mm=100.4), PLAIN)  # no millimeter more
    assert dominates(replace(PLAIN, handling=Handling(0, 0)), replace(PLAIN, handling=Handling(1)))


def test_reasons_by_hand() -> None:
    along = Candidate(
        Direction(0.0, "along a wall", ("A-B",)), 96.0, Wishes(row_angle_deg=0.0, first_row_mm=96.0)
    )
    crooked = replace(along, direction=Direction(0.3, "between two walls", ("A-B", "C-D")))
    few = replace(PLAIN, boards=49, off_longest_deg=90.0)
    calm = replace(PLAIN, joints=JointLooks(0, 0, 0), boards=51)
    dear = replace(PLAIN, boards=60, packs=8, narrowest_row_mm=120.0)
    told = reasons([(along, few), (crooked, calm), (along, dear)], den())
    assert told[0] == ("Along wall A-B, first row 96 mm wide", "The fewest boards (49).")
    assert told[1] == (
        "Between walls A-B and C-D, first row 96 mm wide",
        "The calmest joints (no H-joint); takes 2 boards more of the same packs.",
    )
    assert told[2][1] == "No row narrower than 120 mm; takes 1 pack of 8 more."
    looks = replace(along, wishes=replace(along.wishes, prefer="looks"))
    assert title(looks, "mm").endswith("wide, boards spent on looks")
