"""A small plan maker for the checker's tests: shares nothing with the program's planner.

Rooms are given in plan axes (u along the rows, v across them) with their floors worked out by
hand; the plan is turned into room coordinates at the end. Boards are taken greedily: the offcut
that fits best, else a new board. Starters follow a fixed pattern, so that every number can be
followed on paper.
"""

import math
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any, TypeVar

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, box

from plankwright.model.board import Board, Laid
from plankwright.model.plan import (
    BoardCount,
    Evidence,
    Laying,
    Piece,
    Plan,
    PlanFixed,
    Recess,
)
from plankwright.model.rules import Rules

# Tongue to the wall and, seen from there, on the right: laid right to left it drops in.
BOARD = Board(1285.0, 192.0, per_pack=8, tongue_end="right")
RULES = Rules(gap_mm=8.0, kerf_mm=3.0, allowance_mm=0.0)
NOTHING = Rules(gap_mm=0.0, kerf_mm=0.0, allowance_mm=0.0)


@dataclass
class Blank:
    """A board with what is left of it, from ``low`` to ``high`` of its length."""

    number: int
    low: float
    high: float
    cuts: int = 0
    label: str | None = None


@dataclass
class Shop:
    """Boards and offcuts; pieces of one band (width and place across) share boards."""

    length: float
    cut: float
    blanks: dict[tuple[float, float], list[Blank]] = field(default_factory=dict)
    boards: int = 0
    cuts: int = 0

    def take(
        self, band: tuple[float, float], length: float, near: bool, far: bool
    ) -> tuple[Blank, float]:
        """The board a piece is cut from and where in it the piece begins."""
        shelf = self.blanks.setdefault(band, [])
        fitting = [
            blank
            for blank in shelf
            if blank.high - blank.low >= length - 1e-6
            and (not near or blank.low == 0.0)
            and (not far or blank.high == self.length)
        ]
        if fitting:
            blank = min(fitting, key=lambda blank: (blank.high - blank.low, blank.number))
        else:
            self.boards += 1
            blank = Blank(self.boards, 0.0, self.length)
            shelf.append(blank)
        blank.cuts += 1
        if far:
            start = blank.high - length
            blank.high = start - self.cut
        else:
            start = blank.low
            blank.low = start + length + self.cut
        if near and far:
            blank.high = 0.0
        return blank, start


def make_plan(
    room: Polygon,
    floor: Polygon | MultiPolygon,
    *,
    board: Board = BOARD,
    rules: Rules = RULES,
    start_line: float,
    angle: float = 0.0,
    laid: Laid = "right-to-left",
    start_wall: str = "A-B",
    fixed: tuple[PlanFixed, ...] = (),
    recesses: tuple[Recess, ...] = (),
    edges: tuple[tuple[str, float], ...] = (),
    cuts: dict[tuple[int, int], list[float]] | None = None,
) -> Plan:
    """A plan of a floor, legal unless ``cuts`` says where the joints of (row, stretch) lie.

    Room, floor and everything else are given in plan axes.
    """
    laying = Laying(angle, laid, start_wall, start_line)
    shop = Shop(board.length_mm, rules.cut_mm)
    pieces: list[Piece] = []
    u0, _, u1, v1 = floor.bounds
    before: list[float] = []
    for row in range(1, math.ceil((v1 - start_line) / board.width_mm - 1e-9) + 1):
        low = start_line + (row - 1) * board.width_mm
        strip = floor.intersection(box(u0 - 1.0, low, u1 + 1.0, low + board.width_mm))
        row_joints: list[float] = []
        parts = [part for part in shapely.get_parts(strip) if isinstance(part, Polygon)]
        for number, part in enumerate(sorted(parts, key=lambda p: p.bounds[0]), start=1):
            if cuts is None:
                joints = _joints(part.bounds[0], part.bounds[2], rules, board, before, row)
            else:
                joints = cuts.get((row, number), [])
            pieces += _stretch(part, row, number, low, board, shop, joints, len(pieces))
            row_joints += joints
        before = row_joints
    boards = len({piece.board for piece in pieces})
    area = math.ceil(floor.area / board.area_mm2 - 1e-9)
    floors = floor if isinstance(floor, MultiPolygon) else MultiPolygon([floor])
    plan = Plan(
        board=board,
        rules=rules,
        laying=laying,
        room=room,
        floor=floors,
        pieces=tuple(pieces),
        boards=BoardCount(boards, area, "feasible", Evidence("area")),
        packs=math.ceil(boards / board.per_pack),
        edges=edges,
        fixed=fixed,
        recesses=recesses,
    )
    return into_room(plan)


