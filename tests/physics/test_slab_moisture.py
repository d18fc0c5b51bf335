"""Moisture tests of a slab: worked examples W10 to W13 and the example of the issue."""

import pytest

from plankwright.errors import RangeError
from plankwright.physics.constants import (
    G_PER_LB,
    M2_PER_FT2,
    NG_PER_S_M2_PA_PER_PERM,
)
from plankwright.physics.slab_moisture import (
    emission_lb,
    emission_si,
    probe_depth_mm,
    water_per_day_g,
)
from plankwright.physics.slab_moisture import (
    tests_needed as number_of_tests,
)


def test_conversion_factors() -> None:
    # handbook section 0.1, from the exact definitions
    assert pytest.approx(57.2135, abs=5e-5) == NG_PER_S_M2_PA_PER_PERM
    assert emission_si(1.0)[0] == pytest.approx(56.509579, abs=5e-7)
    assert emission_si(1.0)[1] == pytest.approx(4.8824276, abs=5e-8)


def test_w10_emissions_in_metric() -> None:
    assert emission_si(3)[0] == pytest.approx(169.53, abs=0.01)
    assert emission_si(5)[0] == pytest.approx(282.55, abs=0.01)
    assert emission_si(3)[1] == pytest.approx(14.65, abs=0.01)
    assert emission_si(5)[1] == pytest.approx(24.41, abs=0.01)


def test_w11_calcium_chloride_from_grams() -> None:
    # 2.6 g × 52.9109 / (0.50 ft2 × 66 h) = 4.169
    assert emission_lb(2.6, 0.50, 66) == pytest.approx(4.17, abs=0.01)


@pytest.mark.parametrize("hours", [59.9, 72.1])
def test_an_exposure_outside_60_to_72_hours_is_refused(hours: float) -> None:
    with pytest.raises(RangeError) as caught:
        emission_lb(2.6, 0.50, hours)
    assert (caught.value.value, caught.value.low, caught.value.high) == (hours, 60, 72)


def test_w12_water_per_day() -> None:
    assert water_per_day_g(5, 30) == pytest.approx(732, abs=1)
    assert emission_si(5)[1] * 30 == pytest.approx(732, abs=1)


def test_961_square_feet_at_3_and_5_lb() -> None:
    # 961 × 3 / 1000 = 2.883 lb a day; 961 × 5 / 1000 = 4.805
    area = 961 * M2_PER_FT2
    assert water_per_day_g(3, area) / G_PER_LB == pytest.approx(2.883, abs=5e-4)
    assert water_per_day_g(5, area) / G_PER_LB == pytest.approx(4.805, abs=5e-4)


@pytest.mark.parametrize(
    ("ft2", "tests"), [(1, 3), (228, 3), (1000, 3), (1001, 4), (1650, 4), (2000, 4), (2001, 5)]
)
def test_w13_number_of_tests(ft2: float, tests: int) -> None:
    assert number_of_tests(ft2 * M2_PER_FT2) == tests
    # the counting loop: three, and one for every thousand begun after the first
    count, covered = 3, 1000.0
    while covered < ft2:
        count, covered = count + 1, covered + 1000.0
    assert count == tests


def test_w13_depth() -> None:
    assert probe_depth_mm(4 * 25.4) == pytest.approx(40.6, abs=0.05)
    assert probe_depth_mm(100, "both faces") == pytest.approx(20)
    with pytest.raises(RangeError):
        probe_depth_mm(10)
