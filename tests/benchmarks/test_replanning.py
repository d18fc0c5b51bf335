"""The table of planning again: what counts as a laid piece that was moved, in a room by hand."""

from dataclasses import replace

import pytest
from benchmarks.mishaps import KINDS
from benchmarks.replanning import RULES, measure, moved, summary
from shapely import Polygon
from shapely.affinity import translate

from plankwright.guide.as_laid import FloorState, LaidPiece, WallShift
from plankwright.guide.replan import plan_again
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.optimize.solve import Effort
from plankwright.plan.planner import Task, make_plan

ROOM = Room(Polygon([(0, 0), (4016, 0), (4016, 1016), (0, 1016)]), name="plain")
PLAN = make_plan(Task(ROOM, Board(1285.0, 192.0), RULES))
LAID = tuple(piece.id for piece in PLAN.pieces if piece.row == 1)
LAST = max(LAID)


def again(nearer_mm: float) -> Plan:
    """Row 1 lies, then the wall at its far end is measured elsewhere."""
    state = FloorState(
        laid=tuple(LaidPiece(name) for name in LAID), walls=(WallShift("D-A", nearer_mm),)
    )
    return plan_again(PLAN, ROOM, state, effort=Effort(moves=100)).plan


@pytest.mark.parametrize("nearer_mm", [-15.0, 15.0])
def test_a_piece_cut_to_a_wall_measured_elsewhere_is_not_moved(nearer_mm: float) -> None:
    after = again(nearer_mm)
    before = {piece.id: piece.length_mm for piece in PLAN.pieces}
    cut = next(piece for piece in after.pieces if piece.id == LAST)
    assert cut.length_mm == pytest.approx(before[LAST] - nearer_mm)  # the wall's 15 mm, no more
    assert moved(PLAN, after, LAID) == []


@pytest.mark.parametrize("nearer_mm", [-15.0, 0.0, 15.0])
@pytest.mark.parametrize("by_mm", [(1.0, 0.0), (0.0, -1.0)])
def test_a_piece_pushed_by_a_millimeter_is_moved(
    nearer_mm: float, by_mm: tuple[float, float]
) -> None:
    after = again(nearer_mm)
    pushed = replace(
        after,
        pieces=tuple(
            replace(piece, outline=translate(piece.outline, *by_mm))
            if piece.id == LAID[1]
            else piece
            for piece in after.pieces
        ),
    )
    assert moved(PLAN, pushed, LAID) == [LAID[1]]


def test_a_piece_that_is_gone_is_moved() -> None:
    after = again(0.0)
    without = replace(
        after,
        pieces=tuple(piece for piece in after.pieces if piece.id != LAID[0]),
        laid=tuple(name for name in after.laid if name != LAID[0]),
    )
    assert moved(PLAN, without, LAID) == [LAID[0]]


def test_every_room_gets_a_mishap_and_nothing_that_should_not_be() -> None:
    # Two boards cannot be missing near the end of a small floor: another mishap befalls it then.
    results = {kind: measure((ROOM, kind, 1)) for kind in KINDS}
    assert all("new" in result for result in results.values())
    *_, last = summary(results)
    assert last == "What should not be:"
