"""Looks: each measure on a case that can be counted by hand."""

import numpy as np

from plankwright.optimize.bounds import Bound
from plankwright.optimize.instance import TICKS_PER_MM as MM
from plankwright.optimize.instance import Contact, Instance, StretchNeed
from plankwright.optimize.looks import LOOKS_FIRST, Looks
from plankwright.optimize.options import Options, options_of, pick
from plankwright.optimize.solve import Effort, solve

LENGTH = 4000 * MM


def three_rows(offset_mm: int = 300) -> Instance:
    contacts = tuple(Contact(i, i + 1, 0, LENGTH) for i in range(2))
    stretches = tuple(StretchNeed(LENGTH) for _ in range(3))
    return Instance(1285 * MM, 0, 300 * MM, offset_mm * MM, MM, stretches, contacts)


def cost_of(third_mm: int, first_mm: int, second_mm: int) -> float:
    """Cost of the third row's starter beside the two before it, its cut ends left aside."""
    instance = three_rows()
    options = [options_of(instance, need) for need in instance.stretches]
    looks = Looks(instance, options)
    for stretch, starter in enumerate((first_mm, second_mm)):
        arc = options[stretch].ranges[0]
        looks.enter(stretch, pick(arc, starter * MM))
    takes = np.array([third_mm * MM])
    boards = np.array([options[2].ranges[0].boards])
    return float(looks.cost(2, takes, boards)[0]) - 2 * LOOKS_FIRST.cut_end


def test_joints_in_line_two_rows_apart_are_h_joints() -> None:
    # starters 500, 900, 520: row 3's three joints lie 20 mm from row 1's; row 2 is 380 away
    assert cost_of(520, 500, 900) == 3 * LOOKS_FIRST.h_joint


def test_equal_steps_are_a_stair() -> None:
    # 300, 640, 970: steps of 340 and 330 mm, equal within 30; 330 is no less than 1.1 x 300
    assert cost_of(970, 300, 640) == LOOKS_FIRST.stair_step


def test_an_offset_kept_only_just_counts_for_every_joint() -> None:
    # 460 and 1100 before 780: 320 mm from row 2, kept by less than a tenth, at 780, 2065 and 3350;
    # the joints of row 2 at 1100, 2385 and 3670 lie 320 away, each once
    assert cost_of(780, 460, 1100) == 3 * LOOKS_FIRST.close_joints


def test_a_short_end_piece_counts() -> None:
    # 1000: joints at 1000, 2285, 3570, so the end piece has 430, less than 1 1/2 times 300;
    # row 2 lies 400 away, row 1 550, and the steps 150 and 400 are not equal
    assert cost_of(1000, 450, 600) == LOOKS_FIRST.short_end


def test_looks_cost_no_board_and_no_conflict() -> None:
    contacts = tuple(Contact(i, i + 1, 0, LENGTH) for i in range(15))
    stretches = tuple(StretchNeed(LENGTH) for _ in range(16))
    instance = Instance(1285 * MM, 0, 300 * MM, 300 * MM, MM, stretches, contacts)
    bound = Bound(51, 50.667, "area")  # proven in test_circulation.py
    plain, _ = solve(instance, bound, Effort(looks=0))
    nice, _ = solve(instance, bound, Effort(looks=40))
    assert (plain.boards, plain.conflicts) == (nice.boards, nice.conflicts) == (51, 0)
    assert in_line(nice.starters) < in_line(plain.starters)


def in_line(starters: tuple[int | None, ...]) -> int:
    """Rows whose joints lie within 100 mm of those two rows before."""
    pairs = zip(starters[:-2], starters[2:], strict=True)
    return sum(a is not None and b is not None and abs(a - b) < 100 * MM for a, b in pairs)


def test_a_wall_to_wall_piece_has_no_looks() -> None:
    instance = three_rows()
    options = [*(options_of(instance, need) for need in instance.stretches[:2])]
    short: Options = options_of(instance, StretchNeed(700 * MM))
    looks = Looks(instance, [*options, short])
    assert looks.cost(2, np.array([700 * MM]), np.array([0])).tolist() == [0.0]
