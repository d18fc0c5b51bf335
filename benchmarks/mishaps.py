"""Mishaps: a real room's plan, laid up to some moment, and then something goes wrong.

The moment, the mishap and its size are drawn from a seed, so that every run sees the same.
"""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass

from plankwright.geometry.walls import walls
from plankwright.guide.as_laid import FloorState, LaidPiece, WallShift
from plankwright.guide.offcuts_left import Ends, Offcut, offcuts_left
from plankwright.model.plan import Piece, Plan, StockBoard
from plankwright.model.room import Room

KINDS = ("wrong end", "split", "wall", "missing", "second batch")


@dataclass(frozen=True)
class Mishap:
    """What went wrong, told in a sentence, and the state of the floor then."""

    kind: str
    told: str
    state: FloorState


@dataclass(frozen=True)
class _Moment:
    """The plan with so many pieces laid."""

    plan: Plan
    room: Room
    laid: tuple[Piece, ...]
    rest: tuple[Piece, ...]
    shelf: tuple[Offcut, ...]
    rng: random.Random

    @property
    def new_boards(self) -> int:
        """New boards that the plan still takes."""
        opened = {piece.board for piece in self.laid}
        stock = {board.id for board in self.plan.stock}
        return len({piece.board for piece in self.rest} - opened - stock)

    def state(self, shelf: tuple[StockBoard, ...] | None = None, **more: object) -> FloorState:
        """The floor now."""
        at_hand = tuple(o.stock for o in self.shelf) if shelf is None else shelf
        laid = tuple(LaidPiece(piece.id) for piece in self.laid)
        return FloorState(laid=laid, shelf=at_hand, **more)  # type: ignore[arg-type]


def mishap(plan: Plan, room: Room, kind: str, seed: int) -> Mishap | None:
    """A mishap of a kind at a random moment; None when it cannot happen to this plan."""
    rng = random.Random(f"{room.name} {kind} {seed}")
    order = sorted(plan.pieces, key=lambda piece: piece.lay_order)
    if len(order) < 3:
        return None
    count = rng.randint(1, len(order) - 2)
    laid, rest = tuple(order[:count]), tuple(order[count:])
    shelf = offcuts_left(plan, {piece.id for piece in laid})
    return _HOW[kind](_Moment(plan, room, laid, rest, shelf, rng))


def _wrong_end(now: _Moment) -> Mishap | None:
    """The next starter or end piece is cut off the wrong end of its board or offcut."""
    piece = next((p for p in now.rest if _has_one_end(p)), None)
    if piece is None:
        return None
    source = next((o for o in now.shelf if piece.id in o.wanted), None)
    board = source.stock if source else StockBoard(0, now.plan.board.length_mm)
    rest = board.length_mm - piece.length_mm - now.plan.rules.kerf_mm
    kept: Ends = "near" if piece.near_end == "factory" else "far"
    other: Ends = "far" if kept == "near" else "near"
    ends: Ends = other if board.ends == "both" else "none"
    parts = [StockBoard(0, piece.length_mm, ends, label=f"{piece.id}/1")]
    if rest > 1.0:
        parts.append(StockBoard(0, rest, kept, label=f"{piece.id}/2"))
    others = tuple(o.stock for o in now.shelf if o is not source)
    left = now.new_boards - (source is None)
    told = f"{piece.id}, {piece.length_mm:.0f} mm, was cut off the {other} end"
    state = now.state((*others, *parts), boards_left=left, spoiled=(piece.id,))
    return Mishap("wrong end", told, state)


def _has_one_end(piece: Piece) -> bool:
    return (piece.near_end == "factory") != (piece.far_end == "factory") and piece.label != ""


def _split(now: _Moment) -> Mishap | None:
    """The next board or offcut to be cut splits."""
    piece = next((p for p in now.rest if p.cut_order is not None), None)
    if piece is None:
        return None
    source = next((o for o in now.shelf if piece.id in o.wanted), None)
    others = tuple(o.stock for o in now.shelf if o is not source)
    left = now.new_boards - (source is None)
    what = "an offcut" if source else "a board"
    return Mishap("split", f"{what} split under {piece.id}", now.state(others, boards_left=left))


def _wall(now: _Moment) -> Mishap | None:
    """The wall opposite the start wall is 5 to 40 mm nearer or farther."""
    across = now.plan.laying.row_angle_deg
    turn = -90.0 if now.plan.laying.laid == "left-to-right" else 90.0
    facing = [
        wall for wall in walls(now.room) if _apart(wall.inward_deg, across + turn + 180.0) < 30.0
    ]
    if not facing:
        return None
    wall = max(facing, key=lambda wall: wall.edge.length_mm)
    shift = round(now.rng.uniform(5.0, 40.0) * now.rng.choice((-1.0, 1.0)), 1)
    shifts = (WallShift(wall.edge.name, shift),)
    told = f"wall {wall.edge.name} is {abs(shift)} mm {'nearer' if shift > 0 else 'farther'}"
    return Mishap("wall", told, now.state(walls=shifts, boards_left=now.new_boards))


def _apart(a_deg: float, b_deg: float) -> float:
    return abs(math.remainder(a_deg - b_deg, 360.0))


def _missing(now: _Moment) -> Mishap | None:
    """Two boards fewer are there than the plan takes."""
    if now.new_boards < 2:
        return None
    left = now.new_boards - 2
    return Mishap("missing", f"{left} boards are left", now.state(boards_left=left))


def _second_batch(now: _Moment) -> Mishap | None:
    """A second batch begins at a doorway: from some row on only its boards are used."""
    rows = sorted({piece.row for piece in now.rest if piece.row > now.laid[-1].row})
    if not rows:
        return None
    row = now.rng.choice(rows)
    state = now.state(second_batch_row=row)
    return Mishap("second batch", f"the second batch begins at row {row}", state)


_HOW: dict[str, Callable[[_Moment], Mishap | None]] = {
    "wrong end": _wrong_end,
    "split": _split,
    "wall": _wall,
    "missing": _missing,
    "second batch": _second_batch,
}
