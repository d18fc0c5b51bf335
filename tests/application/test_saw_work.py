"""The cuts of a plan, counted by hand on two small rooms."""

from shapely import box

from plankwright.application.plan_room import Effort, plan_room
from plankwright.application.saw_work import SawWork, saw_work
from plankwright.model.board import Board
from plankwright.model.room import Room
from plankwright.model.rules import Rules

NO_GAP = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)


def test_one_whole_board_is_trimmed_all_round() -> None:
    plan = plan_room(Room(box(0.0, 0.0, 1285.0, 192.0)), Board(1285.0, 192.0), NO_GAP)
    assert saw_work(plan) == SawWork(crosscuts=0, rips=0, trims=4)


def test_two_rows_of_one_piece_each() -> None:
    # 1000 x 260: row 1 whole across, row 2 ripped to 68, more than a third of a board. Each piece
    # keeps one factory end or none:
    # both are cut from boards at their near end (the near end stays): 1 crosscut each, and the
    # near end at the wall is trimmed. Row 1: wall side trimmed; room side joined. Row 2: room side
    # ripped, wall side joined.
    plan = plan_room(Room(box(0.0, 0.0, 1000.0, 260.0)), Board(1285.0, 192.0), NO_GAP)
    work = saw_work(plan)
    assert [(p.wall_side, p.room_side) for p in plan.pieces] == [
        ("factory", "factory"),
        ("factory", "cut"),
    ]
    near_ends = sum(p.near_end == "factory" for p in plan.pieces)
    far_ends = sum(p.far_end == "factory" for p in plan.pieces)
    assert work.rips == 1
    assert work.crosscuts == 4 - near_ends - far_ends
    assert work.trims == 1 + near_ends + far_ends


def test_a_reversible_board_has_nothing_to_trim() -> None:
    plan = plan_room(
        Room(box(0.0, 0.0, 4000.0, 3000.0)),
        Board(1285.0, 192.0, reversible=True),
        NO_GAP,
        effort=Effort(moves=100),
    )
    assert saw_work(plan).trims == 0


def test_joined_sides_are_never_trimmed() -> None:
    # 16 rows of 4000: every side between two rows is joined; what is left are row 1's wall sides
    # (4 pieces) and the whole ends at the two walls
    plan = plan_room(
        Room(box(0.0, 0.0, 4000.0, 3000.0)), Board(1285.0, 192.0), NO_GAP, effort=Effort(moves=500)
    )
    first_row = sum(piece.row == 1 for piece in plan.pieces)
    whole_ends = saw_work(plan).trims - first_row
    last = {piece.row: piece for piece in plan.pieces}
    starts = sum(p.seat == 1 and p.near_end == "factory" for p in plan.pieces)
    assert whole_ends == starts + sum(p.far_end == "factory" for p in last.values())
