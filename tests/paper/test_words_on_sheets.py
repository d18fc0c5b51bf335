"""What single sheets say: cut list, rip table, labels, cautions, heights, own words as HTML."""

from dataclasses import replace
from datetime import date

import pytest
from tests.drawing.sample_plans import small_plan
from tests.paper.jobs import material

from plankwright.application.buy_job import BuyJob
from plankwright.application.cautions import cautions_of
from plankwright.files.buy_file import usual_buying
from plankwright.model.house import House
from plankwright.model.toolbox import Toolbox
from plankwright.paper.blocks import Cell, Heading, Labels, Sheet, Table, Words
from plankwright.paper.cautions import cautions_sheet
from plankwright.paper.cut_list import cut_list_sheet
from plankwright.paper.heights import heights_sheet
from plankwright.paper.material import Material, saw_for
from plankwright.paper.offcut_labels import labels_sheet
from plankwright.paper.own_words_html import own_words_html
from plankwright.paper.rip_table import rip_table_sheet
from plankwright.plan.saw_cuts import saw_cuts


def small() -> Material:
    return Material(BuyJob(small_plan(), usual_buying("mm"), "mm"), "A4")


def tables(sheet: Sheet) -> list[Table]:
    return [block for block in sheet.blocks if isinstance(block, Table)]


def cells(row: tuple[str | Cell, ...]) -> list[str]:
    return [cell.text if isinstance(cell, Cell) else cell for cell in row]


def test_the_cut_list_is_in_saw_order_by_walks() -> None:
    """The sample plan: 1.1.1 keeps its far end and leaves A (597 mm), which 2.1.3 takes."""
    sheet = cut_list_sheet(small())
    (table,) = tables(sheet)
    rows = [cells(row) for row in table.rows]
    numbers = [row[1] for row in rows if row[1]]
    assert numbers == sorted(numbers, key=int)
    by_piece = {row[2]: row for row in rows}
    assert by_piece["1.1.1"][3:5] == ["a new board", "400 mm"]
    assert "Put on the shelf as A: 597 mm" in by_piece["1.1.1"][6]
    assert by_piece["2.1.3"][3] == "offcut A (597 mm long)"
    headings = [block.text for block in sheet.blocks if isinstance(block, Heading)]
    assert headings[0].startswith("Walk 1: ")


def test_a_label_for_every_offcut_that_is_used() -> None:
    sheet = labels_sheet(small())
    assert sheet is not None
    (labels,) = [block for block in sheet.blocks if isinstance(block, Labels)]
    assert [(label.letter, *label.lines) for label in labels.items] == [
        ("A", "597 mm", "left of piece 1.1.1", "for piece 2.1.3")
    ]
    without = replace(
        small_plan(), pieces=tuple(replace(p, label=None) for p in small_plan().pieces)
    )
    assert labels_sheet(Material(BuyJob(without, usual_buying("mm"), "mm"), "A4")) is None


def test_the_rip_table_has_the_width_at_both_ends() -> None:
    """Row 3 of the sample plan is 150 wide all along; its wall side, the tongue, stays."""
    sheet = rip_table_sheet(small())
    assert sheet is not None
    (table,) = tables(sheet)
    rows = [cells(row) for row in table.rows]
    assert [row[1:4] for row in rows] == [
        ["3.1.1", "0 mm", "tongue side"],
        ["3.1.2", "600 mm", "tongue side"],
        ["3.1.3", "1600 mm", "tongue side"],
    ]
    assert {(row[4], row[6]) for row in rows} == {("150 mm", "150 mm")}
    plain = replace(small_plan(), pieces=small_plan().pieces[:6])
    assert rip_table_sheet(Material(BuyJob(plain, usual_buying("mm"), "mm"), "A4")) is None


def test_gates_stand_first_and_open_when_cleared() -> None:
    house = House(year=1934)
    shut = [caution for caution in cautions_of(house, ()) if caution.stop]
    assert [gate.title for gate in shut] == ["Asbestos", "Lead paint", "Lines in the slab"]
    clear = replace(
        house, asbestos_free_on=date(2026, 1, 2), lead_free_on=date(2026, 1, 2), in_slab="no"
    )
    assert not [caution for caution in cautions_of(clear, ()) if caution.stop]
    sheet = cautions_sheet(small())  # nothing is known of the house: all are shut
    stops = [block for block in sheet.blocks if isinstance(block, Words) and block.look == "stop"]
    assert len(stops) == 3


def test_rips_and_notches_have_cautions_of_their_own() -> None:
    cuts = saw_cuts(small_plan())
    told = next(c for c in cautions_of(None, cuts) if c.title == "At the saw").lines
    assert any("push stick" in line for line in told)
    assert not any("jigsaw" in line for line in told)
    notched = (replace(cuts[0], shaped=True),)
    told = next(c for c in cautions_of(None, notched) if c.title == "At the saw").lines
    assert any("jigsaw" in line for line in told)


@pytest.mark.parametrize(
    ("piece", "shaped", "owned", "saw"),
    [
        ("1.1.1", False, (), "miter saw"),
        ("1.1.1", False, ("circular saw",), "circular saw"),
        ("3.1.2", False, (), "table saw"),
        ("3.1.2", False, ("jigsaw", "circular saw"), "circular saw"),
        ("1.1.1", True, ("miter saw",), "jigsaw"),
    ],
)
def test_the_saw_that_this_person_would_take(
    piece: str, shaped: bool, owned: tuple[str, ...], saw: str
) -> None:
    cut = next(cut for cut in saw_cuts(small_plan()) if cut.piece.id == piece)
    assert saw_for(replace(cut, shaped=shaped), Toolbox(owned)) == saw


def test_heights_need_layers_and_give_room_to_write() -> None:
    assert heights_sheet(small()) is None
    sheet = heights_sheet(material("cellar"))
    assert sheet is not None
    (table,) = tables(sheet)
    assert [row[0] for row in table.rows] == ["door to the stairs", "hatch to the coal room"]


@pytest.mark.parametrize(
    ("words", "html"),
    [
        ("a *b* **c**\nd", "<p>a <em>b</em> <strong>c</strong> d</p>"),
        ("- one\n- two", "<ul><li>one</li><li>two</li></ul>"),
        ("a\n\nb", "<p>a</p>\n<p>b</p>"),
        ("[x](https://a.b/c?d=1&e)", '<p><a href="https://a.b/c?d=1&amp;e">x</a></p>'),
        ("[x](javascript:alert(1))", "<p>[x](javascript:alert(1))</p>"),
        ("<b onclick='x'>&", "<p>&lt;b onclick=&#x27;x&#x27;&gt;&amp;</p>"),
        ('![a "b"](p.png)', '<p><img src="data:p.png" alt="a &quot;b&quot;"></p>'),
        ("![a](q.png)", "<p><em>(no such picture: q.png)</em></p>"),
        ("5 * 3 * 2 and snake_case_name", "<p>5 * 3 * 2 and snake_case_name</p>"),
    ],
)
def test_own_words_as_html(words: str, html: str) -> None:
    def embed(path: str) -> str | None:
        return f"data:{path}" if path == "p.png" else None

    assert own_words_html(words, embed) == html
