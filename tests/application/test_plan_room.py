"""Rooms in, checked plans out: real rooms, the demo room, and what must be refused.

The outlines are open data of others (see tests/data.py); every room of the three files is
planned by the benchmark, a seeded sample of them here.
"""

import json
import random
from collections import Counter
from dataclasses import replace
from importlib import resources

import pytest
from tests.data import data_file
from tests.properties.laws import assert_lawful

from plankwright.application.plan_room import Effort, plan_room, require_checked
from plankwright.checker.check import check_plan
from plankwright.errors import InputError, PlanFaultError, RoomError
from plankwright.files.geojson import read_rooms
from plankwright.files.job import read_job
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.testing.zoo import rectangle, zoo

BOARD = Board(1285.0, 192.0)
REAL = Rules(gap_mm=8.0, kerf_mm=3.0, allowance_mm=0.0)
QUICK = Effort(moves=150, prove=False)


def sample(name: str, count: int, most_corners: int = 60) -> list[Room]:
    """A seeded sample of the rooms in a file, the same every time."""
    data = json.loads(data_file(name).read_text(encoding="utf-8"))
    features = sorted(data["features"], key=lambda feature: str(feature["properties"]["id"]))
    chosen = random.Random(2026).sample(features, 3 * count)
    rooms = [
        room
        for room in read_rooms({**data, "features": chosen}, name)
        if len(room.outline.exterior.coords) <= most_corners and room.outline.area < 150e6
    ]
    return rooms[:count]


@pytest.mark.parametrize(
    ("name", "count"),
    [("rooms.geojson", 8), ("rooms_agpl.geojson", 24), ("dwellings_agpl.geojson", 4)],
)
def test_a_sample_of_real_rooms(name: str, count: int) -> None:
    rooms = sample(name, count)
    assert len(rooms) == count
    for room in rooms:
        plan = plan_room(room, BOARD, REAL, effort=QUICK)
        assert_lawful(plan)
        # what the plan file says, rounded to 0.001 mm, passes the same check
        assert check_plan(load_plan(dump_plan(plan))).ok, room.name


def test_a_real_room_with_the_full_search_and_its_proof() -> None:
    (room,) = sample("rooms.geojson", 1)
    plan = plan_room(room, BOARD, REAL, effort=Effort(moves=500))
    assert_lawful(plan)
    assert plan.boards.bound >= plan.floor.area / BOARD.area_mm2 - 1.0


def test_the_demo_room() -> None:
    text = resources.files("plankwright").joinpath("data", "demo_room.toml").read_text("utf-8")
    job = read_job(text, "demo_room.toml")
    plan = plan_room(
        job.room, job.board, job.rules, job.wishes, unit=job.unit, effort=Effort(moves=150)
    )
    assert_lawful(plan)
    assert plan.unit == "in"
    assert {recess.kind for recess in plan.recesses} == {"doorway"}
    assert {thing.kind for thing in plan.fixed} == {"post", "stair"}
    assert "joint-offset" not in Counter(finding.code for finding in plan.findings)
    # 16.9 x 12.2 ft less a stair: some 190 sq ft, boards of 50 5/8 x 7 9/16 in = 2.66 sq ft
    assert 65 <= plan.boards.bound <= plan.boards.used <= 85


# --- small rooms that can be counted ---------------------------------------------------------


def test_one_whole_board() -> None:
    # a floor of exactly a board: 1285 + 16 by 192 + 16
    plan = plan_room(Room(rectangle(1301.0, 208.0).outline), BOARD)
    assert (len(plan.pieces), plan.boards.used, plan.boards.bound) == (1, 1, 1)
    assert plan.pieces[0].cut_order is None
    assert plan.boards.status == "optimal"


def test_two_rows_from_three_boards() -> None:
    # area: 3800 / 1285 = 2.96, so 3 at the least. Row 1: a whole board and 615; row 2: 615 and a
    # whole board; both 615 from one board, 615 + 6 + 615 = 1236 <= 1285; joints 670 apart
    plan = plan_room(Room(rectangle(1916.0, 400.0).outline), BOARD)
    assert plan.boards.used == plan.boards.bound == 3
    assert_lawful(plan)


def test_the_4_by_3_room_takes_51_boards() -> None:
    # the design's example: no gap, no kerf, 300/300; 51 proven by prices
    nothing = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)
    plan = plan_room(rectangle(4000.0, 3000.0), BOARD, nothing)
    assert plan.boards.bound == 51
    assert plan.boards.used <= 52
    assert plan.packs == 7
    assert plan.boards.evidence.kind == "prices"


# --- what cannot be --------------------------------------------------------------------------


def test_a_floor_that_vanishes_is_said_not_refused() -> None:
    plan = plan_room(zoo()["vanishing"], BOARD)
    assert [finding.code for finding in plan.findings] == ["floor-vanishes"]
    assert (plan.boards.used, plan.boards.bound, plan.packs, plan.pieces) == (0, 0, 0, ())


def test_an_impossible_direction_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        plan_room(rectangle(), BOARD, wishes=Wishes(laid="right-to-left"))
    assert caught.value.where == "laid"
    assert caught.value.remedy


def test_a_wall_that_is_not_there_is_refused() -> None:
    with pytest.raises(RoomError, match="there is no such wall"):
        Room(rectangle().outline, edge_gaps=(("X-Y", 5.0),))


def test_no_faulty_plan_gets_out() -> None:
    plan = plan_room(rectangle(), BOARD, effort=QUICK)
    assert require_checked(plan) is plan
    moved = replace(plan.pieces[0], from_near_mm=plan.pieces[0].from_near_mm + 40.0)
    spoiled = replace(plan, pieces=(moved, *plan.pieces[1:]))
    with pytest.raises(PlanFaultError, match="a fault of the program"):
        require_checked(spoiled)


def test_stopping_early_gives_a_legal_plan_all_the_same() -> None:
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return True

    plan = plan_room(rectangle(), BOARD, stop=stop)
    assert_lawful(plan)
    assert asked
