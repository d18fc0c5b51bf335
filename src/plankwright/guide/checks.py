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
INSIDE_MM = 30.0  # from a row's end: beyond the gap and whatever stands in a corner


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
    field, count = across
    check = RowCheck(count, (read[row, "near"], read[row, "far"]))
    return check_rows(field, check, parse_unit(plan.unit))


def field_at(plan: Plan, row: int) -> tuple[Field, int] | None:
    """The floor across its rows at both ends of a row, and how many rows lie up to it there.

    None where the far wall cannot be seen from both ends.
    """
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    pieces = [axes.to_plan(piece.outline) for piece in plan.pieces if piece.row == row]
    if not pieces:
        return None
    near = min(piece.bounds[0] for piece in pieces) + INSIDE_MM
    far = max(piece.bounds[2] for piece in pieces) - INSIDE_MM
    width, line = plan.board.width_mm, plan.laying.start_line_mm
    v = line + (row - 0.5) * width
    room, floor = axes.to_plan(plan.room), axes.to_plan(plan.floor)
    walls = [_chord(room, u, v) for u in (near, far)]
    floors = [_chord(floor, u, v) for u in (near, far)]
    if None in walls or None in floors:
        return None
    wall, open_floor = np.array(walls, dtype=float), np.array(floors, dtype=float)
    first = int(np.floor((open_floor[:, 0].max() - line + 1.0) / width)) + 1
    first_row = line + first * width - open_floor[:, 0]
    field = Field(
        across_mm=_pair(wall[:, 1] - wall[:, 0]),
        board_width_mm=width,
        first_row_mm=_pair(first_row),
        start_gap_mm=float(np.mean(open_floor[:, 0] - wall[:, 0])),
        last_gap_mm=float(np.mean(wall[:, 1] - open_floor[:, 1])),
        narrowest_row_mm=plan.rules.narrowest_row_mm,
    )
    return field, row - first + 1


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
