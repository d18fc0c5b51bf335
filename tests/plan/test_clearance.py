"""Clearance: pieces of one board, by hand."""

from shapely import Polygon, box

from plankwright.model.rules import Rules
from plankwright.plan.clearance import is_clear, kept_apart

RULES = Rules(kerf_mm=3.0, allowance_mm=2.0)
FULL = box(0.0, 0.0, 500.0, 192.0)


def test_a_cut_along_or_a_kerf_across_is_enough() -> None:
    assert is_clear(FULL, box(505.0, 0.0, 900.0, 192.0), RULES)  # 3 + 2
    assert not is_clear(FULL, box(504.0, 0.0, 900.0, 192.0), RULES)
    assert is_clear(box(0.0, 0.0, 500.0, 90.0), box(0.0, 93.0, 500.0, 192.0), RULES)
    assert not is_clear(box(0.0, 0.0, 500.0, 90.0), box(0.0, 92.0, 500.0, 192.0), RULES)


def test_round_a_notch_a_cut_must_stay_between_the_shapes() -> None:
    # the L leaves the strip from 90 on beyond 500; its neighbor's corner is 3 across, 0 along
    shape = Polygon([(0, 0), (1285, 0), (1285, 90), (500, 90), (500, 192), (0, 192)])
    assert is_clear(shape, box(505.0, 95.0, 1285.0, 192.0), RULES)
    assert not is_clear(shape, box(505.0, 93.0, 1285.0, 192.0), RULES)


def test_what_lies_too_near_gets_a_board_of_its_own() -> None:
    outlines = [FULL, box(400.0, 0.0, 900.0, 192.0), box(905.0, 0.0, 1285.0, 192.0), FULL]
    assert kept_apart(outlines, [1, 1, 1, 2], RULES) == [1, 3, 1, 2]
