"""What the person wants of the laying, where the planner would otherwise choose."""

import math
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import InputError
from plankwright.model.board import Laid

Prefer = Literal["spares", "looks", "cuts"]
MOST_SPENT = 1_000


@dataclass(frozen=True, slots=True)
class Wishes:
    """Wishes about the laying; None leaves the choice to the planner.

    Parameters
    ----------
    row_angle_deg : direction of the rows in room coordinates, anticlockwise from x.
    row_wall : rows run along this wall, ``"A-B"``; not together with ``row_angle_deg``.
    start_wall : row 1 lies along this wall.
    first_row_mm : width of the first row where it is widest.
    laid : left to right or right to left, facing the start wall.
    window_wall : the wall with the main window: rows that run toward it show their joints least.
    prefer : what to do with boards below the next pack: keep them as spares, or spend them on
        looks or on fewer cuts and offcuts, where they are worth it.
    spend_boards : how many boards more than the fewest may be spent; None: what the last pack
        has left.
    way_out : the door by which one leaves when the floor is laid: its name or its wall.
    longest_alone_mm : the longest row that one person can tilt in as a whole.
    first_rows_together : rows 1 and 2 are laid side by side, piece by piece.
    begin_row : the row to begin with, from a snapped line; those before it are laid backwards.
    half_at_a_time : furniture stays in one half; laying stops on a row joint near the middle.
    """

    row_angle_deg: float | None = None
    row_wall: str | None = None
    start_wall: str | None = None
    first_row_mm: float | None = None
    laid: Laid | None = None
    window_wall: str | None = None
    prefer: Prefer = "spares"
    spend_boards: int | None = None
    way_out: str | None = None
    longest_alone_mm: float = 4000.0
    first_rows_together: bool = False
    half_at_a_time: bool = False
    begin_row: int | None = None

    def __post_init__(self) -> None:
        angle, first = self.row_angle_deg, self.first_row_mm
        if angle is not None and not (math.isfinite(angle) and abs(angle) <= 360.0):
            raise InputError(
                "must be from -360 to 360 degrees",
                where="laying.row_angle",
                value=angle,
                remedy="Write auto, degrees, or a wall such as A-B.",
            )
        if angle is not None and self.row_wall is not None:
            raise InputError(
                "give an angle or a wall, not both",
                where="laying.row_angle",
                value=angle,
                remedy="Leave one of them out.",
            )
        if first is not None and not (math.isfinite(first) and first >= 5.0):
            raise InputError(
                "a row needs a width above 0",
                where="laying.first_row",
                value=first,
                remedy="Write auto or a width.",
            )
        if self.spend_boards is not None and not 0 <= self.spend_boards <= MOST_SPENT:
            raise InputError(
                f"must be from 0 to {MOST_SPENT} boards",
                where="laying.spend_boards",
                value=self.spend_boards,
                remedy="Leave it out to spend no more than the last pack has left.",
            )
