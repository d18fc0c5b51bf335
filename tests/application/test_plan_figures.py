"""The figures of a plan, on a floor small enough to work out by hand."""

import pytest
from shapely import MultiPolygon, box

from plankwright.application.plan_figures import plan_figures, smallest_joint_offset
from plankwright.model.board import Board
from plankwright.model.plan import BoardCount, Evidence, Laying, Piece, Plan
from plankwright.model.rules import Rules

# A floor of 2000 x 400 in boards of 1000 x 200, u along x from the left, v down from y = 400:
#   row 1 (y 400 to 200):  700 | 1000 | 300     joints at u =  700 and 1700
#   row 2 (y 200 to 0):   1000 | 1000           joint at u = 1000
BOARD = Board(1000.0, 200.0, per_pack=8)
FLOOR = box(0, 0, 2000, 400)


def piece(row: int, seat: int, u0: float, u1: float, board: int, stretch: int = 1) -> Piece:
    y1 = 400.0 - 200.0 * (row - 1)
    cut = u1 - u0 < 1000.0
    return Piece(
        id=f"{row}.{stretch}.{seat}",
        row=row,
        stretch=stretch,
        seat=seat,
        outline=box(u0, y1 - 200.0, u1, y1),
        board=board,
        length_mm=u1 - u0,
        width_mm=200.0,
        from_near_mm=0.0,
        from_wall_side_mm=0.0,
        near_end="cut" if cut and seat == 1 else "factory",
        far_end="cut" if cut and seat > 1 else "factory",
        wall_side="factory",
        room_side="factory",
        lay_order=10 * row + seat,
    )


PIECES = (
    piece(1, 1, 0, 700, 1),
    piece(1, 2, 700, 1700, 2),
    piece(1, 3, 1700, 2000, 1),
    piece(2, 1, 0, 1000, 3),
    piece(2, 2, 1000, 2000, 4),
)


def plan(pieces: tuple[Piece, ...] = PIECES, floor: MultiPolygon | None = None) -> Plan:
    return Plan(
        board=BOARD,
        rules=Rules(),
        laying=Laying(0.0, "left-to-right", "C-D", -400.0),
        room=FLOOR,
        floor=floor or MultiPolygon([FLOOR]),
        pieces=pieces,
        boards=BoardCount(len({p.board for p in pieces}), 4, "optimal", Evidence("area")),
        packs=1,
    )


def test_figures_of_two_rows() -> None:
    figures = plan_figures(plan())
    assert (figures.boards, figures.bound, figures.packs, figures.spares) == (4, 4, 1, 4)
    assert (figures.rows, figures.pieces, figures.cut_pieces) == (2, 5, 2)
    # 4 boards of 0.2 m2 on 0.8 m2
    assert figures.floor_m2 == pytest.approx(0.8)
    assert figures.waste_pct == pytest.approx(0.0)
    assert figures.first_row_mm == figures.last_row_mm == (200.0, 200.0)
    assert (figures.shortest_piece_mm, figures.shortest_piece) == (300.0, "1.1.3")
    # |700 - 1000| = 300 is nearer than |1700 - 1000| = 700
    assert figures.joint_offset_mm == pytest.approx(300.0)
    assert figures.joint_offset_rows == "1 and 2"


def test_a_post_between_two_joints_parts_them() -> None:
    # the post stands on the row line y = 200 between u = 800 and 900
    floor = MultiPolygon([FLOOR.difference(box(800, 150, 900, 250))])
    assert smallest_joint_offset(plan(floor=floor))[0] == pytest.approx(700.0)


def test_one_row_has_no_offset_and_no_piece_no_figures() -> None:
    assert smallest_joint_offset(plan(PIECES[:3])) == (None, "")
    figures = plan_figures(plan(()))
    assert (figures.rows, figures.pieces, figures.first_row_mm) == (0, 0, None)
    assert (figures.shortest_piece_mm, figures.shortest_piece) == (None, "")
