"""The ledger of lengths: boards and excess on cases solved by hand."""

import numpy as np

from plankwright.optimize.ledger import Ledger, excess_with
from plankwright.optimize.options import Pick

BOARD = 1000


def test_an_offcut_serves_a_starter_no_longer_than_it() -> None:
    ledger = Ledger(BOARD, 2)
    ledger.enter(0, Pick(takes=400, leaves=600, boards=2))
    # one starter of 400 from the 600 that is left: 2 boards opened, none fresh
    assert ledger.boards() == 2
    ledger.enter(1, Pick(takes=700, leaves=0, boards=1))
    # two starters, one offcut: the 700 needs a fresh board, 3 + 1
    assert ledger.boards() == 4
    ledger.strike(1)
    assert ledger.boards() == 2


def test_equal_lengths_meet() -> None:
    ledger = Ledger(BOARD, 1)
    ledger.enter(0, Pick(takes=600, leaves=600, boards=1))
    assert ledger.boards() == 1


def test_excess_of_many_choices_at_once() -> None:
    ledger = Ledger(BOARD, 1)
    ledger.enter(0, Pick(takes=0, leaves=500, boards=1))
    takes = np.array([300, 500, 800])
    leaves = np.array([0, 0, 0])
    # beside an offcut of 500: 300 and 500 fit; 800 is 300 too long for no fresh board at all
    cost = excess_with(ledger.steps(), 0, takes, leaves)
    assert cost.tolist() == [0.0, 0.0, 300.0]
    # one fresh board allowed: all fit
    assert excess_with(ledger.steps(), 1, takes, leaves).tolist() == [0.0, 0.0, 0.0]


def test_where_the_balance_is_over_and_who_burdens_it() -> None:
    ledger = Ledger(BOARD, 2)
    ledger.enter(0, Pick(takes=800, leaves=0, boards=0))
    ledger.enter(1, Pick(takes=0, leaves=500, boards=1))
    assert ledger.steps().over(0) == [(500, 800)]
    assert ledger.burdened(500, 800).tolist() == [0]