def _stretch(
    part: Polygon,
    row: int,
    number: int,
    low: float,
    board: Board,
    shop: Shop,
    cuts: list[float],
    laid: int,
) -> list[Piece]:
    found: list[Piece] = []
    u0, _, u1, _ = part.bounds
    joints = [u0, *cuts, u1]
    for seat, (a, b) in enumerate(pairwise(joints), start=1):
        shapes = [
            shape
            for shape in shapely.get_parts(part.intersection(box(a, low - 9.0, b, low + 999.0)))
            if isinstance(shape, Polygon)
        ]
        shapes.sort(key=lambda shape: (shape.bounds[0], shape.bounds[1]))
        for letter, shape in enumerate(shapes):
            su0, sv0, su1, sv1 = shape.bounds
            near, far = a > u0 and su0 - a < 1e-6, b < u1 and b - su1 < 1e-6
            band = (round(sv0 - low, 6), round(sv1 - low, 6))
            length = round(su1 - su0, 6)
            blank, start = shop.take(band, length, near, far)
            whole = shape.area > board.area_mm2 - 1e-6
            if not whole:
                shop.cuts += 1
            found.append(
                Piece(
                    id=f"{row}.{number}.{seat}" + ("abc"[letter] if len(shapes) > 1 else ""),
                    row=row,
                    stretch=number,
                    seat=seat,
                    outline=shape,
                    board=blank.number,
                    length_mm=length,
                    width_mm=band[1] - band[0],
                    from_near_mm=start,
                    from_wall_side_mm=band[0],
                    near_end="factory" if start == 0.0 else "cut",
                    far_end="factory" if start + length == board.length_mm else "cut",
                    wall_side="factory" if band[0] == 0.0 else "cut",
                    room_side="factory" if band[1] == board.width_mm else "cut",
                    lay_order=laid + len(found) + 1,
                    cut_order=None if whole else shop.cuts,
                    label=f"K{shop.cuts}" if blank.cuts > 1 else None,
                )
            )
    return found


