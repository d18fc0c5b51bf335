"""Boards with real profiles, laid one by one: what comes down on what.

Shares nothing with the program's own idea of handedness. A board is a rigid thing with a profile
on each of its four edges; it can be turned and put down, never mirrored. Whether two edges come
together is found by moving their cross sections, as polygons, and looking whether they collide.

Cross sections lie in a plane (x, z), millimeters: the laid board on the left, its face edge at
x = 0, the new board on the right of it; z from the slab up, 8 thick. The shapes are schematic
(common practice in the trade; no maker's drawing).
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

import shapely
from shapely import affinity, box
from shapely.geometry.base import BaseGeometry

from plankwright.model.board import Board, EndLock, Laid, Profile
from plankwright.model.plan import Piece, Plan

THICK = 8.0
FAR = 60.0
STEEP_DEG = 25.0
STEPS = 50
TOUCH_MM2 = 1e-6

# --- cross sections --------------------------------------------------------------------------
# Every section is drawn as the laid board's: body at x <= 0, the edge looking to the right.


def _tongue_to_fold() -> BaseGeometry:
    """A tongue below the face that reaches 4 out; the body over the other board's lip set back."""
    body = box(-FAR, 0, 0, THICK).difference(box(-4, 0, 0, 2))
    return body.union(box(0, 2.5, 4, 5))


@cache
def _groove_to_fold() -> BaseGeometry:
    """A lip 4 long under a groove, cut out just as far as a folded tongue sweeps through it."""
    tongue = _other_board(_tongue_to_fold())
    swept = shapely.union_all([pose.buffer(0.01) for pose in _folds(tongue)])
    return box(-FAR, 0, 0, THICK).union(box(0, 0, 4, 2)).difference(swept)


def _tongue_to_drop() -> BaseGeometry:
    """The upper half goes on to the face edge, with a hook below it that points down."""
    return shapely.union_all([box(-FAR, 3, 0, THICK), box(-FAR, 0, -6, 3), box(-4, 2, 0, 3)])


def _groove_to_drop() -> BaseGeometry:
    """A lip that reaches 6 out, with a ridge on its end that points up."""
    return shapely.union_all([box(-FAR, 0, 0, THICK), box(0, 0, 6, 2), box(4, 2, 6, 3)])


def _tongue_to_tap() -> BaseGeometry:
    return box(-FAR, 0, 0, THICK).union(box(0, 3, 4, 5))


def _groove_to_tap() -> BaseGeometry:
    return box(-FAR, 0, 0, THICK).difference(box(-4, 3, 0, 5))


def section(lock: EndLock, profile: Profile) -> BaseGeometry:
    """The cross section of an edge, drawn as the laid board's."""
    if lock == "drop":
        return _tongue_to_drop() if profile == "tongue" else _groove_to_drop()
    if lock == "angle":
        return _tongue_to_fold() if profile == "tongue" else _groove_to_fold()
    if lock == "tap":
        return _tongue_to_tap() if profile == "tongue" else _groove_to_tap()
    return box(-FAR, 0, 0, THICK)


# --- movements -------------------------------------------------------------------------------


def _other_board(drawn: BaseGeometry) -> BaseGeometry:
    """The same edge on the new board: looking to the left."""
    return affinity.scale(drawn, -1.0, 1.0, origin=(0, 0))


def _folds(new: BaseGeometry) -> Iterator[BaseGeometry]:
    """Held up at an angle, face edge to face edge, and folded down."""
    for step in range(STEPS + 1):
        angle = STEEP_DEG * (1.0 - step / STEPS)
        yield affinity.rotate(new, angle, origin=(0.0, THICK))


def _drops(new: BaseGeometry) -> Iterator[BaseGeometry]:
    """Let down level from above."""
    for step in range(STEPS + 1):
        yield affinity.translate(new, 0.0, 12.0 * (1.0 - step / STEPS))


def _slides(new: BaseGeometry) -> Iterator[BaseGeometry]:
    """Pushed or tapped along the slab."""
    for step in range(STEPS + 1):
        yield affinity.translate(new, 12.0 * (1.0 - step / STEPS), 0.0)


MOVES = {"fold": _folds, "drop": _drops, "slide": _slides}
# the movement each kind of end lock is closed by
CLOSED_BY = {"drop": "drop", "angle": "fold", "tap": "slide", "loose": "drop"}


@cache
def comes_together(lock: EndLock, laid: Profile, new: Profile, move: str) -> bool:
    """Whether the new board's edge gets to the laid board's edge without a collision."""
    lying = section(lock, laid)
    coming = _other_board(section(lock, new))
    return all(pose.intersection(lying).area < TOUCH_MM2 for pose in MOVES[move](coming))


@cache
def holds(lock: EndLock, laid: Profile, new: Profile) -> bool:
    """Whether closed edges cannot be pulled apart along the slab by half a millimeter's play."""
    lying, closed = section(lock, laid), _other_board(section(lock, new))
    pulled = [affinity.translate(closed, 0.5 * step, 0.0) for step in range(1, 14)]
    return any(pose.intersection(lying).area > 0.1 for pose in pulled)


# --- boards as rigid things ------------------------------------------------------------------

Edges = dict[str, Profile | None]


