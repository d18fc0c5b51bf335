"""Templates at true size: rulers measured on the rendered sheet, notches as in the plan file."""

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
import shapely
from shapely import Polygon, affinity
from tests.paper.jobs import material

import plankwright
from plankwright.drawing.rulers import FOUR_INCHES_MM, HUNDRED_MM
from plankwright.drawing.scene import Area, Group, Polyline, Scene
from plankwright.drawing.sheet import PAPERS, Paper
from plankwright.drawing.template_drawing import HEAD_MM, MARGIN_MM, compose_template
from plankwright.geometry.frame import Frame
from plankwright.guide.cards import cards_of
from plankwright.guide.templates import Template, templates_of
from plankwright.model.board import Board, Hand, Laid
from plankwright.model.job import Job
from plankwright.model.room import FixedThing, Room
from plankwright.model.wishes import Wishes
from plankwright.paper.press import press
from plankwright.paper.templates import templates_sheet

DPI = 508.0  # 20 pixels to the millimeter
PER_MM = DPI / 25.4
LOOKS = ("kept", "waste")
Pixels = npt.NDArray[np.uint8]


def rendered(pdf: bytes, page: int) -> Pixels:
    with pypdfium2.PdfDocument(pdf) as document:
        image = document[page].render(scale=DPI / 72.0, grayscale=True)
        return np.array(image.to_numpy())


def long_lines(image: Pixels, above_mm: float) -> list[tuple[float, float, float]]:
    """Level dark lines longer than 90 mm below a height: (height, left, right) in millimeters."""
    dark = image < 140
    found = []
    for y in range(int(above_mm * PER_MM), image.shape[0]):
        columns = np.flatnonzero(dark[y])
        if len(columns) == 0:
            continue
        runs = np.split(columns, np.flatnonzero(np.diff(columns) > 1) + 1)
        longest = max(runs, key=len)
        if len(longest) > 90 * PER_MM:
            found.append((y / PER_MM, longest[0] / PER_MM, (longest[-1] + 1) / PER_MM))
    return found


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_line_of_100_mm_measures_100_mm_on_the_rendered_sheet(paper: Paper) -> None:
    """By pixels of 0.05 mm; the ticks at both ends add half their weight of 0.25 mm each side."""
    sheet = templates_sheet(material("cellar", paper))
    assert sheet is not None
    first = replace(sheet, blocks=sheet.blocks[:1])
    image = rendered(press(first, paper, "x").pdf, 0)
    wide, high = PAPERS[paper]
    assert np.allclose(image.shape, (high * PER_MM, wide * PER_MM), atol=1.0)
    lines = long_lines(image, high - 32.0)
    lengths = {round(level): right - left - 0.25 for level, left, right in lines}
    assert len(lengths) == 2
    metric, inches = (lengths[level] for level in sorted(lengths))
    assert metric == pytest.approx(HUNDRED_MM, abs=0.2)
    assert inches == pytest.approx(FOUR_INCHES_MM, abs=0.2)


def shown(scene: Scene, layer: str, style: str) -> shapely.Geometry:
    """Everything of a style in a layer, as one shape on the sheet."""
    copy = next(i for i in scene.items if isinstance(i, Group) and i.layer == layer)
    board = next(i for i in copy.items if isinstance(i, Group) and i.layer == "board")
    return shapely.union_all(
        [
            Polygon(item.outline, item.holes)
            for item in board.items
            if isinstance(item, Area) and item.style == style
        ]
    )


@pytest.mark.parametrize("name", ["demo", "cellar", "dwelling"])
def test_what_is_kept_is_the_outline_of_the_plan_file(name: str) -> None:
    """The part of the piece in the template's window, mapped back to the piece, to 0.01 mm."""
    made = material(name)
    axes = Frame(made.plan.laying.row_angle_deg, made.plan.laying.laid)
    pieces = {piece.id: piece for piece in made.plan.pieces}
    checked = 0
    for template in templates_of(made.plan, made.cards):
        if template.name.startswith("slant"):
            continue
        wanted = from_corner(axes.to_plan(pieces[template.pieces[0]].outline))
        scenes = compose_template(template, made.unit, "A4")
        if len(scenes) > 1:
            continue  # face and back do not fit on one sheet
        low, high = template.window
        frame = shapely.box(low, 0.0, high, template.outline.bounds[3])
        face = 1.0 if template.near_left else -1.0
        for layer, sign in (("face", face), ("back", -face)):
            kept, waste = (turned(shown(scenes[0], layer, look), sign) for look in LOOKS)
            left, top, right, _ = kept.union(waste).bounds
            assert right - left == pytest.approx(high - low, abs=0.01)
            moved = affinity.translate(kept, low - left, -top)
            apart = moved.symmetric_difference(wanted.intersection(frame)).area
            assert apart <= 0.01 * frame.length, (template.name, layer)
            checked += 1
    assert checked >= 4


def from_corner(outline: shapely.Geometry) -> shapely.Geometry:
    """Along from the near end and across from the wall side."""
    u0, v0, *_ = outline.bounds
    return affinity.translate(outline, -u0, -v0)


def turned(shape: shapely.Geometry, sign: float) -> shapely.Geometry:
    """Mirrored along the board where the sign is negative."""
    return affinity.scale(shape, sign, 1.0, origin=(0.0, 0.0))


