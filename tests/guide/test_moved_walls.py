"""Walls measured elsewhere, in an L by hand: the neighbors of a moved wall grow or shrink."""

import pytest
from shapely import Polygon

from plankwright.errors import InputError
from plankwright.guide.as_laid import WallShift
from plankwright.guide.moved_walls import with_walls_moved
from plankwright.model.room import Doorway, Room

L = Room(
    Polygon([(0, 0), (3000, 0), (3000, 500), (1500, 500), (1500, 2000), (0, 2000)]),
    doorways=(Doorway("B-C", from_corner_mm=100.0, width_mm=300.0),),
)


@pytest.mark.parametrize("nearer_mm", [20.0, -20.0])
def test_a_moved_wall_lies_parallel_and_its_neighbors_end_there(nearer_mm: float) -> None:
    moved = with_walls_moved(L, [WallShift("A-B", nearer_mm)])
    assert moved.outline.equals(
        Polygon(
            [(0, nearer_mm), (3000, nearer_mm), (3000, 500), (1500, 500), (1500, 2000), (0, 2000)]
        )
    )
    # the doorway stays where it is on the floor: 100 mm from the old corner B
    assert moved.doorways[0].from_corner_mm == pytest.approx(100.0 - nearer_mm)


def test_a_wall_that_would_cross_another_is_told() -> None:
    # the arm of the L is 500 mm wide
    with pytest.raises(InputError, match="cross itself") as refused:
        with_walls_moved(L, [WallShift("A-B", 600.0)])
    assert "A-B" in str(refused.value)
    assert "Measure the walls beside it" in refused.value.remedy


def test_an_unknown_wall_is_told() -> None:
    with pytest.raises(InputError, match="no such wall"):
        with_walls_moved(L, [WallShift("X-Y", 10.0)])
