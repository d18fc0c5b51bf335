"""The cut list of a small plan, line by line, and what real plans must keep."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import Polygon
from tests.drawing.sample_plans import BOARD, small_plan

from plankwright.files.cut_list import COLUMNS, cut_list_csv, write_cut_list
from plankwright.model.board import Board
from plankwright.model.plan import Plan, StockBoard


def lines(plan: Plan) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(cut_list_csv(plan), newline="")))


def test_saw_order_and_columns() -> None:
    found = lines(small_plan())
    assert list(found[0]) == list(COLUMNS)
    assert [line["cut"] for line in found] == ["1", "2", "3", "4", "5", "6"]
    assert [line["piece"] for line in found] == [
        "1.1.1",
        "1.1.3",
        "2.1.3",
        "3.1.1",
        "3.1.2",
        "3.1.3",
    ]


def test_a_starter_keeps_the_far_end_and_its_offcut_is_lettered() -> None:
    # right to left with the tongue end on the left: the near end (right) is the groove end,
    # the far end the tongue end. 1000 - 400 - 3 of kerf leaves 597.
    first = lines(small_plan())[0]
    assert first["take"] == "new board"
    assert first["length"] == "400 mm"
    assert first["width"] == ""
    assert first["keep"] == "keep the tongue end"
    assert first["offcut"] == "597 mm"
    assert first["offcut label"] == "A"
    assert first["what to do with it"] == "put on the shelf as A"


def test_an_end_piece_from_that_offcut_keeps_the_near_end() -> None:
    third = lines(small_plan())[2]
    assert third["take"] == "offcut A"
    assert third["board"] == "1"
    assert third["keep"] == "keep the groove end"
    assert third["offcut"] == "294 mm"  # 597 - 300 - 3
    assert third["what to do with it"] == "spare: keep it until the floor is done"


def test_waste_is_called_waste() -> None:
    second = lines(small_plan())[1]
    assert second["offcut"] == "97 mm"  # 1000 - 900 - 3, shorter than the shortest piece
    assert second["what to do with it"] == "waste"


def test_ripped_pieces_say_width_and_side() -> None:
    # the start wall has the tongue side; row 3 keeps it and loses the groove side
    starter, whole = lines(small_plan())[3:5]
    assert starter["keep"] == "keep the tongue end; keep the tongue side"
    assert starter["width"] == "150 mm"
    assert starter["offcut"] == "397 mm; 600 mm x 47 mm"
    assert whole["keep"] == "keep the tongue side"
    assert whole["offcut"] == "1000 mm x 47 mm"


@pytest.mark.parametrize(
    ("board", "kept"),
    [
        (BOARD, "keep the tongue end"),
        (replace(BOARD, tongue_end="right"), "keep the groove end"),  # a mirrored product
        (Board(1000.0, 200.0, reversible=True), "keep either end"),
    ],
)
def test_which_end_follows_from_the_profile(board: Board, kept: str) -> None:
    assert lines(replace(small_plan(), board=board))[0]["keep"] == kept


def test_the_other_laying_direction_keeps_the_other_end() -> None:
    plan = small_plan()
    turned = replace(plan, laying=replace(plan.laying, laid="left-to-right"))
    assert lines(turned)[0]["keep"] == "keep the groove end"


def test_inches_round_down() -> None:
    # 400 mm is 15.748 in: 15 11/16 in and not 15 3/4
    first = lines(replace(small_plan(), unit="in"))[0]
    assert first["length"] == '15 11/16"'


def test_a_file_of_the_same_bytes(tmp_path: Path) -> None:
    path = tmp_path / "cuts.csv"
    write_cut_list(small_plan(), path)
    assert path.read_bytes().decode() == cut_list_csv(small_plan())
    assert path.read_bytes().count(b"\r\n") == 7


def test_angled_and_tapered_pieces_name_what_is_still_there() -> None:
    # row 3's starter: its far end leans by 20, its ripped room side tapers from 150 to 140
    plan = small_plan()
    leaning = replace(
        plan.pieces[6], outline=Polygon([(10, 410), (610, 410), (610, 550), (30, 560)])
    )
    pieces = tuple(leaning if p.id == leaning.id else p for p in plan.pieces)
    line = lines(replace(plan, pieces=pieces))[3]
    assert line["shape"] == (
        "angled: 600 mm along the tongue side, 580 mm along the ripped side; "
        "tapered: 150 mm at the cut end, 140 mm at the tongue end"
    )


def test_a_notched_piece_is_marked_from_the_drawing() -> None:
    plan = small_plan()
    corners = [(10, 10), (410, 10), (410, 210), (110, 210), (110, 160), (10, 160)]
    notched = replace(plan.pieces[0], outline=Polygon(corners))
    line = lines(replace(plan, pieces=(notched, *plan.pieces[1:])))[0]
    assert line["shape"] == "notched or angled: mark it from the drawing"


def test_a_shelf_board_is_called_by_its_letter() -> None:
    plan = small_plan()
    shelf = StockBoard(3, 950.0, "both", label="Q")
    assert lines(replace(plan, stock=(shelf,)))[1]["take"] == "from the shelf: Q"
