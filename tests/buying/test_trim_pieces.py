"""Pieces of trim: long points, coped and mitered ends, scarf joints."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from plankwright.buying.trim_pieces import (
    long_point_mm,
    spliced_pieces,
    spliced_sticks,
    trim_pieces,
)
from plankwright.buying.wall_runs import Run, RunEnd, wall_runs
from plankwright.model.trim import StockLength, Trim

SQUARE, INSIDE, OUTSIDE = RunEnd("square"), RunEnd("inside", 90.0), RunEnd("outside", 90.0)


def run(length: float, near: RunEnd = SQUARE, far: RunEnd = SQUARE) -> Run:
    return Run("A-B", length, near, far, (0.0, 0.0), (length, 0.0))


def bare(*lengths: float, **more: object) -> Trim:
    plain: dict[str, object] = {"kerf_mm": 0.0, "miter_mm": 0.0, "shortest_mm": 0.0}
    return Trim(tuple(map(StockLength, lengths)), **{**plain, **more})  # type: ignore[arg-type]


def test_960_inches_of_wall() -> None:
    assert spliced_sticks([960.0], 96.0) == 10
    assert spliced_sticks([960.0], 96.0, waste_pct=10.0) == 11  # 1056 / 96


def test_long_points() -> None:
    assert long_point_mm(run(1000.0, INSIDE, INSIDE), 19.0) == 1000.0
    assert long_point_mm(run(1000.0, OUTSIDE, OUTSIDE), 19.0) == pytest.approx(1038.0)
    # 19 x tan(22.5 degrees) at an outside corner that turns by 45
    assert long_point_mm(run(1000.0, RunEnd("outside", 45.0)), 19.0) == pytest.approx(
        1007.87, abs=0.01
    )


def test_of_two_coped_pieces_one_runs_square_into_the_corner() -> None:
    pieces = trim_pieces(wall_runs(box(0, 0, 4000, 3000)), bare(5000.0))
    assert [(piece.left, piece.right) for piece in pieces] == [("coped", "square")] * 4
    mitered = trim_pieces(wall_runs(box(0, 0, 4000, 3000)), bare(5000.0, inside="mitered"))
    assert {(piece.left, piece.left_deg) for piece in mitered} == {("inside miter", 45.0)}


def test_the_saw_allowance_of_the_handbook() -> None:
    # section 7.5: twice the thickness and a kerf for every mitered end: 1000 + 2 (2 x 19 + 3)
    trim = Trim((StockLength(2400.0),), kerf_mm=3.0)
    (piece,) = trim_pieces([run(1000.0, OUTSIDE, OUTSIDE)], trim)
    assert piece.blank_mm == pytest.approx(1038.0 + 82.0)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(st.integers(300, 15_000), st.sampled_from([SQUARE, INSIDE, OUTSIDE]),
       st.sampled_from([SQUARE, INSIDE, OUTSIDE]), st.booleans())  # fmt: skip
def test_parts_of_a_long_wall_cover_it(length: int, near: RunEnd, far: RunEnd, even: bool) -> None:
    trim = Trim((StockLength(2440.0), StockLength(3660.0)))
    parts = trim_pieces([run(float(length), near, far)], trim, even=even)
    overlap = 19.0 * (len(parts) - 1)
    whole = long_point_mm(run(float(length), near, far), 19.0)
    assert sum(part.long_mm for part in parts) == pytest.approx(whole + overlap)
    assert all(part.blank_mm <= 3660.0 + 1e-6 for part in parts)
    assert len(parts) == 1 or min(part.long_mm for part in parts) >= 400.0 - 1e-6


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.lists(st.integers(200, 6000), min_size=1, max_size=8))
def test_splicing_loses_no_length(lengths: list[int]) -> None:
    trim = Trim((StockLength(2440.0),))
    whole = trim_pieces([run(float(n), INSIDE, OUTSIDE) for n in lengths], trim)
    spliced = spliced_pieces(whole, trim)
    joints = len(spliced) - len(whole)
    assert sum(p.long_mm for p in spliced) == pytest.approx(
        sum(p.long_mm for p in whole) + 19.0 * joints
    )
    assert all(p.blank_mm <= 2440.0 + 1e-6 for p in spliced)
    assert len({p.label for p in spliced}) == len(spliced)
