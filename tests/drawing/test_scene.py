"""The display list: shapes by hand, dimensions taken apart, broken values refused."""

import math

import pytest

from plankwright.drawing.scene import (
    Area,
    Dimension,
    Ellipse,
    Group,
    Polyline,
    Scene,
    Text,
    arrowheads,
    circle,
    points_to_mm,
    upright,
)
from plankwright.errors import PlankwrightError


def test_a_dimension_above_a_wall_drawn_to_the_right() -> None:
    # left of a walk to the right is up the page: y = 50 - 8
    parts = Dimension((10.0, 50.0), (90.0, 50.0), "4000", offset_mm=8.0).parts()
    line = next(p for p in parts if isinstance(p, Polyline) and p.arrow_end)
    assert line.points == ((10.0, 42.0), (90.0, 42.0))
    assert line.arrow_start
    witnesses = [p for p in parts if isinstance(p, Polyline) and not p.arrow_end]
    assert [w.points[0] for w in witnesses] == [(10.0, 48.8), (90.0, 48.8)]
    assert [w.points[1] for w in witnesses] == [(10.0, 40.8), (90.0, 40.8)]
    figure = next(p for p in parts if isinstance(p, Text))
    assert figure.at[0] == 50.0
    assert figure.at[1] < 42.0
    assert figure.angle_deg == 0.0


def test_a_dimension_up_the_page_reads_from_the_right() -> None:
    parts = Dimension((10.0, 90.0), (10.0, 20.0), "3000", offset_mm=6.0).parts()
    line = next(p for p in parts if isinstance(p, Polyline) and p.arrow_end)
    assert line.points[0][0] == pytest.approx(4.0)  # left of a walk up the page is x - 6
    figure = next(p for p in parts if isinstance(p, Text))
    assert figure.angle_deg == pytest.approx(90.0)
    assert figure.at[0] < 4.0  # above the line, as seen from the right


def test_a_dimension_on_its_points_has_no_witness_lines() -> None:
    parts = Dimension((0.0, 0.0), (30.0, 0.0), "30").parts()
    assert len(parts) == 2


def test_arrowheads_are_open_and_shrink_on_short_lines() -> None:
    (barb, tip, other), *rest = arrowheads(Polyline(((0.0, 0.0), (2.0, 0.0)), "x", arrow_end=True))
    assert not rest
    assert tip == (2.0, 0.0)
    assert math.dist(barb, tip) == pytest.approx(0.9)  # 0.45 of 2 mm
    assert barb[1] == pytest.approx(-other[1])


def test_shapes_opens_groups_in_drawing_order() -> None:
    inner = Group((circle((5.0, 5.0), 1.0, "mark"), Text((5.0, 5.0), "A", 3.6)), layer="corners")
    scene = Scene(100.0, 50.0, (Polyline(((0.0, 0.0), (1.0, 1.0)), "wall"), inner), "room")
    assert [type(shape) for shape in scene.shapes()] == [Polyline, Ellipse, Text]
    assert [text.text for text in scene.texts()] == ["A"]


@pytest.mark.parametrize(
    ("given", "read"),
    [(0.0, 0.0), (90.0, 90.0), (-90.0, 90.0), (180.0, 0.0), (270.0, 90.0), (200.0, 20.0)],
)
def test_upright(given: float, read: float) -> None:
    assert upright(given) == pytest.approx(read)


def test_ten_points() -> None:
    assert points_to_mm(72.0) == 25.4


def test_words_are_one_line_without_control_characters() -> None:
    assert Text((0.0, 0.0), "two\nlines \x07 here", 3.6).text == "two lines here"
    assert Text((0.0, 0.0), "  as it\u202fis ", 3.6).text == "  as it\u202fis "


def test_broken_values_are_refused() -> None:
    with pytest.raises(PlankwrightError, match="two points"):
        Polyline(((0.0, 0.0),), "wall")
    with pytest.raises(PlankwrightError, match="three points"):
        Area(((0.0, 0.0), (1.0, 0.0)), "floor")
    with pytest.raises(PlankwrightError, match="numbers"):
        Polyline(((0.0, 0.0), (math.nan, 1.0)), "wall")
    with pytest.raises(PlankwrightError, match="negative"):
        Ellipse((0.0, 0.0), (-1.0, 1.0), "x")
    with pytest.raises(PlankwrightError, match="one line"):
        Text((0.0, 0.0), " \n ", 3.6)
    with pytest.raises(PlankwrightError, match="size"):
        Text((0.0, 0.0), "A", 0.0)
    with pytest.raises(PlankwrightError, match="two places"):
        Dimension((1.0, 1.0), (1.0, 1.0), "0")
    with pytest.raises(PlankwrightError, match="title"):
        Scene(10.0, 10.0, (), " ")
    with pytest.raises(PlankwrightError, match="width"):
        Scene(0.0, 10.0, (), "room")
