"""The survey drawing as data: to scale, figures of every length, ellipses enlarged and said so."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from tests.drawing.look import faults
from tests.survey.rooms import CROOKED, L_ROOM, TWELVE, Corner, taped

from plankwright.application.measure_room import measure_room
from plankwright.application.measured_room import MeasuredRoom
from plankwright.drawing.scene import Dimension, Ellipse, Group, Item, Polyline, Scene
from plankwright.drawing.survey_drawing import compose_survey
from plankwright.drawing.svg import render_svg
from plankwright.model.survey import Distance, StringLine


def layer(scene: Scene, name: str) -> list[Item]:
    return [i for g in scene.items if isinstance(g, Group) and g.layer == name for i in g.items]


def ellipses(scene: Scene) -> Iterator[Ellipse]:
    return (item for item in layer(scene, "errors") if isinstance(item, Ellipse))


@pytest.fixture(scope="module")
def room() -> MeasuredRoom:
    return measure_room(taped(CROOKED, "AC BD", square="ABCD"))


def test_ellipses_are_enlarged_as_is_said(room: MeasuredRoom) -> None:
    scene = compose_survey(room, "den")
    assert scene.scale is not None
    told = next(text.text for text in scene.texts() if "enlarged" in text.text)
    times = int(told.split("drawn ")[1].split(" times")[0])
    for corner, shape in zip(room.corners, ellipses(scene), strict=True):
        assert shape.semi_axes_mm[0] == pytest.approx(corner.ellipse.major_mm * times / scene.scale)
        assert shape.semi_axes_mm[0] <= 7.0


def test_every_wall_has_its_figure(room: MeasuredRoom) -> None:
    scene = compose_survey(room)
    dimensions = [item for item in layer(scene, "dimensions") if isinstance(item, Dimension)]
    assert {d.text for d in dimensions} == {"4200 mm", "3600 mm", "4160 mm", "3590 mm"}
    assert len([i for i in layer(scene, "lengths") if isinstance(i, Polyline)]) == 2


def test_measured_and_adjusted_where_they_differ() -> None:
    survey = taped(CROOKED, "AC BD", wrong={"AC": 12.0})
    scene = compose_survey(measure_room(survey))
    figures = [text.text for text in scene.texts()]
    assert any("(5529)" in figure for figure in figures)  # measured: 5516.6 and 12 more


def test_what_does_not_fit_is_red_and_said() -> None:
    survey = taped(L_ROOM, "AC AD AE BD BE BF CE CF DF", wrong={"AD": 100.0})
    scene = compose_survey(measure_room(survey))
    red = [i for i in layer(scene, "lengths") if isinstance(i, Polyline) and i.style == "stop"]
    assert len(red) == 1
    assert any("does not fit" in text.text for text in scene.texts())


@pytest.mark.parametrize(
    ("outline", "diagonals", "square"),
    [
        (CROOKED, "", ""),
        (L_ROOM, "", "ABCDEF"),
        (L_ROOM, "AD BD CF", ""),
        (TWELVE, "AG BF", "ABCDEFGHIJKL"),
    ],
)
def test_nothing_stands_on_another_or_off_the_sheet(
    outline: tuple[Corner, ...], diagonals: str, square: str
) -> None:
    survey = taped(outline, diagonals, square=square)
    survey = replace(
        survey,
        distances=(*survey.distances, Distance("A", "post", 1800.0), Distance("B", "post", 4900.0)),
        points=("post",),
        string_lines=(StringLine("A", "B", ((2000.0, 9.0),)),),
    )
    scene = compose_survey(measure_room(survey, unit="in"), "den")
    assert faults(scene) == []


def test_same_bytes(room: MeasuredRoom) -> None:
    assert render_svg(compose_survey(room)) == render_svg(compose_survey(room))
