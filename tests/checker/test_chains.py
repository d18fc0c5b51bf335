"""Prices added up along chains of rows: by hand, pair by pair, and against the fewest boards."""

import math
import random
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from shapely import box
from tests.checker.plan_maker import NOTHING, changed, make_plan, ring
from tests.checker.test_price_sum import random_prices
from tests.optimize.oracle import Row, Shop, fewest_boards

from plankwright.checker.chains import MARGIN_MM, ChainSum
from plankwright.checker.check import check_plan
from plankwright.checker.chords import Chord
from plankwright.checker.offsets import Runs
from plankwright.checker.prices import (
    TICKS_PER_MM,
    Need,
    Prices,
    boards_at_least,
    price_sum,
    starter_ranges,
)
from plankwright.checker.segments import segments_of
from plankwright.files.plan_file import dump_plan, load_plan
from plankwright.model.board import Board
from plankwright.model.findings import Finding
from plankwright.model.plan import Evidence, Plan

# Three rows of 1000 mm, boards of 600 mm, no kerf, pieces from 200 mm, joint offset 300 mm.
#   f = 0: a + b = 1000, a from 400 to 600, one joint at a; c = a - 400
#   f = 1: a = b = 200, joints at 200 and 800; c = 400
# Two rows of f = 0 have joints at most 200 mm apart, two of f = 1 have the same joints; one of each
# keeps 300 mm only with a = 500. Prices 1/2 from 200 mm and 1 from 497.5 mm:
#   a < 497.5: 1 + 1/2 - 0 = 1 1/2     a from 497.5 to 599: 1 + 1 - 0 = 2
#   a = 600: 1 + 1 - 1/2 = 1 1/2       f = 1: 2 + 1/2 - 1/2 = 2
# The plain sum is 3 x 1 1/2 = 4 1/2, which proves 5; with offsets it is 3 x 2 = 6.
PRICES = ((0.0, 0.0), (200.0, 0.5), (497.5, 1.0))
BOARD = Board(600.0, 192.0, per_pack=8, tongue_end="right")
RULES = replace(NOTHING, shortest_piece_mm=200.0)


def three_rows(evidence: Evidence, bound: int) -> Plan:
    """Joints at 500, then 200 and 800, then 500: 4 boards of 500 mm, one whole, one 200 + 200."""
    plan = make_plan(
        ring(0, 0, 1000, 576),
        box(0, 0, 1000, 576),
        board=BOARD,
        rules=RULES,
        start_line=0.0,
        cuts={(1, 1): [500.0], (2, 1): [200.0, 800.0], (3, 1): [500.0]},
    )
    boards = changed(plan.boards, bound=bound, evidence=evidence, status="feasible")
    if boards.used == bound:
        boards = changed(boards, status="optimal")
    return changed(plan, boards=boards)


def test_joint_offsets_prove_a_board_more() -> None:
    plan = three_rows(Evidence("prices", PRICES, joint_offsets=True), 6)
    assert plan.boards.used == 6
    assert check_plan(plan).faults == ()
    assert check_plan(load_plan(dump_plan(plan))).ok


def test_without_the_flag_the_same_prices_prove_less() -> None:
    assert check_plan(three_rows(Evidence("prices", PRICES), 5)).ok
    (fault,) = check_plan(three_rows(Evidence("prices", PRICES), 6)).faults
    assert fault.code == "bound"
    assert "prove 5" in fault.message


def test_one_board_above_what_is_proven_is_refused() -> None:
    # 1/2 from 200 mm, 1 from 500 mm: starters just below 500 cost 1 1/2 and may keep 300 mm but
    # for rounding, so that two rows of them and one of f = 1 cost 1 1/2 + 2 + 1 1/2 = 5.
    weak = ((0.0, 0.0), (200.0, 0.5), (500.0, 1.0))
    (fault,) = check_plan(three_rows(Evidence("prices", weak, joint_offsets=True), 6)).faults
    assert fault.code == "bound"
    assert "prove 5" in fault.message
    faults = check_plan(three_rows(Evidence("prices", PRICES, joint_offsets=True), 7)).faults
    assert any("prove 6" in fault.message for fault in faults)


@pytest.mark.parametrize("code", ["joint-offset", "short-piece"])
def test_a_plan_that_excuses_the_rules_proves_nothing_by_offsets(code: str) -> None:
    plan = three_rows(Evidence("prices", PRICES, joint_offsets=True), 6)
    plan = changed(plan, findings=(Finding(code, "1.1.1", "it is so"),))
    (fault,) = check_plan(plan).faults
    assert fault.code == "bound"
    assert "prove nothing" in fault.message


