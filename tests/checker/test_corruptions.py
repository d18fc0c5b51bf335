"""Every way to spoil a good plan that we could think of is caught, and named with its place."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Polygon, box
from tests.checker.plan_maker import (
    PRICES,
    changed,
    make_plan,
    plain_room,
    post_room,
    proven_room,
    ring,
)

from plankwright.checker.check import check_plan
from plankwright.checker.verdict import FAULT_CODES
from plankwright.model.board import Board
from plankwright.model.plan import Evidence, Piece, Plan, PlanFixed, Recess, RowKind, StockBoard

Shaper = Callable[[Polygon], Polygon]


@dataclass(frozen=True)
class Corruption:
    """What is done to a good plan, and the fault (code, place) that must be among those found."""

    name: str
    spoil: Callable[[], Plan]
    code: str
    place: str


def piece_of(plan: Plan, name: str) -> Piece:
    return next(piece for piece in plan.pieces if piece.id == name)


def with_piece(plan: Plan, name: str, **fields: Any) -> Plan:
    pieces = tuple(changed(p, **fields) if p.id == name else p for p in plan.pieces)
    return changed(plan, pieces=pieces)


def reshaped(plan: Plan, name: str, shape: Shaper, **fields: Any) -> Plan:
    """A piece with another outline, its stated rectangle kept true."""
    outline = shape(piece_of(plan, name).outline)
    u0, v0, u1, v1 = outline.bounds
    true = {"outline": outline, "length_mm": u1 - u0, "width_mm": v1 - v0}
    return with_piece(plan, name, **{**true, **fields})


def shifted(u: float, v: float) -> Shaper:
    return lambda outline: shapely.transform(outline, lambda xy: xy + np.array([u, v]))


def cut_box(u0: float, v0: float, u1: float, v1: float) -> Shaper:
    """Takes away a box given from the outline's lower left corner."""

    def cut(outline: Polygon) -> Polygon:
        u, v, _, _ = outline.bounds
        return outline.difference(box(u + u0, v + v0, u + u1, v + v1))

    return cut


def swapped(plan: Plan, one: str, other: str) -> Plan:
    a, b = piece_of(plan, one), piece_of(plan, other)
    plan = with_piece(plan, one, outline=b.outline)
    return with_piece(plan, other, outline=a.outline)


def row_turned(plan: Plan, row: int) -> Plan:
    """Every piece of a row cut from the other end of its board."""
    length = plan.board.length_mm

    def turn(p: Piece) -> Any:
        return changed(
            p,
            from_near_mm=length - p.length_mm - p.from_near_mm,
            near_end=p.far_end,
            far_end=p.near_end,
        )

    return changed(plan, pieces=tuple(turn(p) if p.row == row else p for p in plan.pieces))


def renumbered(plan: Plan, field: str, row: int, to: int) -> Plan:
    def number(p: Piece) -> Any:
        if p.row != row:
            return p
        numbers = {"row": p.row, "stretch": p.stretch, "seat": p.seat, field: to}
        name = "{row}.{stretch}.{seat}".format(**numbers)
        return changed(p, id=name, **{field: to})

    return changed(plan, pieces=tuple(number(p) for p in plan.pieces))


def with_boards(plan: Plan, **fields: Any) -> Plan:
    return changed(plan, boards=changed(plan.boards, **fields))


def with_floor(plan: Plan, polygon: Polygon) -> Plan:
    return changed(plan, floor=MultiPolygon([polygon]))


def replanned(gap_low: float) -> Plan:
    """A faultless plan of the plain room, but with another gap along the start wall."""
    plan = plain_room()
    floor = box(8.0, gap_low, 3992.0, 2992.0)
    return make_plan(plan.room, floor, start_line=8.0, rules=plan.rules)


def near_joint() -> Plan:
    """Row 2's first joint moved to 200 mm from row 1's, every piece recut so that all else fits."""
    plan = plain_room()
    first = piece_of(plan, "1.1.1").outline.bounds[2]
    second = piece_of(plan, "2.1.1").outline.bounds[2]
    step = first + 200.0 - second
    for name, low, high in (("2.1.1", 0.0, step), ("2.1.2", step, step), ("2.1.3", step, step)):
        plan = reshaped(plan, name, stretched(low, high))
    return reshaped(plan, "2.1.4", stretched(step, 0.0))


