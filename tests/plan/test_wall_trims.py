"""Which tongues and lips are trimmed off, against the outlines themselves."""

import pytest
from shapely import LineString, Polygon, box, union_all

from plankwright.application.plan_room import Effort, plan_room
from plankwright.geometry.frame import Frame
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.plan.wall_trims import wall_trims

RULES = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)
NOTCHED = {
    # the end wall stands 60 mm farther in from v = 300 on, so in the middle of row 2
    "at an end": Polygon(
        [(0, 0), (3000, 0), (3000, 300), (2940, 300), (2940, 768), (0, 768)],
    ),
    # a pier of 100 mm at the start wall, as deep as half a board
    "at the start wall": Polygon(
        [(0, 0), (1500, 0), (1500, 96), (1600, 96), (1600, 0), (3000, 0), (3000, 768), (0, 768)],
    ),
}


def _by_outlines(plan: Plan) -> dict[str, set[str]]:
    """The same of long sides with shapely: what of a side no other piece touches."""
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    outlines = {piece.id: axes.to_plan(piece.outline) for piece in plan.pieces}
    found: dict[str, set[str]] = {}
    for piece in plan.pieces:
        outline = outlines[piece.id]
        others = union_all([o.buffer(0.1) for name, o in outlines.items() if name != piece.id])
        low, high = outline.bounds[1], outline.bounds[3]
        for name, at, kind in (("wall", low, piece.wall_side), ("room", high, piece.room_side)):
            line = LineString([(outline.bounds[0], at), (outline.bounds[2], at)])
            if (
                kind == "factory"
                and outline.boundary.intersection(line).difference(others).length > 5
            ):
                found.setdefault(piece.id, set()).add(name)
    return found


@pytest.mark.parametrize("name", NOTCHED)
def test_sides_are_trimmed_where_nothing_lies_beside_them(name: str) -> None:
    plan = plan_room(
        Room(NOTCHED[name]), Board(1285.0, 192.0), RULES, effort=Effort(moves=200, looks=1)
    )
    sides = {piece: {"wall", "room"} & set(edges) for piece, edges in wall_trims(plan).items()}
    assert {piece: edges for piece, edges in sides.items() if edges} == _by_outlines(plan)


def test_the_tongue_that_a_notch_leaves_in_the_row_before_is_kept() -> None:
    # Rows of 192: row 2 lies from 192 to 384, and its far end is 3000 up to v = 300, 2940 above.
    # So the last piece of row 2 has its room side up to 2940 only, all of it beside row 3, while
    # its bounding box reaches 60 mm beyond row 3.
    plan = plan_room(
        Room(NOTCHED["at an end"]), Board(1285.0, 192.0), RULES, effort=Effort(moves=200, looks=1)
    )
    last = [piece for piece in plan.pieces if piece.row == 2][-1]
    assert last.outline.bounds[2] - last.outline.bounds[0] > 60.0
    assert last.room_side == "factory"
    assert "room" not in wall_trims(plan).get(last.id, ())


def test_nothing_to_trim_on_a_reversible_board() -> None:
    board = Board(1285.0, 192.0, reversible=True)
    plan = plan_room(Room(box(0, 0, 3000, 768)), board, RULES, effort=Effort(moves=200, looks=1))
    assert wall_trims(plan) == {}
