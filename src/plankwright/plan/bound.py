"""The proven bound of a floor cut into rows: chords along a line into spans, spans into prices.

What keeps rooms open was looked at with slow integer programs (HiGHS, a variable for each starter
on a grid, joint offsets as cliques; up to minutes a room):

* rooms in one lane: with starters on whole centimeters the integer program confirms the boards of
  the plan in 12 of 16 rooms that stay open, most within seconds, and finds fewer in none. So their
  plans are the best, or nearly; what is missing is the proof for starters anywhere. With lengths
  rounded in favor of fewer boards, as a proof must, even marks of 2 mm leave the board open;
* lines: about half of what gaps of two boards and more lost came from the line that was counted.
  Chords must be compared, not whole stretches; rows that would share but for the kerf need a line
  with a reach;
* whole numbers: where prices come to 49.0 exactly, the integer program says 50, as the plan does.
  Joint offsets close some of these (49.05), else no prices do, only cases would;
* several lines: in two of ten rooms prices on two lines together prove up to half a board more;
  they are not used yet;
* packing: in the rest every lane keeps the bound's number, but the pieces of both lanes could not
  be put into so many boards side by side; whether any way can is not known.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from plankwright.geometry.chords import Chord, Chords, Line, cut_along
from plankwright.geometry.rows import Contact, Stretch
from plankwright.model.board import Board
from plankwright.model.plan import Evidence
from plankwright.model.rules import Rules
from plankwright.optimize import instance as whole_numbers
from plankwright.optimize.bounds import ARC_LIMIT, Bound, circulation_bound
from plankwright.optimize.chain_bound import chain_bound
from plankwright.optimize.instance import TICKS_PER_MM, Instance, StretchNeed
from plankwright.optimize.options import Options
from plankwright.optimize.spans import Offcut, Span, arcs_of
from plankwright.plan.compile import down, up

MOST_LINES = 6
MOST_LOOKED_AT = 24  # where a shelf lies beside some lines and not beside others
MANY = 150  # stretches; the linear program grows faster than they do
COARSE = 0  # work limit: the coarsest prices only
NOISE_MM = 0.002  # coordinates are rounded to 0.001 mm; a bound's lengths are shortened by that
MARGIN_MM = 0.1  # a joint offset this much short is still one: rounding of the plan file
EDGE_MM = 0.06  # a joint this near the end of a contact may lie off it, by rounding
CLEAR = 0.002  # boards: how far from a settled joint two chords of one piece lie
LEAST_MM = 0.5  # less of a chord is not worth a board

Lying = tuple[Offcut, float, float]
"""An offcut, and between which lines across a board [mm from its wall side] it lies."""


@dataclass(frozen=True, slots=True)
class BoundLine:
    """One line across the boards: its chords as spans, and the bound that coarse prices prove.

    ``line`` is where it lies across the boards. ``instance`` and ``options`` say the same of the
    chords that run through whole stretches, with their contacts, for the bound that keeps joint
    offsets.
    """

    line: Line
    bound: Bound
    spans: tuple[Span, ...]
    instance: Instance
    options: tuple[Options, ...]
    shelf: tuple[Offcut, ...] = ()

    def refined(
        self, target: int, stop: Callable[[], bool] | None = None, arc_limit: int = ARC_LIMIT
    ) -> Bound:
        """The bound that fine prices prove; stops at ``target`` boards."""
        if self.bound.boards >= target:
            return self.bound
        found = circulation_bound(
            self.instance.board,
            self.instance.cut,
            self.spans,
            shelf=self.shelf,
            target=target,
            arc_limit=arc_limit,
            stop=stop,
        )
        return replace(found, line=(self.line.y, self.line.reach))

    def with_offsets(self, start: Bound, target: int, stop: Callable[[], bool]) -> Bound:
        """A bound of this line raised by keeping joint offsets, as far as ``target`` boards."""
        found = chain_bound(self.instance, self.options, start, target, stop, shelf=self.shelf)
        return replace(found, line=(self.line.y, self.line.reach))


def bound_lines(
    stretches: Sequence[Stretch],
    contacts: Sequence[Contact],
    board: Board,
    rules: Rules,
    laid_to: Mapping[int, float] | None = None,
    shelf: Sequence[Lying] = (),
    stop: Callable[[], bool] | None = None,
) -> Iterator[BoundLine]:
    """Bounds from one line across the boards after another, the most promising first.

    Parameters
    ----------
    laid_to : for stretches that are begun the u [mm] up to which they lie: infinite for all of it.
    shelf : offcuts at hand, lengths rounded up [ticks].
    stop : asked now and then; once it says True prices are taken as they are.
    """
    laid = laid_to or {}
    done = [i for i, u in laid.items() if u >= stretches[i].u1]
    chords = Chords(
        stretches,
        contacts,
        board.width_mm,
        rules.shortest_piece_mm,
        rules.kerf_mm,
        rules.cut_mm,
        done,
    )
    most = MOST_LINES if len(stretches) <= MANY else 2
    at_hand = [(offcut.length / TICKS_PER_MM, low, high) for offcut, low, high in shelf]
    wanted = chords.lines(most if not shelf else MOST_LOOKED_AT, at_hand)
    if shelf:
        promise = {
            line: _promise(list(_open(chords.at(line), laid, board.length_mm)), shelf, line)
            for line in wanted
        }
        wanted = sorted(wanted, key=lambda line: -promise[line])[:most]
    for line in wanted:
        found = list(_open(chords.at(line), laid, board.length_mm))
        if found:
            met = tuple(_met(shelf, line))
            yield _line(line, found, stretches, contacts, board, rules, laid, met, stop)


def _met(shelf: Sequence[Lying], line: Line) -> Iterator[Offcut]:
    """The offcuts that a line may meet."""
    for offcut, low, high in shelf:
        if low <= line.y + line.reach and line.y - line.reach <= high:
            yield offcut


def _promise(found: Sequence[Chord], shelf: Sequence[Lying], line: Line) -> int:
    """Length still to be covered along a line, beyond what the shelf has there [mm]."""
    length = sum(chord.u1 - chord.u0 for chord in found)
    at_hand = sum(offcut.length for offcut in _met(shelf, line))
    return round(length - at_hand / TICKS_PER_MM)


def _open(found: Sequence[Chord], laid: Mapping[int, float], longest: float) -> Iterator[Chord]:
    """What is still open of chords, from where their stretches lie.

    The joints of a begun stretch are settled. So where no joint lies between two of its chords,
    both belong to one piece, and nothing with a board's end could be cut from between: the two
    count as one, unless a wall-to-wall piece could: one of a stretch that is not begun, no longer
    than ``longest``, a board.
    """
    still = [c for c in found if c.u1 - max(c.u0, laid.get(c.stretch, c.u0)) > LEAST_MM]
    begun = {c.stretch for c in still if c.u0 <= laid.get(c.stretch, -math.inf)}
    joined = not any(c.u1 - c.u0 <= longest and c.stretch not in begun for c in still)
    before: Chord | None = None
    for chord in sorted(still, key=lambda chord: (chord.stretch, chord.u0)):
        laid_to = laid.get(chord.stretch, -math.inf)
        chord = replace(chord, u0=max(chord.u0, laid_to))
        if before is not None and before.stretch == chord.stretch and before.u0 == laid_to:
            first, last = (before.u1 - laid_to) / longest, (chord.u0 - laid_to) / longest
            clear = math.floor(first - CLEAR) == math.floor(last + CLEAR)
            if joined and clear:
                before = replace(before, u1=chord.u1)
                continue
        if before is not None:
            yield before
        before = chord
    if before is not None:
        yield before


def _line(
    line: Line,
    found: Sequence[Chord],
    stretches: Sequence[Stretch],
    contacts: Sequence[Contact],
    board: Board,
    rules: Rules,
    laid: Mapping[int, float],
    shelf: tuple[Offcut, ...],
    stop: Callable[[], bool] | None,
) -> BoundLine:
    spans = tuple(
        replace(
            _span(chord, stretches[chord.stretch], board, rules),
            begun=chord.u0 == laid.get(chord.stretch),
        )
        for chord in found
    )
    length, cut = down(board.length_mm), up(rules.cut_mm)
    if line.reach:
        cut = down(cut_along(rules.cut_mm, line))
    bound = circulation_bound(length, cut, spans, shelf=shelf, arc_limit=COARSE, stop=stop)
    bound = replace(bound, line=(line.y, line.reach))
    instance = Instance(
        board=length,
        cut=cut,
        shortest=up(rules.shortest_piece_mm),
        offset=max(down(rules.joint_offset_mm - MARGIN_MM), 0),
        grid=TICKS_PER_MM,
        stretches=tuple(
            StretchNeed(span.length, down(chord.u0))
            for span, chord in zip(spans, found, strict=True)
        ),
        contacts=tuple(_shared(found, contacts, [span.begun for span in spans])),
    )
    options = tuple(
        Options(
            span.length,
            arcs_of(span, length, cut),
            is_long=span.begun or span.length > length,
            legal=True,
        )
        for span in spans
    )
    return BoundLine(line, bound, spans, instance, options, shelf)


def _shared(
    found: Sequence[Chord], contacts: Sequence[Contact], begun: Sequence[bool]
) -> Iterator[whole_numbers.Contact]:
    """The contacts between chords: the joints of a chord are joints of its stretch.

    What lies already may be closer than the rules want, so begun chords are left aside.
    """
    of_stretch: dict[int, list[int]] = {}
    for index, chord in enumerate(found):
        if not begun[index]:
            of_stretch.setdefault(chord.stretch, []).append(index)
    for contact in contacts:
        low, high = up(contact.u0 + EDGE_MM), down(contact.u1 - EDGE_MM)
        for one in of_stretch.get(contact.wall_side, ()):
            for other in of_stretch.get(contact.room_side, ()):
                if _meet(found[one], found[other], contact):
                    yield whole_numbers.Contact(one, other, low, high)


def _meet(one: Chord, other: Chord, contact: Contact) -> bool:
    """Whether two chords both have places on a contact."""
    low = max(one.u0, contact.u0), max(other.u0, contact.u0)
    high = min(one.u1, contact.u1), min(other.u1, contact.u1)
    return low[0] < high[0] and low[1] < high[1]


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
    prices = tuple((length / TICKS_PER_MM, price) for length, price in bound.prices.steps())
    return Evidence("prices", prices, joint_offsets=bound.kind == "offsets", line_mm=bound.line)
