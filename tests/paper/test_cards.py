"""The cards are complete: whoever has only their text lays the plan."""

from collections import defaultdict

import pytest
import shapely
from tests.paper.card_reader import Laid, lay_by_cards, text_of_cards
from tests.paper.jobs import JOBS, material

from plankwright.application.buy_job import BuyJob
from plankwright.application.plan_room import Effort, plan_room
from plankwright.files.buy_file import usual_buying
from plankwright.geometry.frame import Frame
from plankwright.model.board import Board
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import FixedThing, Room
from plankwright.model.wishes import Wishes
from plankwright.paper.blocks import LayingCard, Words
from plankwright.paper.cards import cards_sheet
from plankwright.paper.material import Material
from plankwright.paper.press import press
from plankwright.testing.zoo import rectangle
from plankwright.units import TAPE_MARK_MM


def laid_from_paper(name: str) -> tuple[Plan, list[Laid]]:
    made = material(name)
    pdf = press(cards_sheet(made), "A4", made.plan.name).pdf
    return made.plan, lay_by_cards(text_of_cards(pdf))


def on_axes(plan: Plan) -> dict[str, shapely.Polygon]:
    """Outlines along from where rows begin and across from row 1's wall side."""
    axes = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    outlines = {piece.id: axes.to_plan(piece.outline) for piece in plan.pieces}
    least = min(outline.bounds[0] for outline in outlines.values())
    shift = (-least, -plan.laying.start_line_mm)
    return {
        name: shapely.transform(shape, lambda uv: uv + shift) for name, shape in outlines.items()
    }


@pytest.mark.parametrize("name", JOBS)
def test_a_reader_of_the_cards_lays_the_plan(name: str) -> None:
    """Cover: every piece lies where the plan has it, to the tape's marks it passed on the way.

    A length is rounded down by less than a mark, a row's beginning by half of one, so the n-th
    piece of a stretch is at most n marks short of its place; a mark more for its own shape.
    """
    plan, laid = laid_from_paper(name)
    planned = on_axes(plan)
    mark = float(TAPE_MARK_MM[material(name).unit])
    assert {piece.id for piece in laid} == set(planned)
    for piece in laid:
        seat = int("".join(c for c in piece.id.split(".")[2] if c.isdigit()))
        apart = shapely.hausdorff_distance(piece.outline, planned[piece.id])
        assert apart <= (seat + 2.0) * mark, piece.id
    covered = shapely.union_all([piece.outline for piece in laid]).area
    assert abs(covered / plan.floor.area - 1.0) < 0.004


@pytest.mark.parametrize("name", JOBS)
def test_a_reader_of_the_cards_gets_every_end_and_letter_right(name: str) -> None:
    plan, laid = laid_from_paper(name)
    pieces: dict[str, Piece] = {piece.id: piece for piece in plan.pieces}
    boards: dict[int, set[str]] = defaultdict(set)
    for piece in laid:
        wanted = pieces[piece.id]
        ends = "factory" if piece.near_factory else "cut", "factory" if piece.far_factory else "cut"
        assert ends == (wanted.near_end, wanted.far_end), piece.id
        assert piece.taken == (wanted.label or ""), piece.id
        boards[piece.board].add(piece.id)
    planned: dict[int, set[str]] = defaultdict(set)
    for wanted in plan.pieces:
        planned[wanted.board].add(wanted.id)
    assert sorted(map(sorted, boards.values())) == sorted(map(sorted, planned.values()))
    assert len(boards) == plan.boards.used


def begun_within(begin_row: int | None) -> str:
    """What stands above the cards of a room whose lock takes a spline."""
    board = Board(1285.0, 192.0, start_side="groove", spline=True)
    plan = plan_room(
        rectangle(), board, wishes=Wishes(begin_row=begin_row), effort=Effort(moves=0, prove=False)
    )
    sheet = cards_sheet(Material(BuyJob(plan, usual_buying("mm"), "mm"), "A4"))
    return " ".join(block.text for block in sheet.blocks if isinstance(block, Words))


def test_a_turned_row_beside_a_stair_says_where_it_ends() -> None:
    """A stair 1000 mm long and a gap of 8 at the near end: rows there are 1000 mm shorter.

    Those laid as usual begin that far in; those turned begin at the other end and end that far in.
    """
    room = Room(
        shapely.box(0, 0, 4000, 3000),
        fixed=(FixedThing("stair", shapely.box(3000, 0, 4000, 1200), name="stair"),),
    )
    board = Board(1285.0, 192.0, start_side="groove", spline=True)
    wishes = Wishes(start_wall="D-A", begin_row=3)
    plan = plan_room(room, board, wishes=wishes, effort=Effort(moves=0, prove=False))
    sheet = cards_sheet(Material(BuyJob(plan, usual_buying("mm"), "mm"), "A4"))
    told = {
        card.title: card.lines[1]
        for card in sheet.blocks
        if isinstance(card, LayingCard) and len(card.lines) > 1
    }
    assert told["Row 3"] == "Begins 1000 mm in from where the longest rows begin"
    assert told["Row 2"] == "Ends 1000 mm in from where the longest rows begin"


def test_cards_say_first_where_laying_begins_and_when_the_spline_goes_in() -> None:
    told = begun_within(5)
    assert "the groove side of every board but the turned ones toward that wall" in told
    assert "Begin with row 5, along a line snapped for it, not with row 1." in told
    assert (
        "Last come rows 4 to 1, turned end for end, after the spline is set in the groove of row 5."
    ) in told
    assert "Begin with" not in begun_within(None)
