"""What the simulator can lay, the program allows; what it cannot, the program refuses.

The words and the picture of every cut name the end that the simulator kept.
"""

import re
from dataclasses import replace
from functools import cache
from itertools import product as every

import pytest
from tests.drawing.test_board_picture import layer
from tests.locks.simulator import (
    CLOSED_BY,
    MOVES,
    at_the_saw,
    comes_together,
    holds,
    lay_all,
    put_down,
)

from plankwright.application.plan_room import Effort, plan_room
from plankwright.drawing.board_picture import SawView, compose_board, describe_board
from plankwright.drawing.scene import Area, Scene
from plankwright.errors import InputError
from plankwright.model.board import Board, EndLock, Hand, Laid, Profile
from plankwright.model.plan import Plan
from plankwright.model.rules import Rules
from plankwright.model.wishes import Wishes
from plankwright.plan.saw_cuts import saw_cuts
from plankwright.testing.strategies import END_LOCKS, HANDS, LAIDS, PROFILES
from plankwright.testing.zoo import with_post

VIEWS = [SawView(up, away) for up in (True, False) for away in (True, False)]
SETTINGS = list(every(PROFILES, HANDS, END_LOCKS, (False, True)))


@cache
def planned(board: Board, laid: Laid | None) -> Plan:
    effort = Effort(moves=60, prove=False)
    return plan_room(with_post(), board, Rules(), Wishes(laid=laid), effort=effort)


# --- profiles --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lock", "laid", "new", "works"),
    [
        # a tongue end comes down on a lip that lies there
        ("drop", "groove", "tongue", True),
        # a lip that comes down stops on the tongue that lies there
        ("drop", "tongue", "groove", False),
        # folding is the same seen from either board; whether a lip may be pushed under a laid
        # tongue by lifting it is the leaflet's word
        ("angle", "groove", "tongue", True),
        ("angle", "tongue", "groove", True),
        ("tap", "groove", "tongue", True),
        ("tap", "tongue", "groove", True),
        ("loose", "groove", "tongue", True),
        ("loose", "tongue", "groove", True),
    ],
)
def test_what_comes_down_on_what(lock: EndLock, laid: Profile, new: Profile, works: bool) -> None:
    assert comes_together(lock, laid, new, CLOSED_BY[lock]) == works


def test_like_profiles_never_close() -> None:
    for lock in ("drop", "angle"):  # two lips in each other's way
        assert not any(comes_together(lock, "groove", "groove", move) for move in MOVES)
    for lock in ("angle", "tap"):  # two tongues tip to tip
        assert not any(comes_together(lock, "tongue", "tongue", move) for move in MOVES)


def test_a_lock_closes_only_by_its_own_movement() -> None:
    # a drop lock cannot be tapped together: its hook meets the ridge
    assert not comes_together("drop", "groove", "tongue", "slide")
    # a tapped tongue and a folded one cannot be dropped in: the face is in their way
    assert not comes_together("tap", "groove", "tongue", "drop")
    assert not comes_together("angle", "groove", "tongue", "drop")


def test_only_a_hook_holds() -> None:
    assert holds("drop", "groove", "tongue")
    assert not holds("tap", "groove", "tongue")
    assert not holds("loose", "groove", "tongue")


# --- whole floors ----------------------------------------------------------------------------


@pytest.mark.parametrize(("side", "hand", "lock", "leaflet"), SETTINGS)
@pytest.mark.parametrize("laid", LAIDS)
def test_the_simulator_and_the_program_agree(
    side: Profile, hand: Hand, lock: EndLock, leaflet: bool, laid: Laid
) -> None:
    board = Board(1285.0, 192.0, start_side=side, tongue_end=hand, end_lock=lock,
                  either_way=leaflet)  # fmt: skip
    # pieces as a board that fits both ways gives them, then with the board's own profiles
    anyhow = replace(planned(replace(board, end_lock="tap"), laid), board=board)
    floor = lay_all(anyhow, leaflet_allows_lip_under=leaflet)
    assert len(floor.joints) > 20
    if floor.troubles:
        with pytest.raises(InputError, match="under a laid tongue"):
            planned(board, laid)
    else:
        plan = planned(board, laid)
        assert plan.laying.laid == laid
        assert lay_all(plan, leaflet_allows_lip_under=leaflet).troubles == []


