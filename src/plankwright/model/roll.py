"""What comes in rolls: the vapor barrier, the underlayment, tape."""

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from plankwright.errors import InputError

Aim = Literal["fewest rolls", "shortest seam"]


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll as it is sold: width and length [mm], price of one."""

    width_mm: float
    length_mm: float
    price: Decimal | None = None

    def __post_init__(self) -> None:
        for field, value, low in (
            ("width", self.width_mm, 10.0),
            ("length", self.length_mm, 500.0),
        ):
            if not (math.isfinite(value) and low <= value <= 1e6):
                raise InputError(
                    "must be from {0} to a kilometer",
                    lengths_mm=(low,),
                    where=field,
                    value_mm=value,
                    remedy="Read it off the roll.",
                )


@dataclass(frozen=True, slots=True)
class Sheeting:
    """A layer of sheets and how its leaflet wants it laid.

    Parameters
    ----------
    roll : as it is sold.
    lap_mm : width by which neighboring strips lie on each other; 0: edge to edge.
    end_lap_mm : the same where a strip is joined end to end.
    upturn_mm : how far it is turned up at walls.
    aim : what to save first.
    joined : whether a strip may be pieced together from two rolls to save a roll.
    shortest_mm : no part of a pieced strip is shorter.
    side_up : which side goes up, in the leaflet's words; empty when not noted.
    """

    roll: Roll
    lap_mm: float = 200.0
    end_lap_mm: float = 200.0
    upturn_mm: float = 75.0
    aim: Aim = "fewest rolls"
    joined: bool = True
    shortest_mm: float = 1000.0
    side_up: str = ""

    def __post_init__(self) -> None:
        sizes = (self.lap_mm, self.end_lap_mm, self.upturn_mm, self.shortest_mm)
        if not all(math.isfinite(size) and 0.0 <= size <= 5000.0 for size in sizes):
            raise InputError(
                "laps and upturn are from 0 to {0}",
                lengths_mm=(5000.0,),
                where="lap",
                value=sizes,
                remedy="Check the numbers and their units.",
            )
        if self.lap_mm >= self.roll.width_mm / 2.0 or self.end_lap_mm >= self.roll.length_mm / 2.0:
            raise InputError(
                "a lap takes half of the roll or more",
                where="lap",
                value_mm=self.lap_mm,
                remedy="Check the lap, the roll and their units.",
            )
