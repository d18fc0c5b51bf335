"""The laying order: a numbered sequence in which every piece can be joined.

A piece is tilted on to what lies on its wall side and at its near end, or, in a row laid backwards,
on its room side; beyond a spline it lies turned end for end, and joins at its far end, too. Legal
is a sequence in which no piece must be pushed between two that are there.
Which stretches are laid backwards is decided in :mod:`plankwright.plan.rows_backwards`; here the
stretches are put in an order that a person walks without going to and fro, and what is awkward is
counted:

    order = order_plan(plan, wishes)
    len(order.awkward), order.rows_backwards, len(order.starts)
    plan = in_order(plan, order)          # lay_order, cut_order, labels and rows of the plan file
"""

import heapq
from dataclasses import dataclass, replace

from shapely import Polygon

from plankwright.errors import InputError
from plankwright.model.board import Board
from plankwright.model.plan import Piece, Plan, RowKind
from plankwright.model.wishes import Wishes
from plankwright.plan.assemble import with_cuts
from plankwright.plan.awkward import Awkward, awkward_pieces
from plankwright.plan.rows_backwards import Ways, all_forward, as_said, from_lines, parts
from plankwright.plan.seams import Seams, find_seams
from plankwright.plan.turned_rows import turn_rows

# What a person would rather do: two rows laid backwards than one piece that cannot be tilted.
COST_OF_AWKWARD = 2.0
COST_OF_START = 5.0
COST_OF_BACKWARDS = 1.0


@dataclass(frozen=True, slots=True)
class Start:
    """A start line: nothing that lies before holds this stretch straight.

    ``length_mm`` is the stretch's; ``meets_row`` the first row that joins it to what was laid
    before, None where it is the first start line or stays by itself.
    """

    row: int
    stretch: int
    length_mm: float
    meets_row: int | None = None


@dataclass(frozen=True, slots=True)
class Stop:
    """Where laying stops while furniture stays on the other half: the joint after a row."""

    after_row: int
    share: float  # of the floor's area that lies before it


@dataclass(frozen=True, slots=True)
class LayingOrder:
    """In which order the pieces of a plan are laid, and what is awkward about it.

    Parameters
    ----------
    sequence : ids of the pieces, first laid first.
    rows : rows that are not of the ordinary kind, as the plan file lists them.
    starts : start lines, the first to be laid first.
    awkward : pieces that cannot be tilted in.
    too_long : rows that are tilted in as a whole and are too long for one person.
    together : whether rows 1 and 2 are laid side by side.
    stop : where to stop for the furniture, if that was wished.
    """

    sequence: tuple[str, ...]
    rows: tuple[RowKind, ...] = ()
    starts: tuple[Start, ...] = ()
    awkward: tuple[Awkward, ...] = ()
    too_long: tuple[int, ...] = ()
    together: bool = False
    stop: Stop | None = None

    @property
    def rows_backwards(self) -> int:
        """How many rows, or parts of rows, are laid backwards or turned."""
        return len({row.row for row in self.rows})


def order_plan(plan: Plan, wishes: Wishes | None = None) -> LayingOrder:
    """The laying order of a plan: legal, and the least awkward of those that were looked at.

    Raises
    ------
    InputError : the row that was wished to begin with does not exist, or lock and leaflet do not
        allow to begin there.
    """
    wishes = wishes or Wishes()
    seams = find_seams(plan)
    if not seams.stretches:
        return LayingOrder(())
    ways = _choose_ways(plan, seams, wishes)
    stop = _stop_line(plan, seams, ways) if wishes.half_at_a_time else None
    turned = bool(ways.backwards) and _takes_spline(plan.board)
    plan = replace(plan, rows=_row_kinds(seams, ways, turned=turned))
    pieces = _in_line(plan, seams, ways, stop)
    together = wishes.first_rows_together and not plan.board.reversible
    if together:
        pieces = _side_by_side(plan, seams, pieces, ways.starts[0])
    return LayingOrder(
        sequence=tuple(piece.id for piece in pieces),
        rows=plan.rows,
        starts=_starts(plan, seams, ways),
        awkward=awkward_pieces(plan, seams, ways),
        too_long=_too_long(plan, seams, wishes.longest_alone_mm),
        together=together,
        stop=stop,
    )


def sequence_of(plan: Plan) -> tuple[str, ...]:
    """Ids of a plan's pieces in a legal order, its rows laid the way the plan says already."""
    seams = find_seams(plan)
    ways = as_said(seams, plan.rows)
    return tuple(piece.id for piece in _in_line(plan, seams, ways, None))


def in_order(plan: Plan, order: LayingOrder) -> Plan:
    """The plan with its pieces numbered and cut in this order, and with the rows it needs.

    Rows that are turned may take boards more: turned and other pieces share none as planned.
    """
    by_id = {piece.id: piece for piece in plan.pieces}
    numbered = [
        by_id[name] if by_id[name].lay_order == number else replace(by_id[name], lay_order=number)
        for number, name in enumerate(order.sequence, start=1)
    ]
    plan = turn_rows(replace(plan, pieces=tuple(numbered)), order.rows)
    return replace(plan, pieces=with_cuts(plan.pieces, plan.board))


