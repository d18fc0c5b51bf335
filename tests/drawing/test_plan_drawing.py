"""Floor plans as data: to scale, hatches by kind, joints, rips, numbers; real rooms looked over."""

import json
import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest
import shapely
from shapely import Polygon
from shapely.affinity import rotate
from tests.data import data_file
from tests.drawing.look import faults
from tests.drawing.sample_plans import small_plan, with_post

from plankwright.application.plan_room import Effort, plan_room
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.plan_view import piece_kinds
from plankwright.drawing.scene import Area, Dimension, Ellipse, Group, Item, Polyline, Scene, Text
from plankwright.drawing.sheet import PAPERS, Paper
from plankwright.drawing.svg import render_svg
from plankwright.files.geojson import read_rooms
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.plan import Plan, Recess
from plankwright.model.room import Doorway, FixedThing, Room
from plankwright.model.rules import Rules

QUICK = Effort(moves=300)


def layer(scene: Scene, name: str) -> list[Item]:
    """What is in the layers of a name."""
    return [item for group in groups(scene.items) if group.layer == name for item in group.items]


def groups(items: tuple[Item, ...]) -> Iterator[Group]:
    for item in items:
        if isinstance(item, Group):
            yield item
            yield from groups(item.items)


def words(items: list[Item]) -> list[str]:
    return [item.text for item in items if isinstance(item, Text)]


def piece_area(scene: Scene, piece: str) -> Area:
    group = next(group for group in groups(scene.items) if group.key == piece)
    area = group.items[0]
    assert isinstance(area, Area)
    return area


@pytest.fixture(scope="module")
def scene() -> Scene:
    return compose_plan(small_plan())


def test_true_to_scale(scene: Scene) -> None:
    # the floor is 2300 mm long: at 1:10 it is 230 mm, and 2320 + 2 bands do not fit across 277
    assert scene.scale == 10.0
    assert (scene.width_mm, scene.height_mm) == (297.0, 210.0)
    whole = piece_area(scene, "1.1.2")
    xs, ys = zip(*whole.outline, strict=True)
    assert max(xs) - min(xs) == pytest.approx(100.0)  # 1000 mm of board
    assert max(ys) - min(ys) == pytest.approx(20.0)


def test_hatches_follow_the_kind_of_piece(scene: Scene) -> None:
    assert piece_area(scene, "1.1.1").hatch == "starter"
    assert piece_area(scene, "1.1.2").hatch is None
    assert piece_area(scene, "1.1.3").hatch == "end-piece"


def test_a_lone_piece_is_wall_to_wall() -> None:
    plan = small_plan()
    first = plan.pieces[0]
    assert piece_kinds(replace(plan, pieces=(first,)))[first.id] == "wall-to-wall"


def test_every_joint_is_drawn_once(scene: Scene) -> None:
    # two joints in each of three rows
    joints = [item for item in layer(scene, "joints") if isinstance(item, Polyline)]
    assert len(joints) == 6
    rows = [item for item in layer(scene, "rows") if isinstance(item, Polyline)]
    assert len(rows) == 2  # between three rows


def test_ripped_edges_are_heavy_and_only_in_the_ripped_row(scene: Scene) -> None:
    rips = [item for item in layer(scene, "rips") if isinstance(item, Polyline)]
    assert len(rips) == 3
    # y runs up in the room and down the sheet: the far wall is the upper one
    upper = min(y for rip in rips for _, y in rip.points)
    assert all(abs(y - upper) < 0.01 for rip in rips for _, y in rip.points)


def test_rows_are_numbered_on_both_walls(scene: Scene) -> None:
    assert Counter(words(layer(scene, "numbers"))) == {"1": 2, "2": 2, "3": 2}


