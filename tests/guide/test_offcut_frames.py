"""Offcuts in the frame of a whole board of 1000 x 200, by hand."""

import pytest

from plankwright.guide.offcut_frames import OffcutFrame, frame_of
from plankwright.model.board import Board
from plankwright.model.plan import StockBoard
from plankwright.model.rules import Rules
from plankwright.plan.sharing import Cutting, share_boards

BOARD = Board(1000.0, 200.0)
RULES = Rules(kerf_mm=3.0, allowance_mm=0.0)


def frame(offcut: StockBoard, usable_mm: float | None = None) -> OffcutFrame | None:
    usable = offcut.length_mm if usable_mm is None else usable_mm
    return frame_of(-1, offcut, usable, BOARD, RULES)


def fits(offcut: StockBoard, along: tuple[float, float], across: tuple[float, float]) -> bool:
    """Whether a piece that lies so in a new board could lie so in the offcut instead."""
    found = frame(offcut)
    assert found is not None
    piece = Cutting(1, along, across)
    [moved] = share_boards([piece], 1000.0, 200.0, 3.0, 3.0, {-1: found.gone})
    return moved.board == -1


@pytest.mark.parametrize(("ends", "origin"), [("far", 400.0), ("near", 0.0), ("none", 200.0)])
def test_where_an_offcut_of_600_lies(ends: str, origin: float) -> None:
    found = frame(StockBoard(0, 600.0, ends))  # type: ignore[arg-type]
    assert found is not None
    assert found.origin_mm == origin


def test_a_piece_that_just_fits_fits() -> None:
    assert fits(StockBoard(0, 600.0, "far"), (400.0, 1000.0), (0.0, 200.0))
    assert not fits(StockBoard(0, 600.0, "far"), (399.0, 1000.0), (0.0, 200.0))
    assert fits(StockBoard(0, 600.0, "near"), (0.0, 600.0), (0.0, 200.0))
    assert not fits(StockBoard(0, 600.0, "near"), (0.0, 601.0), (0.0, 200.0))
    assert not fits(StockBoard(0, 600.0, "none"), (0.0, 500.0), (0.0, 200.0))  # it needs an end


def test_strips_keep_their_side() -> None:
    wall = StockBoard(0, 1000.0, "both", 90.0, side="wall")
    room = StockBoard(0, 1000.0, "both", 90.0, side="room")
    assert fits(wall, (0.0, 1000.0), (0.0, 90.0))
    assert not fits(wall, (0.0, 1000.0), (0.0, 91.0))
    assert not fits(wall, (0.0, 1000.0), (110.0, 200.0))
    assert fits(room, (0.0, 1000.0), (110.0, 200.0))
    assert not fits(room, (0.0, 1000.0), (0.0, 90.0))


def test_what_has_no_place_in_a_board() -> None:
    assert frame(StockBoard(0, 1200.0, "far")) is None
    assert frame(StockBoard(0, 500.0, "none", 90.0, side="none")) is None


def test_an_allowance_is_left_at_the_end_that_is_cut() -> None:
    found = frame(StockBoard(0, 600.0, "far"), usable_mm=580.0)
    assert found is not None
    [gone] = found.gone
    assert gone.along[1] == pytest.approx(420.0 - 3.0, abs=0.2)  # 580 up to the far end, less a cut