def _joints(
    u0: float, u1: float, rules: Rules, board: Board, before: list[float], row: int
) -> list[float]:
    """Joints of a stretch: a starter, whole boards, an end piece; clear of the row before.

    Starters are tried from 300 mm up in steps of 35 mm, each row beginning at another.
    """
    length, shortest = u1 - u0, rules.shortest_piece_mm
    if length <= board.length_mm:
        return []
    steps = int((board.length_mm - shortest) // 35.0) + 1
    for k in range(steps):
        starter = shortest + 35.0 * ((k + 11 * row) % steps)
        whole = math.floor((length - starter - shortest) / board.length_mm)
        joints = [round(u0 + starter + i * board.length_mm, 6) for i in range(whole + 1)]
        if u1 - joints[-1] <= board.length_mm and all(
            abs(a - b) >= rules.joint_offset_mm for a in joints for b in before
        ):
            return joints
    raise ValueError("no legal joints")


def into_room(plan: Plan) -> Plan:
    """The plan with everything turned from plan axes into room coordinates."""
    angle = math.radians(plan.laying.row_angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    if plan.laying.row_angle_deg % 90.0 == 0.0:
        cos, sin = round(cos), round(sin)
    side = 1.0 if plan.laying.laid == "right-to-left" else -1.0
    matrix = np.array([[cos, sin], [-side * sin, side * cos]])

    def moved(shape: Polygon) -> Polygon:
        return shapely.transform(shape, lambda uv: uv @ matrix)

    values = {
        "room": moved(plan.room),
        "floor": shapely.transform(plan.floor, lambda uv: uv @ matrix),
        "pieces": tuple(changed(piece, outline=moved(piece.outline)) for piece in plan.pieces),
        "fixed": tuple(changed(thing, outline=moved(thing.outline)) for thing in plan.fixed),
        "recesses": tuple(
            changed(recess, outline=moved(recess.outline)) for recess in plan.recesses
        ),
    }
    return changed(plan, **values)


T = TypeVar("T")


def changed(value: T, **fields: Any) -> T:
    """``dataclasses.replace`` that any corruption may use."""
    copy: T = replace(value, **fields)  # type: ignore[type-var]
    return copy


# --- rooms -----------------------------------------------------------------------------------


def plain_room(rules: Rules = RULES, **more: Any) -> Plan:
    """4.00 x 3.00 m: rows from the gap line on, the last one ripped."""
    gap = rules.gap_mm
    floor = box(gap, gap, 4000.0 - gap, 3000.0 - gap)
    return make_plan(ring(0, 0, 4000, 3000), floor, rules=rules, start_line=gap, **more)


def l_room(**more: Any) -> Plan:
    """An L: 4.5 x 3.2 m less a corner of 2.0 x 1.5 m at the far wall; both outer rows ripped."""
    room = Polygon([(0, 0), (4500, 0), (4500, 1700), (2500, 1700), (2500, 3200), (0, 3200)])
    floor = Polygon(
        [(8, 8), (4492, 8), (4492, 1692), (2492, 1692), (2492, 3192), (8, 3192)]
    )  # fmt: skip
    return make_plan(room, floor, start_line=-134.0, **more)


def post_room(**more: Any) -> Plan:
    """4.2 x 2.6 m with a pillar of 120 x 270 mm whose gap is 10 mm, and a doorway 900 wide.

    Row 7 lies between v 1112 and 1304, so that the pillar parts it into two stretches.
    """
    post = PlanFixed("post", box(2040, 1060, 2160, 1330), 10.0, "pillar")
    doorway = Recess("doorway", box(3000, 2591, 3884, 2645))
    floor = box(8, 8, 4192, 2592).union(doorway.outline).difference(box(2030, 1050, 2170, 1340))
    return make_plan(
        ring(0, 0, 4200, 2600),
        floor,
        start_line=-40.0,
        fixed=(post,),
        recesses=(doorway,),
        **more,
    )


def slanted_room(**more: Any) -> Plan:
    """A trapezoid: the near wall leans 200 mm, so that starters have slanted near ends."""
    room = Polygon([(0, 0), (4000, 0), (4000, 2000), (200, 2000)])
    lean = math.hypot(200.0, 2000.0)
    at = 8.0 * lean / 2000.0  # the gap, measured along the rows
    floor = Polygon(
        [(at + 0.8, 8), (3992, 8), (3992, 1992), (at + 199.2, 1992)]
    )  # 8 mm up the wall leans 0.8 mm
    return make_plan(room, floor, start_line=8.0, **more)


def big_room(width: float, depth: float, **more: Any) -> Plan:
    """A plain room of any size, for measuring time."""
    floor = box(8.0, 8.0, width - 8.0, depth - 8.0)
    return make_plan(ring(0, 0, width, depth), floor, start_line=8.0, **more)


ROOMS = (plain_room, l_room, post_room, slanted_room)
LEFT_TO_RIGHT = Board(1285.0, 192.0, per_pack=8, tongue_end="left")

# 4.00 x 3.00 m, no gap, no kerf: 16 stretches of 4000 = a + 2 x 1285 + b, so a + b = 1430 and the
# starter left in the end piece's board is c = 1285 - b = a - 145. Prices that rise by 1/6 every
# 145 mm from 300 on make every stretch cost 3 + p(a) - p(a - 145) = 3 1/6: 16 x 3 1/6 = 50.667.
PRICES = ((0.0, 0.0), *((300.0 + 145.0 * k, (k + 1) / 6.0) for k in range(6)))


def proven_room() -> Plan:
    """The 4.00 x 3.00 m room without gap and kerf, its bound of 51 proven by prices."""
    plan = plain_room(NOTHING)
    boards = changed(plan.boards, bound=51, evidence=Evidence("prices", PRICES))
    return changed(plan, boards=boards)


def ring(u0: float, v0: float, u1: float, v1: float) -> Polygon:
    """A rectangle with corners A near the start wall, then along it."""
    return Polygon([(u0, v0), (u1, v0), (u1, v1), (u0, v1)])