def test_a_row_line_that_is_broken_couples_nothing() -> None:
    prices = _in_mm(PRICES)
    chords = _chords([(0, 1000)] * 3, board=600, shortest=200)
    whole = _runs([(0, 1, 0, 1000), (1, 2, 0, 1000)])
    # something stands on both row lines between the joints at 200, 500 and 800
    broken = _runs([(i, i + 1, a, a + 300) for i in (0, 1) for a in (50, 355, 660)])
    assert ChainSum(prices, whole, 6_000_000, 0, 300.0).least(chords) == pytest.approx(6.0)
    # then two rows of a = 400 to 497 may not lie side by side, but f = 1 may lie beside them
    assert ChainSum(prices, broken, 6_000_000, 0, 300.0).least(chords) == pytest.approx(5.0)
    assert ChainSum(prices, whole, 6_000_000, 0, 0.0).least(chords) == pytest.approx(4.5)


def test_no_way_to_keep_the_offsets_is_infinite() -> None:
    # rows of 1500 mm have their one joint from 500 to 1000 (shortest 300, boards of 1000)
    chords = _chords([(0, 1500)] * 2, board=1000, shortest=300)
    prices = _in_mm(((0.0, 0.0), (1000.0, 1.0)))
    sums = ChainSum(prices, _runs([(0, 1, 0, 1500)]), 10_000_000, 0, 600.0)
    assert math.isinf(sums.least(chords))


def test_a_row_is_linked_with_the_row_before_once_by_its_longest_contact() -> None:
    # The second row's one stretch lies beside two stretches of the first, 1000 and 800 mm long.
    # The plain sum is 6; kept beside the longer alone 7, beside the shorter alone 6 1/2.
    chords = _chords([(0, 1000), (1400, 800), (0, 2200)], board=600, shortest=200)
    longer, shorter = (0, 2, 0.0, 1000.0), (1, 2, 1400.0, 2200.0)
    for contacts, least in ([], 6.0), ([longer], 7.0), ([shorter], 6.5), ([shorter, longer], 7.0):
        sums = ChainSum(_in_mm(PRICES), _runs(contacts), 6_000_000, 0, 300.0)
        assert sums.least(chords) == pytest.approx(least)


