"""The proven bound of a floor cut into rows: chords into spans, spans into prices."""

from collections.abc import Iterator, Sequence

from plankwright.geometry.chords import Chord, Lanes, chords, lanes, lines
from plankwright.geometry.rows import Contact, Stretch
from plankwright.model.board import Board
from plankwright.model.plan import Evidence
from plankwright.model.rules import Rules
from plankwright.optimize.bounds import Bound, circulation_bound
from plankwright.optimize.instance import TICKS_PER_MM
from plankwright.optimize.spans import Span
from plankwright.plan.compile import down, up

MOST_LINES = 6
NOISE_MM = 0.002  # coordinates are rounded to 0.001 mm; a bound's lengths are shortened by that


def bounds(
    stretches: Sequence[Stretch],
    contacts: Sequence[Contact],
    board: Board,
    rules: Rules,
    target: int | None = None,
) -> Iterator[Bound]:
    """Bounds from one line across the boards after another, the most promising first.

    ``target`` is the boards of a plan in hand: each line stops as soon as it proves so many.
    """
    met = lanes(stretches, contacts, board.width_mm, rules.shortest_piece_mm)
    for y in lines(met, stretches, board.width_mm, MOST_LINES):
        spans = list(_spans(stretches, met, y, board, rules))
        if spans:
            yield circulation_bound(down(board.length_mm), up(rules.cut_mm), spans, target=target)


def _spans(
    stretches: Sequence[Stretch], met: Lanes, y: float, board: Board, rules: Rules
) -> Iterator[Span]:
    for chord in chords(stretches, met, y):
        yield _span(chord, stretches[chord.stretch], board, rules)


def _span(chord: Chord, stretch: Stretch, board: Board, rules: Rules) -> Span:
    """A chord as the bound sees it.

    Where its stretch begins before the chord, the first piece may be shorter along the chord than
    the shortest piece, by as much; likewise at the far end.
    """
    length = max(down(chord.u1 - chord.u0 - NOISE_MM), 1)
    before, after = chord.u0 - stretch.u0, stretch.u1 - chord.u1
    hidden = max(before, after, 0.0) + NOISE_MM
    shortest = max(down(rules.shortest_piece_mm - hidden), 0)
    is_long = stretch.length > board.length_mm + NOISE_MM
    return Span(length, shortest, split=is_long)


def evidence(bound: Bound) -> Evidence:
    """What the plan file says to prove a bound."""
    if bound.prices is None:
        return Evidence("area")
    return Evidence(
        "prices",
        tuple((length / TICKS_PER_MM, price) for length, price in bound.prices.steps()),
    )
