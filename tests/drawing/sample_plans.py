"""Plans made by hand, small enough to check on paper."""

from dataclasses import replace

import shapely
from shapely import MultiPolygon, Polygon

from plankwright.model.board import Board
from plankwright.model.plan import (
    BoardCount,
    Evidence,
    Laying,
    Piece,
    Plan,
    PlanFixed,
)
from plankwright.model.rules import Rules

BOARD = Board(1000.0, 200.0, per_pack=4)
RULES = Rules(
    gap_mm=10.0,
    kerf_mm=3.0,
    allowance_mm=3.0,
    shortest_piece_mm=200.0,
    joint_offset_mm=200.0,
)


def piece(
    row: int, seat: int, u0: float, u1: float, board: int, from_near: float, **changes: object
) -> Piece:
    """A piece of the sample room: row n covers v = (n-1)*200 to n*200, its floor at (10, 10)."""
    outline = shapely.box(10.0 + u0, 10.0 + (row - 1) * 200.0, 10.0 + u1, 10.0 + row * 200.0)
    length = u1 - u0
    made = Piece(
        id=f"{row}.1.{seat}",
        row=row,
        stretch=1,
        seat=seat,
        outline=outline,
        board=board,
        length_mm=length,
        width_mm=200.0,
        from_near_mm=from_near,
        from_wall_side_mm=0.0,
        near_end="factory" if from_near == 0.0 else "cut",
        far_end="factory" if from_near + length == 1000.0 else "cut",
        wall_side="factory",
        room_side="factory",
        lay_order=row * 10 + seat,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def small_plan() -> Plan:
    """A floor of 2300 x 550 mm in a room of 2320 x 570: three rows, laid right to left.

    Row 1: a starter of 400 (board 1), a whole board (2), an end piece of 900 (3).
    Row 2: a whole board (4), a whole board (5), an end piece of 300 from board 1: offcut A.
    Row 3: 600 + 1000 + 700 from boards 6, 7, 8; its room side is ripped off, 150 are left.
    """
    narrow = {"width_mm": 150.0, "room_side": "cut"}
    pieces = (
        piece(1, 1, 0.0, 400.0, 1, 600.0, cut_order=1),
        piece(1, 2, 400.0, 1400.0, 2, 0.0),
        piece(1, 3, 1400.0, 2300.0, 3, 0.0, cut_order=2),
        piece(2, 1, 0.0, 1000.0, 4, 0.0),
        piece(2, 2, 1000.0, 2000.0, 5, 0.0),
        piece(2, 3, 2000.0, 2300.0, 1, 0.0, cut_order=3, label="A"),
        _narrow(piece(3, 1, 0.0, 600.0, 6, 400.0, cut_order=4, **narrow)),
        _narrow(piece(3, 2, 600.0, 1600.0, 7, 0.0, cut_order=5, **narrow)),
        _narrow(piece(3, 3, 1600.0, 2300.0, 8, 0.0, cut_order=6, **narrow)),
    )
    return Plan(
        board=BOARD,
        rules=RULES,
        # right to left: v is u turned by +90 degrees, so u is x and v is y
        laying=Laying(0.0, "right-to-left", "A-B", 10.0),
        room=Polygon([(0.0, 0.0), (2320.0, 0.0), (2320.0, 570.0), (0.0, 570.0)]),
        floor=MultiPolygon([shapely.box(10.0, 10.0, 2310.0, 560.0)]),
        pieces=pieces,
        boards=BoardCount(8, 7, "feasible", Evidence("area")),
        packs=2,
        name="sample",
    )


def with_post(plan: Plan) -> Plan:
    """The small plan with a post standing on it (its pieces are not cut round it)."""
    post = PlanFixed("post", shapely.box(1100.0, 200.0, 1200.0, 300.0), 10.0, "post")
    return replace(plan, fixed=(post,))


def _narrow(made: Piece) -> Piece:
    x0, y0, x1, _ = made.outline.bounds
    outline: Polygon = shapely.box(x0, y0, x1, y0 + 150.0)
    return replace(made, outline=outline)
