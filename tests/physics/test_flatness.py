"""The straightedge: worked examples W21 to W24, brute force, and surfaces of known answer."""

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.physics.brute_force import hull_gap, random_points, sampled_gap, sliding_gap

from plankwright.errors import InputError, RangeError
from plankwright.physics.flatness import (
    StraightedgeSearch,
    lines_through_readings,
    worst_on_profile,
    worst_on_surface,
)
from plankwright.physics.flatness_rules import PUBLISHED, FlatnessRule, published_rule, single_rule
from plankwright.physics.surface import (
    grid_surface,
    is_whole,
    profile_section,
    scattered_surface,
    sections_along,
)

AUTHORITIES = Path(__file__).parents[1] / "authorities"
DIN_3 = published_rule("DIN 18202 line 3")


def edge(length_mm: float, gap_mm: float = 5.0) -> FlatnessRule:
    return single_rule("test", length_mm, gap_mm, "test")


# --- published limits -------------------------------------------------------------------------


@pytest.mark.parametrize("line", [3, 4])
def test_din_18202_table_3(line: int) -> None:
    """Every printed cell; the trade handbook rounds interpolated values to whole millimeters."""
    with (AUTHORITIES / "din_18202_table_3.csv").open(newline="") as file:
        printed = next(row for row in csv.DictReader(file) if row.pop("line") == str(line))
    rule = published_rule(f"DIN 18202 line {line}")
    assert len(printed) == 13
    for span_m, gap in printed.items():
        assert round(rule.allowed_mm(float(span_m) * 1000)) == int(gap)


def test_w24_interpolation() -> None:
    # 0.6 m: 2 + (4 - 2) × 0.5/0.9 = 3.11;  2 m: 4 + (10 - 4) × 1/3 = 6
    assert DIN_3.allowed_mm(600) == pytest.approx(3.11, abs=0.01)
    assert DIN_3.allowed_mm(2000) == pytest.approx(6.0, abs=0.01)


@pytest.mark.parametrize("span_mm", [99.0, 15_001.0])
def test_a_span_outside_the_table_is_refused(span_mm: float) -> None:
    with pytest.raises(RangeError) as caught:
        DIN_3.allowed_mm(span_mm)
    assert (caught.value.low, caught.value.high) == (100, 15_000)
    with pytest.raises(RangeError):
        published_rule("BS 8204 SR1").allowed_mm(2001)


def test_every_published_rule_names_its_source() -> None:
    assert all(rule.source and rule.tag for rule in PUBLISHED)
    with pytest.raises(InputError, match="BS 8204 SR1"):
        published_rule("something else")


# --- profiles ---------------------------------------------------------------------------------


def test_w21() -> None:
    places, heights = [0, 500, 1000, 1500, 2000], [0, -1, -3.5, -2, 1]
    gaps = {
        rule.name: worst_on_profile(places, heights, rule)
        for rule in PUBLISHED
        if rule.name.startswith(("BS", "DIN"))
    }
    # Edge from 0 (0 mm) to 2000 (+1 mm): 0.5 mm over the middle, which lies at -3.5.
    worst = gaps["BS 8204 SR2"]
    assert worst is not None
    assert worst.gap_mm == pytest.approx(4.0, abs=0.01)
    assert worst.low == (1000.0, 0.0)
    assert worst.passes
    assert not gaps["BS 8204 SR1"].passes  # type: ignore[union-attr]
    din = gaps["DIN 18202 line 3"]
    assert din is not None
    assert din.passes
    assert DIN_3.allowed_mm(2000) == pytest.approx(6.0)  # 4.0 mm under it passes


PLACES = [300.0 * k for k in range(11)]
W22 = [0, -1, -2, -4, -6, -5, -3, -1, 2, 1, 0]


def test_w22_three_meter_edge() -> None:
    worst = worst_on_profile(PLACES, W22, edge(3000))
    assert worst is not None
    assert worst.gap_mm == pytest.approx(7.0, abs=0.01)
    assert (worst.low[0], worst.left[0], worst.right[0]) == (1200, 0, 2400)
    din = worst_on_profile(PLACES, W22, DIN_3)
    assert din is not None
    assert din.allowed_mm == pytest.approx(6.8, abs=0.01)
    assert not din.passes


