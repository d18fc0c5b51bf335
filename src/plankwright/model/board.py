"""The board: one plank of the product, its cover size, its pack and its lock."""

import math
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import InputError

Profile = Literal["tongue", "groove"]
Hand = Literal["left", "right"]
Laid = Literal["left-to-right", "right-to-left"]
EndLock = Literal["drop", "angle", "tap", "loose"]

LONGEST_BOARD_MM = 10_000.0
WIDEST_BOARD_MM = 2_000.0


@dataclass(frozen=True, slots=True)
class Board:
    """A board as it lies on the floor, seen by a person who faces the start wall.

    Parameters
    ----------
    length_mm, width_mm : cover dimensions, face edge to face edge; tongue and lip not counted.
    per_pack : boards in a pack.
    thickness_mm : for heights and cautions; 0 when unknown.
    reversible : True for square edges and loose lay: no handedness at all.
    start_side : which long side goes to the start wall.
    tongue_end : which end has the tongue while ``start_side`` is away from you.
    end_lock : how an end closes. *drop*: the new board's tongue end comes down on the laid
        board's lip; *angle*: slid in; *tap*: driven in; *loose*: only laid.
    either_way : the leaflet allows the second laying direction (angle locks only).
    laid_backwards : lock and leaflet let a row be joined on its room side, its groove pushed on
        to the tongue that lies there.
    spline : lock and leaflet take a spline, beyond which boards lie turned end for end.
    shave_and_glue : the leaflet lets the lip be shaved off and the joint be glued where a piece
        cannot be tilted.
    tilt_deg : how far a piece is tilted to go into the long lock; 20 to 30 degrees are usual.
    """

    length_mm: float
    width_mm: float
    per_pack: int = 8
    thickness_mm: float = 0.0
    reversible: bool = False
    start_side: Profile = "tongue"
    tongue_end: Hand = "left"
    end_lock: EndLock = "drop"
    either_way: bool = False
    laid_backwards: bool = False
    spline: bool = False
    shave_and_glue: bool = False
    tilt_deg: float = 25.0

    def __post_init__(self) -> None:
        _require_size("board.length", self.length_mm, 50.0, LONGEST_BOARD_MM)
        _require_size("board.width", self.width_mm, 10.0, WIDEST_BOARD_MM)
        if self.width_mm > self.length_mm:
            raise InputError(
                "the board is wider than it is long",
                where="board.width",
                value_mm=self.width_mm,
                remedy="Give the length first: 1285x192.",
            )
        if not 1 <= self.per_pack <= 1000:
            raise InputError(
                "boards in a pack must be from 1 to 1000",
                where="board.per_pack",
                value=self.per_pack,
                remedy="Read it off the pack.",
            )
        if not 0.0 <= self.thickness_mm <= 100.0:
            raise InputError(
                "the thickness must be from 0 to {0}",
                lengths_mm=(100.0,),
                where="board.thickness",
                value_mm=self.thickness_mm,
                remedy="Check the number and its unit.",
            )
        if not 0.0 <= self.tilt_deg <= 60.0:
            raise InputError(
                "a board is tilted by 0 to 60 degrees",
                where="board.tilt",
                value=self.tilt_deg,
                remedy="Write the leaflet's angle; 25 is usual.",
            )

    def near_end(self, laid: Laid) -> Profile | None:
        """The profile at the end where laying starts; None for a reversible board."""
        if self.reversible:
            return None
        near: Hand = "left" if laid == "left-to-right" else "right"
        return "tongue" if self.tongue_end == near else "groove"

    @property
    def area_mm2(self) -> float:
        """Cover area of one board [mm²]."""
        return self.length_mm * self.width_mm


def _require_size(field: str, value: float, low: float, high: float) -> None:
    if not (math.isfinite(value) and low <= value <= high):
        raise InputError(
            "must be from {0} to {1}",
            lengths_mm=(low, high),
            where=field,
            value_mm=value,
            remedy="Check the number and its unit.",
        )
