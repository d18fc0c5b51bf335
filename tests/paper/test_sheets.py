"""Every sheet of three jobs in both sizes: nothing off the page, the right size, names as told."""

from dataclasses import replace

import pypdfium2
import pytest
from tests.drawing.look import faults
from tests.paper.jobs import DEMO, bought, material

from plankwright.drawing.sheet import PAPERS, Paper
from plankwright.errors import InputError
from plankwright.paper.all_sheets import SHEETS, print_sheets
from plankwright.paper.blocks import Drawing
from plankwright.paper.material import Material
from plankwright.paper.press import press

BLANK_PT = 14.0  # 5 mm: what a printer leaves blank at the edge
WITHOUT = {
    "demo": {"laying-order"},
    "cellar": {"laying-order"},
    "dwelling": {"slab", "heights"},
}


def pages(name: str, paper: Paper) -> dict[str, bytes]:
    return {sheet.name: sheet.pdf for sheet in print_sheets(material(name, paper))}


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["demo", "cellar"])
def test_every_page_is_of_its_size_and_keeps_its_words_inside(name: str, paper: Paper) -> None:
    made = pages(name, paper)
    assert set(made) == set(SHEETS) - WITHOUT[name]
    short, long = (side * 72.0 / 25.4 for side in PAPERS[paper])
    for sheet, pdf in made.items():
        with pypdfium2.PdfDocument(pdf) as document:
            for number, page in enumerate(document, 1):
                wide, high = page.get_size()
                where = f"{sheet}, page {number}"
                assert sorted((wide, high)) == pytest.approx([short, long], abs=0.1), where
                text = page.get_textpage()
                boxes = [text.get_charbox(i) for i in range(text.count_chars())]
                seen = [box for box in boxes if box[2] > box[0]]
                assert seen, where
                assert min(box[0] for box in seen) >= BLANK_PT, where
                assert min(box[1] for box in seen) >= BLANK_PT, where
                assert max(box[2] for box in seen) <= wide - BLANK_PT, where
                assert max(box[3] for box in seen) <= high - BLANK_PT, where


@pytest.mark.parametrize(
    ("name", "paper"),
    [
        ("demo", "A4"), ("demo", "Letter"), ("cellar", "A4"), ("cellar", "Letter"),
        ("dwelling", "Letter"),
    ],
)  # fmt: skip
def test_no_drawing_has_a_fault(name: str, paper: Paper) -> None:
    """Words on words, shapes off the sheet, unknown looks, print under 10 points.

    The numbers of the key lie over the small plan on purpose; its parts are looked at here.
    """
    for sheet_name, maker in SHEETS.items():
        sheet = maker(material(name, paper))
        for block in sheet.blocks if sheet else ():
            if isinstance(block, Drawing) and "key to" not in block.scene.title:
                assert faults(block.scene) == [], (sheet_name, block.scene.title)


def test_a_large_plan_comes_in_parts_with_a_key() -> None:
    sheet = SHEETS["floor-plan"](material("dwelling"))
    assert sheet is not None
    scenes = [block.scene for block in sheet.blocks if isinstance(block, Drawing)]
    assert "key to" in scenes[0].title
    rows = {piece.row for piece in material("dwelling").plan.pieces}
    told = {text.text for scene in scenes[1:] for text in scene.texts()}
    assert {str(row) for row in (min(rows), max(rows))} <= told
    assert scenes[1].scale is not None
    assert scenes[0].scale is not None
    assert scenes[1].scale < scenes[0].scale


def test_a_small_plan_is_one_sheet() -> None:
    sheet = SHEETS["floor-plan"](material("demo"))
    assert sheet is not None
    assert len(sheet.blocks) == 1


def test_gray_print_still_tells_kept_from_cut() -> None:
    """What is sawn away bears an X: lines, not a color. Without any color they are still there."""
    made = material("demo")
    sheet = SHEETS["templates"](made)
    assert sheet is not None
    with pypdfium2.PdfDocument(press(replace(sheet, blocks=sheet.blocks[:1]), "A4", "x").pdf) as d:
        image = d[0].render(scale=4, grayscale=True).to_numpy()
    rows = image[int(0.16 * len(image)) : int(0.3 * len(image))]
    assert rows.min() < 60  # the X and the saw line in ink
    assert rows.max() > 250  # on paper


def test_each_sheet_can_be_printed_alone() -> None:
    (only,) = print_sheets(material("demo"), ["rip-table"])
    assert only.name == "rip-table"


@pytest.mark.parametrize(
    ("names", "words"), [(["plan"], "there is no such sheet"), (["slab"], "nothing for this sheet")]
)
def test_a_sheet_that_cannot_be_printed_is_told(names: list[str], words: str) -> None:
    job = replace(bought(DEMO), slab=None)
    with pytest.raises(InputError, match=words):
        list(print_sheets(Material(job, "A4"), names))


@pytest.mark.parametrize(
    "name",
    ["a/b\\c: \"d\" 'e' <b>&amp;</b> #let *x* $y$", "w" * 300, "חדר עבודה", "Den 😀", "\n tab\t x"],
)
def test_a_strange_name_comes_out_as_it_is_or_as_boxes(name: str) -> None:
    job = bought(DEMO)
    named = replace(job, plan=replace(job.plan, name=name))
    for sheet in print_sheets(Material(named, "Letter"), ["floor-plan", "cards", "trim"]):
        with pypdfium2.PdfDocument(sheet.pdf) as document:
            text = document[0].get_textpage().get_text_range()
        wanted = "".join("□" if c in sheet.lacking else c for c in " ".join(name.split()))[:12]
        assert wanted in text, sheet.name
        assert bool(sheet.lacking) == (not name.isascii())
