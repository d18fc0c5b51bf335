"""Repair: which rows come up for a damaged piece, against cutting it out where it lies.

Click rows come up in the order opposite to laying. A row comes up whole, as long as a stretch is
unbroken, with everything that was joined to it later; then its pieces slide apart at their ends
(drop locks) or are angled out of each other one by one. What comes up is labeled and goes back
to its own place, so a lifted floor takes one new board for each damaged piece. Cutting a piece out
in place takes a board, too, glue instead of a lock, and skill with a plunge saw.

Minutes of laying and sawing are a person's own rates; those of lifting and cutting out are rough
guesses until the person says otherwise (common practice has no figure). Source of the order: common
practice.
"""

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, fields
from itertools import pairwise

from plankwright.errors import InputError
from plankwright.geometry.frame import Frame
from plankwright.model.board import EndLock
from plankwright.model.plan import Piece, Plan, StockBoard
from plankwright.model.toolbox import Rates
from plankwright.plan.saw_cuts import piece_figure
from plankwright.units import Unit, parse_unit

TOUCH_MM = 0.5
SAME_MM = 0.5
MOST_MIN = 1000.0
GLUE_DRIES_H = 24
TRIMS = 3

Stretch = tuple[int, int]
"""Row and stretch."""


@dataclass(frozen=True, slots=True)
class LiftingRates:
    """Minutes of lifting and of cutting out: rough guesses until the person writes their own.

    Parameters
    ----------
    row : tilt a row up and carry it away.
    piece : slide a piece off the next and label it.
    cut_out : for each piece: saw, chisel out, trim the new board's locks, glue, weigh down.
    """

    row: float = 2.0
    piece: float = 0.5
    cut_out: float = 75.0

    def __post_init__(self) -> None:
        for name in (entry.name for entry in fields(self)):
            value = getattr(self, name)
            if not (math.isfinite(value) and 0.0 <= value <= MOST_MIN):
                raise InputError(
                    f"minutes must be from 0 to {MOST_MIN:g}",
                    where=name.replace("_", " "),
                    value=value,
                )


@dataclass(frozen=True, slots=True)
class Way:
    """A way to repair: new boards, minutes, and what speaks against it."""

    boards: int
    minutes: float
    against: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Repair:
    """What a damaged piece means.

    Parameters
    ----------
    pieces : the damaged ones.
    rows : rows of which something comes up.
    lifted : pieces that come up, in the order in which they do.
    relaid : the same in the order in which they go back, damaged ones replaced.
    labels : what to write on each piece before it is slid apart, in the order of lifting.
    lift, cut_out : the two ways.
    replacement : for damaged pieces an offcut at hand that is long enough, by piece.
    """

    pieces: tuple[str, ...]
    rows: tuple[int, ...]
    lifted: tuple[str, ...]
    relaid: tuple[str, ...]
    labels: tuple[tuple[str, str], ...]
    lift: Way
    cut_out: Way
    replacement: tuple[tuple[str, str], ...] = field(default=())

    @property
    def advice(self) -> str:
        """The way that takes less time; lifting where they take about the same."""
        return "lift" if self.lift.minutes <= 1.5 * self.cut_out.minutes else "cut out"


def repair(
    plan: Plan,
    damaged: Collection[str],
    *,
    laid: Collection[str] | None = None,
    shelf: Sequence[StockBoard] = (),
    rates: Rates | None = None,
    lifting: LiftingRates | None = None,
) -> Repair:
    """What comes up for some damaged pieces, in which order it goes back, and what that takes.

    Parameters
    ----------
    damaged : ids of pieces of the plan.
    laid : ids of what lies; everything where None.
    shelf : offcuts at hand.
    rates, lifting : how fast the person works.

    Raises
    ------
    InputError : the plan has no such piece, or it does not lie.
    """
    lies = {piece.id for piece in plan.pieces} if laid is None else set(laid)
    if wrong := [name for name in damaged if name not in lies] or ([] if damaged else [""]):
        raise InputError(
            "no such piece lies",
            where="repair",
            value=wrong[0],
            remedy="Read its number off the drawing: row, stretch, seat, such as 7.1.3.",
        )
    pieces = [piece for piece in plan.pieces if piece.id in lies]
    up = _coming_up(plan, pieces, damaged)
    order = sorted((p for p in pieces if (p.row, p.stretch) in up), key=lambda p: p.lay_order)
    lifted = _lifting_order(order)
    rates, lifting = rates or Rates(), lifting or LiftingRates()
    bad = [piece for piece in order if piece.id in set(damaged)]
    replacement = tuple(_replacements(plan, bad, shelf, parse_unit(plan.unit)))
    wanted = _boards(bad, replacement)
    return Repair(
        pieces=tuple(piece.id for piece in bad),
        rows=tuple(sorted({row for row, _ in up})),
        lifted=tuple(piece.id for piece in lifted),
        relaid=tuple(piece.id for piece in order),
        labels=tuple((piece.id, _label(piece)) for piece in lifted if piece.id not in damaged),
        lift=Way(wanted, _minutes(order, bad, rates, lifting, plan), _against(plan.board.end_lock)),
        cut_out=Way(len(bad), lifting.cut_out * len(bad), _against_cutting(plan)),
        replacement=replacement,
    )


# --- what comes up --------------------------------------------------------------------------------


def _coming_up(plan: Plan, pieces: Sequence[Piece], damaged: Collection[str]) -> set[Stretch]:
    """The stretches of damaged pieces, and all that was joined to what comes up later."""
    later = _joined_later(plan, pieces)
    up = {(piece.row, piece.stretch) for piece in pieces if piece.id in set(damaged)}
    waiting = list(up)
    while waiting:
        for stretch in later.get(waiting.pop(), ()):
            if stretch not in up:
                up.add(stretch)
                waiting.append(stretch)
    return up


