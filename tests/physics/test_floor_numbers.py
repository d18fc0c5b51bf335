"""FF and FL: worked examples W19 and W20 (definitions of ASTM E1155)."""

import pytest

from plankwright.errors import InputError, RangeError
from plankwright.physics.floor_numbers import FLATNESS_METRIC_MM, floor_numbers

# Heights [mm] at 300 mm steps: worksheet of a national laboratory's alignment group, 2003.
WORKSHEET = [
    418.617, 419.938, 421.894, 423.748, 425.221, 424.739, 423.799,
    424.307, 425.425, 424.688, 423.164, 422.758, 420.472, 416.738,
]  # fmt: skip


def test_w19() -> None:
    numbers = floor_numbers(WORKSHEET, 300.0)
    # 116.078 / (3 × 1.2012 + 0.4212) = 28.84;  z 4.547, 2.820, -1.422, -7.010
    assert numbers.flatness == pytest.approx(28.84, abs=0.01)
    assert numbers.levelness == pytest.approx(20.21, abs=0.01)
    metric = floor_numbers(WORKSHEET, 300.0, FLATNESS_METRIC_MM)
    assert metric.flatness == pytest.approx(28.77, abs=0.01)


def test_w20() -> None:
    inches = [0, 0.05, 0.02, 0.10, 0.04, 0.08, 0.00, 0.06, 0.03, 0.09, 0.05, 0.07]
    numbers = floor_numbers([h * 25.4 for h in inches])
    # 4.57 / (3 × 0.11146 + 0.0030) = 13.55
    assert numbers.flatness == pytest.approx(13.55, abs=0.01)


def test_a_short_line_has_no_levelness() -> None:
    numbers = floor_numbers([0, 1, 0, 2, 1])
    assert numbers.levelness is None
    assert not numbers.valid


def test_a_plane_is_infinitely_flat() -> None:
    assert floor_numbers([0.0, 1.0, 2.0, 3.0]).flatness == float("inf")


def test_other_steps_and_too_few_readings_are_refused() -> None:
    with pytest.raises(RangeError):
        floor_numbers(WORKSHEET, 500.0)
    with pytest.raises(InputError):
        floor_numbers([0, 1, 2])
