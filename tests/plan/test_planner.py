"""The planner: what a stopped search says."""

import pytest
from shapely import Polygon, box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.checker.check import check_plan
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.plan.planner import Task, make_plan

Corners = list[tuple[float, float]]

TASK = Task(Room(box(0.0, 0.0, 6100.0, 4300.0)), Board(1285.0, 192.0))


def test_a_stopped_search_is_told_and_its_plan_is_whole() -> None:
    plan = make_plan(TASK, stop=lambda: True)
    assert [finding.code for finding in plan.findings] == ["time-limit"]
    assert check_plan(plan).ok


def test_a_search_left_alone_says_nothing() -> None:
    assert make_plan(TASK).findings == ()


BLADES: Corners = [(95.1, 20.9), (-50.1, 6.5), (-553.8, 1951.4), (1156.4, 2452.9),
                   (1391.5, 1869.3), (1528.1, 1881.0), (1551.8, 1878.9), (2054.9, 2008.6),
                   (2118.4, 1690.2), (1654.4, 1457.4), (1699.9, 1017.3), (1609.6, 1038.7),
                   (1719.7, 667.6), (1685.0, 726.0), (1854.0, 333.3), (155.5, -168.7)]  # fmt: skip
JAGS: Corners = [(-161, 520), (-203, 542), (-156, -589), (-1304, -594), (-1283, 1139),
                 (-152, 1090), (-192, 1086), (567, 997), (559, 962), (2109, 944), (2102, -29),
                 (527, -44), (597, -564), (-85, -621)]  # fmt: skip
WEDGE: Corners = [(-225.6, 1922.6), (848.5, 848.5), (0, 0), (-1074.1, 1074.1), (-1073.4, 1074.8),
                  (-1130.7, 1132.1), (-564.3, 1698.5), (-507.0, 1641.2)]  # fmt: skip


@pytest.mark.parametrize(
    ("corners", "gap", "own"),
    [
        (JAGS, 9.0, (("J-K", 0.0), ("G-H", 6.0))),  # a blade of wall with a gap of its own
        (BLADES, 14.0, (("C-D", 11.0),)),  # two blades, and a wall elsewhere with its own gap
        (BLADES, 0.0, ()),  # the tip of a blade ends 0.06 mm beside a row line
        (WEDGE, 0.0, ()),  # a wedge of floor less than half a millimeter thick
    ],
)
def test_random_rooms_whose_plans_were_refused_once(
    corners: Corners, gap: float, own: tuple[tuple[str, float], ...]
) -> None:
    rules = Rules(
        gap_mm=gap,
        kerf_mm=0.0,
        allowance_mm=0.0,
        shortest_piece_mm=4.0,
        joint_offset_mm=0.0,
        narrowest_row_mm=0.0,
    )
    room = Room(Polygon(corners), edge_gaps=own)
    board = Board(700.0, 60.0, reversible=True)
    assert plan_room(room, board, rules, effort=Effort(moves=0, looks=0, prove=False)).pieces
