"""SVG: well-formed, true size, words escaped, the same bytes every time."""

import xml.etree.ElementTree as ET

from plankwright.drawing.scene import Area, Dimension, Ellipse, Group, Polyline, Scene, Text
from plankwright.drawing.style import DARK
from plankwright.drawing.svg import render_svg

NS = {"s": "http://www.w3.org/2000/svg"}
SQUARE = ((10.0, 10.0), (30.0, 10.0), (30.0, 30.0), (10.0, 30.0))
SCENE = Scene(
    297.0,
    210.0,
    (
        Group(
            (Area(SQUARE, "piece", hatch="starter"),), layer="pieces", title="7.1.1", key="7.1.1"
        ),
        Polyline(((0.0, 0.0), (5.0, 5.0)), "row", arrow_end=True),
        Ellipse((50.0, 50.0), (4.0, 2.0), "error", 30.0),
        Ellipse((60.0, 50.0), (2.0, 2.0), "error"),
        Text((20.0, 20.0), 'A < B & "C"', 3.6, anchor="middle", angle_deg=90.0, clear=True),
        Dimension((10.0, 60.0), (90.0, 60.0), "80", 5.0),
    ),
    "The <room>",
    "What it shows",
    scale=50.0,
)


def test_true_size_title_and_description() -> None:
    root = ET.fromstring(render_svg(SCENE))
    assert (root.get("width"), root.get("height")) == ("297mm", "210mm")
    assert root.get("viewBox") == "0 0 297 210"  # a user unit is a millimeter of paper
    assert root.findtext("s:title", namespaces=NS) == "The <room>"
    assert root.findtext("s:desc", namespaces=NS) == "What it shows"
    assert root[0].tag.endswith("title")  # where readers of the page look for it


def test_groups_carry_layer_key_and_title() -> None:
    group = ET.fromstring(render_svg(SCENE)).find("s:g", NS)
    assert group is not None
    assert group.get("class") == "pw-layer-pieces"
    assert group.get("data-key") == "7.1.1"
    assert group.findtext("s:title", namespaces=NS) == "7.1.1"


def test_shapes_and_words() -> None:
    root = ET.fromstring(render_svg(SCENE))
    texts = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert texts == ['A < B & "C"', "80"]
    ellipse = root.find("s:ellipse", NS)
    assert ellipse is not None
    assert ellipse.get("transform") == "rotate(-30 50 50)"  # anticlockwise here, clockwise there
    assert root.find("s:circle", NS) is not None


def test_only_used_styles_are_written_and_no_url_is_needed() -> None:
    svg = render_svg(SCENE)
    assert ".pw-hatch{" in svg
    assert ".pw-wall{" not in svg
    assert "url(" not in svg
    assert "nan" not in svg


def test_same_bytes_and_another_palette() -> None:
    assert render_svg(SCENE) == render_svg(SCENE)
    assert DARK["paper"] in render_svg(SCENE, DARK)


def test_numbers_are_short() -> None:
    svg = render_svg(Scene(10.0, 10.0, (Polyline(((-1e-9, 1 / 3), (2.0, 1.5)), "row"),), "x"))
    assert "M0 0.333L2 1.5" in svg
