"""Trim at the wall: its section, the lengths it is sold in, and how it is joined."""

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from plankwright.errors import InputError

Inside = Literal["coped", "mitered"]
Splice = Literal["where needed", "anywhere"]
WallKind = Literal["wood frame", "masonry", "unknown"]


@dataclass(frozen=True, slots=True)
class StockLength:
    """A length in which something is sold [mm], and the price of one."""

    length_mm: float
    price: Decimal | None = None

    def __post_init__(self) -> None:
        if not (math.isfinite(self.length_mm) and 100.0 <= self.length_mm <= 20_000.0):
            raise InputError(
                "a stock length is from {0} to {1}",
                lengths_mm=(100.0, 20_000.0),
                where="length",
                value_mm=self.length_mm,
                remedy="Check the number and its unit.",
            )


@dataclass(frozen=True, slots=True)
class Trim:
    """Trim and how it is cut.

    Parameters
    ----------
    stock : the lengths it is sold in.
    name : quarter round, base shoe, baseboard.
    thickness_mm : what it covers of the floor, measured from the wall.
    inside : how inside corners are made.
    splice : scarf joints only where a wall is longer than the stock, or wherever they save.
    kerf_mm : of the miter saw.
    miter_mm : extra length for each end that is not square; None for twice the thickness and a
        kerf (common practice).
    shortest_mm : no part of a spliced run is shorter.
    margin_mm : what trim must cover beyond the gap, for taper, rip error and the caulk line.
    casing_mm : width of the door casings, at which the trim ends.
    wall : what stands behind it: nails or adhesive.
    wallboard_mm : thickness of wallboard between trim and frame.
    """

    stock: tuple[StockLength, ...]
    name: str = "quarter round"
    thickness_mm: float = 19.0
    inside: Inside = "coped"
    splice: Splice = "where needed"
    kerf_mm: float = 3.0
    miter_mm: float | None = None
    shortest_mm: float = 400.0
    margin_mm: float = 5.0
    casing_mm: float = 0.0
    wall: WallKind = "unknown"
    wallboard_mm: float = 12.7

    def __post_init__(self) -> None:
        if not self.stock:
            raise InputError(
                "trim needs a length it is sold in",
                where="buy.trim.stock",
                remedy="Write the lengths of the store.",
            )
        sizes = (self.thickness_mm, self.kerf_mm, self.miter_mm or 0.0, self.shortest_mm,
                 self.margin_mm, self.casing_mm, self.wallboard_mm)  # fmt: skip
        if not all(math.isfinite(size) and 0.0 <= size <= 1000.0 for size in sizes):
            raise InputError(
                "sizes of trim are 0 to {0}",
                lengths_mm=(1000.0,),
                where="buy.trim",
                value=sizes,
                remedy="Check the numbers and their units.",
            )
        if self.thickness_mm <= 0.0:
            raise InputError(
                "trim has a thickness above 0",
                where="buy.trim.thickness",
                value_mm=self.thickness_mm,
                remedy="Measure what it covers of the floor.",
            )
        if self.longest_mm < 2.0 * (self.end_mm * 2.0 + self.shortest_mm):
            raise InputError(
                "the longest stock is too short to be cut",
                where="buy.trim.stock",
                value_mm=self.longest_mm,
                remedy="Check the lengths, the shortest part and their units.",
            )

    @property
    def end_mm(self) -> float:
        """Extra length for an end that is not square [mm]."""
        return self.miter_mm if self.miter_mm is not None else 2 * self.thickness_mm + self.kerf_mm

    @property
    def longest_mm(self) -> float:
        """The longest length it is sold in [mm]."""
        return max(stock.length_mm for stock in self.stock)

    @property
    def priced(self) -> bool:
        """Whether every length has a price."""
        return all(stock.price is not None for stock in self.stock)
