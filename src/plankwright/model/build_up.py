"""The layers of the new floor and what they meet: doors, steps, neighboring floors."""

import math
from dataclasses import dataclass
from typing import Literal

from plankwright.errors import InputError

MeetingKind = Literal["door", "outside door", "fire door", "opening", "stair", "step"]


@dataclass(frozen=True, slots=True)
class Layers:
    """Thicknesses of the new floor [mm], from the slab up; leveling where it meets a door."""

    board_mm: float
    pad_mm: float = 0.0
    film_mm: float = 0.15
    leveling_mm: float = 0.0

    def __post_init__(self) -> None:
        parts = (self.board_mm, self.pad_mm, self.film_mm, self.leveling_mm)
        if not all(math.isfinite(part) and 0.0 <= part <= 200.0 for part in parts):
            raise InputError(
                "a layer is 0 to {0} thick",
                lengths_mm=(200.0,),
                where="slab.layers",
                value_mm=max(parts),
            )

    @property
    def total_mm(self) -> float:
        """Height of the finished floor over the slab [mm]."""
        return self.board_mm + self.pad_mm + self.film_mm + self.leveling_mm


@dataclass(frozen=True, slots=True)
class Meeting:
    """Something the new floor meets.

    Parameters
    ----------
    name : how the person calls it.
    kind : what it is.
    under_leaf_mm : space between the slab and the door leaf's lower edge; None without a leaf.
    beyond_mm : height of the floor on the other side above this slab; None when not known.
    riser_mm : for a stair: its bottom riser from the slab; others_mm: its other risers.
    """

    name: str
    kind: MeetingKind = "door"
    under_leaf_mm: float | None = None
    beyond_mm: float | None = None
    riser_mm: float | None = None
    others_mm: float | None = None
