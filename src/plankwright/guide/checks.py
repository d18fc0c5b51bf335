"""The checks of a laying day: before row 1, after row 2, every few rows, and before the trim.

Some floors fail because a spacer stayed in or a nail pinned them; each of these takes a minute
(common practice, all of it).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString

from plankwright.geometry.frame import Frame
from plankwright.guide.cards import Card
from plankwright.guide.laying_state import LayingState
from plankwright.model.plan import Plan
from plankwright.plan.drift import Drift, Field, RowCheck, check_rows
from plankwright.units import parse_unit

EVERY_ROWS = 4
BEFORE, STRAIGHT, TRIM = "before row 1", "after row 2", "before trim"
INSIDE_MM = (30.0, 60.0, 100.0, 200.0, 400.0)  # from a row's end, as a tape can be laid
BESIDE_MM = 10.0  # a wall that goes on so far beside is one to measure to


@dataclass(frozen=True, slots=True)
class Check:
    """A check: its name in the log, when it is due, and what to look at.

    ``measure_row`` : the row from which the distance to the far wall is measured at both ends.
    """

    name: str
    title: str
    items: tuple[str, ...]
    measure_row: int | None = None


def checks_of(plan: Plan, every: int = EVERY_ROWS) -> tuple[Check, ...]:
    """Every check of a plan, in the order in which they come due."""
    rows = sorted({piece.row for piece in plan.pieces})
    if not rows:
        return ()
    found = [Check(BEFORE, "Before row 1", _BEFORE)]
    if len(rows) > 2:
        found.append(Check(STRAIGHT, "After row 2", _STRAIGHT, rows[1]))
    found += [
        Check(f"after row {row}", f"After row {row}", _ROWS, row)
        for index, row in enumerate(rows[:-1], start=1)
        if index % every == 0
    ]
    return (*found, Check(TRIM, "Before the trim", _TRIM))


def due_check(plan: Plan, cards: Sequence[Card], state: LayingState) -> Check | None:
    """The check that comes before the next piece, if one is due and was not found good."""
    next_row = min((card.row for card in cards if card.piece not in state.laid), default=None)
    for check in checks_of(plan):
        is_due = (
            check.name == BEFORE
            or (check.name == TRIM and next_row is None)
            or (check.measure_row or math.inf) < (next_row or 0)
        )
        if is_due and not state.checks.get(check.name, False) and not _passed(check, state):
            return check
    return None


def _passed(check: Check, state: LayingState) -> bool:
    """Whether work went on without it so far that asking again would only be in the way."""
    if check.name == BEFORE:
        return bool(state.laid)
    if check.measure_row is None:
        return False
    later = check.measure_row + EVERY_ROWS
    return any(int(piece.partition(".")[0]) >= later for piece in state.laid)


def forecast(plan: Plan, state: LayingState) -> Drift | None:
    """What the last distances to the far wall, read at both ends of a row, say of the last row.

    None where no row was measured at both ends, or the far wall cannot be seen from there.

    Raises
    ------
    InputError : the distances cannot be.
    """
    read = {
        (row, end): length
        for (what, row, end), length in state.measured.items()
        if what == "to the far wall"
    }
    rows = [row for row, end in read if end == "near" and (row, "far") in read]
    if not rows:
        return None
    row = max(rows)
    across = field_at(plan, row)
    if across is None:
        return None
    field, (near, far) = across
    check = RowCheck(near, (read[row, "near"], read[row, "far"]), far)
    return check_rows(field, check, parse_unit(plan.unit))


def field_at(plan: Plan, row: int) -> tuple[Field, tuple[int, int]] | None:
    """The floor across its rows at both ends of a row, and the rows that lie up to it there.

    Where something stands in the way, it is the wall. None where no row lies at an end.
    """
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    pieces = [axes.to_plan(piece.outline) for piece in plan.pieces if piece.row == row]
    if not pieces:
        return None
    standing = shapely.union_all([thing.outline for thing in plan.fixed])
    room, floor = axes.to_plan(plan.room.difference(standing)), axes.to_plan(plan.floor)
    ends = min(p.bounds[0] for p in pieces), max(p.bounds[2] for p in pieces)
    width, line = plan.board.width_mm, plan.laying.start_line_mm
    v = line + (row - 0.5) * width
    found = [_across(room, floor, end, way, v) for end, way in zip(ends, (1.0, -1.0), strict=True)]
    if None in found:
        return None
    across = np.array(found)
    wall, open_floor = across[:, :2], across[:, 2:]
    first = np.floor((open_floor[:, 0] - line + 1.0) / width).astype(int) + 1
    field = Field(
        across_mm=_pair(wall[:, 1] - wall[:, 0]),
        board_width_mm=width,
        first_row_mm=_pair(line + first * width - open_floor[:, 0]),
        start_gap_mm=float(np.mean(open_floor[:, 0] - wall[:, 0])),
        last_gap_mm=float(np.mean(wall[:, 1] - open_floor[:, 1])),
        narrowest_row_mm=plan.rules.narrowest_row_mm,
    )
    near, far = (row - first + 1).tolist()
    return field, (near, far)


def _across(
    room: shapely.Geometry, floor: shapely.Geometry, end: float, way: float, v: float
) -> tuple[float, float, float, float] | None:
    """Wall to wall and floor's edge to floor's edge, as near to a row's end as both walls show.

    Close to a slanted side wall a tape across the rows would end at that one: a step farther in.
    """
    for inside in INSIDE_MM:
        u = end + way * inside
        here = [_chord(shape, u, v) for shape in (room, floor)]
        beside = [_chord(shape, u + way * BESIDE_MM, v) for shape in (room, floor)]
        if None in here or None in beside:
            continue
        apart = np.abs(np.array(here, dtype=float) - np.array(beside, dtype=float))
        if apart.max() < BESIDE_MM / 2.0:
            wall, edge = np.array(here, dtype=float).tolist()
            return wall[0], wall[1], edge[0], edge[1]
    return None


def _chord(shape: shapely.Geometry, u: float, v: float) -> tuple[float, float] | None:
    """The unbroken part across a shape at u that holds v: its least and greatest v."""
    _, low, _, high = shape.bounds
    line = shape.intersection(LineString([(u, low - 1.0), (u, high + 1.0)]))
    for part in shapely.get_parts(line):
        if part.bounds[1] - 1.0 <= v <= part.bounds[3] + 1.0:
            return part.bounds[1], part.bounds[3]
    return None


def _pair(values: np.ndarray) -> tuple[float, float]:
    return float(values[0]), float(values[1])


def unlocked_rows(state: LayingState) -> tuple[int, ...]:
    """Rows that lie, but for the last two, and were never found straight and locked."""
    rows = sorted({int(piece.partition(".")[0]) for piece in state.laid})
    return tuple(row for row, _ in pairwise(rows[:-1]) if row not in state.locked)


_BEFORE = (
    "Baseboards and quarter round are off, nails pulled.",
    "Door jambs are undercut: a scrap of board and pad slides under.",
    "The floor is swept and vacuumed; pad and barrier lie flat.",
    "Boards come from several packs, mixed; shades and damage looked at in good light.",
    "Spacers stand at the start wall and at both ends.",
)
_STRAIGHT = (
    "Both rows are straight: a string or a straightedge along them shows no bow.",
    "Every joint, long and short, is closed and flush; a fingernail catches nowhere.",
    "Spacers still touch wall and boards.",
    "Measure from row 2 to the far wall at both ends.",
)
_ROWS = (
    "Measure to the far wall at both ends, from the face edge.",
    "Measure the gap at both ends of the rows.",
    "Look along the row lines for open joints, and close them before going on.",
    "Tongue and groove are free of dust and splinters.",
)
_TRIM = (
    "All spacers are out, those behind doors and under radiators too.",
    "Nothing pins the floor: no door stop, cabinet, nail or screw goes through it.",
    "Nothing heavy stands on both ends of the floor: a full shelf, an island, an aquarium.",
    "The gap is open all round: a spacer goes in everywhere, at posts and pipes too.",
    "Doors swing free over the new floor.",
)