def product(board: Board) -> Edges:
    """The four edges of a board that lies face up, its start side away (north) from you."""
    west: Profile = "tongue" if board.tongue_end == "left" else "groove"
    return {
        "north": board.start_side,
        "south": other(board.start_side),
        "west": west,
        "east": other(west),
    }


def other(profile: Profile) -> Profile:
    return "groove" if profile == "tongue" else "tongue"


def turned_half(edges: Edges) -> Edges:
    """Turned end for end on the bench."""
    return {
        "north": edges["south"],
        "south": edges["north"],
        "west": edges["east"],
        "east": edges["west"],
    }


def turned_over(edges: Edges) -> Edges:
    """Turned over about its length: the face comes down, and away becomes toward."""
    return {
        "north": edges["south"],
        "south": edges["north"],
        "west": edges["west"],
        "east": edges["east"],
    }


@dataclass(frozen=True)
class Down:
    """A piece on the floor: you face the start wall, which is north; x from west to east."""

    piece: Piece
    west: float
    east: float
    north: float
    south: float
    edges: Edges


@dataclass
class Floor:
    """Pieces laid so far, and what could not be done."""

    board: Board
    laid: Laid
    leaflet_allows_lip_under: bool = False
    down: list[Down] = field(default_factory=list)
    joints: list[tuple[str, str, Profile | None, Profile | None]] = field(default_factory=list)
    troubles: list[str] = field(default_factory=list)

    def lay(self, new: Down) -> None:
        """Join a piece to what lies at its near end and on its wall side."""
        near, far = ("west", "east") if self.laid == "left-to-right" else ("east", "west")
        for old in self.down:
            if _side_by_side(old, new):
                if abs(_at(old, far) - _at(new, near)) < 0.1:
                    self._close_end(old, new, old.edges[far], new.edges[near])
                elif abs(_at(old, near) - _at(new, far)) < 0.1:
                    self.troubles.append(f"{new.piece.id} is pushed in before {old.piece.id}")
            elif abs(old.south - new.north) < 0.1 and _run(old, new) > 1.0:
                self._close_side(old, new)
        self.down.append(new)

    def _close_end(self, old: Down, new: Down, there: Profile | None, here: Profile | None) -> None:
        self.joints.append((old.piece.id, new.piece.id, there, here))
        lock = self.board.end_lock
        if there is None or here is None or there == here:
            self.troubles.append(f"{old.piece.id} {there} meets {new.piece.id} {here}")
        elif not comes_together(lock, there, here, CLOSED_BY[lock]) or (
            lock == "angle" and here == "groove" and not self.leaflet_allows_lip_under
        ):
            self.troubles.append(f"the {here} of {new.piece.id} does not get to {old.piece.id}")

    def _close_side(self, old: Down, new: Down) -> None:
        there, here = old.edges["south"], new.edges["north"]
        if there is None or here is None or there == here:
            self.troubles.append(f"{old.piece.id} {there} lies beside {new.piece.id} {here}")
        elif not comes_together("angle", there, here, "fold"):
            self.troubles.append(f"{new.piece.id} does not fold into {old.piece.id}")


def _at(down: Down, side: str) -> float:
    return down.west if side == "west" else down.east


def _side_by_side(a: Down, b: Down) -> bool:
    """In one row, with more than a point of their ends facing each other."""
    same_row = a.piece.row == b.piece.row
    return same_row and min(a.south, b.south) - max(a.north, b.north) > 1.0


def _run(a: Down, b: Down) -> float:
    return min(a.east, b.east) - max(a.west, b.west)


def put_down(plan: Plan, piece: Piece, board: Board) -> Down:
    """Where a piece lies as you face the start wall, with the edges the saw has left it."""
    angle = math.radians(plan.laying.row_angle_deg)
    left_to_right = plan.laying.laid == "left-to-right"
    corners = shapely.get_coordinates(piece.outline)
    u = corners @ [math.cos(angle), math.sin(angle)]
    turn = angle - math.pi / 2 if left_to_right else angle + math.pi / 2
    v = corners @ [math.cos(turn), math.sin(turn)]
    near, far = ("west", "east") if left_to_right else ("east", "west")
    edges = product(board)
    claims = {near: piece.near_end, far: piece.far_end, "north": piece.wall_side,
              "south": piece.room_side}  # fmt: skip
    left: Edges = {side: edges[side] if claims[side] == "factory" else None for side in edges}
    west, east = (u.min(), u.max()) if left_to_right else (-u.max(), -u.min())
    return Down(piece, float(west), float(east), float(v.min()), float(v.max()), left)


def lay_all(plan: Plan, *, leaflet_allows_lip_under: bool = False) -> Floor:
    """Lay a plan piece by piece in its laying order."""
    floor = Floor(plan.board, plan.laying.laid, leaflet_allows_lip_under)
    for piece in sorted(plan.pieces, key=lambda piece: piece.lay_order):
        floor.lay(put_down(plan, piece, plan.board))
    return floor


def at_the_saw(board: Board, *, face_up: bool, start_side_away: bool) -> Edges:
    """The edges of a board on the bench, north away from you."""
    edges = product(board) if face_up else turned_over(product(board))
    start_is_away = face_up  # turning it over about its length brings the start side toward you
    return edges if start_is_away == start_side_away else turned_half(edges)
