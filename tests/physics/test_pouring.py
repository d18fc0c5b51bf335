"""Self-leveling compound: worked example W25, exact volumes, levels and pools."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.errors import InputError
from plankwright.physics.dips import places_of
from plankwright.physics.flatness_rules import single_rule
from plankwright.physics.pouring import (
    Compound,
    bags,
    bags_band,
    lowest_passing_pour,
    pour_to,
    powder_kg,
    volume_below_l,
    whole_floor_pour,
)
from plankwright.physics.surface import grid_surface

RULE = single_rule("3 mm in 2 m", 2000.0, 3.0, "test")


def test_w25_wedge() -> None:
    # 3 × 4 m, 0 to 8 mm deep: 4 mm × 12 m2 = 48 L, × 1.7 = 81.6 kg, 4 bags of 25 kg
    wedge = grid_surface([[-8.0 * k / 4 for k in range(5)]] * 4, 1000.0)
    assert volume_below_l(wedge, 0.0) == pytest.approx(48.0, abs=1e-9)
    assert powder_kg(48.0, 1.7) == pytest.approx(81.6)
    assert bags(81.6, 25.0) == 4
    strips = sum(12 * 8 * (k + 0.5) / 100 / 100 for k in range(100))  # the numeric integral
    assert strips == pytest.approx(48.0)


def test_band_of_bags() -> None:
    # 48 L: 1.5 × 48 = 72 kg, 3 bags; 1.8 × 48 × 1.1 = 95.04 kg, 4 bags
    assert bags_band(48.0, 25.0) == (3, 4)


def test_one_square_meter_by_one_millimeter_is_a_liter() -> None:
    assert volume_below_l(grid_surface([[0.0, 0.0]] * 2, 1000.0), 1.0) == pytest.approx(1.0)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.lists(st.floats(-5, 5), min_size=4, max_size=4), st.floats(-6, 6))
def test_volume_of_a_cut_cell_against_fine_sampling(corners: list[float], level: float) -> None:
    surface = grid_surface([corners[:2], corners[2:]], 1000.0)
    fine = (np.arange(200) + 0.5) / 200
    x, y = np.meshgrid(fine, fine)
    a, b, d, e = corners[0], corners[1], corners[3], corners[2]
    # the cell's diagonal runs from its first corner: two flat triangles
    heights = np.where(y <= x, a + (b - a) * x + (d - b) * y, a + (d - e) * x + (e - a) * y)
    sampled = float(np.maximum(level - heights, 0.0).mean())
    assert volume_below_l(surface, level) == pytest.approx(sampled, abs=0.01)


BOWL = [
    [0.0, 0.0, 0.0, 0.0, 0.0],
    [0.0, -3.0, -6.0, -3.0, 0.0],
    [0.0, -6.0, -12.0, -6.0, 0.0],
    [0.0, -3.0, -6.0, -3.0, 0.0],
    [0.0, 0.0, 0.0, 0.0, 0.0],
]


def test_whole_floor_is_level_and_covers_the_highest_place() -> None:
    pour = whole_floor_pour(grid_surface(BOWL, 500.0), RULE, Compound())
    assert pour.level_mm == 3.0
    assert pour.deepest_mm == 15.0
    assert pour.whole_floor
    assert pour.passes
    assert pour.layers == 1
    assert np.ptp(pour.surface.heights) == 0.0


def test_lowest_passing_pour_takes_less_and_passes() -> None:
    surface = grid_surface(BOWL, 500.0)
    low, whole = (f(surface, RULE, Compound()) for f in (lowest_passing_pour, whole_floor_pour))
    assert low.passes
    assert low.liters < whole.liters
    assert len(low.pools) == 1
    assert low.pools[0].at == (1000.0, 1000.0)
    assert not pour_to(surface, low.level_mm - 1.0, RULE, Compound()).passes
    assert low.shallow_m2 >= 0.0
    assert not low.whole_floor


def test_a_deep_hole_takes_layers() -> None:
    deep = grid_surface([[0.0, 0.0, 0.0], [0.0, -60.0, 0.0], [0.0, 0.0, 0.0]], 500.0)
    # 63 mm in layers of 25 mm: three
    assert whole_floor_pour(deep, RULE, Compound()).layers == 3


def test_three_dips_are_three_places_deepest_first() -> None:
    thickness = np.array([0, 2, 0, 0, 5, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0], dtype=float)
    surface = grid_surface([[0.0] * 5] * 3, 500.0)
    places = places_of(surface, thickness)
    assert [p.deepest_mm for p in places] == [5.0, 2.0, 1.0]
    assert places[0].at == (2000.0, 0.0)
    total = float(thickness @ surface.point_areas_mm2()) * 1e-6
    assert sum(p.liters for p in places) == pytest.approx(total)


def test_bad_compounds_are_refused() -> None:
    with pytest.raises(InputError):
        Compound(least_mm=30.0)
    with pytest.raises(InputError):
        Compound(bag_kg=0.0)
