"""Trim cut from sticks: the least cost, or the least length bought, with its proof."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from plankwright.buying.trim_pieces import TrimPiece, spliced_pieces
from plankwright.model.trim import StockLength, Trim
from plankwright.optimize.packing import pack
from plankwright.optimize.pattern_program import Bar


@dataclass(frozen=True, slots=True)
class Stick:
    """One length bought and what is cut from it."""

    stock: StockLength
    pieces: tuple[TrimPiece, ...]

    def left_mm(self, kerf_mm: float) -> float:
        """What stays over: never below 0 [mm]."""
        used = sum(piece.blank_mm for piece in self.pieces)
        return max(0.0, self.stock.length_mm - used - kerf_mm * (len(self.pieces) - 1))


@dataclass(frozen=True, slots=True)
class TrimCuts:
    """Every piece on a stick.

    Parameters
    ----------
    sticks : longest first.
    measure : what was made least: *cost* in cents or *length* bought in tenths of a millimeter.
    least, bound : its value and what no cutting of these pieces goes below.
    spliced : whether pieces were cut up to use every scrap.
    """

    sticks: tuple[Stick, ...]
    measure: Literal["cost", "length"]
    least: int
    bound: int
    spliced: bool = False

    @property
    def proven(self) -> bool:
        """Whether no cutting of these pieces costs less."""
        return self.least == self.bound


def cut_trim(pieces: Sequence[TrimPiece], trim: Trim) -> TrimCuts:
    """The pieces on sticks: least cost where every stock length has a price, else least length.

    With ``trim.splice`` *anywhere*, pieces are cut up wherever that makes it less.
    """
    whole = _cut(pieces, trim, spliced=False)
    if trim.splice == "where needed" or not pieces:
        return whole
    spliced = _cut(spliced_pieces(pieces, trim), trim, spliced=True)
    return spliced if spliced.least < whole.least else whole


def _cut(pieces: Sequence[TrimPiece], trim: Trim, *, spliced: bool) -> TrimCuts:
    bars = [
        Bar(math.floor(stock.length_mm * 10 + 1e-4), _cost(stock, trim)) for stock in trim.stock
    ]
    lengths = [math.ceil(piece.blank_mm * 10 - 1e-4) for piece in pieces]
    packing = pack(lengths, bars, math.ceil(trim.kerf_mm * 10 - 1e-4))
    waiting: dict[int, list[TrimPiece]] = {}
    for piece, length in zip(pieces, lengths, strict=True):
        waiting.setdefault(length, []).append(piece)
    sticks = [
        Stick(trim.stock[bars.index(cut.bar)], tuple(waiting[n].pop(0) for n in cut.pieces))
        for cut in packing.cuts
    ]
    sticks.sort(key=lambda stick: (-stick.stock.length_mm, [p.label for p in stick.pieces]))
    measure: Literal["cost", "length"] = "cost" if trim.priced else "length"
    return TrimCuts(tuple(sticks), measure, packing.cost, packing.bound, spliced)


def _cost(stock: StockLength, trim: Trim) -> int:
    if trim.priced and stock.price is not None:
        return max(1, int(stock.price * 100))
    return math.floor(stock.length_mm * 10 + 1e-4)
