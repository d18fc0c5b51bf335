"""The adjustment against published examples, to the printed digits, and against scipy."""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from tests.survey import published_networks as published

from plankwright.survey.adjust import Adjustment, adjust
from plankwright.survey.equations import Equations
from plankwright.survey.network import Bearing, Length, Network, Reach, Turn


def assert_printed(
    adjusted: Adjustment, name: str, printed: tuple[float, float], digits: int
) -> None:
    """The coordinates, in the unit of the source, agree in every printed digit."""
    got = tuple(round(c / published.UNIT, digits) for c in adjusted.at(name))
    assert got == pytest.approx(printed, abs=1e-9 * max(map(abs, printed)) + 10**-digits / 1e3)


def assert_sd(adjusted: Adjustment, name: str, printed: tuple[float, float], digits: int) -> None:
    got = adjusted.sd_of(name, a_posteriori=True)
    assert [round(sd / published.UNIT, digits) for sd in got] == list(printed)


def test_braced_quadrilateral() -> None:
    # Benning (2011), ex. 8-2, p. 256; residuals and s0 from the public example file
    # Trilateration_2D_Krumm of the autoit-adjustment-udf project
    adjusted = adjust(published.BRACED_QUADRILATERAL)
    assert_printed(adjusted, "3", (-0.0096, -0.0226), 4)
    assert_printed(adjusted, "4", (999.9930, 0.0174), 4)
    for name in "34":
        assert_sd(adjusted, name, (0.00901, 0.00637), 5)
    assert adjusted.freedom == 1
    assert 10.0 * adjusted.s0 == pytest.approx(6.882, abs=5e-4)  # a priori 10 mm
    assert [round(v, 2) for v in adjusted.residuals] == [2.60, -3.68, -3.68, 2.60, 2.60]
    assert adjusted.converged


def test_point_from_five_fixed_points() -> None:
    # Benning (2011), ex. 8-8, pp. 285-291
    adjusted = adjust(published.FIVE_FIXED_POINTS)
    assert_printed(adjusted, "6", (2000.0000, 1999.9976), 4)
    assert_sd(adjusted, "6", (0.00504, 0.00996), 5)


def test_quadrilateral_with_large_residuals_and_coordinates() -> None:
    # Ghilani (2010), ex. 14.5, p. 251 and 19.3, p. 404
    adjusted = adjust(published.GHILANI_14_5)
    assert_printed(adjusted, "Wisconsin", (2415776.9044, 391043.2945), 4)
    assert_printed(adjusted, "Campus", (2416892.6955, 387603.2551), 4)
    assert_sd(adjusted, "Wisconsin", (0.1488, 0.2206), 4)
    assert_sd(adjusted, "Campus", (0.1038, 0.2705), 4)


def test_point_from_three_fixed_points() -> None:
    # Strang and Borre (1997), ex. 10.1 p. 345 and 12.4 p. 411
    adjusted = adjust(published.STRANG_BORRE)
    assert_printed(adjusted, "P", (170.7029, 170.7234), 4)
    assert_sd(adjusted, "P", (0.03303, 0.02335), 5)


def test_free_network() -> None:
    # Hoepke (1980), ex. 35.5, pp. 120-123: smallest correction to the start coordinates
    adjusted = adjust(published.HOEPKE_FREE)
    printed = {
        "20": (3579041.4042, 5707194.4039), "75": (3575403.2853, 5707682.6565),
        "86": (3575322.0203, 5708700.9554), "87": (3576581.7857, 5709938.0995),
        "1006": (3578284.2920, 5708758.6275), "1011": (3577052.3287, 5708103.2070),
        "1059": (3576852.9606, 5706633.5764), "1087": (3576213.6691, 5709199.9319),
    }  # fmt: skip
    for name, place in printed.items():
        # 0.1 mm is the last printed digit; doubles carry these coordinates to 0.0005 mm
        assert np.array(adjusted.at(name)) / 1000 == pytest.approx(place, abs=0.6e-4, rel=0)
    assert adjusted.freedom == 14
    assert len(adjusted.loose) == 3  # two shifts and a turn
    # From here on the recomputation kept with the example: s0 4.954 mm, largest 2.53 at 1087-20
    assert adjusted.s0 == pytest.approx(4.954, abs=5e-4)
    largest = np.abs(adjusted.standardized()) / adjusted.s0
    assert adjusted.observations[int(largest.argmax())] == Length("1087", "20", 3466722.0, 1.0)
    assert largest.max() == pytest.approx(2.53, abs=5e-3)


def test_weighted_network_with_four_fixed_points() -> None:
    # Weiss and others (2010), Acta Montanistica Slovaca 15(1), 62-70
    adjusted = adjust(published.WEISS)
    assert_printed(adjusted, "4", (3299.9644, 9100.8289), 4)
    assert_printed(adjusted, "5", (3697.8223, 9400.5394), 4)
    assert_printed(adjusted, "6", (3080.3184, 9775.8943), 4)
    assert_printed(adjusted, "7", (4393.2160, 9842.5618), 4)
    assert_printed(adjusted, "9", (4251.0495, 9546.2298), 4)
    assert adjusted.freedom == 14


def test_link_traverse() -> None:
    # Ghilani (2010), ex. 16.1, p. 300
    adjusted = adjust(published.GHILANI_16_1)
    assert_printed(adjusted, "U", (1173.0886, 1099.9872), 4)
    assert_sd(adjusted, "U", (0.0419, 0.0526), 4)
    assert adjusted.s0 == pytest.approx(1.819, abs=5e-4)  # from the recomputation


