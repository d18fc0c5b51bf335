"""Offcuts at hand as boards of which something is gone: where each lies in a whole board's frame.

An offcut with its far end lies at the far end of its board, one with its near end at the near end,
and one without either somewhere between. What is gone keeps every piece inside the offcut, and
narrow pieces inside a strip.
"""

from dataclasses import dataclass

from plankwright.model.board import Board
from plankwright.model.plan import StockBoard
from plankwright.model.rules import Rules
from plankwright.plan.sharing import NEAR_MM, Cutting

SLACK_MM = 0.02  # a piece that just fits, fits


@dataclass(frozen=True, slots=True)
class OffcutFrame:
    """An offcut in the frame of its board.

    Parameters
    ----------
    number : of the board, as cuttings have it.
    origin_mm : where the offcut's near end lies.
    gone : what of the board is not there, with the saw's cut beside it.
    """

    number: int
    origin_mm: float
    gone: tuple[Cutting, ...]


def frame_of(
    number: int, offcut: StockBoard, usable_mm: float, board: Board, rules: Rules
) -> OffcutFrame | None:
    """The frame of an offcut; None where it cannot lie in a board so.

    Parameters
    ----------
    usable_mm : how much of its length is planned with; the rest is left at the end without a
        factory end.
    """
    length, width = board.length_mm, board.width_mm
    if offcut.length_mm > length + SLACK_MM:
        return None
    unused = max(offcut.length_mm - usable_mm, 0.0)
    origin = 0.0
    if offcut.ends == "far":
        origin = length - offcut.length_mm
    elif offcut.ends == "none":
        origin = (length - offcut.length_mm) / 2.0
    first, last = origin, origin + offcut.length_mm
    if offcut.ends == "far":
        first += unused
    else:
        last -= unused
    across = _beside(offcut, width, rules.kerf_mm + NEAR_MM + SLACK_MM)
    if across is None:
        return None
    apart = rules.cut_mm + NEAR_MM + SLACK_MM
    gone = [Cutting(number, (0.0, length), part) for part in across]
    if offcut.ends in ("far", "none"):
        gone.append(Cutting(number, (-length, first - apart), (0.0, width)))
    if offcut.ends == "none" or (offcut.ends != "far" and last < length - SLACK_MM):
        gone.append(Cutting(number, (last + apart, 2.0 * length), (0.0, width)))
    return OffcutFrame(number, origin, tuple(gone))


def _beside(offcut: StockBoard, width: float, apart: float) -> list[tuple[float, float]] | None:
    """What is gone beside a strip; None where no factory side says where it lay."""
    if offcut.width_mm is None or offcut.width_mm >= width - SLACK_MM:
        return []
    if offcut.side == "wall":
        return [(offcut.width_mm + apart, 2.0 * width)]
    if offcut.side == "room":
        return [(-width, width - offcut.width_mm - apart)]
    return None
