"""The laws of a plan, asserted from its pieces alone: neither planner nor checker is asked.

Pieces are looked at in plan axes, which are computed here anew from the laying.
"""

import math
from collections import defaultdict
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from plankwright.model.plan import Piece, Plan

NEAR_MM = 0.05  # outlines are kept to 0.001 mm
CRACK_MM = 0.2  # half of what a crack or an overlap may be
SCRAP_MM2, SCRAP_MM = 100.0, 1.0  # floor in a row below this area or width may stay open, if told


@dataclass(frozen=True)
class Lying:
    """A piece in plan axes."""

    piece: Piece
    shape: Polygon

    @property
    def box(self) -> tuple[float, float, float, float]:
        u0, v0, u1, v1 = self.shape.bounds
        return u0, v0, u1, v1


def into_axes(plan: Plan, shape: BaseGeometry) -> BaseGeometry:
    """u along the rows; v is u turned by -90 degrees left to right, by +90 right to left."""
    angle = math.radians(plan.laying.row_angle_deg)
    turn = angle + math.radians(90.0 if plan.laying.laid == "right-to-left" else -90.0)
    u = np.array([math.cos(angle), math.sin(angle)])
    v = np.array([math.cos(turn), math.sin(turn)])
    return shapely.transform(shape, lambda xy: np.column_stack([xy @ u, xy @ v]))


def assert_lawful(plan: Plan) -> None:
    """Every law of the design's sections 3, 4 and 6 that a plan of one room must keep."""
    if not plan.pieces:
        assert plan.floor.is_empty
        return
    floor = into_axes(plan, plan.floor)
    lying = [Lying(piece, into_axes(plan, piece.outline)) for piece in plan.pieces]
    assert_cover(floor, lying, told="scrap" in {finding.code for finding in plan.findings})
    assert_gaps(plan)
    assert_rows(plan, lying)
    assert_rectangles(lying)
    assert_boards(plan, lying)
    assert_joints(plan, floor, lying)
    assert_sizes(plan, lying)
    assert_counts(plan)
    assert_order(plan)


def assert_cover(floor: BaseGeometry, lying: list[Lying], *, told: bool) -> None:
    shapes = [one.shape for one in lying]
    together = shapely.union_all(shapes)
    left_open = shapely.get_parts(floor.difference(together))
    for bare in left_open:
        if not bare.buffer(-CRACK_MM).is_empty:
            assert told, "a crack that no finding tells of"
            too_thin = bare.buffer(-SCRAP_MM / 2.0).is_empty
            assert bare.area < SCRAP_MM2 or too_thin, "a crack"
    assert together.difference(floor).buffer(-CRACK_MM).is_empty, "a piece beyond the floor"
    tree = shapely.STRtree(shapes)
    for a, b in tree.query(shapes, predicate="intersects").T:
        if a < b:
            overlap = shapes[a].intersection(shapes[b])
            assert overlap.buffer(-CRACK_MM).is_empty, (lying[a].piece.id, lying[b].piece.id)
    area = sum(shape.area for shape in shapes) + sum(bare.area for bare in left_open)
    assert math.isclose(area, floor.area, abs_tol=0.01 * floor.length + 2.0)


def assert_gaps(plan: Plan) -> None:
    """No gap is eaten: walls without gaps of their own, no doorway."""
    if not plan.edges and not plan.recesses:
        walls = plan.room.boundary
        assert plan.floor.distance(walls) >= plan.rules.gap_mm - NEAR_MM
    for thing in plan.fixed:
        assert plan.floor.distance(thing.outline) >= thing.gap_mm - NEAR_MM


def assert_rows(plan: Plan, lying: list[Lying]) -> None:
    width, start = plan.board.width_mm, plan.laying.start_line_mm
    for one in lying:
        low = start + (one.piece.row - 1) * width
        _, v0, _, v1 = one.box
        assert low - NEAR_MM <= v0 < v1 <= low + width + NEAR_MM, one.piece.id
        # its place across its board is its place across its row, where a long side is joined
        if "factory" in (one.piece.wall_side, one.piece.room_side):
            assert abs(one.piece.from_wall_side_mm - (v0 - low)) < NEAR_MM, one.piece.id
    rows = {one.piece.row for one in lying}
    assert min(rows) == 1


