"""What trim covers and what holds it."""

import pytest

from plankwright.buying.fastening import (
    cartridges_needed,
    covers,
    deepest_nail_mm,
    nail_length_mm,
    nails_needed,
)
from plankwright.model.trim import StockLength, Trim

STOCK = (StockLength(2400.0),)


def test_trim_covers_gap_and_five_millimeters() -> None:
    # handbook 7.5: trim thickness at least gap + 5 mm: 19 covers 14, not 15
    good, bad = covers([("A-B", 14.0), ("B-C", 15.0)], Trim(STOCK, thickness_mm=19.0))
    assert (good.covered, bad.covered) == (True, False)
    assert bad.need_mm == 20.0


def test_brads_hold_and_stay_off_what_lies_behind() -> None:
    # 19 + 12.7 + 19 = 50.7 mm: the next quarter inch is 2 in
    trim = Trim(STOCK, thickness_mm=19.0)
    assert nail_length_mm(trim, inches=True) == pytest.approx(50.8)
    assert nail_length_mm(trim) == 55.0
    assert deepest_nail_mm(trim) == pytest.approx(63.7)


@pytest.mark.parametrize("thickness", range(6, 40))
def test_no_brad_goes_deeper_than_is_safe(thickness: int) -> None:
    trim = Trim(STOCK, thickness_mm=float(thickness), miter_mm=10.0)
    for inches in (False, True):
        assert nail_length_mm(trim, inches=inches) <= deepest_nail_mm(trim)


def test_counts() -> None:
    assert nails_needed([400.0]) == 2  # one near each end
    assert nails_needed([2000.0, 100.0]) == 6 + 2
    # a 5 mm bead takes 19.6 mL a meter: 290 mL go 14.77 m
    assert (cartridges_needed(14_700.0), cartridges_needed(14_800.0)) == (1, 2)