# --- which way ---------------------------------------------------------------------------------


def _choose_ways(plan: Plan, seams: Seams, wishes: Wishes) -> Ways:
    """The least awkward of the ways that lock and leaflet allow."""
    if wishes.begin_row is not None:
        return _wished(plan, seams, wishes.begin_row)
    if not (plan.board.laid_backwards or plan.board.reversible):
        return all_forward(seams)
    firsts: list[int] = []
    for part in parts(seams):  # no part of the floor minds how another one is laid
        starts = [index for index in all_forward(seams).starts if index in part]
        options = [firsts, *([*firsts, index] for index in starts)]
        firsts = min(options, key=lambda option: _cost(plan, seams, from_lines(seams, option)))
    return from_lines(seams, firsts)


def _cost(plan: Plan, seams: Seams, ways: Ways) -> float:
    rows = {seams.stretches[index].row for index in ways.backwards}
    return (
        COST_OF_AWKWARD * len(awkward_pieces(plan, seams, ways))
        + COST_OF_START * len(ways.starts)
        + COST_OF_BACKWARDS * len(rows)
    )


def _wished(plan: Plan, seams: Seams, row: int) -> Ways:
    """Begin with the longest stretch of a row."""
    own = [index for index, stretch in enumerate(seams.stretches) if stretch.row == row]
    if not own:
        last = seams.stretches[-1].row
        raise InputError(
            "there is no such row",
            where="laying.begin_row",
            value=row,
            remedy=f"Rows here: 1 to {last}, counted from the start wall.",
        )
    ways = from_lines(seams, [max(own, key=lambda index: seams.stretches[index].length_mm)])
    if ways.backwards:
        _require_allowed(plan.board, row)
    return ways


def _require_allowed(board: Board, row: int) -> None:
    """Rows before the first are laid backwards, or turned beyond a spline: if the leaflet says."""
    if board.laid_backwards or board.reversible:
        return
    if board.spline and board.start_side == "tongue":
        raise InputError(
            "a spline joins two grooves, and here two tongues would meet in its line",
            where="laying.begin_row",
            value=row,
            remedy="Begin with row 1, or, if the leaflet lets the groove side go to the start "
            'wall, set board.start_side = "groove" and the end that has the tongue then.',
        )
    if not board.spline:
        raise InputError(
            "the rows before it would be laid backwards, and lock and leaflet are not said to "
            "allow that",
            where="laying.begin_row",
            value=row,
            remedy="Begin with row 1, or, if the leaflet allows it, set "
            "board.laid_backwards_allowed = true, or board.spline_allowed = true for a spline.",
        )


def _takes_spline(board: Board) -> bool:
    """Whether rows before the first lie turned beyond a spline: the lock goes no other way."""
    return board.spline and not (board.laid_backwards or board.reversible)


def _row_kinds(seams: Seams, ways: Ways, *, turned: bool) -> tuple[RowKind, ...]:
    """The rows laid backwards or turned; with their stretches where it is not the whole row."""
    whole: dict[int, list[int]] = {}
    back: dict[int, list[int]] = {}
    for index, stretch in enumerate(seams.stretches):
        whole.setdefault(stretch.row, []).append(stretch.number)
        if index in ways.backwards:
            back.setdefault(stretch.row, []).append(stretch.number)
    return tuple(
        RowKind(row, turned, joined="room-side", stretches=() if own == whole[row] else tuple(own))
        for row, own in sorted(back.items())
    )


# --- in which order ----------------------------------------------------------------------------


def _in_line(plan: Plan, seams: Seams, ways: Ways, stop: Stop | None) -> list[Piece]:
    """The pieces as they are laid: a stretch from its near end, a turned one from its far end."""
    found: list[Piece] = []
    for index in _sequence(seams, ways, stop):
        pieces = seams.stretches[index].pieces
        found += reversed(pieces) if plan.is_turned(pieces[0]) else pieces
    return found


def _sequence(seams: Seams, ways: Ways, stop: Stop | None) -> list[int]:
    """Indices of the stretches as they are laid.

    What hangs on one start line is laid before the next is begun; rows laid backwards come last;
    what lies beyond the stop line waits.
    """
    after, waits_for = _waiting(seams, ways)
    keys = _keys(seams, ways, stop)
    ready = [keys[index] for index, count in enumerate(waits_for) if count == 0]
    heapq.heapify(ready)
    found: list[int] = []
    while ready:
        index = heapq.heappop(ready)[-1]
        found.append(index)
        for later in after[index]:
            waits_for[later] -= 1
            if waits_for[later] == 0:
                heapq.heappush(ready, keys[later])
    return found


