"""The contour map as data: what is on it, and that nothing stands on anything else."""

import re

import numpy as np
import pytest
import shapely
from tests.drawing.look import faults

from plankwright.application.flat_advice import Flatness, judge_flatness
from plankwright.drawing.contour_map import contour_map
from plankwright.drawing.contours import band_above
from plankwright.drawing.scene import Area, Ellipse, Group, Scene, shapes_of
from plankwright.drawing.svg import render_svg
from plankwright.errors import PlankwrightError
from plankwright.model.slab_heights import HeightGrid, ScatteredHeights
from plankwright.physics.dips import NOTICED_MM
from plankwright.physics.flatness_rules import published_rule
from plankwright.physics.pouring import Compound
from plankwright.units import Unit

RULE = published_rule("leaflet habit, 2 m")


def bowls(columns: int, rows: int, *, seed: int = 0) -> HeightGrid:
    """A slab with two dips of different depth and a little noise."""
    rng = np.random.default_rng(seed)
    x, y = np.meshgrid(np.arange(columns), np.arange(rows))
    deep = -12 * np.exp(-((x - 1) ** 2 + (y - 1) ** 2) / 0.8)
    other = -8 * np.exp(-((x - columns + 2) ** 2 + (y - rows + 2) ** 2) / 0.8)
    heights = deep + other + rng.normal(0, 0.2, x.shape)
    return HeightGrid(tuple(tuple(float(h) for h in row) for row in heights), (500.0, 500.0))


def judged(heights: HeightGrid | ScatteredHeights, unit: Unit = "mm") -> Flatness:
    return judge_flatness(heights, (), RULE, (), Compound(), unit)


def layer(scene: Scene, name: str) -> Group:
    return next(i for i in scene.items if isinstance(i, Group) and i.layer == name)


@pytest.fixture(scope="module")
def flatness() -> Flatness:
    return judged(bowls(8, 5))


def test_dips_are_numbered_in_the_order_of_work(flatness: Flatness) -> None:
    scene = contour_map(flatness, "mm", name="Workroom")
    words = [t.text for t in scene.texts()]
    assert "1" in words
    assert "2" in words
    assert any("deep" in w and "L" in w and "bag" in w for w in words)
    assert any(w.startswith("worst gap") for w in words)
    assert any("NOT flat enough" in w for w in words)
    assert flatness.dips[0].deepest_mm >= flatness.dips[1].deepest_mm
    assert "dip 1" in scene.description


def test_a_map_in_inches_tells_quarts_gallons_and_pounds(flatness: Flatness) -> None:
    scene = contour_map(flatness, "in", bag_kg=22.6796185)  # 50 × 0.45359237 kg
    words = [t.text for t in scene.texts()]
    [patch] = [w for w in words if w.startswith("Least patch")]
    assert patch.endswith("of 50 lb")
    assert any(re.fullmatch(r".* deep, \d+\.\d (qt|gal), .*bags?", w) for w in words)
    assert not any(re.search(r"\d (L|kg|mm)\b", w) for w in [*words, scene.description])


@pytest.mark.parametrize(("unit", "paper"), [("mm", "A4"), ("in", "Letter"), ("m", "A3")])
def test_nothing_is_clipped_and_no_words_stand_on_words(
    flatness: Flatness, unit: Unit, paper: str
) -> None:
    scene = contour_map(flatness, unit, name="Workroom below grade", paper=paper)  # type: ignore[arg-type]
    assert faults(scene) == []


def test_the_hatch_covers_what_is_filled(flatness: Flatness) -> None:
    scene = contour_map(flatness, "mm")
    hatched = [a for a in shapes_of([layer(scene, "fill")]) if isinstance(a, Area)]
    shapes = [shapely.Polygon(a.outline, a.holes) for a in hatched if a.hatch == "starter"]
    rings = [s.center for s in shapes_of([layer(scene, "dips")]) if isinstance(s, Ellipse)]
    assert len(rings) == len(flatness.dips) == 2
    assert all(any(shape.covers(shapely.Point(ring)) for shape in shapes) for ring in rings)
    assert flatness.patch is not None
    thickness = flatness.patch.surface.with_heights(flatness.patch.fill_mm)
    assert scene.scale is not None
    drawn_mm2 = sum(shape.area for shape in shapes) * scene.scale**2
    assert drawn_mm2 == pytest.approx(band_above(thickness, NOTICED_MM).area, rel=1e-6)


def test_a_flat_slab_has_no_dips_and_says_so() -> None:
    scene = contour_map(judged(HeightGrid(((0.0, 1.0, 0.0),) * 3, (500.0, 500.0))), "mm")
    assert faults(scene) == []
    assert layer(scene, "dips").items == ()
    assert layer(scene, "worst").items == ()
    assert any("flat enough" in t.text for t in scene.texts())


def test_scattered_heights_and_a_room_outline() -> None:
    rng = np.random.default_rng(3)
    places = rng.uniform(0, 4000, (18, 2))
    readings = tuple((float(x), float(y), float(rng.normal(0, 3))) for x, y in places)
    flatness = judged(ScatteredHeights(readings))
    scene = contour_map(flatness, "mm", room=shapely.box(-100, -100, 4100, 4100))
    assert faults(scene) == []


def test_same_slab_same_bytes(flatness: Flatness) -> None:
    first, second = (render_svg(contour_map(flatness, "in")) for _ in range(2))
    assert first == second


def test_without_heights_there_is_no_map() -> None:
    with pytest.raises(PlankwrightError):
        contour_map(judge_flatness(None, (), RULE, (), Compound(), "mm"), "mm")
