"""Rows that drift: what rows really cover on the floor, and what to do while there is time.

Every few rows the distance still open to the far wall is measured at both ends. It gives the
*laid row width*, a forecast of the last row, and what to do, in this order: close open joints,
measure again, then shift or taper what is left. A row that covers 1/40 in (0.6 mm) more than its
boards are wide has an open joint (common practice: a closed click joint shows no more than a
hair); over a whole floor it grows to inches, so it is told after the first check, not at the end.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from plankwright.errors import InputError
from plankwright.units import Unit, format_length

OPEN_JOINT_MM = 0.6  # a row, on average; 0.025 in is 0.635 mm
TAPE_MM = 1.5  # what two readings of a tape may differ (common practice: 1/16 in)
PARALLEL_MM = 3.0  # out of parallel by less is left to the last row without a word

StepName = Literal["close the joints", "measure again", "shift", "taper", "go on"]
Floats = npt.NDArray[np.float64]
Ends = tuple[float, float]  # at the near and at the far end of the rows [mm]


@dataclass(frozen=True, slots=True)
class Field:
    """The floor as it was planned across the rows.

    Parameters
    ----------
    across_mm : wall to wall at the near and at the far end.
    board_width_mm : nominal width of a row.
    first_row_mm : width of row 1 at both ends.
    start_gap_mm, last_gap_mm : gap at the start wall and at the far wall.
    narrowest_row_mm : the last row may not be narrower.
    """

    across_mm: Ends
    board_width_mm: float
    first_row_mm: Ends
    start_gap_mm: float
    last_gap_mm: float
    narrowest_row_mm: float

    def __post_init__(self) -> None:
        sizes = (*self.across_mm, self.board_width_mm, *self.first_row_mm)
        if not all(math.isfinite(size) and size > 0.0 for size in sizes):
            raise InputError(
                "widths of the room, the board and row 1 must be above 0",
                where="field",
                value=sizes,
                remedy="Check the numbers and their units.",
            )


@dataclass(frozen=True, slots=True)
class RowCheck:
    """What was read: rows laid, and the distance from the last of them to the far wall.

    ``open_mm`` : at the near and at the far end of the rows. ``far_rows`` : rows laid at the far
    end, where rows begin at another line there (beside a stair in a corner).
    """

    rows: int
    open_mm: Ends
    far_rows: int | None = None

    def __post_init__(self) -> None:
        rows = min(self.rows, self.far_rows or self.rows)
        if rows < 1 or not all(math.isfinite(o) and o >= 0.0 for o in self.open_mm):
            raise InputError(
                "needs at least one row laid, and distances of 0 or more",
                where="check",
                value=(self.rows, self.open_mm),
                remedy="Measure from the last row's face edge, not from its tongue.",
            )


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, and why."""

    name: StepName
    why: str


@dataclass(frozen=True, slots=True)
class Drift:
    """What a check says; pairs are the near and the far end [mm].

    Parameters
    ----------
    laid_row_mm : what a row really covers.
    extra_mm : by how much that is more than the board's width.
    covered_mm : what the rows laid so far cover.
    rows_to_come : rows still to lay, the last one among them.
    last_row_mm : forecast of the last row, if rows go on as they did.
    closed_last_row_mm : the same with every joint closed.
    has_open_joints : whether a row covers so much more that joints must be open.
    steps : what to do, in order.
    """

    laid_row_mm: Ends
    extra_mm: Ends
    covered_mm: Ends
    rows_to_come: int
    last_row_mm: Ends
    closed_last_row_mm: Ends
    has_open_joints: bool
    steps: tuple[Step, ...]


def laid_row_width(board_width_mm: float, across_mm: float, lost_mm: float) -> float:
    """What a row covers when all rows together take ``lost_mm`` more than their boards [mm].

    >>> round(laid_row_width(5.0, 33.0 * 12.0, 2.0), 3)
    5.025
    """
    return board_width_mm * across_mm / (across_mm - lost_mm)