def test_narrow_rows_are_numbered_in_steps() -> None:
    board = Board(1285.0, 100.0)
    room = Room(shapely.box(0.0, 0.0, 8000.0, 11000.0))
    plan = plan_room(room, board, Rules(), effort=QUICK)
    numbers = words(layer(compose_plan(plan), "numbers"))
    assert {"1", "10", str(max(piece.row for piece in plan.pieces))} <= set(numbers)
    assert "11" not in numbers


def test_start_mark_and_laying_direction(scene: Scene) -> None:
    start = layer(scene, "start")
    dot = next(item for item in start if isinstance(item, Ellipse))
    arrow = next(item for item in start if isinstance(item, Polyline))
    # right to left as one faces wall A-B from inside: u runs to the right on the sheet
    assert arrow.arrow_end
    assert arrow.points[1][0] > arrow.points[0][0]
    first = piece_area(scene, "1.1.1")
    assert dot.center[0] == pytest.approx(min(x for x, _ in first.outline))
    assert dot.center[1] > max(y for _, y in first.outline)  # outside, below the start wall


def test_walls_have_their_lengths(scene: Scene) -> None:
    told = [item.text for item in layer(scene, "dimensions") if isinstance(item, Dimension)]
    assert sorted(told) == ["2320 mm", "2320 mm", "570 mm", "570 mm"]


def test_offcut_and_its_board_bear_one_letter(scene: Scene) -> None:
    figures = words(layer(scene, "figures"))
    assert "400 A" in figures  # leaves offcut A
    assert "300 A" in figures  # is cut from it


def test_the_gap_stays_visible(scene: Scene) -> None:
    """No less than half a millimeter of white between the floor and the walls."""
    walls = shapely.union_all(
        [Polygon(a.outline, a.holes) for a in layer(scene, "walls") if isinstance(a, Area)]
    )
    floor = Polygon(piece_area(scene, "1.1.1").outline)
    assert walls.distance(floor) >= 0.5


def test_fixed_things_are_grey_and_named() -> None:
    scene = compose_plan(with_post(small_plan()))
    styles = [item.style for group in layer(scene, "fixed") for item in group.items]  # type: ignore[union-attr]
    assert styles == ["fixed"]
    assert "post" in words(layer(scene, "names"))


def test_doorways_open_the_wall_and_are_named() -> None:
    plan = small_plan()
    recess = Recess("doorway", shapely.box(2310.0, 100.0, 2350.0, 500.0))
    shut = compose_plan(plan)
    opened = compose_plan(replace(plan, recesses=(recess,)))
    assert len(layer(opened, "walls")) == 1
    assert Counter(words(layer(opened, "doorways"))) == {"doorway": 1}
    assert not words(layer(shut, "doorways"))


def test_doorways_without_a_recess_come_from_the_room() -> None:
    plan = small_plan()
    room = Room(plan.room, doorways=(Doorway("A-B", 500.0, 300.0),))
    assert words(layer(compose_plan(plan, room=room), "doorways")) == ["doorway"]
    parted = replace(room, doorways=(replace(room.doorways[0], transition="none"),))
    assert words(layer(compose_plan(plan, room=parted), "doorways")) == ["T-molding"]


def test_findings_on_pieces_are_marked() -> None:
    plan = replace(small_plan(), findings=(Finding("short-piece", "2.1.3", "is short"),))
    marks = layer(compose_plan(plan), "check")
    assert "!" in words(marks)
    assert "check this (1)" in words(marks)


def test_words_below_tell_board_rows_and_scale(scene: Scene) -> None:
    told = " | ".join(words(layer(scene, "words")))
    assert "Floor plan 1:10, print at 100 %" in told
    assert "Board 1000 × 200 mm, gap 10 mm" in told
    assert "8 boards (2 packs of 4), laid right to left" in told
    assert "Row 1 at wall A-B: 200 mm, row 3: 150 mm" in told


