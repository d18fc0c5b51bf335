"""DXF out, read back by ezdxf: audit clean, areas those of the plan, units those of the job."""

import io
import math
from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import shapely
from ezdxf.document import Drawing
from ezdxf.filemanagement import read
from shapely import Polygon
from tests.data import data_file
from tests.drawing.sample_plans import small_plan

from plankwright.api import save_plan
from plankwright.application.plan_room import Effort, plan_room
from plankwright.drawing.dxf import render_dxf
from plankwright.drawing.dxf_pen import APPLICATION, one_line
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.scene import Area, Dimension, Group, Polyline, Scene, Text, circle
from plankwright.files.geojson import read_room
from plankwright.files.source import parse_json
from plankwright.model.board import Board
from plankwright.model.plan import Plan
from plankwright.model.room import FixedThing, Room
from plankwright.model.wishes import Wishes
from plankwright.testing.zoo import rectangle, wide_gaps, with_doorway, with_post

# $INSUNITS of the DXF reference (AutoCAD DXF Reference, HEADER section): 1 inches, 4 millimeters.
MM_PER = {1: 25.4, 4: 1.0}


def read_back(text: str) -> Drawing:
    document = read(io.StringIO(text))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    return document


def lines(document: Drawing, layer: str) -> list[Any]:
    kind = "LWPOLYLINE" if layer == "*" else f'LWPOLYLINE[layer=="{layer}"]'
    return list(document.modelspace().query(kind))


def areas_mm2(document: Drawing) -> dict[str, float]:
    """Area of every piece: its largest ring less the others, which are holes."""
    rings = defaultdict(list)
    for line in lines(document, "*"):
        if line.dxf.layer.startswith("PIECES-"):
            number = line.get_xdata(APPLICATION)[0].value
            points = [(x, y) for x, y in line.get_points("xy")]
            rings[number].append(Polygon(points).area * MM_PER[document.units] ** 2)
    return {number: 2 * max(found) - sum(found) for number, found in rings.items()}


def assert_same_areas(plan: Plan) -> None:
    found = areas_mm2(read_back(render_dxf(plan)))
    assert found.keys() == {piece.id for piece in plan.pieces}
    for piece in plan.pieces:
        # 1 mm2 in 1 m2, the figure asked for
        assert found[piece.id] == pytest.approx(piece.outline.area, rel=1e-6)


def test_version_units_and_layers() -> None:
    document = read_back(render_dxf(small_plan()))
    assert document.dxfversion == "AC1024"
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    names = {layer.dxf.name for layer in document.layers}
    assert {"WALLS", "FLOOR", "PIECES-WHOLE", "PIECES-STARTER", "PIECES-END"} <= names


def test_inch_jobs_are_in_inches() -> None:
    # The sample room is 2320 mm wide: 91.3386 in.
    document = read_back(render_dxf(replace(small_plan(), unit="in")))
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (1, 0)
    (walls,) = lines(document, "WALLS")
    assert max(x for x, _ in walls.get_points("xy")) == pytest.approx(2320 / 25.4)
    assert document.header["$EXTMAX"][0] == pytest.approx(2320 / 25.4)


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in", "ft"])
def test_areas_are_the_plan_files(unit: str) -> None:
    assert_same_areas(replace(small_plan(), unit=unit))


@pytest.mark.parametrize("make_room", [with_post, with_doorway, wide_gaps])
def test_areas_round_posts_and_into_doorways(make_room: Callable[[], Room]) -> None:
    assert_same_areas(plan_room(make_room(), Board(1285, 192)))


def test_a_piece_with_a_hole() -> None:
    # Posts at four depths: a row is 192 mm deep, so that one of them stands within a row.
    posts = tuple(
        FixedThing("post", Polygon(shapely.Point(600 * n, 400 + 48 * n).buffer(10)))
        for n in range(1, 5)
    )
    plan = plan_room(Room(shapely.box(0, 0, 3000, 1000), posts), Board(1285, 192))
    assert any(piece.outline.interiors for piece in plan.pieces)
    assert_same_areas(plan)


def test_areas_of_a_real_dwelling() -> None:
    path = data_file("rooms.geojson")
    data = parse_json(path.read_text(encoding="utf-8"), str(path))
    name = str(data["features"][0]["id"])
    room = read_room(data, str(path), feature=name)
    assert_same_areas(plan_room(room, Board(1285, 192)))


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert render_dxf(small_plan()) == render_dxf(small_plan())


def test_names_cannot_break_the_file() -> None:
    name = "a\n0\nEOF\n%%c^J\U0001f3e0 \u202egnol" + "x" * 300
    document = read_back(render_dxf(replace(small_plan(), name=name)))
    (title,) = document.modelspace().query('TEXT[layer=="TITLE"]')
    assert title.dxf.text == one_line(name)
    assert len(title.dxf.text) <= 250


def test_a_scene_measures_true_at_its_scale() -> None:
    # 100 mm of paper at 1:50 is 5 m of room; the page's y axis points down, a drawing's up.
    items = (
        Group((Polyline(((10.0, 20.0), (110.0, 20.0)), "joint"),), layer="rows"),
        Area(((0.0, 0.0), (20.0, 0.0), (20.0, 10.0)), "piece", hatch="starter"),
        circle((50.0, 50.0), 10.0, "fixed"),
        Dimension((0.0, 90.0), (80.0, 90.0), "4 m", 6.0),
        Text((10.0, 90.0), "den", 5.0),
    )
    document = read_back(render_dxf(Scene(200.0, 100.0, items, "A try", scale=50.0)))
    (line,) = lines(document, "ROWS")
    assert [tuple(p) for p in line.get_points("xy")] == [(500.0, 4000.0), (5500.0, 4000.0)]
    (round_thing,) = document.modelspace().query("ELLIPSE")
    assert math.hypot(*round_thing.dxf.major_axis) == pytest.approx(500.0)
    texts = {text.dxf.text for text in document.modelspace().query("TEXT")}
    assert texts == {"4 m", "den"}


def test_the_whole_sheet_of_a_plan_reads_back() -> None:
    document = read_back(render_dxf(compose_plan(small_plan()), unit="in"))
    assert document.units == 1
    assert len(document.modelspace()) > 50


def test_saved_beside_the_plan_file_when_asked_for(tmp_path: Path) -> None:
    assert "plan.dxf" not in {path.name for path in save_plan(small_plan(), tmp_path)}
    (written,) = (p for p in save_plan(small_plan(), tmp_path, dxf=True) if p.suffix == ".dxf")
    assert areas_mm2(read_back(written.read_text(encoding="utf-8")))


def test_a_spline_has_a_layer_of_its_own() -> None:
    """Rows of 3984 mm in a room of 4000, and a gap of 8 at both ends."""
    board = Board(1285.0, 192.0, start_side="groove", spline=True)
    wishes = Wishes(start_wall="A-B", begin_row=5)
    plan = plan_room(rectangle(), board, wishes=wishes, effort=Effort(moves=0, prove=False))
    (spline,) = lines(read_back(render_dxf(plan)), "SPLINE")
    (x0, y0), (x1, y1) = spline.get_points("xy")
    assert math.dist((x0, y0), (x1, y1)) == pytest.approx(3984.0)
