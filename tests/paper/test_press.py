"""The press: words set as they stand, our fonts only, the same bytes every time."""

import ctypes
from importlib import resources

import pypdfium2
import pytest

from plankwright.drawing.style import DARK, PAPER
from plankwright.paper.blocks import Break, Heading, Points, Sheet, Steps, Table, Words
from plankwright.paper.press import LOOK, Printed, press

NASTY = [
    "quotes \"a\" and 'b', a/b\\c",
    '#let x = 1; #import "@preview/a" *bold* _it_ $x^2$ `raw` <label> @ref // no',
    "<script>alert(1)</script> & <b>",
    "[] {} = - + ~ \\u{41}",
]


def text_of(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_range() for page in document)


def printed(*blocks: object, job: str = "Den") -> Printed:
    return press(Sheet("test", "Test", tuple(blocks)), "A4", job)  # type: ignore[arg-type]


@pytest.mark.parametrize("words", NASTY)
def test_words_are_set_as_they_stand_and_never_read_as_markup(words: str) -> None:
    pdf = printed(
        Heading(words), Words(words), Points((words,)), Steps((words,)),
        Table((words,), ((words,),), (1.0,)), job=words[:60],
    ).pdf  # fmt: skip
    told = "".join(text_of(pdf).split())
    assert told.count("".join(words.split())) == 6 + (len(words) <= 60)


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert printed(Words("a"), Break(), Words("b")) == printed(Words("a"), Break(), Words("b"))


def test_a_character_the_font_lacks_is_told_and_a_box_stands_for_it() -> None:
    made = printed(Words("שלום 😀 Ω"), job="a😀")
    assert made.lacking == "😀שלום"
    assert "□□□□ □ Ω" in text_of(made.pdf)
    assert "a□" in text_of(made.pdf)


def test_a_long_name_is_cut_to_one_line() -> None:
    assert "w" * 69 + "…" in text_of(printed(Words("a"), job="w" * 300).pdf)


def test_only_the_fonts_of_the_package_are_embedded() -> None:
    names = fonts_of(printed(Heading("a"), Words("b שלום 😀")).pdf)
    assert {name.partition("+")[2] or name for name in names} == {"Inter-Bold", "Inter-Regular"}


def fonts_of(pdf: bytes) -> set[str]:
    raw, found = pypdfium2.raw, set()
    with pypdfium2.PdfDocument(pdf) as document:
        for page in document:
            for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]):
                font = raw.FPDFTextObj_GetFont(item)
                name = ctypes.create_string_buffer(200)
                raw.FPDFFont_GetBaseFontName(font, name, 200)
                found.add(name.value.decode())
    return found


def test_sizes_are_those_of_the_style_sheet() -> None:
    """Paper 10 pt and up, cards 14 pt, cut lengths 24 pt."""
    assert (LOOK["body"], LOOK["card"], LOOK["length"]) == (10.0, 14.0, 24.0)


def test_the_article_has_the_colors_of_the_style_sheet() -> None:
    css = resources.files("plankwright").joinpath("data", "how_to.css").read_text("utf-8").lower()
    light, dark = css.split("@media (prefers-color-scheme: dark)")
    for palette, rules in ((PAPER, light), (DARK, dark)):
        for color in ("paper", "ink", "pencil", "chalk", "crayon"):
            assert f"--{color}: {palette[color].lower()};" in rules