def assert_rectangles(lying: list[Lying]) -> None:
    for one in lying:
        u0, v0, u1, v1 = one.box
        assert abs(one.piece.length_mm - (u1 - u0)) < NEAR_MM, one.piece.id
        assert abs(one.piece.width_mm - (v1 - v0)) < NEAR_MM, one.piece.id


def assert_boards(plan: Plan, lying: list[Lying]) -> None:
    by_board: dict[int, list[Lying]] = defaultdict(list)
    for one in lying:
        by_board[one.piece.board].append(one)
        assert_in_board(plan, one.piece)
    for sharing in by_board.values():
        for a, b in combinations(sharing, 2):
            assert_apart(plan, a, b)


def assert_in_board(plan: Plan, piece: Piece) -> None:
    """Inside its board, and factory only where the board's own edge is."""
    far = plan.board.length_mm - piece.from_near_mm - piece.length_mm
    room = plan.board.width_mm - piece.from_wall_side_mm - piece.width_mm
    margins = (piece.from_near_mm, far, piece.from_wall_side_mm, room)
    claims = (piece.near_end, piece.far_end, piece.wall_side, piece.room_side)
    for margin, claim in zip(margins, claims, strict=True):
        assert margin >= -NEAR_MM, piece.id
        if claim == "factory":
            assert margin <= NEAR_MM, piece.id


def assert_apart(plan: Plan, a: Lying, b: Lying) -> None:
    """Kerf and allowance between two pieces along their board, or a kerf across it."""
    one, two = a.piece, b.piece
    along = max(
        two.from_near_mm - one.from_near_mm - one.length_mm,
        one.from_near_mm - two.from_near_mm - two.length_mm,
    )
    across = max(
        two.from_wall_side_mm - one.from_wall_side_mm - one.width_mm,
        one.from_wall_side_mm - two.from_wall_side_mm - two.width_mm,
    )
    if along >= plan.rules.cut_mm - NEAR_MM or across >= plan.rules.kerf_mm - NEAR_MM:
        return
    apart = in_board(a).distance(in_board(b))
    assert apart >= plan.rules.cut_mm - NEAR_MM, (one.id, two.id, along, across, apart)


def in_board(one: Lying) -> Polygon:
    """The outline as it is cut from the board."""
    u0, v0, _, _ = one.box
    moved = np.array([one.piece.from_near_mm - u0, one.piece.from_wall_side_mm - v0])
    return shapely.transform(one.shape, lambda uv: uv + moved)


def assert_joints(plan: Plan, floor: BaseGeometry, lying: list[Lying]) -> None:
    """Factory edges wherever two pieces meet; joints of neighboring rows far enough apart."""
    joints: dict[int, list[tuple[float, str]]] = defaultdict(list)
    for a, b, run in meetings(lying):
        u0, v0, u1, v1 = run.bounds
        if v1 - v0 > u1 - u0:  # an end joint
            near, far = (a, b) if a.box[0] < b.box[0] else (b, a)
            assert near.piece.row == far.piece.row
            assert near.piece.far_end == far.piece.near_end == "factory", (a.piece.id, b.piece.id)
            joints[near.piece.row].append(((u0 + u1) / 2.0, near.piece.id))
        else:
            low, high = (a, b) if a.box[1] < b.box[1] else (b, a)
            assert low.piece.row + 1 == high.piece.row
            assert low.piece.room_side == high.piece.wall_side == "factory", (
                a.piece.id, b.piece.id,
            )  # fmt: skip
    for row in sorted(joints):
        assert_offsets(plan, floor, row, joints[row], joints.get(row + 1, []))