def test_w22_two_meter_edge_slides() -> None:
    worst = worst_on_profile(PLACES, W22, edge(2000))
    assert worst is not None
    assert worst.gap_mm == pytest.approx(6.0, abs=0.01)
    assert worst.left[0] == pytest.approx(400, abs=1)
    for step in (100, 10):  # sliding by hand, heights interpolated
        t = np.arange(0, 3001, step, dtype=float)
        slid = sliding_gap(t, np.interp(t, PLACES, W22), 2000)
        assert slid == pytest.approx(6.0, abs=0.01)
    assert not published_rule("BS 8204 SR2").allowed_mm(2000) >= 6.0
    assert published_rule("BS 8204 SR3").allowed_mm(2000) >= 6.0


def test_w23_inches() -> None:
    sixteenths = [0, -1, -2, -3, -4, -3, -2, 0, 1, 0, -1]
    f710 = published_rule("ASTM F710")
    worst = worst_on_profile(
        [304.8 * k for k in range(11)], [s * 25.4 / 16 for s in sixteenths], f710
    )
    assert worst is not None
    assert worst.gap_mm / 25.4 == pytest.approx(9 / 32, abs=0.001)
    assert worst.low[0] / 25.4 == pytest.approx(48)
    assert worst.allowed_mm / 25.4 == pytest.approx(3 / 16)
    assert not worst.passes


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.lists(st.floats(-10, 10), min_size=4, max_size=12), st.floats(300, 4000))
def test_profile_against_sliding_hulls(heights: list[float], length: float) -> None:
    places = 300.0 * np.arange(float(len(heights)))
    worst = worst_on_profile(places, heights, edge(length))
    assert worst is not None
    t = np.arange(0, places[-1] + 1, 10.0)
    slid = sliding_gap(t, np.interp(t, places, heights), length)
    assert worst.gap_mm >= slid - 1e-6  # never less than what sampling finds
    # Sampling at 10 mm on slopes of up to 20 mm in 300 misses at most 0.7 mm at each contact.
    assert worst.gap_mm <= slid + 1.4


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.lists(st.floats(-10, 10), min_size=3, max_size=12), st.floats(-1, 1), st.floats(-9, 9))
def test_a_long_edge_is_the_hull_and_slope_does_not_matter(
    heights: list[float], slope: float, lift: float
) -> None:
    t = 300.0 * np.arange(float(len(heights)))
    worst = worst_on_profile(t, heights, edge(15_000))
    tilted = worst_on_profile(t, np.array(heights) + slope * t + lift, edge(15_000))
    assert worst is not None
    assert tilted is not None
    assert worst.gap_mm == pytest.approx(hull_gap(t, np.array(heights)), abs=1e-6)
    assert tilted.gap_mm == pytest.approx(worst.gap_mm, abs=1e-6)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.lists(st.floats(-10, 10), min_size=4, max_size=10), st.floats(700, 2000))
def test_a_longer_edge_never_shows_a_smaller_gap(heights: list[float], length: float) -> None:
    t = 300.0 * np.arange(float(len(heights)))
    short, long = (worst_on_profile(t, heights, edge(x)) for x in (length, length * 1.3))
    assert short is not None
    assert long is not None
    assert long.gap_mm >= short.gap_mm - 1e-9


def test_an_edge_shorter_than_the_step_finds_nothing_to_rest_on() -> None:
    # The edge of 200 mm always bridges within one or over one reading: a ridge, no gap.
    ridge = worst_on_profile([0, 300, 600], [0, 5, 0], edge(200))
    assert ridge is not None
    assert ridge.gap_mm == pytest.approx(0.0, abs=1e-9)


def test_bad_profiles_are_refused() -> None:
    with pytest.raises(InputError):
        worst_on_profile([0, 1], [0, 0], edge(2000))
    with pytest.raises(InputError):
        worst_on_profile([0, 2, 1], [0, 0, 0], edge(2000))
    with pytest.raises(InputError):
        worst_on_profile([0, 1, 2], [0, 0], edge(2000))
    with pytest.raises(InputError):
        profile_section([0, math.nan, 2])


# --- surfaces ---------------------------------------------------------------------------------


