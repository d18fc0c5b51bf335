"""Matching: starters cut from what end pieces leave, on cases solved by hand."""

from plankwright.optimize.instance import Instance, StretchNeed
from plankwright.optimize.matching import match
from plankwright.optimize.options import options_of, pick


def shop(*needs: StretchNeed, cut: int = 0) -> Instance:
    return Instance(
        board=1000, cut=cut, shortest=100, offset=100, grid=1, stretches=needs, contacts=()
    )


def test_a_starter_longer_than_what_is_left_takes_a_fresh_board() -> None:
    # 2500 = 750 + 1000 + 750: the end piece leaves 250, too little for the starter of 750, which
    # therefore takes a third board
    instance = shop(StretchNeed(2500))
    options = [options_of(instance, need) for need in instance.stretches]
    arc = options[0].ranges[-1]
    seats, boards = match(instance, options, [pick(arc, 750)])
    assert [(seat.kind, seat.length) for seat in seats] == [
        ("starter", 750),
        ("whole", 1000),
        ("end", 750),
    ]
    assert boards == 3
    assert [seat.from_near for seat in seats] == [250, 0, 0]


def test_a_short_starter_shares_the_end_pieces_board_less_the_cut() -> None:
    # 1700 = 800 + 900 or 400 + 1000 + 300: the end piece leaves 1000 - 300 - 10 = 690 >= 400
    instance = shop(StretchNeed(1700), cut=10)
    options = [options_of(instance, need) for need in instance.stretches]
    arc = next(arc for arc in options[0].ranges if arc.boards == 2)
    seats, boards = match(instance, options, [pick(arc, 400)])
    assert boards == 2
    assert seats[0].board == seats[2].board
    assert (seats[0].from_near, seats[2].from_near) == (600, 0)  # 300 of waste and cut between


def test_wall_to_wall_pieces_come_from_between() -> None:
    # two stretches of 450 from one board: 450 + 10 + 450 = 910
    instance = shop(StretchNeed(450), StretchNeed(450), cut=10)
    options = [options_of(instance, need) for need in instance.stretches]
    choices = [pick(options[0].ranges[0], 1000), pick(options[1].ranges[0], 540)]
    seats, boards = match(instance, options, choices)
    assert boards == 1
    assert [seat.from_near for seat in seats] == [0, 460]


def test_guests_take_the_strips_beside_the_hosts_whole_boards() -> None:
    host, guest = StretchNeed(3500, role="host"), StretchNeed(900, role="guest")
    instance = shop(host, guest)
    options = [options_of(instance, need) for need in instance.stretches]
    arc = options[0].ranges[0]
    choices = [pick(arc, arc.low), pick(options[1].ranges[0], 1000)]
    seats, boards = match(instance, options, choices)
    whole = {seat.board for seat in seats if seat.stretch == 0 and seat.kind == "whole"}
    guests = {seat.board for seat in seats if seat.stretch == 1}
    assert guests <= whole
    assert boards == len({seat.board for seat in seats if seat.stretch == 0})
