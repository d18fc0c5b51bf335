"""The start mark stands where laying begins; a spline is a line of its own."""

from dataclasses import replace

import pytest
import shapely
from shapely import box
from tests.drawing.look import faults
from tests.plan.laying_rooms import closet_room, u_room

from plankwright.application.plan_room import Effort, plan_room
from plankwright.drawing.order_drawing import compose_order
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.plan_tiles import compose_plan_sheets
from plankwright.drawing.scene import Ellipse, Group, Item, Polyline, Scene, Text
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import Room
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.turned_rows import spline_runs
from plankwright.testing.zoo import rectangle

BOARD = Board(1285.0, 192.0, start_side="groove", spline=True)
BACKWARDS = replace(BOARD, spline=False, laid_backwards=True)
QUICK = Effort(moves=10, looks=0, prove=False)


def planned(room: Room, begin_row: int | None, board: Board = BOARD) -> Plan:
    wishes = Wishes(start_wall="A-B", begin_row=begin_row)
    return plan_room(room, board, Rules(), wishes, effort=QUICK)


def layer(scene: Scene, name: str) -> list[Item]:
    """What stands in a layer of a scene."""

    def found(items: tuple[Item, ...]) -> list[Item]:
        own: list[Item] = []
        for item in items:
            if isinstance(item, Group):
                own += item.items if item.layer == name else found(item.items)
        return own

    return found(scene.items)


def marks(scene: Scene) -> tuple[list[Ellipse], list[Text], list[Polyline]]:
    start = layer(scene, "start")
    return (
        [item for item in start if isinstance(item, Ellipse)],
        [item for item in start if isinstance(item, Text)],
        [item for item in start if isinstance(item, Polyline)],
    )


def row_of(plan: Plan, scene: Scene, spot: tuple[float, float]) -> int:
    """The row whose piece on the sheet is nearest to a spot."""
    shapes: dict[str, shapely.Polygon] = {}

    def walk(items: tuple[Item, ...]) -> None:
        for item in items:
            if isinstance(item, Group):
                if item.key:
                    shapes[item.key] = shapely.Polygon(item.items[0].outline)  # type: ignore[union-attr]
                walk(item.items)

    walk(scene.items)
    nearest = min(shapes, key=lambda key: shapes[key].distance(shapely.Point(spot)))
    return next(piece.row for piece in plan.pieces if piece.id == nearest)


def test_laying_that_begins_at_the_wall_is_marked_outside_it() -> None:
    scene = compose_plan(planned(rectangle(), None))
    dots, words, arrows = marks(scene)
    assert [text.text for text in words] == ["start"]
    assert (len(dots), len(arrows)) == (1, 1)
    assert not layer(scene, "spline")
    assert "spline" not in " ".join(text.text for text in scene.texts())


@pytest.mark.parametrize(("board", "turned"), [(BOARD, True), (BACKWARDS, False)])
def test_laying_that_begins_within_the_room_is_marked_on_its_row(
    board: Board, turned: bool
) -> None:
    """Rows 4 to 1 come last: turned they begin at the other end, laid backwards at the same."""
    plan = planned(rectangle(), 5, board)
    scene = compose_plan(plan)
    (start, last), words, (there, back) = marks(scene)
    assert [text.text for text in words] == ["start", "rows 4 to 1 last"]
    assert [row_of(plan, scene, dot.center) for dot in (start, last)] == [5, 4]
    assert [row_of(plan, scene, text.at) for text in words] == [5, 4]
    ways = [arrow.points[1][0] - arrow.points[0][0] for arrow in (there, back)]
    assert (ways[0] * ways[1] < 0.0) == turned
    assert (abs(start.center[0] - last.center[0]) > 100.0) == turned
    # each arrow points away from where its row is begun
    for dot, arrow in ((start, there), (last, back)):
        assert abs(arrow.points[1][0] - dot.center[0]) > abs(arrow.points[0][0] - dot.center[0])
    assert "Laying begins with row 5; last come rows 4 to 1" in scene.description
    assert faults(scene) == []


def test_a_spline_is_drawn_on_its_row_line_and_told_in_the_legend() -> None:
    """Floor 3984 mm long (4000 less two gaps of 8): at 1:20 the line is 199.2 mm."""
    plan = planned(rectangle(), 5)
    (run,) = spline_runs(plan)
    assert run.row == 5
    assert run.length_mm == pytest.approx(3984.0)
    for scene in (compose_plan(plan), compose_order(plan)):
        assert scene.scale is not None
        heavy, core = layer(scene, "spline")
        assert isinstance(heavy, Polyline)
        assert isinstance(core, Polyline)
        assert heavy.points == core.points
        (x0, y0), (x1, y1) = heavy.points
        assert abs(x1 - x0) * scene.scale == pytest.approx(3984.0, abs=0.1)
        assert y0 == pytest.approx(y1)
        assert "spline, in the groove of row 5" in [text.text for text in scene.texts()]
        assert faults(scene) == []


@pytest.mark.parametrize("begin_row", [3, 5])
@pytest.mark.parametrize("room", [u_room(leg=1900.0), closet_room()])
def test_nothing_stands_on_anything_else(room: Room, begin_row: int) -> None:
    plan = planned(room, begin_row)
    assert faults(compose_plan(plan)) == []
    assert faults(compose_order(plan)) == []


def test_narrow_rows_have_their_mark_too() -> None:
    board = replace(BOARD, length_mm=1200.0, width_mm=60.0)
    scene = compose_plan(planned(Room(box(0, 0, 4000, 2400)), 20, board))
    dots, words, arrows = marks(scene)
    assert (len(dots), len(words), len(arrows)) == (2, 2, 2)


def test_sheets_of_a_large_plan_tell_of_the_start_only_where_they_show_it() -> None:
    """40 m at 1:100 are 400 mm: more than one sheet, and the start is at one end."""
    plan = planned(
        Room(box(0, 0, 40000, 4000)), 5, replace(BOARD, length_mm=2400.0, width_mm=400.0)
    )
    parts = compose_plan_sheets(plan)[1:]
    told = [[text.text for text in marks(scene)[1]] for scene in parts]
    assert [len(words) for words in told] == [len(marks(scene)[0]) for scene in parts]
    assert 0 < sum("start" in words for words in told) < len(parts)
