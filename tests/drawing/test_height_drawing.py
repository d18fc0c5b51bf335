"""Heights at true size: a millimeter of floor is a millimeter of paper."""

from tests.drawing.look import faults

from plankwright.drawing.height_drawing import LEAF_MM, NEW_MM, SLAB_MM, compose_heights
from plankwright.drawing.scene import Area, Scene
from plankwright.model.build_up import Layers, Meeting

LAYERS = Layers(8.0, 2.0, 0.2, 3.0)


def areas_at(scene: Scene, left: float) -> list[tuple[float, float]]:
    """Bottom and top above the slab of every area that begins at a place."""
    found = []
    for shape in scene.shapes():
        if isinstance(shape, Area) and min(x for x, _ in shape.outline) == left:
            levels = [SLAB_MM[0] - y for _, y in shape.outline]
            found.append((round(min(levels), 3), round(max(levels), 3)))
    return found


def test_layers_lie_on_each_other_at_true_size() -> None:
    """Leveling 3, barrier 0.2, pad 2, board 8: 13.2 in all."""
    (scene,) = compose_heights(LAYERS, [], "mm")
    assert scene.scale == 1.0
    assert areas_at(scene, NEW_MM[0]) == [(0.0, 3.0), (3.0, 3.2), (3.2, 5.2), (5.2, 13.2)]


def test_the_leaf_hangs_where_it_was_measured() -> None:
    (scene,) = compose_heights(LAYERS, [Meeting("door", under_leaf_mm=14.0, beyond_mm=6.0)], "mm")
    assert areas_at(scene, LEAF_MM[0])[0][0] == 14.0
    told = [text.text for text in scene.texts()]
    assert "14 mm under it" in told
    assert "floor beyond 6 mm" in told
    assert "saw jambs off 15 mm up" in told  # 13.2 and 1.5 of play


def test_a_job_in_inches_has_its_layers_in_inches() -> None:
    # 8 / 25.4 = 0.315, 0.2 / 25.4 = 0.00787, 3 / 25.4 = 0.118
    (scene,) = compose_heights(LAYERS, [], "in")
    told = {text.text for text in scene.texts()}
    assert {'board 0.315"', 'vapor barrier 0.008"', 'leveling 0.118"'} <= told
    assert not any("mm" in words for words in told)


def test_stairs_have_no_leaf_and_no_section() -> None:
    meetings = [Meeting("stair", "stair", riser_mm=190.0), Meeting("door", under_leaf_mm=20.0)]
    assert [scene.title for scene in compose_heights(LAYERS, meetings, "in")] == ["Heights: door"]


def test_the_drawing_is_sound_even_for_the_thickest_floor() -> None:
    for layers in (LAYERS, Layers(3.0), Layers(20.0, 5.0, 0.2, 10.0)):
        for meeting in (Meeting("a door", under_leaf_mm=200.0, beyond_mm=150.0), Meeting("b")):
            (scene,) = compose_heights(layers, [meeting], "ft")
            assert [f for f in faults(scene) if "off the sheet" not in f] == []
