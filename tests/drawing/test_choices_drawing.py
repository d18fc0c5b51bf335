"""The sheet of choices: every choice is there, words keep to the sheet and off each other."""

import pytest
from shapely import Polygon
from tests.drawing.look import faults

from plankwright.application.choices import Choices, find_choices
from plankwright.application.plan_room import Effort
from plankwright.drawing.choices_drawing import broken_lines, compose_choice, compose_choices
from plankwright.drawing.lettering import text_width_mm
from plankwright.drawing.scene import Group, Scene
from plankwright.drawing.style import TEXT_MM
from plankwright.drawing.svg import render_svg
from plankwright.model.board import Board
from plankwright.model.job import Job
from plankwright.model.room import Room

CROOKED = Room(Polygon([(0, 0), (3600, 0), (3600, 2650), (0, 2600)]))
JOB = Job(CROOKED, Board(1285.0, 192.0), name="Den", unit="in")


@pytest.fixture(scope="module")
def found() -> Choices:
    return find_choices(JOB, effort=Effort(moves=50, looks=0, prove=False))


@pytest.fixture(scope="module", params=["A4", "Letter"])
def scene(request: pytest.FixtureRequest, found: Choices) -> Scene:
    return compose_choices(found, name="Den", unit="in", room=CROOKED, paper=request.param)


def groups(scene: Scene) -> dict[str, Group]:
    return {item.key: item for item in scene.items if isinstance(item, Group) and item.key}


def test_nothing_is_wrong_with_the_sheet(scene: Scene) -> None:
    assert faults(scene) == []


def test_every_choice_has_its_drawing_and_its_words(scene: Scene, found: Choices) -> None:
    assert list(groups(scene)) == [f"choice-{choice.number}" for choice in found.choices]
    told = " ".join(text.text for text in scene.texts())
    for choice in found.choices:
        assert f"{choice.merits.boards} boards" in told
    assert "Boards (a quick plan of each)" in told
    assert "Narrowest row" in told
    assert scene.description.count(":") >= len(found.choices)


def drawn(scene: Scene) -> list[tuple[float, float, float, float]]:
    """The rectangle round each choice's small drawing."""
    boxes = []
    for group in groups(scene).values():
        shapes = Scene(scene.width_mm, scene.height_mm, group.items, "cell").shapes()
        points = [p for shape in shapes for p in getattr(shape, "points", ()) or ()]
        xs, ys = zip(*points, strict=True)
        boxes.append((min(xs), min(ys), max(xs), max(ys)))
    return boxes


def test_the_room_is_drawn_as_large_in_every_choice(scene: Scene) -> None:
    """However long their words are; hatches end a hair inside or outside the walls."""
    wide, *others = [right - left for left, _, right, _ in drawn(scene)]
    assert others
    assert others == pytest.approx([wide] * len(others), abs=0.2)


def test_small_drawings_do_not_reach_into_each_other(scene: Scene) -> None:
    boxes = drawn(scene)
    for i, one in enumerate(boxes):
        for other in boxes[i + 1 :]:
            apart = one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]
            assert apart


def test_one_choice_alone_for_a_page(found: Choices) -> None:
    alone = compose_choice(found.choices[0], 90.0, 60.0, CROOKED)
    assert (alone.width_mm, alone.height_mm) == (90.0, 60.0)
    assert not list(alone.texts())
    assert render_svg(alone).startswith("<")


def test_lines_are_broken_where_the_width_ends() -> None:
    words = "Rows along the longest wall and the fewest cuts; takes 2 boards more"
    lines = broken_lines(words, 50.0)
    assert " ".join(lines) == words
    assert len(lines) > 1
    assert all(text_width_mm(line, TEXT_MM) <= 50.0 for line in lines)
    assert broken_lines("word", 1.0) == ["word"]
