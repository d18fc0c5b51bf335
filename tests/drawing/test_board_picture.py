"""The board at the saw: which part is left and right, from tongue and groove, however it lies."""

import itertools
import json
from dataclasses import replace

import pytest
import shapely
from tests.data import data_file
from tests.drawing.look import faults, room_of
from tests.drawing.sample_plans import BOARD, small_plan

from plankwright.application.plan_room import Effort, plan_room
from plankwright.drawing.board_picture import SawView, compose_board
from plankwright.drawing.lettering import overlapping_texts
from plankwright.drawing.scene import Area, Dimension, Group, Polyline, Scene, Text
from plankwright.drawing.style import LENGTH_MM
from plankwright.files.geojson import read_rooms
from plankwright.model.board import Board, Hand, Laid
from plankwright.model.rules import Rules
from plankwright.plan.saw_cuts import SawCut, saw_cuts

LAIDS: tuple[Laid, ...] = ("left-to-right", "right-to-left")
HANDS: tuple[Hand, ...] = ("left", "right")
VIEWS = [SawView(up, away) for up in (True, False) for away in (True, False)]


def cut_of(piece: str, board: Board = BOARD, laid: Laid = "right-to-left") -> SawCut:
    plan = replace(small_plan(), board=board)
    plan = replace(plan, laying=replace(plan.laying, laid=laid))
    return next(cut for cut in saw_cuts(plan) if cut.piece.id == piece)


def layer(scene: Scene, name: str) -> tuple[object, ...]:
    return next(
        item.items for item in scene.items if isinstance(item, Group) and item.layer == name
    )


def kept_on_left(scene: Scene) -> bool:
    kept, waste = layer(scene, "kept")[0], layer(scene, "waste")[0]
    assert isinstance(kept, Area)
    assert isinstance(waste, Area)
    return min(x for x, _ in kept.outline) == min(x for x, _ in waste.outline)


def end_words(scene: Scene) -> tuple[str, str]:
    found = [item for item in layer(scene, "locks") if isinstance(item, Text)]
    left, right = sorted(found, key=lambda text: text.at[0])
    return left.text, right.text


def test_face_up_with_the_start_side_away_is_as_on_the_floor() -> None:
    # laid right to left the near end is on the right; the starter keeps the far end: the left
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.1"), "mm")
    assert kept_on_left(scene)
    assert end_words(scene) == ("tongue end", "groove end")  # tongue left, start side away


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize(("laid", "hand"), list(itertools.product(LAIDS, HANDS)))
def test_the_kept_end_is_the_named_one_however_it_lies(
    view: SawView, laid: Laid, hand: Hand
) -> None:
    board = replace(BOARD, tongue_end=hand)
    for name in ("1.1.1", "1.1.3"):
        cut = cut_of(name, board, laid)
        scene = compose_board(board, laid, cut, "mm", view)
        left, right = end_words(scene)
        named = left if kept_on_left(scene) else right
        assert named == f"{cut.end_profile} end"


@pytest.mark.parametrize("view", VIEWS)
def test_a_board_is_never_mirrored_by_the_picture(view: SawView) -> None:
    """The board as a rigid thing, laid at the saw by hand.

    Face up, tongue side away, its tongue end on the left: going round it clockwise as seen from
    above its face the order is tongue end, tongue side, groove end, groove side. Seen from below
    it is the other way round.
    """
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.1"), "mm", view)
    left, right = end_words(scene)
    texts = [item.text for item in layer(scene, "words") if isinstance(item, Text)]
    top = next(text for text in texts if "away" in text).split()[0]
    clockwise = [left.split()[0] + "-end", top + "-side"]
    seen_from_above = clockwise in (["tongue-end", "tongue-side"], ["groove-end", "groove-side"])
    assert seen_from_above == view.face_up
    assert {left, right} == {"tongue end", "groove end"}
    assert ("face up" if view.face_up else "face down") in texts