def check_rows(field: Field, check: RowCheck, unit: Unit = "mm") -> Drift:
    """What the distances read after some rows say of the rows to come.

    Raises
    ------
    InputError : more is open than the room is wide, or nothing is left to lay.
    """
    width = np.float64(field.board_width_mm)
    rows = np.array([check.rows, check.far_rows or check.rows])
    still_open = np.array(check.open_mm)
    covered = np.array(field.across_mm) - field.start_gap_mm - still_open
    left = still_open - field.last_gap_mm
    if covered.min() <= 0.0 or left.max() <= 0.0:
        raise InputError(
            "the room is not that wide, or no row is left to lay",
            where="open",
            value=check.open_mm,
            remedy="Measure from the face edge of the last row to the far wall.",
        )
    extra = (covered - np.array(field.first_row_mm) - (rows - 1) * width) / rows
    come, last = _last_row(left, width + extra)
    _, closed = _last_row(left + np.maximum(extra, 0.0) * rows, width + 0.0 * extra)
    is_open = bool(((extra >= OPEN_JOINT_MM) & (extra * rows >= TAPE_MM)).any())
    worst = int(extra.argmax())
    more_mm = float(extra[worst] * rows[worst])
    steps = _closing(more_mm, int(rows[worst]), unit) if is_open else ()
    steps += _fitting(closed if is_open else last, field.narrowest_row_mm, unit)
    off = int(np.abs(extra * rows).argmax())
    if abs(extra[off] * rows[off]) > width / 2.0:
        steps = (_misread(float(extra[off] * rows[off]), int(rows[off]), unit),)
    return Drift(
        laid_row_mm=_ends(width + extra),
        extra_mm=_ends(extra),
        covered_mm=_ends(covered),
        rows_to_come=come,
        last_row_mm=_ends(last),
        closed_last_row_mm=_ends(closed),
        has_open_joints=is_open,
        steps=steps or (Step("go on", "The rows lie as planned."),),
    )


def _ends(pair: Floats) -> Ends:
    return float(pair[0]), float(pair[1])


def _last_row(left: Floats, laid: Floats) -> tuple[int, Floats]:
    """Rows still to come and the width of the last one at both ends.

    The last row is as wide as a row at its wide end, or less.
    """
    whole = max(math.ceil(float((left / laid).max()) - 1e-6) - 1, 0)
    last: Floats = left - whole * laid
    return whole + 1, last


def _misread(more_mm: float, rows: int, unit: Unit) -> Step:
    """What can be said of rows that seem to cover half a board more or less than they can."""
    told = f"{format_length(abs(more_mm), unit)} {'more' if more_mm > 0.0 else 'less'}"
    return Step(
        "measure again",
        f"{rows} {'row' if rows == 1 else 'rows'} cannot cover {told} than the boards are wide. "
        "Count the rows; measure from the face edge of the last one, straight across.",
    )


def _closing(more_mm: float, rows: int, unit: Unit) -> tuple[Step, ...]:
    return (
        Step(
            "close the joints",
            f"{rows} rows cover {format_length(more_mm, unit)} more than their boards are wide: "
            "joints are open. Look along every row line and pull the rows together before you "
            "lay another one.",
        ),
        Step("measure again", "Read both ends once the joints are closed."),
    )


def _fitting(last: Floats, narrowest: float, unit: Unit) -> tuple[Step, ...]:
    """What is left to do about the last row itself."""
    found: list[Step] = []
    if float(last.min()) < narrowest:
        widths = format_length(max(float(last.min()), 0.0), unit)
        least = format_length(narrowest, unit)
        found.append(
            Step(
                "shift",
                f"The last row would be {widths}, where {least} is the least. Take the rows up and "
                "rip row 1 narrower while that is still little work, or let the leaflet say "
                "whether such a row may be glued.",
            )
        )
    if abs(float(last[1] - last[0])) > PARALLEL_MM:
        near, far = (format_length(mm, unit) for mm in _ends(np.maximum(last, 0.0)))
        found.append(
            Step("taper", f"Rip the last row from {near} at the near end to {far} at the far end.")
        )
    return tuple(found)
