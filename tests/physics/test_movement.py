"""Movement: worked examples W15 and W16."""

import pytest

from plankwright.errors import RangeError
from plankwright.physics.movement import laminate_growth_mm, rule_of_thumb, vinyl_growth_mm


def test_w15_laminate() -> None:
    growth = laminate_growth_mm(6000)
    assert growth == pytest.approx(5.4)  # 6 × 0.9
    assert growth / 2 == pytest.approx(2.7)
    # the same, board by board: 1.2 m boards of 1.08 mm each, five of them
    assert growth == pytest.approx(5 * laminate_growth_mm(1200))
    thumb = rule_of_thumb(6000)
    assert thumb.per_side_mm == pytest.approx(9.0)
    assert thumb.in_total_mm == pytest.approx(4.5)


@pytest.mark.parametrize(("per_k", "growth"), [(5e-5, 6.0), (7e-5, 8.4), (8e-5, 9.6)])
def test_w16_vinyl(per_k: float, growth: float) -> None:
    assert vinyl_growth_mm(8000, 15, per_k) == pytest.approx(growth, abs=0.1)
    # in inches: 315 in × 3.89e-5 per °F × 27 °F = 0.331 in at 7e-5 per K
    if per_k == 7e-5:
        assert vinyl_growth_mm(8000, 15, per_k) / 25.4 == pytest.approx(0.331, abs=0.001)


@pytest.mark.parametrize(("dry", "damp"), [(20, 60), (40, 95)])
def test_laminate_outside_the_tested_humidity_is_refused(dry: float, damp: float) -> None:
    with pytest.raises(RangeError) as caught:
        laminate_growth_mm(6000, dry, damp)
    assert (caught.value.low, caught.value.high) == (30, 90)


def test_vinyl_outside_its_range_is_refused() -> None:
    with pytest.raises(RangeError):
        vinyl_growth_mm(8000, 90)
    with pytest.raises(RangeError):
        vinyl_growth_mm(8000, 10, 1e-3)
