"""Arcs of spans, each solvable on paper."""

import pytest

from plankwright.errors import PlankwrightError
from plankwright.optimize.spans import ArcRange, Span, arcs_of


def test_a_span_no_longer_than_a_board_is_one_piece() -> None:
    # 400 and a cut of 3 are taken from any length of at least 400; a - 403 is left.
    assert arcs_of(Span(400), board=1285, cut=3) == (ArcRange(0, 400, 1285, -403),)


def test_a_span_no_longer_than_a_board_may_be_split_if_allowed() -> None:
    # Starter 300 to 700, end piece 1000 - a from another board: 1285 - 3 - (1000 - a) = a + 282.
    whole, split = arcs_of(Span(1000, shortest=300, split=True), board=1285, cut=3)
    assert whole == ArcRange(0, 1000, 1285, -1003)
    assert split == ArcRange(1, 300, 700, 282)


def test_a_long_span_has_arcs_for_each_number_of_whole_boards() -> None:
    # 4700 = 3 x 1285 + 845. Two whole boards: a + b = 2130, a from 845 to 1285.
    # Three whole boards: a + b = 845, a from 300 to 545.
    assert arcs_of(Span(4700, shortest=300), board=1285, cut=0) == (
        ArcRange(3, 845, 1285, -845),
        ArcRange(4, 300, 545, 440),
    )


def test_a_multiple_of_the_board_may_begin_and_end_with_whole_boards() -> None:
    # 30 = 3 x 10: starter 10, one whole board, end piece 10, whose board leaves nothing.
    arcs = arcs_of(Span(30, shortest=3), board=10, cut=1)
    assert ArcRange(2, 10, 10, -11) in arcs
    assert {arc.boards for arc in arcs} == {2, 3}


def test_a_span_that_cannot_keep_its_shortest_piece_keeps_none() -> None:
    # 11 = a + b with both at least 6 is impossible with boards of 10.
    assert arcs_of(Span(11, shortest=6), board=10, cut=0) == (ArcRange(1, 1, 10, -1),)


@pytest.mark.parametrize(("length", "shortest"), [(0, 0), (5, -1)])
def test_impossible_spans_are_refused(length: int, shortest: int) -> None:
    with pytest.raises(PlankwrightError):
        Span(length, shortest)
