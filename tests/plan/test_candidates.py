"""Ways for rows to run, by hand; and no start line that another one beats in slivers."""

import pytest
from benchmarks.real_rooms import rooms_of
from benchmarks.sliver_scan import sliver_length
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon
from shapely.affinity import rotate
from tests.data import data_file

from plankwright.geometry.floor import build_floor
from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import cut_rows
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.candidates import Candidate, candidates, directions, from_other_side
from plankwright.plan.layout import start_line

BOARD = Board(1285.0, 192.0)
PLAIN = Room(Polygon([(0, 0), (5000, 0), (5000, 3000), (0, 3000)]))
CROOKED = Room(Polygon([(0, 0), (5000, 0), (5000, 3050), (0, 3000)]))


def found(room: Room, wishes: Wishes | None = None) -> list[Candidate]:
    return candidates(room, build_floor(room, Rules()), BOARD, Rules(), wishes or Wishes())


def test_directions_of_a_rectangle() -> None:
    # both walls, and the two diagonals; facing walls are one direction
    ways = [(way.course, way.angle_deg % 180.0) for way in directions(PLAIN, BOARD, Wishes())]
    assert ways == [
        ("along a wall", 0.0),
        ("along a wall", 90.0),
        ("diagonal", 45.0),
        ("diagonal", 135.0),
    ]


def test_directions_of_a_crooked_room() -> None:
    # the far wall rises by 50 mm over 5 m, 0.573 degrees; the mean of both is half of that
    ways = directions(CROOKED, BOARD, Wishes())
    along = {way.along: round(way.angle_deg % 180.0, 3) for way in ways[:-2]}
    assert along["C-D",] == 0.573
    assert along["A-B",] == 0.0
    assert along["C-D", "A-B"] == pytest.approx(0.286, abs=0.001)
    assert {way.course for way in ways} == {"along a wall", "between two walls", "diagonal"}


@pytest.mark.parametrize(
    ("wishes", "angle"),
    [
        (Wishes(row_angle_deg=12.5), 12.5),
        (Wishes(row_wall="B-C"), 90.0),
        (Wishes(start_wall="D-A"), 90.0),
    ],
)
def test_a_wished_direction_is_the_only_one(wishes: Wishes, angle: float) -> None:
    [way] = directions(PLAIN, BOARD, wishes)
    assert way.angle_deg % 180.0 == angle
    assert way.course == "wished"


def test_a_wished_first_row_is_kept() -> None:
    some = found(PLAIN, Wishes(first_row_mm=100.0))
    assert {candidate.first_row_mm for candidate in some} == {100.0}
    assert len(some) == 4


def test_the_other_side_has_the_same_row_lines() -> None:
    floor = build_floor(CROOKED, Rules())
    for candidate in found(CROOKED):
        other = from_other_side(candidate, floor, BOARD)
        rows = []
        for one in (candidate, other):
            frame = Frame(one.direction.angle_deg, "left-to-right")
            start = start_line(floor, frame, BOARD, Rules(), one.first_row_mm)
            stretches = cut_rows(frame.to_plan_grid(floor.parts), BOARD.width_mm, start)
            rows.append(sorted(round(stretch.polygon.area) for stretch in stretches))
        assert rows[0] == pytest.approx(rows[1], abs=200)  # 0.01 mm of 5 m wall twice, and more


def slivers(floor: MultiPolygon, candidate: Candidate, narrowest: float, shift: float) -> float:
    """Slivers by the scan of the benchmarks, of a candidate's row lines moved by ``shift``."""
    turned = rotate(floor, -candidate.direction.angle_deg, origin=(0.0, 0.0))
    top = turned.bounds[3]  # laid left to right: v points down
    return sliver_length(turned, BOARD.width_mm, narrowest, top - candidate.first_row_mm + shift)


@settings(derandomize=True, deadline=None, max_examples=12)
@given(
    depth=st.integers(1200, 3000),
    jogs=st.lists(st.integers(10, 900), min_size=1, max_size=3),
    narrowest=st.sampled_from([30.0, 50.0, 80.0]),
)
def test_no_row_line_avoids_a_sliver_that_a_candidate_has(
    depth: int, jogs: list[int], narrowest: float
) -> None:
    """A wall in steps 900 mm wide: no offset in steps of 2 mm leaves less sliver."""
    room = Room(Polygon(_steps(depth, jogs)))
    rules = Rules(narrowest_row_mm=narrowest)
    floor = build_floor(room, rules)
    for candidate in candidates(room, floor, BOARD, rules, Wishes(row_angle_deg=180.0)):
        scanned = [slivers(floor.parts, candidate, narrowest, float(at)) for at in range(0, 192, 2)]
        assert scanned[0] <= min(scanned) + 2.0, candidate


def _steps(depth: int, jogs: list[int]) -> list[tuple[int, int]]:
    ring = [(0, 0), (900 * len(jogs), 0)]
    for i in reversed(range(len(jogs))):
        ring += [(900 * (i + 1), depth + jogs[i]), (900 * i, depth + jogs[i])]
    return ring


@pytest.mark.parametrize("number", [0, 77, 130])
def test_no_row_line_avoids_a_sliver_in_dwellings(number: int) -> None:
    data_file("dwellings_agpl.geojson")
    room, _ = list(rooms_of("dwellings_agpl.geojson"))[number]
    floor = build_floor(room, Rules())
    for candidate in found(room)[:2]:
        scanned = [slivers(floor.parts, candidate, 50.0, 3.0 * step) for step in range(64)]
        assert scanned[0] <= min(scanned) + 50.0, candidate.direction