def _waiting(seams: Seams, ways: Ways) -> tuple[list[list[int]], list[int]]:
    """For each stretch: which stretches wait for it, and for how many it waits."""
    after: list[list[int]] = [[] for _ in seams.stretches]
    waits_for = [0] * len(seams.stretches)
    for seam in seams.seams:
        earlier, later = seam.wall_side, seam.room_side
        if seam.wall_side in ways.backwards:
            earlier, later = later, earlier
        after[earlier].append(later)
        waits_for[later] += 1
    return after, waits_for


Key = tuple[bool, bool, int, int, int, int]


def _keys(seams: Seams, ways: Ways, stop: Stop | None) -> list[Key]:
    """What is laid before what, where nothing must wait; the last entry is the stretch's index."""
    owners = _owners(seams, ways)
    found: list[Key] = []
    for index, stretch in enumerate(seams.stretches):
        beyond = stop is not None and stretch.row > stop.after_row
        back = index in ways.backwards
        row = -stretch.row if back else stretch.row
        found.append((beyond, back, owners[index], row, stretch.number, index))
    return found


def _owners(seams: Seams, ways: Ways) -> list[int]:
    """For each stretch the rank of the last start line that it waits for."""
    after, waits_for = _waiting(seams, ways)
    begin = [index for index, count in enumerate(waits_for) if count == 0]
    begin.sort(key=lambda index: (index != ways.starts[0], index))
    owners = [0] * len(seams.stretches)
    ready = list(begin)
    for rank, index in enumerate(begin):
        owners[index] = rank
    while ready:
        index = ready.pop()
        for later in after[index]:
            owners[later] = max(owners[later], owners[index])
            waits_for[later] -= 1
            if waits_for[later] == 0:
                ready.append(later)
    return owners


def _side_by_side(plan: Plan, seams: Seams, pieces: list[Piece], first: int) -> list[Piece]:
    """The same order, but each piece of the second row as soon as what it joins lies."""
    joins: dict[str, set[str]] = {}
    for below, above in seams.meetings:
        joins.setdefault(plan.pieces[above].id, set()).add(plan.pieces[below].id)
    row = list(seams.stretches[first].pieces)
    ids = {piece.id for piece in row}
    second = [
        stretch
        for stretch in (seams.stretches[seam.room_side] for seam in seams.rooms_of(first))
        if all(joins.get(piece.id, ids) <= ids for piece in stretch.pieces)
    ]
    waiting = [list(stretch.pieces) for stretch in second]
    woven: list[Piece] = []
    laid: set[str] = set()
    for piece in row:
        woven.append(piece)
        laid.add(piece.id)
        for queue in waiting:
            while queue and joins.get(queue[0].id, set()) <= laid:
                woven.append(queue.pop(0))
    moved = {piece.id for piece in woven}
    at = next(number for number, piece in enumerate(pieces) if piece.id in ids)
    rest = [piece for piece in pieces if piece.id not in moved]
    return [*rest[:at], *woven, *rest[at:]]


# --- what is awkward ---------------------------------------------------------------------------


def _starts(plan: Plan, seams: Seams, ways: Ways) -> tuple[Start, ...]:
    """The start lines, each with the row that joins it to an earlier one; panels have none."""
    found: list[Start] = []
    seen: set[int] = set()
    panels = [Polygon(thing.outline.exterior) for thing in plan.fixed if thing.kind == "panel"]
    for index in ways.starts:
        inside = seams.stretches[index].pieces[0].outline
        if any(panel.covers(inside) for panel in panels):
            continue
        stretch = seams.stretches[index]
        ahead = ways.ahead_of(seams, index)
        rows = [seams.stretches[other].row for other in ahead & seen]
        meets = min(rows, default=None) if found else None
        found.append(Start(stretch.row, stretch.number, round(stretch.length_mm, 1), meets))
        seen |= ahead
    return tuple(found)


def _too_long(plan: Plan, seams: Seams, most_mm: float) -> tuple[int, ...]:
    """Rows that are put together at their ends first and then tilted in as a whole."""
    if plan.board.end_lock != "angle" or plan.board.reversible:
        return ()
    return tuple(
        sorted({stretch.row for stretch in seams.stretches if stretch.length_mm > most_mm})
    )


def _stop_line(plan: Plan, seams: Seams, ways: Ways) -> Stop | None:
    """The row line that parts the floor most nearly in halves and that can be stopped at."""
    fixed = {seams.stretches[seam.wall_side].row for seam in seams.seams
             if seam.wall_side in ways.backwards}  # fmt: skip
    area: dict[int, float] = {}
    for piece in plan.pieces:
        area[piece.row] = area.get(piece.row, 0.0) + piece.outline.area
    total, laid = sum(area.values()), 0.0
    options: list[Stop] = []
    for row in sorted(area)[:-1]:
        laid += area[row]
        if row not in fixed:
            options.append(Stop(row, round(laid / total, 4)))
    return min(options, key=lambda stop: abs(stop.share - 0.5), default=None)
