"""A drawing through a window: areas and lines end at its edge, words are whole or gone."""

import pytest
import shapely

from plankwright.drawing.clipping import clipped
from plankwright.drawing.scene import Area, Dimension, Ellipse, Group, Polyline, Text, shapes_of
from plankwright.drawing.sheet import Frame

WINDOW = Frame(0.0, 0.0, 100.0, 50.0)


def test_an_area_ends_at_the_edge_and_keeps_its_hatch_and_holes() -> None:
    """A square of 40 with a hole of 10, half of it right of the window: 800 less the hole 100."""
    ring = ((80.0, 5.0), (120.0, 5.0), (120.0, 45.0), (80.0, 45.0))
    hole = ((85.0, 20.0), (95.0, 20.0), (95.0, 30.0), (85.0, 30.0))
    (part,) = clipped([Area(ring, "piece", (hole,), "starter")], WINDOW)
    assert isinstance(part, Area)
    assert (part.style, part.hatch) == ("piece", "starter")
    assert shapely.Polygon(part.outline, part.holes).area == pytest.approx(20 * 40 - 100)


def test_a_line_ends_at_the_edge_and_may_come_again() -> None:
    """In at x = 0, out at y = 50, and in once more: two parts."""
    line = Polyline(((-10.0, 25.0), (30.0, 25.0), (30.0, 70.0), (60.0, 70.0), (60.0, 25.0)), "row")
    parts = clipped([line], WINDOW)
    assert [part.points for part in parts if isinstance(part, Polyline)] == [
        ((0.0, 25.0), (30.0, 25.0), (30.0, 50.0)), ((60.0, 50.0), (60.0, 25.0))
    ]  # fmt: skip


def test_what_lies_inside_is_left_alone_and_what_lies_outside_is_gone() -> None:
    inside = Polyline(((1.0, 1.0), (9.0, 9.0)), "row", arrow_end=True)
    outside = Area(((200.0, 0.0), (210.0, 0.0), (210.0, 9.0)), "piece")
    assert clipped([inside, outside], WINDOW) == (inside,)
    assert clipped([Group((outside,), layer="pieces")], WINDOW) == ()
    kept = clipped([Group((inside, outside), layer="pieces", key="1.1.1")], WINDOW)
    assert kept == (Group((inside,), layer="pieces", key="1.1.1"),)


def test_words_and_marks_are_whole_or_left_out() -> None:
    whole, cut = Text((10.0, 20.0), "ab", 4.0), Text((98.0, 20.0), "ab", 4.0)
    ring = Ellipse((1.0, 1.0), (2.0, 2.0), "ring")
    assert clipped([whole, cut, ring], WINDOW) == (whole,)


def test_a_dimension_keeps_what_is_seen_of_it() -> None:
    seen = clipped([Dimension((10.0, 40.0), (150.0, 40.0), "140", 5.0)], WINDOW)
    xs = [x for shape in shapes_of(seen) if isinstance(shape, Polyline) for x, _ in shape.points]
    assert max(xs) == 100.0
    assert min(xs) == pytest.approx(10.0)