def test_scale_bar_is_true(scene: Scene) -> None:
    fields = [item for item in layer(scene, "scale") if isinstance(item, Area)]
    left = min(x for field in fields for x, _ in field.outline)
    right = max(x for field in fields for x, _ in field.outline)
    figure = words(layer(scene, "scale"))[-1]
    assert float(figure.split()[0]) * 1000.0 / 10.0 == pytest.approx(right - left)


def test_inches_get_an_architects_scale() -> None:
    scene = compose_plan(replace(small_plan(), unit="in"))
    assert scene.scale == 12.0
    assert "1″ = 1′ (1:12)" in " ".join(words(layer(scene, "words")))


@pytest.mark.parametrize("paper", list(PAPERS))
def test_every_paper(paper: Paper) -> None:
    scene = compose_plan(small_plan(), paper=paper)
    assert sorted((scene.width_mm, scene.height_mm)) == sorted(PAPERS[paper])
    assert faults(scene) == []


def test_described_in_words(scene: Scene) -> None:
    assert scene.title == "Floor plan: sample"
    assert "3 rows along wall A-B, laid right to left" in scene.description
    titles = {group.key: group.title for group in groups(scene.items) if group.key}
    assert titles["1.1.1"] == "1.1.1: starter, 400 mm"


def test_same_plan_same_bytes() -> None:
    assert render_svg(compose_plan(small_plan())) == render_svg(compose_plan(small_plan()))


def test_an_empty_floor_is_drawn_too() -> None:
    plan = replace(small_plan(), pieces=(), floor=shapely.MultiPolygon())
    assert faults(compose_plan(plan)) == []


L_ROOM = Room(
    Polygon([(0, 0), (5200, 0), (5200, 2400), (2900, 2400), (2900, 4300), (0, 4300)]),
    fixed=(
        FixedThing("post", shapely.box(2500.0, 1500.0, 2640.0, 1640.0)),
        FixedThing("pipe", shapely.Point(300.0, 300.0).buffer(11.0)),
        FixedThing("hearth", shapely.box(0.0, 2600.0, 450.0, 3700.0)),
    ),
    doorways=(Doorway("B-C", 700.0, 900.0, 60.0, 12.0),),
    name="L with a post",
)


@pytest.mark.parametrize("turn", [0.0, 17.0, 90.0, 225.0])
def test_an_l_with_a_post_turned(turn: float) -> None:
    def turned(shape: Polygon) -> Polygon:
        return rotate(shape, turn, origin=(0.0, 0.0))

    fixed = tuple(replace(thing, outline=turned(thing.outline)) for thing in L_ROOM.fixed)
    room = replace(L_ROOM, outline=turned(L_ROOM.outline), fixed=fixed)
    plan = plan_room(room, Board(1285.0, 192.0), Rules(), effort=QUICK)
    scene = compose_plan(plan, room=room)
    assert faults(scene) == []
    names = words(layer(scene, "names"))
    assert sorted(names) == ["hearth", "pipe", "post"]
    told = [item.text for item in layer(scene, "dimensions") if isinstance(item, Dimension)]
    assert {"5200 mm", "4300 mm"} <= set(told)


def real_plans() -> Iterator[tuple[str, Plan]]:
    """The first dwelling, the one with most corners, and every 150th room of each file."""
    board, rules = Board(1285.0, 192.0), Rules(allowance_mm=0.0)
    for name in ("rooms.geojson", "rooms_agpl.geojson", "dwellings_agpl.geojson"):
        rooms = list(read_rooms(json.loads(data_file(name).read_text()), name))
        chosen = rooms[::150]
        if name.startswith("dwellings"):
            chosen = [max(rooms, key=lambda room: len(room.outline.exterior.coords))]
        for room in chosen:
            yield room.name, plan_room(room, board, rules, effort=QUICK)


def test_real_rooms_are_drawn_without_fault() -> None:
    drawn = 0
    for name, plan in real_plans():
        scene = compose_plan(plan)
        assert faults(scene) == [], name
        assert math.isfinite(scene.scale or math.nan)
        drawn += 1
    assert drawn >= 8
