"""Permeance: worked examples W14 and W33, the table of the handbook, and classes."""

import pytest

from plankwright.errors import RangeError
from plankwright.physics.constants import G_PER_M2_DAY_PER_LB, MG_PER_GRAIN
from plankwright.physics.permeance import (
    permeance_si,
    perms_from_sd,
    sd_from_perms_m,
    vapor_class,
    vapor_flux_g_m2_day,
)


@pytest.mark.parametrize(
    ("perms", "si", "sd_m"),
    [
        (0.01, 0.572, 350),
        (0.03, 1.716, 117),
        (0.0466, 2.667, 75.0),
        (0.06, 3.433, 58.3),
        (0.10, 5.721, 35.0),
        (0.15, 8.582, 23.3),
    ],
)
def test_sd_against_perms(perms: float, si: float, sd_m: float) -> None:
    """Handbook section 2.3, computed there from the exact definitions (three figures)."""
    assert permeance_si(perms) == pytest.approx(si, rel=1e-3)
    assert sd_from_perms_m(perms) == pytest.approx(sd_m, rel=5e-3)  # printed to 3 figures
    assert perms_from_sd(sd_from_perms_m(perms)) == pytest.approx(perms)


def test_w14_a_class_i_film_does_not_reach_the_european_sd() -> None:
    assert sd_from_perms_m(0.06) == pytest.approx(58.3, rel=0.005)
    assert vapor_class(0.06) == "I"
    assert sd_from_perms_m(0.06) < 75.0
    assert perms_from_sd(75.0) == pytest.approx(0.0466, rel=0.005)


def test_w33_vapor_through_a_whole_film() -> None:
    flux = vapor_flux_g_m2_day(0.06, 12.0, 20.0, 50.0)
    assert flux == pytest.approx(0.0692, rel=0.01)
    assert flux / G_PER_M2_DAY_PER_LB == pytest.approx(0.0142, rel=0.01)
    # by grains: 0.06 grain/(h ft2 inHg) × 24 h × (1402.6 - 1169.4)/3386.389 inHg, in g per m2
    grains = 0.06 * 24 * (1402.6 - 1169.4) / 3386.389
    assert flux == pytest.approx(grains * MG_PER_GRAIN / 1000 / 0.09290304, rel=0.001)


def test_classes_at_their_borders() -> None:
    assert [vapor_class(p) for p in (0.1, 0.101, 1.0, 1.01, 10.0, 10.1)] == [
        "I", "II", "II", "III", "III", "open",
    ]  # fmt: skip


def test_a_perfect_film_has_no_sd() -> None:
    with pytest.raises(RangeError):
        sd_from_perms_m(0.0)
    with pytest.raises(RangeError):
        permeance_si(-0.1)