@pytest.mark.parametrize("seed", range(40))
def test_prices_are_constant_within_a_segment(seed: int) -> None:
    # also of the starter left, which may be longer than any that is taken
    rng = random.Random(seed)
    case = _Case(rng)
    for chord in case.chords:
        found = segments_of(case.prices, chord.need, case.board, case.cut)
        for f, least, most, gain in starter_ranges(chord.need, case.board, case.cut):
            (part,) = (part for part in found.parts if part.joints == f + 1)
            low, high = (ends[part.first : part.last] for ends in (found.low, found.high))
            assert (low[0], high[-1]) == (least, most)
            assert (low[1:] == high[:-1] + 1).all()
            for a in (low, (low + high) // 2, high):
                cost = f + 1 + case.prices(a) - case.prices(np.maximum(a + gain, 0))
                assert cost == pytest.approx(found.cost[part.first : part.last])


# --- pair by pair ----------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(60))
def test_the_least_along_a_chain_is_that_of_all_pairs_of_segments(seed: int) -> None:
    rng = random.Random(seed)
    case = _Case(rng)
    expected: np.ndarray | None = None
    before = None
    for chord in case.chords:
        now = segments_of(case.prices, chord.need, case.board, case.cut)
        if expected is None:
            expected = now.cost
        else:
            assert before is not None
            clash = _clash(case, before, chord)
            expected = np.where(clash, np.inf, expected[:, None]).min(axis=0) + now.cost
        before = chord
    assert expected is not None
    found = ChainSum(case.prices, case.runs, case.board, case.cut, case.offset_mm)
    assert found.least(case.chords) == pytest.approx(float(expected.min()))


class _Case:
    """A few rows longer than a board, each beside the next along one or two contacts."""

    def __init__(self, rng: random.Random, unit: int = 100_000) -> None:
        board = rng.randint(5, 9)
        self.board, self.cut = board * unit, rng.randint(0, 1) * unit
        self.shortest = rng.randint(1, 2)
        self.offset_mm = rng.randint(1, 4) * unit / TICKS_PER_MM
        self.unit = unit
        self.rows = [
            (rng.randint(0, 6), rng.randint(board + 1, 4 * board)) for _ in range(rng.randint(2, 4))
        ]
        self.prices = random_prices(rng, board)
        self.prices = Prices(self.prices.at * unit, self.prices.price)
        mm = unit / TICKS_PER_MM
        self.chords = _chords(
            [(u * mm, length * mm) for u, length in self.rows],
            board=board * mm,
            shortest=self.shortest * mm,
        )
        found = []
        for i, ((u, length), (v, other)) in enumerate(
            zip(self.rows[:-1], self.rows[1:], strict=True)
        ):
            low, high = max(u, v), min(u + length, v + other)
            part = rng.randint(low, high)
            if rng.random() < 0.5 and low < part < high:
                found.append((i, i + 1, low * mm, part * mm - 3.0))
                low = part
            found.append((i, i + 1, low * mm, high * mm))
        self.runs = _runs(found)


def _clash(case: _Case, one: Chord, other: Chord) -> np.ndarray:
    """All pairs of segments, all pairs of joints, by the four corners of each."""
    first = segments_of(case.prices, one.need, case.board, case.cut)
    second = segments_of(case.prices, other.need, case.board, case.cut)
    least = case.offset_mm - MARGIN_MM
    clash = np.zeros((len(first.low), len(second.low)), np.bool_)
    shared = [
        (case.runs.u0[r] + 0.05, case.runs.u1[r] - 0.05)
        for r in range(len(case.runs.u0))
        if case.runs.wall_side[r] == one.stretch and case.runs.room_side[r] == other.stretch
    ]
    for k, m, (u0, u1) in product(range(first.joints.max()), range(second.joints.max()), shared):
        a = np.stack([first.low, first.high]) + k * case.board
        b = np.stack([second.low, second.high]) + m * case.board
        a_mm = (one.u0 + a / TICKS_PER_MM)[:, :, None]
        b_mm = (other.u0 + b / TICKS_PER_MM)[:, None, :]
        near = np.ones_like(clash)
        for i, j in product(range(2), range(2)):
            near &= np.abs(a_mm[i] - b_mm[j]) < least - 1e-6
        on = (a_mm[0] >= u0 - 1e-6) & (a_mm[1] <= u1 + 1e-6) & (first.joints > k)[:, None]
        on2 = (b_mm[0] >= u0 - 1e-6) & (b_mm[1] <= u1 + 1e-6) & (second.joints > m)[None, :]
        clash |= near & on & on2
    return clash


# --- against the fewest boards ----------------------------------------------------------------


@pytest.mark.parametrize("seed", range(60))
def test_no_prices_with_offsets_prove_more_than_the_fewest_boards(seed: int) -> None:
    rng = random.Random(seed)
    board, shortest, cut = rng.randint(4, 7), rng.randint(1, 2), rng.randint(0, 1)
    offset = rng.randint(1, board // 2)
    rows = [
        Row(rng.randint(board // 2 + 1, 3 * board), start=rng.randint(0, 3))
        for _ in range(rng.randint(2, 3))
    ]
    touching = [(i, i + 1) for i in range(len(rows) - 1)]
    fewest = fewest_boards(Shop(board, cut, shortest, offset), rows, touching)
    chords = _chords(
        [(100.0 * row.start, 100.0 * row.length) for row in rows],
        board=100.0 * board,
        shortest=100.0 * shortest,
    )
    ends = [(row.start, row.start + row.length) for row in rows]
    shared = [(i, j, max(ends[i][0], ends[j][0]), min(ends[i][1], ends[j][1])) for i, j in touching]
    runs = _runs([(i, j, 100.0 * low, 100.0 * high) for i, j, low, high in shared if low < high])
    length, kerf = 1_000_000 * board, 1_000_000 * cut
    for _ in range(12):
        found = random_prices(rng, board)
        prices = Prices(found.at * 1_000_000, found.price)
        least = ChainSum(prices, runs, length, kerf, 100.0 * offset).least(chords)
        plain = price_sum(prices, [chord.need for chord in chords], length, kerf)
        assert least >= plain - 1e-9
        if fewest is not None:
            assert boards_at_least(least) <= fewest


# --- making cases -----------------------------------------------------------------------------


def _chords(rows: list[tuple[float, float]], *, board: float, shortest: float) -> list[Chord]:
    """Chords through whole stretches, from (start, length) of each [mm]."""
    least = round(shortest * TICKS_PER_MM)
    found = []
    for stretch, (u0, length) in enumerate(rows):
        whole = length <= board
        need = Need(round(length * TICKS_PER_MM), least, least, whole=whole, split=not whole)
        found.append(Chord(stretch, u0, need, jointed=True))
    return found


def _runs(parts: list[tuple[int, int, float, float]]) -> Runs:
    """Shared parts of row lines, from (stretch, stretch beyond, u0, u1)."""
    one = np.array([part[0] for part in parts], np.int64)
    other = np.array([part[1] for part in parts], np.int64)
    ends = np.array([part[2:] for part in parts], np.float64).reshape(-1, 2)
    return Runs(one, ends[:, 0], ends[:, 1], one, other)


def _in_mm(pairs: tuple[tuple[float, float], ...]) -> Prices:
    at = np.array([round(t * TICKS_PER_MM) for t, _ in pairs], np.int64)
    return Prices(at, np.array([price for _, price in pairs]))