def with_hole(width: float = 192.0) -> Template:
    """A piece 600 long with a pipe hole of 70 nearer to its room side."""
    hole = shapely.Point(300.0, 130.0).buffer(35.0)
    outline = shapely.box(0.0, 0.0, 600.0, width).difference(hole)
    window = 240.0, 360.0
    lines = (((265.0, 130.0), (265.0, width)), ((335.0, 130.0), (335.0, width)))
    return Template(
        "3.1.2", ("3.1.2",), outline, window, ("the tongue end", "the cut end"),
        ("the tongue side", "the groove side"), relief=lines,
    )  # fmt: skip


def test_a_hole_has_its_relief_cut() -> None:
    scenes = compose_template(with_hole(), "mm", "A4")
    assert [scene.title for scene in scenes] == [
        "Template 3.1.2", "Template 3.1.2, MIRRORED for the back"
    ]  # fmt: skip
    words = [text.text for text in scenes[0].texts()]
    assert "relief cut" in words
    saw = [
        shape
        for shape in scenes[0].shapes()
        if isinstance(shape, Polyline) and shape.style == "saw"
    ]
    ends = {(round(x - MARGIN_MM + 240.0), round(y - HEAD_MM)) for s in saw for x, y in s.points}
    assert {(265, 130), (265, 192), (335, 130), (335, 192)} <= ends


def test_line_r_lies_at_a_whole_mark_of_the_tape() -> None:
    """The window begins 240 from the near end, 240 + 4 is the first mark 4 inside: 244 mm."""
    (face, back) = compose_template(with_hole(), "mm", "A4")
    for scene, x in ((face, MARGIN_MM + 4.0), (back, MARGIN_MM + 120.0 - 4.0)):
        told = [text.text for text in scene.texts()]
        assert told[told.index("R: 244 mm from") + 1] == "the tongue end"
        level = [
            shape.points[0][0]
            for shape in scene.shapes()
            if isinstance(shape, Polyline) and shape.style == "saw" and len(shape.points) == 2
            and shape.points[0][0] == shape.points[1][0]
        ]  # fmt: skip
        assert any(at == pytest.approx(x) for at in level)


def test_a_wide_board_is_tiled_with_register_marks_at_the_same_places() -> None:
    """A board 400 wide does not fit the 218 mm that an A4 sheet leaves: two tiles, 12 mm shared."""
    template = with_hole(400.0)
    hole = shapely.Point(300.0, 200.0).buffer(80.0)
    wide = replace(template, outline=shapely.box(0, 0, 600, 400).difference(hole), relief=())
    scenes = compose_template(wide, "mm", "A4")
    assert [scene.title for scene in scenes] == [
        "Template 3.1.2, sheet 1 of 2", "Template 3.1.2, sheet 2 of 2",
        "Template 3.1.2, MIRRORED for the back, sheet 1 of 2",
        "Template 3.1.2, MIRRORED for the back, sheet 2 of 2",
    ]  # fmt: skip
    # both sheets show the seam's two marks as far apart
    marks = [
        sorted(shape.center for shape in scene.shapes() if hasattr(shape, "center"))
        for scene in scenes[:2]
    ]
    assert [len(found) for found in marks] == [2, 2]
    assert marks[0][1][0] - marks[0][0][0] == pytest.approx(marks[1][1][0] - marks[1][0][0])


@pytest.mark.parametrize("laid", ["left-to-right", "right-to-left"])
def test_face_up_it_is_turned_and_never_mirrored(laid: Laid) -> None:
    """Found by turning the floor as a rigid thing, without the program's idea of left and right.

    Seen from above with the start wall at the top of the sheet, a piece's outline in the room is
    only turned and moved; the sheet's y runs down, so it is turned up first. The room has one post,
    out of the middle of its board, so that no mirrored notch falls on itself.
    """
    hand: Hand = "left" if laid == "left-to-right" else "right"
    post = FixedThing("post", shapely.box(1300.0, 1010.0, 1360.0, 1080.0))
    job = Job(
        Room(shapely.box(0.0, 0.0, 2600.0, 2200.0), (post,)), Board(1285.0, 192.0, tongue_end=hand),
        wishes=Wishes(laid=laid),
    )  # fmt: skip
    plan = plankwright.plan_job(job)
    assert plan.laying.laid == laid
    pieces = {piece.id: piece for piece in plan.pieces}
    templates = templates_of(plan, cards_of(plan))
    assert templates
    for template in templates:
        scene = compose_template(template, "mm", "A4")[0]
        face = turned_up(shown(scene, "face", "kept"))
        across = plan.laying.row_angle_deg + (-90.0 if laid == "left-to-right" else 90.0)
        # away from the start wall is down the sheet
        real = affinity.rotate(pieces[template.pieces[0]].outline, -90.0 - across, origin=(0, 0))
        low, high = template.window
        window = shapely.box(*real.bounds)
        x0, y0, x1, y1 = window.bounds
        left = x0 + low if template.near_left else x1 - high
        real = real.intersection(shapely.box(left, y0, left + high - low, y1))
        moved = affinity.translate(face, real.bounds[0] - face.bounds[0], y1 - face.bounds[3])
        assert moved.symmetric_difference(real).area < 5.0


def turned_up(shape: shapely.Geometry) -> shapely.Geometry:
    """A shape of the sheet with y upward."""
    return affinity.scale(shape, 1.0, -1.0, origin=(0.0, 0.0))
