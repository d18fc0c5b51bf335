"""Slabs, prongs and narrow runs of shapes small enough to draw."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from shapely import Polygon, box

from plankwright.geometry.slabs import (
    Prong,
    far_prongs,
    mirrored,
    narrow_runs,
    near_prongs,
    slabs,
    touching,
)
from plankwright.testing.strategies import outlines

BOX = box(0, 0, 1000, 200)
# two prongs at the near end: the lower begins at 0, the upper at 150; they join at 400
FORK = Polygon(
    [(0, 0), (1000, 0), (1000, 200), (150, 200), (150, 120), (400, 120), (400, 80), (0, 80)]
)


def test_a_rectangle_is_one_slab() -> None:
    ((only,),) = slabs(BOX)
    assert (only.u0, only.u1, only.low0, only.high1) == (0, 1000, 0, 200)
    assert only.least_width == only.width_at(500.0) == 200
    assert near_prongs(slabs(BOX)) == [Prong(0.0, 1000.0)]
    assert far_prongs(slabs(BOX)) == [Prong(1000.0, 0.0)]


def test_a_trapezoid_narrows_evenly() -> None:
    # 200 wide at the near end, 100 at the far end: 150 in the middle
    ((only,),) = slabs(Polygon([(0, 0), (1000, 0), (1000, 100), (0, 200)]))
    assert only.width_at(500.0) == pytest.approx(150.0)
    assert only.least_width == 100.0
    # narrower than 160 from where 200 - 0.1 u = 160, u = 400
    ((low, high),) = narrow_runs([[only]], 160.0)
    assert (low, high) == pytest.approx((400.0, 1000.0))


def test_the_prongs_of_a_fork() -> None:
    # the part that began first goes on to the far end; the other joins it at 400
    assert near_prongs(slabs(FORK)) == [Prong(0.0, 1000.0), Prong(150.0, 400.0)]
    assert far_prongs(slabs(FORK)) == [Prong(1000.0, 0.0)]


def test_a_fork_from_the_other_side() -> None:
    flipped = Polygon([(-u, v) for u, v in FORK.exterior.coords])
    assert far_prongs(slabs(flipped)) == [Prong(0.0, -1000.0), Prong(-150.0, -400.0)]
    assert near_prongs(slabs(flipped)) == [Prong(-1000.0, 0.0)]
    assert mirrored(mirrored(slabs(FORK))) == slabs(FORK)


def test_three_prongs() -> None:
    comb = Polygon(
        [(0, 0), (900, 0), (900, 190), (100, 190), (100, 130), (500, 130), (500, 120), (50, 120),
         (50, 70), (300, 70), (300, 60), (0, 60)]
    )  # fmt: skip
    assert near_prongs(slabs(comb)) == [Prong(0, 900), Prong(50, 300), Prong(100, 500)]


def test_a_hole_parts_a_stretch_and_joins_it_again() -> None:
    """Round a post the stretch is one: both parts come from one and end in one."""
    ringed = BOX.difference(box(300, 80, 400, 120))
    assert [len(slab) for slab in slabs(ringed)] == [1, 2, 1]
    assert near_prongs(slabs(ringed)) == [Prong(0.0, 1000.0)]
    assert far_prongs(slabs(ringed)) == [Prong(1000.0, 0.0)]
    # both arms are 80 wide
    assert narrow_runs(slabs(ringed), 100.0) == [(300.0, 400.0)]
    assert narrow_runs(slabs(ringed), 80.0) == []


def test_a_neck_that_meets_in_a_point_is_no_contact() -> None:
    first = slabs(box(0, 0, 100, 100))[0][0]
    above = slabs(box(100, 100, 200, 200))[0][0]
    beside = slabs(box(100, 50, 200, 200))[0][0]
    assert not touching(first, above)
    assert touching(first, beside)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(outlines())
def test_slabs_are_the_whole_shape(outline: Polygon) -> None:
    cut = slabs(outline)
    area = sum(
        (t.u1 - t.u0) * (t.width_at(t.u0) + t.width_at(t.u1)) / 2.0 for slab in cut for t in slab
    )
    assert area == pytest.approx(outline.area, rel=1e-9)
    assert cut[0][0].u0 == outline.bounds[0]
    assert cut[-1][0].u1 == outline.bounds[2]
    for here, beyond in pairwise(cut):
        assert here[0].u1 == beyond[0].u0
    # one living part at the end for one connected shape
    assert near_prongs(cut)[0].tip == cut[0][0].u0
    assert sum(prong.root == cut[-1][0].u1 for prong in near_prongs(cut)) >= 1