def test_waste_is_crossed_and_the_kept_part_clear() -> None:
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.3"), "mm")
    crosses = [item for item in layer(scene, "waste") if isinstance(item, Polyline)]
    assert len(crosses) == 2
    kept = layer(scene, "kept")[0]
    assert isinstance(kept, Area)
    edge = max(x for x, _ in kept.outline), min(x for x, _ in kept.outline)
    for cross in crosses:
        assert all(x >= edge[0] or x <= edge[1] for x, _ in cross.points)


def test_an_offcut_to_keep_bears_its_letter() -> None:
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.1"), "mm")
    assert "shelf: A" in [item.text for item in layer(scene, "waste") if isinstance(item, Text)]


def test_an_end_that_is_cut_already_says_so() -> None:
    scene = compose_board(BOARD, "right-to-left", cut_of("2.1.3"), "mm")
    assert "cut end" in end_words(scene)


def test_the_length_is_set_large() -> None:
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.1"), "mm")
    (length,) = [item for item in layer(scene, "figures") if isinstance(item, Dimension)]
    assert length.text == "400 mm"
    assert length.size_mm == LENGTH_MM  # 24 points, read from standing height


def test_a_rip_shows_its_width() -> None:
    scene = compose_board(BOARD, "right-to-left", cut_of("3.1.2"), "mm")
    (width,) = [item for item in layer(scene, "figures") if isinstance(item, Dimension)]
    assert width.text == "150 mm"


def test_a_reversible_board_has_no_tongue() -> None:
    board = Board(1000.0, 200.0, reversible=True)
    scene = compose_board(board, "right-to-left", cut_of("1.1.1", board), "mm")
    assert not [item for item in layer(scene, "locks") if isinstance(item, Area)]
    assert not any("tongue" in text.text for text in scene.texts())
    assert "start wall's side away from you" in [text.text for text in scene.texts()]


def test_described_in_words() -> None:
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.1"), "mm", SawView(face_up=False))
    assert scene.description == (
        "The board lies face down, tongue side away from you. Keep 400 mm on the right, with the "
        "tongue end; the left part is crossed out."
    )


def test_pictures_of_a_real_room_are_without_fault() -> None:
    rooms = list(read_rooms(json.loads(data_file("rooms_agpl.geojson").read_text()), "rooms"))
    angled = max(rooms[:200], key=lambda room: len(room.outline.exterior.coords))
    board = Board(1285.0, 192.0)
    plan = plan_room(angled, board, Rules(), effort=Effort(moves=100))
    for cut, view in zip(saw_cuts(plan), itertools.cycle(VIEWS), strict=False):
        assert faults(compose_board(board, plan.laying.laid, cut, "in", view)) == [], cut.piece.id


def test_the_small_pictures_of_a_real_room_keep_words_apart() -> None:
    """They stand among the words of a card: no margin of their own, everything inside."""
    rooms = list(read_rooms(json.loads(data_file("rooms_agpl.geojson").read_text()), "rooms"))
    angled = max(rooms[:200], key=lambda room: len(room.outline.exterior.coords))
    board = Board(1285.0, 192.0)
    plan = plan_room(angled, board, Rules(), effort=Effort(moves=100))
    seen = set()
    for cut, view in zip(saw_cuts(plan), itertools.cycle(VIEWS), strict=False):
        scene = compose_board(board, plan.laying.laid, cut, "mm", view, small=True)
        sheet = shapely.box(0.0, 0.0, scene.width_mm, scene.height_mm)
        assert not list(overlapping_texts(scene.texts())), cut.piece.id
        assert all(sheet.covers(room_of(shape)) for shape in scene.shapes()), cut.piece.id
        assert scene.height_mm <= 66.0
        seen.add(scene.height_mm)
    assert len(seen) > 1  # as high as its figures need


def test_a_notch_is_drawn_and_what_is_sawn_out_is_crossed() -> None:
    ring = ((0.0, 0.0), (400.0, 0.0), (400.0, 120.0), (300.0, 120.0), (300.0, 200.0), (0.0, 200.0))
    scene = compose_board(BOARD, "right-to-left", cut_of("1.1.1"), "mm", shape=(ring,))
    kept = layer(scene, "kept")
    (area,) = (item for item in kept if isinstance(item, Area))
    assert len(area.outline) == 6
    assert len([item for item in kept if isinstance(item, Polyline)]) == 2
