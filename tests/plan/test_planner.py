"""The planner: what a stopped search says."""

import pytest
from shapely import Polygon, box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.checker.check import check_plan
from plankwright.model.board import Board
from plankwright.model.room import Doorway, Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.planner import Task, make_plan

Corners = list[tuple[float, float]]

BOARD = Board(1285.0, 192.0)
TASK = Task(Room(box(0.0, 0.0, 6100.0, 4300.0)), BOARD)


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


def test_a_doorway_flush_with_another_wall_leaves_no_thread() -> None:
    # the recess of the doorway in E-F runs on in line with D-E but for 0.001 mm: once the floor's
    # outline went along that line and back again, and its plan was refused
    corners: Corners = [
        (-2.0412926718401705, 385.9946024547855),
        (-7.361345593786315, 1391.980535277361),
        (3033.5961312585523, 1408.0623254718325),
        (3040.9574768523385, 16.081790194471395),
        (1098.9846323777442, 5.811866959462041),
        (1102.4379072863235, -647.179001960162),
        (225.4501706209171, -651.8168612171669),
        (-260.3776165753723, -118.37861625533726),
        (-263.03764303634534, 384.61435015595055),
    ]
    doorway = Doorway("E-F", 0.0, 100.0, depth_mm=114.0, stem_mm=0.0)
    room = Room(Polygon(corners), edge_gaps=(("E-F", 13.0), ("F-G", 28.0)), doorways=(doorway,))
    plan = plan_room(room, BOARD, Rules(gap_mm=0.0), effort=Effort(moves=0, looks=0, prove=False))
    assert plan.floor.is_valid
    assert plan.recesses


def test_the_end_of_a_wedge_that_is_too_thin_for_a_joint_is_no_piece() -> None:
    # the far wall leaves row 1 whole and beyond it a wedge of 0 to 8 mm over 2000 mm; it is half a
    # millimeter thick from 125 mm on, where its first piece begins
    room = Room(Polygon([(0, 0), (2000, 0), (2000, 200), (0, 192)]))
    rules = Rules(gap_mm=0.0, shortest_piece_mm=4.0, joint_offset_mm=0.0)
    wishes = Wishes(start_wall="A-B", first_row_mm=192.0)
    plan = plan_room(
        room, Board(700.0, 192.0), rules, wishes, effort=Effort(moves=0, looks=0, prove=False)
    )
    wedge = [piece for piece in plan.pieces if piece.row == 2]
    assert sum(piece.length_mm for piece in wedge) == pytest.approx(2000.0 - 0.49 / 0.004, abs=3.0)