def _joined_later(plan: Plan, pieces: Sequence[Piece]) -> dict[Stretch, set[Stretch]]:
    """For each stretch those of neighboring rows that were joined to it after it was laid."""
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    stretches: dict[Stretch, list[Piece]] = {}
    for piece in pieces:
        stretches.setdefault((piece.row, piece.stretch), []).append(piece)
    boxes = {
        key: [frame.to_plan(piece.outline).bounds for piece in of] for key, of in stretches.items()
    }
    first = {key: min(piece.lay_order for piece in of) for key, of in stretches.items()}
    by_row: dict[int, list[Stretch]] = {}
    for key in stretches:
        by_row.setdefault(key[0], []).append(key)
    found: dict[Stretch, set[Stretch]] = {}
    for row, keys in by_row.items():
        for one in keys:
            for other in by_row.get(row + 1, ()):
                if _touch(boxes[one], boxes[other]):
                    early, late = sorted((one, other), key=lambda key: first[key])
                    found.setdefault(early, set()).add(late)
    return found


Box = tuple[float, ...]


def _touch(one: Sequence[Box], other: Sequence[Box]) -> bool:
    """Whether two stretches of neighboring rows share a part of their row line."""
    return any(
        min(a[2], b[2]) - max(a[0], b[0]) > TOUCH_MM and abs(b[1] - a[3]) <= TOUCH_MM
        for a in one
        for b in other
    )


def _lifting_order(order: Sequence[Piece]) -> list[Piece]:
    """Stretches from the last laid to the first, each lifted whole and slid apart from its far
    end.
    """
    stretches: dict[Stretch, list[Piece]] = {}
    for piece in order:
        stretches.setdefault((piece.row, piece.stretch), []).append(piece)
    last_first = sorted(stretches.values(), key=lambda of: -max(p.lay_order for p in of))
    return [p for of in last_first for p in sorted(of, key=lambda p: -p.lay_order)]


def _label(piece: Piece) -> str:
    """What to write on a piece: its number, and an arrow that points to its far end."""
    return f"{piece.id} →"


# --- what it takes --------------------------------------------------------------------------------


def _minutes(
    order: Sequence[Piece],
    bad: Sequence[Piece],
    rates: Rates,
    lifting: LiftingRates,
    plan: Plan,
) -> float:
    """Lift, label and lay again; cut what is damaged anew; trim off and on at three walls: along
    the last row and at both ends of the rows.
    """
    stretches = {(piece.row, piece.stretch) for piece in order}
    minutes = len(stretches) * (lifting.row + rates.row)
    minutes += len(order) * (lifting.piece + rates.board)
    for piece in bad:
        ends = piece.near_end, piece.far_end
        minutes += rates.crosscut * ("cut" in ends)
        minutes += rates.rip * ("cut" in (piece.wall_side, piece.room_side))
    reaches_wall = max(piece.row for piece in plan.pieces) in {row for row, _ in stretches}
    return minutes + (2.0 * TRIMS * rates.trim_piece if reaches_wall else 0.0)


def _replacements(
    plan: Plan, bad: Sequence[Piece], shelf: Sequence[StockBoard], unit: Unit
) -> Iterable[tuple[str, str]]:
    """An offcut for each damaged piece: the shortest that has its ends and its size."""
    left = list(shelf)
    for piece in bad:
        fitting = [board for board in left if _serves(board, piece, turned=plan.is_turned(piece))]
        if fitting:
            board = min(fitting, key=lambda board: board.length_mm)
            left.remove(board)
            yield piece.id, board.label or f"of {piece_figure(board.length_mm, unit)}"


def _serves(board: StockBoard, piece: Piece, *, turned: bool) -> bool:
    ends = {"both": {"near", "far"}, "near": {"near"}, "far": {"far"}, "none": set()}[board.ends]
    names = ("far", "near") if turned else ("near", "far")
    edges = zip(names, (piece.near_end, piece.far_end), strict=True)
    needed = {end for end, edge in edges if edge == "factory"}
    is_long = board.length_mm >= piece.length_mm - SAME_MM
    if needed == {"near", "far"}:
        is_long = abs(board.length_mm - piece.length_mm) <= SAME_MM
    return needed <= ends and is_long and board.width_mm is None


def _boards(bad: Sequence[Piece], replacement: Sequence[tuple[str, str]]) -> int:
    """New boards: one for each damaged piece without an offcut; a starter and an end piece of one
    board count once.
    """
    served = {name for name, _ in replacement}
    open_pieces = [piece for piece in bad if piece.id not in served]
    pairs = sum(
        one.board == other.board
        for one, other in pairwise(sorted(open_pieces, key=lambda p: p.board))
    )
    return len(open_pieces) - pairs


def _against(lock: EndLock) -> tuple[str, ...]:
    """What speaks against lifting rows with this lock."""
    if lock == "tap":
        return ("A tapped lock may break when it is opened: have a spare board for each row.",)
    if lock == "angle":
        return ("Angled ends come apart one by one: lift each board at its far end.",)
    return ()


def _against_cutting(plan: Plan) -> tuple[str, ...]:
    return (
        f"Set the saw no deeper than {_depth(plan)}: pipes, cables, a vapor barrier may lie below.",
        "Wear goggles and ear muffs, and keep the guard on the saw.",
        "A glued board does not move with its neighbors: ask the leaflet whether it may be.",
        f"Nobody walks there for {GLUE_DRIES_H} hours.",
    )


def _depth(plan: Plan) -> str:
    thickness = plan.board.thickness_mm
    return "the board" if thickness <= 0.0 else piece_figure(thickness, parse_unit(plan.unit))