def test_a_cosine_swale_across_any_direction() -> None:
    """z = -(D/2)(1 + cos(2 pi x / wave)), turned by 30 degrees.

    An edge of length L shorter than the wave, laid square across the swale, spans
    (D/2)(1 - cos(pi L / wave)): D = 8, wave = 3000, L = 2000: 4 (1 - cos 120°) = 6.0 mm.
    Readings every 250 mm: the ridge and the swale are cut by chords, at most
    D/2 (2 pi/wave)^2 (125)^2 / 2 = 0.14 mm low or high at each point.
    """
    x, y = np.meshgrid(np.arange(0, 4001, 250.0), np.arange(0, 4001, 250.0))
    turn = math.radians(30)
    across = (x - 2000) * math.cos(turn) + (y - 2000) * math.sin(turn)
    heights = -4.0 * (1 + np.cos(2 * np.pi * across / 3000))
    surface = grid_surface(heights.tolist(), 250.0)
    worst = worst_on_surface(surface, edge(2000))
    assert worst is not None
    assert worst.gap_mm == pytest.approx(6.0, abs=0.15)
    direction = math.atan2(worst.right[1] - worst.left[1], worst.right[0] - worst.left[0])
    assert abs(math.degrees(direction) % 180 - 30) < 8


@pytest.mark.parametrize("seed", range(4))
def test_surface_search_against_brute_force(seed: int) -> None:
    rng = np.random.default_rng(seed)
    points = random_points(rng, 5)
    heights = rng.normal(0, 3, len(points))
    worst = worst_on_surface(scattered_surface(points, heights), edge(1500))
    brute = sampled_gap(points, heights, 1500, angles=18, apart_mm=80, step_mm=25)
    assert worst is not None
    assert worst.gap_mm >= brute - 0.01
    for limit, flat in ((worst.gap_mm + 0.01, True), (worst.gap_mm - 0.01, False)):
        surface = scattered_surface(points, heights)
        assert StraightedgeSearch(surface, edge(1500, limit)).is_flat(heights) is flat


def test_a_dip_between_the_grid_lines_is_seen_across_a_diagonal() -> None:
    # One cell's far corners are 10 mm up: only the diagonal lies over the dip of the middle.
    rows = [[10.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 10.0]]
    worst = worst_on_surface(grid_surface(rows, 500.0), edge(2000))
    assert worst is not None
    assert worst.gap_mm == pytest.approx(10.0)
    assert worst.low == pytest.approx((500, 500))


def test_a_straightedge_does_not_reach_over_a_post() -> None:
    # A trough of 5 × 3 readings whose middle could not be read: two halves, each flat.
    flat = grid_surface([[0, 0, 0, 0, 0], [0, 0, None, 0, 0], [0, 0, 0, 0, 0]], 500.0)
    assert not is_whole(flat)
    sections = list(sections_along(flat, flat.edges(), (0.0, 500.0), 0.0))
    assert all(not (s.places[0] < 900 and s.places[-1] > 1100) for s in sections)
    across = list(sections_along(flat, flat.edges(), (250.0, 0.0), math.pi / 2))
    assert [len(s.places) for s in across] == [5]


def test_lines_through_readings_are_unique() -> None:
    surface = grid_surface([[0.0] * 4] * 4, 500.0)
    # 4 × 4 lattice: 62 lines through two points or more, known from lattice counting (A018809)
    assert len(lines_through_readings(surface, 1e6)) == 62


def test_areas_sum_to_the_surface() -> None:
    surface = grid_surface([[0.0] * 5] * 4, (500.0, 400.0), (100.0, 50.0))
    assert surface.triangle_areas_mm2().sum() == pytest.approx(2000 * 1200)
    assert surface.point_areas_mm2().sum() == pytest.approx(2000 * 1200)


def test_bad_surfaces_are_refused() -> None:
    with pytest.raises(InputError, match="one line"):
        scattered_surface([(0, 0), (1, 0), (2, 0)], [0, 0, 0])
    with pytest.raises(InputError, match="same place"):
        scattered_surface([(0, 0), (1, 0), (1, 0)], [0, 0, 0])
    with pytest.raises(InputError):
        grid_surface([[0.0, 1.0], [0.0]], 500.0)
    with pytest.raises(InputError):
        grid_surface([[0.0, math.nan], [0.0, 0.0]], 500.0)


def test_a_profile_that_is_all_but_straight_raises_no_warning() -> None:
    # Slopes that differ by a subnormal number made the parabola's top overflow.
    worst = worst_on_profile([0, 300, 600, 900], [0.0, 0.0, 0.0, 5e-324], edge(700))
    assert worst is not None
    assert worst.gap_mm == 0.0
