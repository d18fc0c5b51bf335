"""Side by side: pieces of two lanes in boards, laid out by hand."""

import numpy as np

from plankwright.optimize.board_coloring import colored
from plankwright.optimize.instance import Instance, Part, StretchNeed
from plankwright.optimize.lane_ledger import LaneLedger
from plankwright.optimize.lanes import Lanes
from plankwright.optimize.options import Pick, options_of, pick
from plankwright.optimize.side_by_side import pack_lanes

FULL = StretchNeed(2500)
WALL = StretchNeed(2500, parts=(Part(0, 0, 2500),))
ROOM = StretchNeed(2500, parts=(Part(1, 0, 2500),))
PARTLY = StretchNeed(2500, parts=(Part(0, 0, 2500), Part(1, 900, 2500)))


def shop(*needs: StretchNeed) -> Instance:
    return Instance(
        board=1000, cut=10, shortest=100, offset=0, grid=1, stretches=needs, contacts=(), lanes=2
    )


def packed(starter: int, *needs: StretchNeed) -> int:
    instance = shop(*needs)
    options = [options_of(instance, need) for need in needs]
    choices = [pick(option.ranges[0], starter) for option in options]
    lanes = Lanes(instance, options)
    boards = pack_lanes(instance, lanes, choices)[1]
    ledger = LaneLedger(instance.board, lanes.slots(), lanes.count)
    for stretch, choice in enumerate(choices):
        ledger.enter(stretch, lanes.load(stretch, choice))
    assert ledger.boards() <= boards
    return boards


def test_full_rows_share_nothing() -> None:
    # 2500 = 800 + 1000 + 700: three boards, for 1000 - 10 - 700 is less than 800
    assert packed(800, FULL) == 3
    assert packed(800, FULL, FULL) == 6


def test_a_strip_of_either_side_shares_every_board() -> None:
    assert packed(800, WALL, ROOM) == 3
    assert packed(800, WALL, WALL) == 6


def test_a_row_narrow_in_part_shares_what_is_narrow() -> None:
    # of 800 + 1000 + 700 the starter is narrow, and so are 100 of the next board: only the
    # starter of the other row finds room beside
    assert packed(800, PARTLY, ROOM) == 5


def test_what_a_part_takes_and_leaves() -> None:
    instance = shop(PARTLY)
    options = [options_of(instance, PARTLY)]
    lanes = Lanes(instance, options)
    loads = lanes.load(0, Pick(takes=800, leaves=290, boards=2))
    # lane 0: starter 800, a whole board, an end piece of 700 that leaves 290; lane 1: no starter,
    # the next board from 100 on takes 900, the end piece as before; lane 1 begins at 1000
    assert loads.opened.tolist() == [[1, 0]]
    pairs = sorted(zip(loads.takes[0].tolist(), loads.leaves[0].tolist(), strict=True))
    assert [p for p in pairs if p[0] != p[1]] == [(800, 0), (1000, 290), (1900, 1000), (2000, 1290)]


def test_wall_to_wall_pieces_lie_beside_others() -> None:
    short = StretchNeed(400, parts=(Part(1, 0, 400),))
    instance = shop(WALL, short)
    options = [options_of(instance, need) for need in (WALL, short)]
    choices = [pick(options[0].ranges[0], 800), pick(options[1].ranges[0], 1000)]
    assert pack_lanes(instance, Lanes(instance, options), choices)[1] == 3


def test_an_odd_ring_needs_three_colors() -> None:
    ring = np.zeros((5, 5), dtype=np.bool_)
    for i in range(5):
        ring[i, (i + 1) % 5] = ring[(i + 1) % 5, i] = True
    first, rng = np.arange(5), np.random.default_rng(1)
    assert colored(ring, first, 2, rng) is None
    found = colored(ring, first, 3, rng)
    assert found is not None
    assert all(found[i] != found[(i + 1) % 5] for i in range(5))
    assert max(found) < 3