@pytest.mark.parametrize(("side", "hand", "lock", "leaflet"), SETTINGS)
def test_left_to_itself_the_program_chooses_what_works(
    side: Profile, hand: Hand, lock: EndLock, leaflet: bool
) -> None:
    board = Board(1285.0, 192.0, start_side=side, tongue_end=hand, end_lock=lock,
                  either_way=leaflet)  # fmt: skip
    floor = lay_all(planned(board, None))
    assert floor.troubles == []
    # at every end joint a tongue comes to a groove that lies there
    assert {(there, here) for _, _, there, here in floor.joints} == {("groove", "tongue")}


def test_every_other_order_is_trouble() -> None:
    """The simulator is no rubber stamp: far to near, or a starter turned round, cannot be laid."""
    board = Board(1285.0, 192.0)
    plan = planned(board, None)
    count = len(plan.pieces)
    backwards = [replace(p, lay_order=count - p.lay_order) for p in plan.pieces]
    assert any(
        "pushed" in told for told in lay_all(replace(plan, pieces=tuple(backwards))).troubles
    )
    spoiled = [
        replace(p, near_end=p.far_end, far_end=p.near_end) if p.seat == 1 else p
        for p in plan.pieces
    ]
    assert any("None" in told for told in lay_all(replace(plan, pieces=tuple(spoiled))).troubles)


def kept_on_left(scene: Scene) -> bool:
    """Whether the left edge of what is kept is the left edge of the board in the picture."""
    kept, board = layer(scene, "kept")[0], layer(scene, "waste")[0]
    assert isinstance(kept, Area)
    assert isinstance(board, Area)
    return abs(min(x for x, _ in kept.outline) - min(x for x, _ in board.outline)) < 0.01


# --- the saw ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("side", "hand", "laid"), list(every(PROFILES, HANDS, LAIDS)))
def test_the_words_name_the_end_the_simulator_kept(side: Profile, hand: Hand, laid: Laid) -> None:
    board = Board(1285.0, 192.0, start_side=side, tongue_end=hand, end_lock="tap")
    plan = planned(board, laid)
    near, far = ("west", "east") if laid == "left-to-right" else ("east", "west")
    named = 0
    for cut in saw_cuts(plan):
        edges = put_down(plan, cut.piece, board).edges
        if cut.end_profile is not None:
            named += 1
            assert cut.end_profile == edges[near if cut.end == "near" else far]
        if cut.side_profile is not None:
            assert cut.side_profile == edges["north" if cut.side == "wall" else "south"]
    assert named > 5


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize(("side", "hand", "laid"), list(every(PROFILES, HANDS, LAIDS)))
def test_words_and_picture_at_the_saw(view: SawView, side: Profile, hand: Hand, laid: Laid) -> None:
    board = Board(1285.0, 192.0, start_side=side, tongue_end=hand, end_lock="tap")
    bench = at_the_saw(board, face_up=view.face_up, start_side_away=view.start_side_away)
    seen = set()
    for cut in saw_cuts(planned(board, laid)):
        if cut.end not in ("near", "far") or cut.end_profile is None:
            continue
        words = describe_board(board, laid, cut, "mm", view)
        face = "face up" if view.face_up else "face down"
        assert words.startswith(f"The board lies {face}, {bench['north']} side away from you.")
        found = re.search(
            r"on the (left|right), with the (tongue|groove) end; the (\w+) part", words
        )
        assert found, words
        kept, profile, waste = found.groups()
        assert {kept, waste} == {"left", "right"}
        # the end that lies on that side of the bench is the one that is named
        assert profile == bench["west" if kept == "left" else "east"]
        assert profile == cut.end_profile
        assert kept_on_left(compose_board(board, laid, cut, "mm", view)) == (kept == "left")
        seen.add(profile)
    assert seen == {"tongue", "groove"}


def test_a_board_on_the_bench_is_never_mirrored() -> None:
    """Clockwise round a face that looks up the edges keep their order, however it is turned."""
    board = Board(1285.0, 192.0)  # tongue side away, tongue end on the left
    for view in VIEWS:
        bench = at_the_saw(board, face_up=view.face_up, start_side_away=view.start_side_away)
        ring = [bench[side] for side in ("north", "east", "south", "west")]
        start = ring if bench["north"] == "tongue" else ring[2:] + ring[:2]
        right, left = ("groove", "tongue") if view.face_up else ("tongue", "groove")
        assert start == ["tongue", right, "groove", left]