def stretched(low: float, high: float) -> Shaper:
    def stretch(outline: Polygon) -> Polygon:
        u0, v0, u1, v1 = outline.bounds
        return box(u0 + low, v0, u1 + high, v1)

    return stretch


def sliver_row() -> Plan:
    """Rows moved so that the first one is 20 mm wide and all is laid out anew."""
    plan = plain_room()
    return make_plan(plan.room, plan.floor.geoms[0], start_line=8.0 - 172.0)


def short_end() -> Plan:
    """A starter of 100 mm."""
    plan = plain_room()
    step = 100.0 - piece_of(plan, "5.1.1").length_mm
    plan = reshaped(plan, "5.1.1", stretched(0.0, step))
    return reshaped(plan, "5.1.2", stretched(step, 0.0))


def half_board_end() -> Plan:
    """An end piece taken from the far end of its own new board."""
    plan = plain_room()
    piece = piece_of(plan, "3.1.4")
    return with_piece(
        plan,
        "3.1.4",
        board=900,
        from_near_mm=plan.board.length_mm - piece.length_mm,
        near_end="cut",
        far_end="factory",
        label=None,
    )


def without_kerf() -> tuple[Plan, str, str]:
    """Two pieces of one board moved together until nothing is left for the saw."""
    plan = plain_room()
    a, b = next(
        (a, b)
        for a in plan.pieces
        for b in plan.pieces
        if a.board == b.board and a.id < b.id and a.from_near_mm == 0.0 and a.row < 15
    )
    return with_piece(plan, b.id, from_near_mm=a.length_mm, far_end="cut"), a.id, b.id


def slanted_seam() -> Plan:
    """The joint of 2.1.1 and 2.1.2 sawn at a slant, 40 mm over the row's width."""
    plan = plain_room()
    u0, v0, u1, v1 = piece_of(plan, "2.1.1").outline.bounds
    a = Polygon([(u0, v0), (u1, v0), (u1 - 40.0, v1), (u0, v1)])
    plan = reshaped(plan, "2.1.1", lambda _: a)
    _, _, far, _ = piece_of(plan, "2.1.2").outline.bounds
    b = Polygon([(u1, v0), (far, v0), (far, v1), (u1 - 40.0, v1)])
    return with_piece(plan, "2.1.2", outline=b)


KERF_PLAN, KERF_A, KERF_B = without_kerf()


