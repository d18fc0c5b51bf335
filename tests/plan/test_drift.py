"""Rows that drift: worked by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import InputError
from plankwright.plan.drift import Field, RowCheck, check_rows, laid_row_width

IN = 25.4


def field(across_in: float, narrowest_in: float = 2.0, gap_in: float = 0.0) -> Field:
    return Field(
        (across_in * IN, across_in * IN), 5.0 * IN, (5.0 * IN, 5.0 * IN), gap_in * IN, gap_in * IN,
        narrowest_in * IN,
    )  # fmt: skip


def test_33_feet_in_boards_of_5_inches_with_2_inches_lost() -> None:
    # 396 in = 79.2 boards of 5 in; 2 in more in 79 rows are 0.025 in a row, 5.025 in a laid row
    assert laid_row_width(5.0, 396.0, 2.0) == pytest.approx(5.025, abs=0.0005)
    # ten such rows cover 50 1/4 in, and that is told after those ten
    open_mm = (396.0 - 50.25) * IN
    drift = check_rows(field(396.0), RowCheck(10, (open_mm, open_mm)), "in")
    assert drift.covered_mm == pytest.approx((50.25 * IN, 50.25 * IN))
    assert drift.laid_row_mm == pytest.approx((5.025 * IN, 5.025 * IN))
    assert drift.has_open_joints
    assert [step.name for step in drift.steps][:2] == ["close the joints", "measure again"]
    assert '10 rows cover 1/4" more than their boards are wide' in drift.steps[0].why
    # 345.75 in are open: 68 rows of 5.025 cover 341.7, the 69th would be 4.05 in wide; with closed
    # joints 346 in are open, 69 rows cover 345 and the 70th is a sliver of 1 in
    assert drift.rows_to_come == 69
    assert drift.last_row_mm[0] / IN == pytest.approx(4.05)
    assert drift.closed_last_row_mm[0] / IN == pytest.approx(1.0)
    assert [step.name for step in drift.steps] == ["close the joints", "measure again", "shift"]


def test_rows_that_lie_as_planned() -> None:
    # 100 in across, gaps 1/2: 99 = 19 x 5 + 4; after 8 rows 100 - 0.5 - 40 = 59 1/2 are open
    drift = check_rows(field(100.0, gap_in=0.5), RowCheck(8, (59.5 * IN, 59.5 * IN)), "in")
    assert drift.extra_mm == pytest.approx((0.0, 0.0))
    assert drift.rows_to_come == 12
    assert drift.last_row_mm[0] / IN == pytest.approx(4.0)
    assert [step.name for step in drift.steps] == ["go on"]


def test_a_joint_open_at_one_end_only() -> None:
    # at the far end 8 rows cover 1/4 in more: 1/32 in a row, 0.79 mm; at the near end nothing
    drift = check_rows(field(100.0, gap_in=0.5), RowCheck(8, (59.5 * IN, 59.25 * IN)), "in")
    assert drift.extra_mm == pytest.approx((0.0, IN / 32.0))
    assert drift.steps[0].name == "close the joints"
    assert drift.closed_last_row_mm == pytest.approx((4.0 * IN, 4.0 * IN))


@pytest.mark.parametrize(("rows", "told"), [(7, '7 rows cannot cover 5" more'), (9, '5" less')])
def test_a_row_miscounted_is_no_open_joint(rows: int, told: str) -> None:
    # 59 1/2 in are open after 8 rows of 5 in; counted as 7 or 9 they cover a board more or less
    drift = check_rows(field(100.0, gap_in=0.5), RowCheck(rows, (59.5 * IN, 59.5 * IN)), "in")
    assert [step.name for step in drift.steps] == ["measure again"]
    assert told in drift.steps[0].why


def test_what_the_tape_cannot_tell_is_no_open_joint() -> None:
    # one row 1/32 in wider (0.8 mm): within what two readings may differ
    drift = check_rows(field(100.0, gap_in=0.5), RowCheck(1, (94.5 * IN - 0.8,) * 2), "in")
    assert not drift.has_open_joints


def test_a_crooked_room_tapers_its_last_row() -> None:
    # 15 ft 0 in at the near end, 15 ft 2 in at the far one, 20 rows of 5 in, no gap: 80 and 82 in
    # are open, 16 rows to come, the last 5 in wide at the near end and 7 at the far: more than a
    # board, so one row more: 0 and 2 in, and a sliver to be shifted away
    crooked = Field((180.0 * IN, 182.0 * IN), 5.0 * IN, (5.0 * IN,) * 2, 0.0, 0.0, 2.0 * IN)
    drift = check_rows(crooked, RowCheck(20, (80.0 * IN, 82.0 * IN)), "in")
    assert drift.rows_to_come == 17
    assert drift.last_row_mm == pytest.approx((0.0, 2.0 * IN), abs=1e-6)
    assert [step.name for step in drift.steps] == ["shift", "taper"]
    assert 'from 0" at the near end to 2" at the far end' in drift.steps[1].why


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    rows=st.integers(1, 30),
    extra=st.floats(-0.5, 2.0),
    across=st.floats(8000.0, 12_000.0),
)
def test_a_check_gives_back_the_width_it_was_made_from(
    rows: int, extra: float, across: float
) -> None:
    """Rows of a known width in a known room: the check finds it, and the rest adds up."""
    width, gap = 192.0, 8.0
    plain = Field((across, across), width, (width, width), gap, gap, 50.0)
    still_open = across - gap - rows * (width + extra)
    drift = check_rows(plain, RowCheck(rows, (still_open, still_open)))
    assert drift.laid_row_mm[0] == pytest.approx(width + extra)
    total = gap + rows * (width + extra) + (drift.rows_to_come - 1) * (width + extra)
    assert total + drift.last_row_mm[0] + gap == pytest.approx(across)
    assert 0.0 < drift.last_row_mm[0] <= drift.laid_row_mm[0] + 1e-3


@pytest.mark.parametrize("open_mm", [(2600.0, 2600.0), (3.0, 3.0)])
def test_readings_that_cannot_be(open_mm: tuple[float, float]) -> None:
    plain = Field((2500.0, 2500.0), 192.0, (192.0, 192.0), 8.0, 8.0, 50.0)
    with pytest.raises(InputError, match="not that wide, or no row is left"):
        check_rows(plain, RowCheck(3, open_mm))
    with pytest.raises(InputError, match="at least one row"):
        RowCheck(0, open_mm)
