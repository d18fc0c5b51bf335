"""Runs of trim round rooms that can be walked on paper."""

import math

import pytest
from shapely import Polygon, affinity, box

from plankwright.buying.wall_runs import edge_length_mm, openings_of, wall_runs
from plankwright.model.room import Doorway

RECTANGLE = box(0, 0, 4000, 3000)  # corners A (4000, 0), B (4000, 3000), C (0, 3000), D (0, 0)
L_SHAPE = Polygon([(0, 0), (4000, 0), (4000, 2000), (2500, 2000), (2500, 3000), (0, 3000)])


def test_four_walls_four_inside_corners() -> None:
    runs = wall_runs(RECTANGLE)
    assert sorted(run.length_mm for run in runs) == [3000.0, 3000.0, 4000.0, 4000.0]
    assert {run.near.kind for run in runs} | {run.far.kind for run in runs} == {"inside"}
    assert {run.near.turn_deg for run in runs} == {90.0}


def test_the_outside_corner_of_an_l() -> None:
    runs = wall_runs(L_SHAPE)
    ends = [end.kind for run in runs for end in (run.near, run.far)]
    assert ends.count("outside") == 2  # both pieces that meet there
    assert ends.count("inside") == 10
    assert sum(run.length_mm for run in runs) == pytest.approx(L_SHAPE.length)


def test_a_doorway_parts_its_wall() -> None:
    # wall B-C is 4000 long; opening from 1000 to 1800, casings of 60: 940 and 2140 remain
    opening = openings_of([Doorway("B-C", 1000.0, 800.0)], casing_mm=60.0)
    runs = [run for run in wall_runs(RECTANGLE, openings=opening) if run.where == "B-C"]
    assert sorted(round(run.length_mm, 6) for run in runs) == [940.0, 2140.0]
    assert sorted(end.kind for run in runs for end in (run.near, run.far)) == [
        "inside", "inside", "square", "square"
    ]  # fmt: skip


@pytest.mark.parametrize("clockwise", [False, True])
def test_doorways_lie_where_they_should_either_way_round(clockwise: bool) -> None:
    ring = [(0, 0), (4000, 0), (4000, 3000), (0, 3000)]
    room = Polygon(ring[::-1] if clockwise else ring)
    opening = openings_of([Doorway("A-B", 500.0, 800.0)])
    runs = [run for run in wall_runs(room, openings=opening) if run.where == "A-B"]
    length = 4000.0
    assert sorted(round(run.length_mm) for run in runs) == [500, round(length - 1300)]


def test_cabinets_bear_no_trim_and_a_stair_does() -> None:
    cabinet = ("cabinet", "cabinet", box(0, 2400, 1000, 3000))
    stair = ("stair", "stair", box(3000, 0, 4000, 900))
    runs = wall_runs(RECTANGLE, [cabinet, stair])
    # the walls behind them are left out, the stair's two free sides are not
    assert sum(r.length_mm for r in runs if r.where == "stair") == pytest.approx(1900.0)
    walls = sum(r.length_mm for r in runs if r.where != "stair")
    assert walls == pytest.approx(14_000.0 - 1600.0 - 1900.0)
    assert not any(r.where == "cabinet" for r in runs)


def test_a_post_is_four_outside_miters() -> None:
    post = ("post", "post", box(1000, 1000, 1140, 1140))
    runs = [run for run in wall_runs(RECTANGLE, [post]) if run.where == "post"]
    assert [round(run.length_mm) for run in runs] == [140] * 4
    assert {end.kind for run in runs for end in (run.near, run.far)} == {"outside"}


def test_a_wall_that_bends_a_degree_is_one_run() -> None:
    bent = Polygon([(0, 0), (2000, 20), (4000, 0), (4000, 3000), (0, 3000)])
    assert len(wall_runs(bent)) == 4


def test_turning_the_room_changes_nothing() -> None:
    turned = affinity.rotate(L_SHAPE, 33.0)
    assert sorted(round(run.length_mm, 3) for run in wall_runs(turned)) == sorted(
        round(run.length_mm, 3) for run in wall_runs(L_SHAPE)
    )


def test_the_edge_along_a_hearth() -> None:
    hearth = ("hearth", "hearth", box(1000, 2500, 2200, 3000))
    lengths = edge_length_mm(RECTANGLE, [hearth], "hearth")
    assert lengths == {"hearth": pytest.approx(1200.0 + 2 * 500.0, abs=0.5)}
    assert math.isclose(sum(r.length_mm for r in wall_runs(RECTANGLE, [hearth])), 12_800.0)