CORRUPTIONS = [
    # cover
    Corruption(
        "a piece moved 1 mm along",
        lambda: reshaped(plain_room(), "4.1.2", shifted(1, 0)),
        "overlap",
        "4.1.2 4.1.3",
    ),
    Corruption(
        "a piece moved 1 mm along leaves a crack",
        lambda: reshaped(plain_room(), "4.1.2", shifted(1, 0)),
        "crack",
        "4.1.2",
    ),
    Corruption(
        "a piece moved 1 mm across",
        lambda: reshaped(plain_room(), "4.1.2", shifted(0, 1)),
        "row-lines",
        "4.1.2",
    ),
    Corruption(
        "a 1 mm crack at an end",
        lambda: reshaped(plain_room(), "6.1.2", stretched(1, 0)),
        "crack",
        "6.1.2",
    ),
    Corruption(
        "a crack of 1 x 2 mm",
        lambda: reshaped(plain_room(), "6.1.2", cut_box(0, 40, 1, 42)),
        "crack",
        "6.1.2",
    ),
    Corruption(
        "a 1 mm overlap",
        lambda: reshaped(plain_room(), "6.1.2", stretched(-1, 0)),
        "overlap",
        "6.1.2",
    ),
    Corruption(
        "a piece missing",
        lambda: changed(plain_room(), pieces=plain_room().pieces[:-1]),
        "crack",
        "16.1",
    ),
    Corruption(
        "a piece twice",
        lambda: changed(
            plain_room(), pieces=(*plain_room().pieces, changed(plain_room().pieces[5], id="2.1.9"))
        ),
        "overlap",
        "2.1.2",
    ),
    Corruption(
        "a hole inside a piece",
        lambda: reshaped(plain_room(), "6.1.2", cut_box(200, 50, 230, 80)),
        "crack",
        "6.1.2",
    ),
    Corruption(
        "a piece beyond the gap line",
        lambda: reshaped(plain_room(), "6.1.1", stretched(-5, 0)),
        "outside",
        "6.1.1",
    ),
    Corruption("a slanted joint", slanted_seam, "inner-cut", "2.1.1"),
    # numbers
    Corruption(
        "two pieces swapped", lambda: swapped(plain_room(), "3.1.1", "8.1.2"), "numbering", "3.1.1"
    ),
    Corruption(
        "two unequal pieces swapped: rectangles",
        lambda: swapped(plain_room(), "3.1.1", "8.1.2"),
        "rectangle",
        "8.1.2",
    ),
    Corruption(
        "a row renumbered to hide a joint",
        lambda: renumbered(plain_room(), "row", 5, 55),
        "numbering",
        "55.1.2",
    ),
    Corruption(
        "a stretch renumbered",
        lambda: renumbered(plain_room(), "stretch", 5, 2),
        "numbering",
        "5.2.1",
    ),
    Corruption(
        "two seats called one",
        lambda: with_piece(plain_room(), "5.1.2", id="5.1.3", seat=3),
        "numbering",
        "5.1.3",
    ),
    Corruption(
        "stretches of a parted row exchanged",
        lambda: with_piece(post_room(), "7.2.1", id="7.1.9", stretch=1, seat=9),
        "numbering",
        "7.1.9",
    ),
    Corruption(
        "an id that is not its row",
        lambda: with_piece(plain_room(), "5.1.2", id="6.9.9"),
        "numbering",
        "6.9.9",
    ),
    # ends
    Corruption(
        "a row turned end for end", lambda: row_turned(plain_room(), 4), "factory-joint", "4.1.1"
    ),
    Corruption("the wrong end kept", half_board_end, "factory-joint", "3.1.4"),
    Corruption(
        "a joined end called cut",
        lambda: with_piece(plain_room(), "3.1.2", far_end="cut"),
        "factory-joint",
        "3.1.2",
    ),
    Corruption(
        "a joined side called cut",
        lambda: with_piece(plain_room(), "3.1.2", room_side="cut"),
        "factory-joint",
        "3.1.2",
    ),
    Corruption(
        "a free end called factory",
        lambda: with_piece(plain_room(), "3.1.1", near_end="factory"),
        "edge-claim",
        "3.1.1",
    ),
    Corruption(
        "a free edge called cut where nothing was cut",
        lambda: with_piece(plain_room(), "1.1.2", wall_side="cut"),
        "edge-claim",
        "1.1.2",
    ),
    Corruption(
        "a piece ripped from the wrong side",
        lambda: with_piece(
            plain_room(),
            "16.1.2",
            from_wall_side_mm=192.0 - 104.0,
            wall_side="cut",
            room_side="factory",
        ),
        "factory-joint",
        "16.1.2",
    ),
    # boards
    Corruption("kerf left out", lambda: KERF_PLAN, "board-clash", f"{KERF_A} {KERF_B}"),
    Corruption(
        "a board used twice",
        lambda: with_piece(plain_room(), "4.1.2", board=piece_of(plain_room(), "4.1.3").board),
        "board-end-twice",
        "4.1.2 4.1.3",
    ),
    Corruption(
        "a piece longer than its board",
        lambda: with_piece(plain_room(), "4.1.1", from_near_mm=1200.0),
        "off-board",
        "4.1.1",
    ),
    Corruption(
        "a wrong length",
        lambda: with_piece(plain_room(), "4.1.1", length_mm=700.0),
        "rectangle",
        "4.1.1",
    ),
    Corruption(
        "a shelved offcut shorter than its piece",
        lambda: changed(
            with_piece(plain_room(), "4.1.2", board=500), stock=(StockBoard(500, 784.0, "far"),)
        ),
        "off-board",
        "4.1.2",
    ),
    Corruption(
        "a shelved offcut without the end",
        lambda: changed(
            with_piece(plain_room(), "3.1.4", board=500, from_near_mm=0.0, label=None),
            stock=(StockBoard(500, 1200.0, "far"),),
        ),
        "factory-joint",
        "3.1.4",
    ),
    Corruption(
        "a label from another board",
        lambda: with_piece(with_piece(plain_room(), "4.1.1", label="Z"), "9.1.1", label="Z"),
        "label",
        "9.1.1",
    ),
    Corruption(
        "a later cut without its label",
        lambda: with_piece(plain_room(), KERF_B, label=None),
        "label",
        KERF_B,
    ),
    Corruption(
        "two cuts at the same time",
        lambda: with_piece(
            plain_room(), "4.1.1", cut_order=piece_of(plain_room(), "3.1.1").cut_order
        ),
        "cut-order",
        "4.1.1",
    ),
    Corruption(
        "a cut piece never cut",
        lambda: with_piece(plain_room(), "4.1.1", cut_order=None),
        "cut-order",
        "4.1.1",
    ),
    # rules
    Corruption("a joint under the offset", near_joint, "joint-offset", "1.1.1 1.1.2 2.1.1 2.1.2"),
    Corruption("a short piece", short_end, "short-piece", "5.1.1"),
    Corruption("a sliver row", sliver_row, "narrow-row", "1.1.1"),
    # the floor
    Corruption("a gap of 6 instead of 8", lambda: replanned(6.0), "gap", "A-B"),
    Corruption("a gap of 60 instead of 8", lambda: replanned(60.0), "floor-short", "A-B"),
    Corruption("a gap of 7.5 instead of 8", lambda: replanned(7.5), "gap", "A-B"),
    Corruption(
        "a gap that the trim does not cover",
        lambda: changed(plain_room(), rules=changed(plain_room().rules, trim_cover_mm=5.0)),
        "gap-uncovered",
        "A-B",
    ),
    Corruption(
        "a gap of 5 where the leaflet wants 8",
        lambda: changed(
            plain_room(),
            rules=changed(plain_room().rules, least_gap_mm=8.0),
            edges=(("A-B", 5.0),),
        ),
        "gap-too-small",
        "A-B",
    ),
    Corruption(
        "the floor shrunk with its pieces",
        lambda: with_floor(plain_room(), box(8, 8, 3992, 2500)),
        "floor-short",
        "C-D",
    ),
    Corruption(
        "a post forgotten in the floor",
        lambda: changed(
            plain_room(), fixed=(PlanFixed("post", box(900, 900, 1000, 1000), 8.0, "post 1"),)
        ),
        "gap",
        "post 1",
    ),
    Corruption(
        "a post's gap of 6 instead of 10",
        lambda: changed(
            post_room(), fixed=(changed(post_room().fixed[0], outline=box(2036, 1056, 2164, 1334)),)
        ),
        "gap",
        "pillar",
    ),
    Corruption(
        "a recess that hides a gap",
        lambda: changed(replanned(2.0), recesses=(Recess("doorway", box(8, 2, 3992, 9)),)),
        "recess",
        "recess 1 (doorway)",
    ),
    Corruption(
        "a recess that reaches into the room",
        lambda: changed(post_room(), recesses=(Recess("doorway", box(3000, 2200, 3884, 2645)),)),
        "recess",
        "recess 1 (doorway)",
    ),
    Corruption(
        "a wall that does not exist",
        lambda: changed(plain_room(), edges=(("B-X", 0.0),)),
        "edge",
        "B-X",
    ),
    Corruption(
        "another start wall",
        lambda: changed(plain_room(), laying=changed(plain_room().laying, start_wall="C-D")),
        "start-wall",
        "C-D",
    ),
    Corruption(
        "a room a hundred times too long",
        lambda: changed(plain_room(), room=ring(0, 0, 4e6, 3000)),
        "outline",
        "room",
    ),
    Corruption(
        "a start line out of this world",
        lambda: changed(plain_room(), laying=changed(plain_room().laying, start_line_mm=1e300)),
        "row-lines",
        "laying",
    ),
    # laying
    Corruption(
        "laid in an impossible order",
        lambda: with_piece(plain_room(), "4.1.2", lay_order=-1),
        "lay-order",
        "4.1.2",
    ),
    Corruption(
        "two pieces laid at once",
        lambda: with_piece(
            plain_room(), "4.1.2", lay_order=piece_of(plain_room(), "4.1.3").lay_order
        ),
        "lay-order",
        "4.1.2",
    ),
    Corruption(
        "a row laid backwards between two",
        lambda: changed(plain_room(), rows=(RowKind(5, joined="room-side"),)),
        "lay-order",
        "row 5",
    ),
    Corruption(
        "the mirrored board",
        lambda: changed(plain_room(), board=Board(1285.0, 192.0, tongue_end="left")),
        "lay-direction",
        "laying",
    ),
    Corruption(
        "laid the other way",
        lambda: changed(plain_room(), laying=changed(plain_room().laying, laid="left-to-right")),
        "lay-direction",
        "laying",
    ),
    # counts and proof
    Corruption("a board less", lambda: with_boards(plain_room(), used=52), "boards-used", "boards"),
    Corruption("a pack less", lambda: changed(plain_room(), packs=6), "packs", "packs"),
    Corruption("a bound raised", lambda: with_boards(plain_room(), bound=50), "bound", "boards"),
    Corruption(
        "a bound above what is used", lambda: with_boards(plain_room(), bound=54), "bound", "boards"
    ),
    Corruption(
        "called optimal", lambda: with_boards(plain_room(), status="optimal"), "status", "boards"
    ),
    Corruption(
        "a proven bound raised", lambda: with_boards(proven_room(), bound=52), "bound", "boards"
    ),
    Corruption(
        "prices that prove nothing",
        lambda: with_boards(
            proven_room(), evidence=Evidence("prices", ((0.0, 0.0), (1285.0, 1.0)))
        ),
        "bound",
        "boards",
    ),
    Corruption(
        "prices above 1",
        lambda: with_boards(
            proven_room(), evidence=Evidence("prices", tuple((t, 1.5 * p) for t, p in PRICES))
        ),
        "bound",
        "boards",
    ),
    Corruption(
        "prices that fall",
        lambda: with_boards(
            proven_room(), evidence=Evidence("prices", (*PRICES[:3], (700.0, 0.1)))
        ),
        "bound",
        "boards",
    ),
    Corruption(
        "prices that do not begin at 0",
        lambda: with_boards(proven_room(), evidence=Evidence("prices", ((0.0, 0.2), *PRICES[1:]))),
        "bound",
        "boards",
    ),
    Corruption(
        "prices for reversible boards",
        lambda: changed(proven_room(), board=Board(1285.0, 192.0, reversible=True)),
        "bound",
        "boards",
    ),
    Corruption(
        "a bound that forgets a board at hand",
        lambda: changed(proven_room(), stock=(StockBoard(500, 1285.0, "both"),)),
        "bound",
        "boards",
    ),
    Corruption(
        "a bound that forgets an offcut at hand",
        lambda: changed(proven_room(), stock=(StockBoard(500, 1284.0, "near"),)),
        "bound",
        "boards",
    ),
    Corruption(
        "a stock with boards longer than the plan's",
        lambda: changed(proven_room(), stock=(StockBoard(500, 1830.0, "both"),)),
        "bound",
        "boards",
    ),
    # what lies already
    Corruption(
        "a laid piece that there is not",
        lambda: changed(plain_room(), laid=("99.1.1",)),
        "laid",
        "99.1.1",
    ),
    Corruption(
        "a piece still to be cut from a laid piece's board",
        lambda: changed(plain_room(), laid=("1.1.1",)),
        "laid",
        "2.1.4",
    ),
    Corruption(
        "a piece to be laid before one that lies",
        lambda: changed(plain_room(), laid=("2.1.2",)),
        "laid",
        "1.1.1",
    ),
    Corruption(
        "two boards of the stock with one number",
        lambda: changed(
            plain_room(), stock=(StockBoard(500, 700.0, "far"), StockBoard(500, 600.0, "near"))
        ),
        "laid",
        "stock 500",
    ),
    # outlines
    Corruption(
        "an outline that crosses itself",
        lambda: with_piece(
            plain_room(), "4.1.2", outline=Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
        ),
        "outline",
        "4.1.2",
    ),
    Corruption(
        "a room that crosses itself",
        lambda: changed(plain_room(), room=Polygon([(0, 0), (4000, 3000), (4000, 0), (0, 3000)])),
        "outline",
        "room",
    ),
]


@pytest.mark.parametrize("corruption", CORRUPTIONS, ids=lambda corruption: corruption.name)
def test_a_corruption_is_caught_and_named(corruption: Corruption) -> None:
    faults = check_plan(corruption.spoil()).faults
    found = [fault for fault in faults if fault.code == corruption.code]
    assert found, [str(fault) for fault in faults[:8]]
    places = [fault.place for fault in found]
    assert any(corruption.place in place for place in places), places
    assert all(fault.message for fault in faults)


def test_there_are_many_kinds_of_corruption() -> None:
    assert len(CORRUPTIONS) >= 25
    assert {corruption.code for corruption in CORRUPTIONS} == set(FAULT_CODES)


def test_the_ring_helper_starts_at_the_start_wall() -> None:
    assert ring(0, 0, 2, 1).exterior.coords[0] == (0.0, 0.0)
