"""Rows of plain rectangles are looked at faster, and judged as strictly as by their shapes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity, box
from shapely import points as at_points
from tests.checker.plan_maker import changed, plain_room, post_room
from tests.checker.test_corruptions import CORRUPTIONS, Corruption

from plankwright.checker import cover
from plankwright.checker.check import check_plan
from plankwright.checker.view import Flags, Shapes, are_rectangles
from plankwright.model.plan import Plan

STEPS_MM = [0.0, 0.01, 0.019, 0.021, 0.1, 0.3, 0.49, 0.51, 0.7, 1.0, 20.0]


def judged(plan: Plan) -> list[tuple[str, str]]:
    verdict = check_plan(plan)
    return [(fault.code, fault.place) for fault in (*verdict.faults, *verdict.excused)]


def judged_by_shape(plan: Plan) -> list[tuple[str, str]]:
    """The same with every piece taken for one of an odd shape."""

    def none(shapes: Shapes) -> Flags:
        return are_rectangles(shapes) & False

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cover, "are_rectangles", none)
        return judged(plan)


@pytest.mark.parametrize("corruption", CORRUPTIONS, ids=lambda corruption: corruption.name)
def test_every_corruption_is_judged_the_same(corruption: Corruption) -> None:
    plan = corruption.spoil()
    assert judged(plan) == judged_by_shape(plan)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(data=st.data(), has_post=st.booleans())
def test_moved_edges_are_judged_the_same(data: st.DataObject, has_post: bool) -> None:
    plan = post_room() if has_post else plain_room()
    moved = st.sampled_from(STEPS_MM) | st.sampled_from(STEPS_MM).map(lambda mm: -mm)
    pieces = list(plan.pieces)
    for _ in range(data.draw(st.integers(1, 3))):
        index = data.draw(st.integers(0, len(pieces) - 1))
        u0, v0, u1, v1 = pieces[index].outline.bounds
        du0, dv0, du1, dv1 = (data.draw(moved) for _ in range(4))
        outline = box(u0 + du0, v0 + dv0, u1 + du1, v1 + dv1)
        pieces[index] = changed(pieces[index], outline=outline)
    plan = changed(plan, pieces=tuple(pieces))
    assert judged(plan) == judged_by_shape(plan)


def test_what_a_rectangle_is() -> None:
    plain = box(0.0, 0.0, 1000.0, 200.0)
    slanted = Polygon([(0.0, 0.0), (1000.0, 0.0), (1000.0, 200.0), (0.0, 199.98)])
    shapes = {
        "plain": plain,
        "slanted by half a hair": slanted,
        "turned by a degree": affinity.rotate(plain, 1.0),
        "triangle": Polygon([(0.0, 0.0), (1000.0, 0.0), (1000.0, 200.0)]),
        "with a hole": plain.difference(box(1.0, 1.0, 2.0, 2.0)),
        "with a corner out": plain.difference(box(0.0, 0.0, 0.1, 0.1)),
        "a point": at_points(0.0, 0.0),
    }
    for name, shape in shapes.items():
        told = bool(are_rectangles(np.array([shape], dtype=object))[0])
        assert told == (name == "plain"), name