def test_mixed_network_of_distances_and_angles() -> None:
    # Ghilani and Wolf (2012), Elementary Surveying, 13th ed., ch. 16.9.5, pp. 450-456
    adjusted = adjust(published.GHILANI_WOLF)
    printed = {
        "B": (507.9380, 764.6451), "C": (618.9547, 815.3499), "D": (723.8666, 753.2855),
        "E": (826.1331, 856.4409), "F": (794.6611, 1021.6540), "G": (578.7455, 1103.8272),
        "H": (652.2263, 980.2450), "J": (600.5991, 899.2696), "K": (713.3703, 877.4179),
    }  # fmt: skip
    for name, place in printed.items():
        assert_printed(adjusted, name, place, 4)
    assert adjusted.freedom == 9
    assert adjusted.s0 == pytest.approx(0.698, abs=5e-4)  # from the recomputation


def test_redundancy_numbers_sum_to_the_freedom() -> None:
    for network in (published.WEISS, published.GHILANI_WOLF, published.HOEPKE_FREE):
        adjusted = adjust(network)
        assert adjusted.redundancy.sum() == pytest.approx(adjusted.freedom)


def test_two_readings_of_one_length_by_hand() -> None:
    # Weights 1/4 and 1/1: mean (1000/4 + 1005/1)/(1/4 + 1) = 1004, variance 1/1.25 = 0.8.
    # Redundancy of the first: 1 - 0.8/4 = 0.8; of the second: 1 - 0.8/1 = 0.2.
    network = Network(
        {"A": (0.0, 0.0), "B": (990.0, 0.0), "North": (0.0, 1e6)},
        (
            Length("A", "B", 1000.0, 2.0),
            Length("A", "B", 1005.0, 1.0),
            Turn("A", "North", "B", 90, 1),
        ),
        frozenset({"A", "North"}),
    )
    adjusted = adjust(network)
    assert adjusted.at("B") == pytest.approx((1004.0, 0.0))
    assert adjusted.sd_of("B")[0] == pytest.approx(math.sqrt(0.8))
    assert adjusted.redundancy == pytest.approx([0.8, 0.2, 0.0])
    assert adjusted.residuals == pytest.approx([4.0, -1.0, 0.0])
    # w = v / (sd sqrt(r)) = 4/(2 sqrt 0.8) = 2.236 and -1/(1 sqrt 0.2) = -2.236
    assert adjusted.standardized() == pytest.approx([math.sqrt(5), -math.sqrt(5), 0.0])


def test_slopes_agree_with_differences() -> None:
    points = {"A": (0.0, 0.0), "B": (4100.0, 120.0), "C": (3900.0, 3300.0), "P": (1500.0, 900.0)}
    network = Network(
        points,
        (
            Length("A", "B", 4100.0, 2.0),
            Turn("B", "A", "C", 270.0, 0.5),
            Bearing("A", "C", 45.0, 0.1),
            Reach("P", "A", "B", 850.0, 3.0),
            Reach("P", "C", "B", 2400.0, 3.0),
        ),
    )
    equations = Equations(network)
    xy = np.array(list(points.values()))
    slopes = equations.jacobian(xy)
    for column in range(xy.size):
        near, far = xy.copy().reshape(-1), xy.copy().reshape(-1)
        near[column] -= 1e-3
        far[column] += 1e-3
        difference = equations.misfit(near.reshape(-1, 2)) - equations.misfit(far.reshape(-1, 2))
        assert slopes[:, column] == pytest.approx(difference / 2e-3, abs=1e-6)


def test_reach_is_positive_to_the_left() -> None:
    network = Network(
        {"P": (1.0, 5.0), "A": (0.0, 0.0), "B": (9.0, 0.0)}, (Reach("P", "A", "B", 5, 1),)
    )
    assert Equations(network).misfit(np.array(list(network.points.values()))) == pytest.approx(0.0)


def test_same_minimum_as_scipy_from_a_poor_start() -> None:
    network = published.WEISS
    rng = np.random.default_rng(7)
    fixed = network.fixed
    points = {
        name: place if name in fixed else tuple(np.array(place) + rng.normal(0, 60_000, 2))
        for name, place in network.points.items()
    }
    started = Network(points, network.observations, fixed)
    equations = Equations(started)
    moving = np.repeat([name not in fixed for name in points], 2)
    xy = np.array(list(points.values())).reshape(-1)

    def misfit(free: np.ndarray) -> np.ndarray:
        xy[moving] = free
        return equations.misfit(xy.reshape(-1, 2))

    reference = least_squares(misfit, xy[moving].copy(), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    adjusted = adjust(started)
    assert adjusted.misfit == pytest.approx(2 * reference.cost, rel=1e-6)
    assert adjusted.xy.reshape(-1)[moving] == pytest.approx(reference.x, abs=0.1)


def test_what_can_flex_is_found() -> None:
    # Four bars of a square: 4 distances, 8 coordinates, 3 moves of the whole: one way to flex
    points = {"A": (0.0, 0.0), "B": (1e3, 0.0), "C": (1e3, 1e3), "D": (0.0, 1e3)}
    bars = tuple(Length(a, b, 1000.0, 2.0) for a, b in ("AB", "BC", "CD", "DA"))
    adjusted = adjust(Network(points, bars))
    assert len(adjusted.loose) == 4
    assert adjusted.freedom == 0
    assert math.isnan(adjusted.s0)