def meetings(lying: list[Lying]) -> list[tuple[Lying, Lying, BaseGeometry]]:
    """Every two pieces that share more than a point, and the line they share."""
    shapes = [one.shape for one in lying]
    tree = shapely.STRtree(shapes)
    found = []
    for a, b in tree.query(shapes, predicate="dwithin", distance=NEAR_MM).T:
        if a < b:
            shared = shapes[a].boundary.intersection(shapes[b].buffer(NEAR_MM, cap_style="flat"))
            if shared.length > 20 * NEAR_MM:
                found.append((lying[a], lying[b], shared))
    return found


def assert_offsets(
    plan: Plan,
    floor: BaseGeometry,
    row: int,
    here: list[tuple[float, str]],
    beyond: list[tuple[float, str]],
) -> None:
    line = plan.laying.start_line_mm + row * plan.board.width_mm
    excused = " ".join(f.where for f in plan.findings if f.code == "joint-offset").split()
    inside = floor.buffer(2 * NEAR_MM, join_style="mitre")
    for u, name in here:
        for other, neighbor in beyond:
            apart = abs(u - other)
            if apart >= plan.rules.joint_offset_mm - NEAR_MM:
                continue
            low, high = min(u, other) - 0.01, max(u, other) + 0.01
            # floor on both sides: a wall along the row line joins nothing
            beside = [LineString([(low, line + by), (high, line + by)]) for by in (-0.5, 0.5)]
            if all(inside.covers(run) for run in beside):
                seats = (seat_of(name), seat_of(neighbor))
                assert all(seat in excused for seat in seats), (name, neighbor, apart)


def seat_of(piece_id: str) -> str:
    return piece_id.rstrip("abcdefghijklmnopqrstuvwxyz")


def assert_sizes(plan: Plan, lying: list[Lying]) -> None:
    """Short and narrow pieces are excused by name, and only where they must be."""
    told: dict[str, set[str]] = defaultdict(set)
    for finding in plan.findings:
        told[finding.code].add(finding.where)
    extents: dict[tuple[int, int], list[float]] = defaultdict(list)
    for one in lying:
        extents[one.piece.row, one.piece.stretch] += [one.box[0], one.box[2]]
    for one in lying:
        piece = one.piece
        if piece.length_mm < plan.rules.shortest_piece_mm - NEAR_MM:
            us = extents[piece.row, piece.stretch]
            is_short = max(us) - min(us) < plan.rules.shortest_piece_mm
            assert piece.id in told["short-stretch" if is_short else "short-piece"]
        if piece.width_mm < plan.rules.narrowest_row_mm - NEAR_MM:
            assert piece.id in told["narrow-row"]


def assert_counts(plan: Plan) -> None:
    used = len({piece.board for piece in plan.pieces})
    assert plan.boards.used == used
    assert plan.packs == -(-used // plan.board.per_pack)
    assert plan.boards.bound <= used
    assert plan.boards.status == ("optimal" if used == plan.boards.bound else "feasible")
    area = (plan.floor.area - 0.01 * plan.floor.length) / plan.board.area_mm2
    assert used >= area


def assert_order(plan: Plan) -> None:
    """Stretch by stretch, each from near to far; each cut piece once in the saw order."""
    laid = sorted(plan.pieces, key=lambda piece: piece.lay_order)
    assert [piece.lay_order for piece in laid] == list(range(1, len(laid) + 1))
    stretches = [(piece.row, piece.stretch) for piece in laid]
    begun = [key for n, key in enumerate(stretches) if n == 0 or stretches[n - 1] != key]
    assert len(begun) == len(set(stretches))
    for before, after in pairwise(laid):
        if (before.row, before.stretch) == (after.row, after.stretch):
            assert before.seat <= after.seat
    cuts = sorted(piece.cut_order for piece in plan.pieces if piece.cut_order is not None)
    assert cuts == list(range(1, len(cuts) + 1))
    first = {piece.board: piece.id for piece in reversed(laid)}
    for piece in laid:
        assert (piece.label is None) == (first[piece.board] == piece.id)
