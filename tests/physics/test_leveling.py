"""The least material that makes a slab pass, as a linear program."""

import numpy as np
import pytest
from tests.physics.brute_force import random_points, sampled_gap

from plankwright.errors import InputError
from plankwright.physics.flatness import worst_on_surface
from plankwright.physics.flatness_rules import published_rule, single_rule
from plankwright.physics.leveling import AIM_MM, best_plane_fill_l, least_material
from plankwright.physics.surface import Surface, grid_surface, scattered_surface

RULE = single_rule("3 mm in 2 m", 2000.0, 3.0, "test")


def wavy(seed: int, n: int) -> Surface:
    """Long waves of random direction, a slope and a little noise, readings every 500 mm."""
    rng = np.random.default_rng(seed)
    x, y = np.meshgrid(np.arange(n), np.arange(n))
    heights = rng.normal(0, 0.4, x.shape) + rng.uniform(-2, 2) * x
    for _ in range(5):
        turn, number, phase = rng.uniform(0, np.pi), rng.uniform(0.4, 1.6), rng.uniform(0, 6.3)
        heights += rng.normal(0, 2.5) * np.cos(
            number * (x * np.cos(turn) + y * np.sin(turn)) + phase
        )
    return grid_surface(heights.tolist(), 500.0)


def test_one_dip_on_paper() -> None:
    # Readings 500 mm apart along 2 m, three equal lines: 0 0 -8 0 0. A gap of 3 mm may stay, so
    # the middle is filled by 8 - 3 = 5 mm (and the aim below the limit). The middle column of
    # readings stands for 500 mm × 1000 mm: 5 mm × 0.5 m2 = 2.5 L.
    slab = grid_surface([[0.0, 0.0, -8.0, 0.0, 0.0]] * 3, 500.0)
    mending = least_material(slab, RULE)
    assert mending is not None
    assert mending.fill_l == pytest.approx(2.5 + AIM_MM * 0.5, abs=0.01)
    assert mending.fill_mm.reshape(3, 5)[1] == pytest.approx([0, 0, 5 + AIM_MM, 0, 0], abs=0.01)
    assert mending.passes


def test_one_hump_is_ground_or_its_sides_filled() -> None:
    slab = grid_surface([[0.0, 0.0, 8.0, 0.0, 0.0]] * 3, 500.0)
    ground = least_material(slab, RULE, "grind", deepest_grind_mm=10)
    filled = least_material(slab, RULE, "fill")
    cheap = least_material(slab, RULE, "both", grind_cost=1.0, deepest_grind_mm=10)
    assert ground is not None
    assert filled is not None
    assert cheap is not None
    assert ground.fill_l == 0.0
    assert filled.grind_l == 0.0
    assert cheap.fill_l + cheap.grind_l <= min(ground.grind_l, filled.fill_l) + 1e-6
    assert all(m.passes for m in (ground, filled, cheap))


@pytest.mark.parametrize(("seed", "n"), [(1, 5), (2, 6), (3, 7), (4, 8)])
def test_the_mended_slab_passes_and_takes_no_more_than_the_best_plane(seed: int, n: int) -> None:
    slab = wavy(seed, n)
    mending = least_material(slab, RULE)
    assert mending is not None
    worst = worst_on_surface(mending.mended, RULE)
    assert worst is not None
    assert worst.passes
    assert mending.fill_l <= best_plane_fill_l(slab)[0] + 1e-6
    assert mending.fill_mm.min() >= 0.0


def test_brute_force_finds_no_gap_on_a_mended_slab() -> None:
    """The same slab through other triangles (scipy) and sampled lines, all pairs of contacts."""
    rng = np.random.default_rng(7)
    points = random_points(rng, 5)
    heights = rng.normal(0, 4, len(points))
    mending = least_material(scattered_surface(points, heights), RULE)
    assert mending is not None
    mended = mending.mended.heights
    options = {"angles": 18, "apart_mm": 80.0, "step_mm": 25.0}
    assert sampled_gap(points, heights, 2000, **options) > 3.0  # type: ignore[arg-type]
    assert sampled_gap(points, mended, 2000, **options) <= 3.001  # type: ignore[arg-type]


def test_din_by_distance_of_contacts() -> None:
    rule = published_rule("DIN 18202 line 3")
    mending = least_material(wavy(5, 6), rule)
    assert mending is not None
    assert mending.passes


def test_a_flat_slab_needs_nothing() -> None:
    tilted = grid_surface([[2.0 * k for k in range(5)]] * 4, 500.0)
    mending = least_material(tilted, RULE)
    assert mending is not None
    assert mending.fill_l == 0.0
    assert mending.rounds == 1


def test_where_nothing_allowed_helps_the_answer_is_none() -> None:
    hump = grid_surface([[0.0, 0.0, 20.0, 0.0, 0.0]] * 3, 500.0)
    assert least_material(hump, RULE, "grind", deepest_grind_mm=2.0) is None


def test_untouched_readings_stay() -> None:
    slab = grid_surface([[0.0, 0.0, -8.0, 0.0, 0.0]] * 3, 500.0)
    assert least_material(slab, RULE, "fill", untouched=[7]) is None
    with pytest.raises(InputError):
        least_material(slab, RULE, grind_cost=0.0)


def test_best_plane_of_a_plane_is_nothing() -> None:
    tilted = grid_surface([[2.0 * k + j for k in range(5)] for j in range(4)], 500.0)
    liters, fill = best_plane_fill_l(tilted)
    assert liters == pytest.approx(0.0, abs=1e-9)
    assert fill == pytest.approx(np.zeros(20), abs=1e-6)


def test_the_same_slab_gives_the_same_answer(capfd: pytest.CaptureFixture[str]) -> None:
    first, second = (least_material(wavy(2, 6), RULE) for _ in range(2))
    assert first is not None
    assert second is not None
    assert first.fill_mm.tobytes() == second.fill_mm.tobytes()
    assert capfd.readouterr().out == ""
