"""Planning again from what is on the floor: what lies stays, the rest gets the fewest new boards.

With nothing gone wrong the same plan comes back.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from plankwright.guide.as_laid import FloorState, LaidPiece, WallShift
from plankwright.guide.laid_pieces import pieces_as_laid
from plankwright.guide.offcuts_left import Offcut
from plankwright.guide.plan_changes import Change, changes_of
from plankwright.guide.remaining import Remaining, laid_by_stretch, what_is_left
from plankwright.guide.rest_bound import RestBound, settled_joints
from plankwright.guide.rest_findings import rest_findings
from plankwright.guide.rest_of_floor import Rest, rest_of_floor
from plankwright.guide.rest_pieces import draw_rest, in_line, with_stock
from plankwright.guide.shelf_now import nothing_wrong, shelf_now
from plankwright.model.board import Board
from plankwright.model.plan import BoardCount, Evidence, Piece, Plan, Status, StockBoard
from plankwright.model.room import Room
from plankwright.optimize.bounds import Bound, packs
from plankwright.optimize.instance import TICKS_PER_MM, StretchNeed
from plankwright.optimize.solution import Solution
from plankwright.optimize.solve import Effort, never
from plankwright.optimize.stock_solve import solve_with_stock
from plankwright.plan.bound import evidence
from plankwright.plan.laying_order import sequence_of
from plankwright.plan.planner import Task
from plankwright.plan.turned_rows import turned_pieces

EFFORT = Effort(moves=6_000)
AS_PLANNED = Effort(moves=0)  # nothing is looked for beyond the plan that was there
SAME_MM = 0.05
NOTHING_OPEN = Bound(0, 0.0, "area")


@dataclass(frozen=True, slots=True)
class ShelfUse:
    """An offcut at hand and the pieces that are cut from it now; none when it is left over."""

    offcut: StockBoard
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Replanned:
    """The answer of planning again.

    Parameters
    ----------
    plan : complete: the laid pieces as they lie and the rest.
    new_boards : whole new boards that the rest takes, the second batch among them.
    least_new_boards : no plan that keeps what lies takes fewer.
    second_batch_boards : how many of them are of the second batch.
    boards_missing : how many are missing; 0 when they suffice or nobody counted.
    packs_missing : the packs that hold them.
    changes : what differs from the old plan, and why; empty when nothing does.
    shelf : what each offcut at hand is used for.
    keeps_rows : rows to come are laid as planned wherever they can be; otherwise others were found
        that take fewer boards.
    """

    plan: Plan
    new_boards: int
    least_new_boards: int
    boards_missing: int = 0
    packs_missing: int = 0
    second_batch_boards: int = 0
    changes: tuple[Change, ...] = ()
    shelf: tuple[ShelfUse, ...] = ()
    keeps_rows: bool = True

    @property
    def suffices(self) -> bool:
        """Whether the boards at hand are enough, as far as they were counted."""
        return self.boards_missing == 0

    @property
    def proven(self) -> bool:
        """Whether no plan that keeps what lies takes fewer new boards."""
        return self.new_boards == self.least_new_boards


def plan_again(
    plan: Plan,
    room: Room,
    state: FloorState,
    *,
    effort: Effort = EFFORT,
    stop: Callable[[], bool] = never,
    keeps_rows: bool = False,
) -> Replanned:
    """A complete plan from the floor as it is; not yet checked.

    Parameters
    ----------
    plan : the plan that was laid by so far.
    room : the room it was made for.
    state : what lies, what is at hand and what was measured.
    effort : how long to look for fewer boards.
    stop : asked now and then; when it says True the best plan so far is taken.
    keeps_rows : rows to come are laid as planned wherever they can be, for boards more if need be.

    Raises
    ------
    InputError : the state names what the plan does not have, or cannot be.
    """
    laid_by_stretch(plan, state)  # refuses what cannot lie so
    shelf = shelf_now(plan, state)
    planned = None
    if nothing_wrong(plan, state, shelf):
        planned = _as_planned(plan, state, shelf)
        if planned.proven or planned.suffices:
            return planned
    left = what_is_left(plan, room, state)
    work = _Again(plan, state, left, shelf, effort, stop, keeps_rows)
    work.solve()
    again = work.replanned()
    if planned is None or again.new_boards < planned.new_boards:
        return again
    return replace(planned, least_new_boards=max(planned.least_new_boards, again.least_new_boards))


def _as_planned(plan: Plan, state: FloorState, shelf: Sequence[Offcut]) -> Replanned:
    """The old plan, which holds; only the boards at hand may be too few."""
    out = state.laid_ids | {*state.cut}
    stock = {board.id for board in plan.stock}
    opened = {piece.board for piece in plan.pieces if piece.id in out} - stock
    new = len({piece.board for piece in plan.pieces} - opened - stock)
    uses = tuple(ShelfUse(offcut.stock, offcut.wanted) for offcut in shelf)
    least = min(max(0, plan.boards.bound - len(opened)), new)
    return _answer(plan, state, (new, 0), least, (), uses)


def _answer(
    plan: Plan,
    state: FloorState,
    new: tuple[int, int],
    least: int,
    changes: tuple[Change, ...],
    shelf: tuple[ShelfUse, ...],
) -> Replanned:
    """The answer for new boards of the first and of the second batch."""
    first, second = new
    missing = [
        0 if left is None else max(0, wanted - left)
        for wanted, left in ((first, state.boards_left), (second, state.second_batch_left))
    ]
    return Replanned(
        plan=plan,
        new_boards=first + second,
        least_new_boards=least,
        boards_missing=sum(missing),
        packs_missing=sum(packs(boards, plan.board.per_pack) for boards in missing),
        second_batch_boards=second,
        changes=changes,
        shelf=shelf,
    )


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to lay the rest, or a batch's part of it."""

    solution: Solution
    pieces: tuple[Piece, ...]
    new_boards: int


class _Again:
    """Planning again, step by step: the rest is solved, then drawn, then told."""

    def __init__(
        self,
        plan: Plan,
        state: FloorState,
        left: Remaining,
        shelf: Sequence[Offcut],
        effort: Effort,
        stop: Callable[[], bool],
        keeps_rows: bool,
    ) -> None:
        self._plan, self._state, self._left = plan, state, left
        self._effort, self._stop, self._keeps_rows = effort, stop, keeps_rows
        self._laid = pieces_as_laid(plan, left)
        numbers = [p.board for p in (*plan.pieces, *self._laid)] + [b.id for b in plan.stock]
        self._free_number = max(numbers, default=0) + 1
        self._shelf = [self._with_number(offcut) for offcut in shelf]
        self._rest: list[Piece] = []
        self._turned: set[str] = set()
        self._new = [0, 0]
        self._kept = True
        self._bounds: dict[int, RestBound] = {}  # by batch

    def _with_number(self, offcut: Offcut) -> Offcut:
        """An offcut as a board of the new plan's stock, with a number of its own."""
        self._free_number += 1
        return replace(offcut, stock=replace(offcut.stock, id=self._free_number - 1))

    # --- solving --------------------------------------------------------------------------

    def solve(self) -> None:
        """Solve and draw the rest: all of it, or what each batch is to cover."""
        start = self._state.second_batch_row
        rows = {i: self._left.stretches[i].row for i in self._left.open}
        first = [i for i, row in rows.items() if start is None or row < start]
        second = [i for i, row in rows.items() if start is not None and row >= start]
        joints = {i: list(places) for i, places in settled_joints(self._left).items()}
        for batch, which in enumerate((first, second)):
            if which:
                self._solve_part(batch, which, joints)

    def _solve_part(self, batch: int, which: Sequence[int], joints: dict[int, list[float]]) -> None:
        """Solve some stretches, draw their pieces and note their joints."""
        left, plan = self._left, self._plan
        at_hand = self._shelf if batch == 0 else []
        whole = [offcut for offcut in at_hand if _is_whole(offcut.stock, left.board)]
        offcuts = [offcut for offcut in at_hand if offcut not in whole]
        grid = Task(left.room, left.board, unit=plan.unit).grid_mm
        rest = rest_of_floor(plan, left, which, offcuts, joints, grid)
        bound = self._bounds[batch] = RestBound(plan, left, which, at_hand, self._stop)
        way = self._best_way(rest, bound, [offcut.stock for offcut in whole])
        self._new[batch] = way.new_boards
        numbers = [piece.board for piece in way.pieces]
        self._free_number = max([self._free_number - 1, *numbers]) + 1
        self._rest += way.pieces
        for stretch, places in _joints(rest.open, rest.instance.stretches, way.solution).items():
            joints.setdefault(stretch, []).extend(places)

    def _best_way(self, rest: Rest, bound: RestBound, whole: Sequence[StockBoard]) -> "_Way":
        """Rows as planned wherever they can be, unless others are proven or found to be better."""
        kept = self._way(rest, bound, whole, AS_PLANNED)
        legal = kept.solution.conflicts == 0
        if legal and (self._keeps_rows or bound.prove(kept.new_boards).boards >= kept.new_boards):
            return kept
        found = self._way(rest, bound, whole, self._effort)
        best = min(kept, found, key=lambda way: (way.solution.conflicts, way.new_boards))
        self._kept = self._kept and best is kept
        return best

    def _way(
        self, rest: Rest, bound: RestBound, whole: Sequence[StockBoard], effort: Effort
    ) -> "_Way":
        """The rest solved with an effort, and drawn."""
        free = len(whole)
        solution, _ = solve_with_stock(
            rest.instance,
            rest.shelf,
            _raised(bound.first(), free),
            effort,
            rest.before,
            self._stop,
            lambda boards: _raised(bound.prove(boards - free), free),
            rest.strips,
        )
        first = self._free_number
        drawn = draw_rest(self._left, rest, solution, self._plan.rules, first)
        pieces = with_stock(drawn, [offcut.stock for offcut in rest.offcuts])
        pieces = _from_whole(pieces, whole, first)
        new = {piece.board for piece in pieces if piece.board >= first}
        return _Way(solution, tuple(pieces), len(new))

    # --- telling --------------------------------------------------------------------------

    def replanned(self) -> Replanned:
        """The answer."""
        findings = rest_findings(self._plan, self._left, (*self._laid, *self._rest))
        stock = (*self._stock_laid(), *(offcut.stock for offcut in self._shelf))
        drawn = replace(
            self._plan,
            board=self._left.board,
            laying=self._left.laying,
            room=self._left.room.outline,
            floor=self._left.floor_in_room,
            fixed=self._left.floor.fixed,
            recesses=self._left.floor.recesses,
            stock=stock,
            findings=findings,
            laid=tuple(piece.id for piece in self._laid),
            second_batch_row=self._state.second_batch_row,
        )
        rest = in_line(drawn, self._laid, self._in_order(drawn), self._left.board)
        new = (self._new[0], self._new[1])
        proofs = self._proofs({finding.code for finding in findings})
        plan = self._counted(drawn, (*self._laid, *rest), proofs)
        uses = tuple(
            ShelfUse(offcut.stock, tuple(p.id for p in rest if p.board == offcut.stock.id))
            for offcut in self._shelf
        )
        changes = changes_of(self._plan, plan, self._state, self._shelf)
        least = sum(proof.boards for proof in proofs)
        answer = _answer(plan, self._state, new, least, changes, uses)
        return replace(answer, keeps_rows=self._kept)

    def _in_order(self, drawn: Plan) -> list[Piece]:
        """The rest in its laying order; what is turned comes from boards that can be turned."""
        if not drawn.rows:
            return self._rest
        drawn = replace(drawn, pieces=(*self._laid, *self._rest))
        rest = {piece.id: piece for piece in self._rest}
        self._turned = {name for name, piece in rest.items() if drawn.is_turned(piece)}
        if self._turned:
            pieces = turned_pieces(drawn, self._turned)
            rest = {piece.id: piece for piece in pieces if piece.id in rest}
            first = self._state.second_batch_row or math.inf
            known = {board.id for board in drawn.stock}
            boards = {p.board: p.row >= first for p in rest.values() if p.board not in known}
            self._new = [sum(second == which for second in boards.values())
                         for which in (False, True)]  # fmt: skip
        return [rest[name] for name in sequence_of(drawn) if name in rest]

    def _proofs(self, codes: set[str]) -> list[Bound]:
        """The bound on the new boards of each batch, as far as its rules are kept."""
        found: list[Bound] = []
        for batch, wanted in enumerate(self._new):
            bound = self._bounds.get(batch)
            if bound is None:
                found.append(NOTHING_OPEN)
            elif "short-piece" in codes or self._turned:  # prices count on boards that lie one way
                found.append(bound.area)
            else:
                found.append(bound.at_most(wanted, offsets="joint-offset" not in codes))
        return found

    def _stock_laid(self) -> list[StockBoard]:
        """Boards of the old plan's stock from which pieces that lie were cut."""
        used = {piece.board for piece in self._laid}
        return [board for board in self._plan.stock if board.id in used]

    def _counted(self, plan: Plan, pieces: tuple[Piece, ...], proofs: Sequence[Bound]) -> Plan:
        """The plan with its pieces and the proven count of all its boards."""
        stock = {board.id for board in plan.stock}
        used = len({piece.board for piece in pieces} - stock)
        laid = len({piece.board for piece in self._laid} - stock)
        bound = laid + sum(proof.boards for proof in proofs)
        status: Status = "optimal" if used == bound else "feasible"
        count = BoardCount(used, bound, status, _evidence(proofs, plan.second_batch_row))
        return replace(
            plan, pieces=pieces, boards=count, packs=math.ceil(used / plan.board.per_pack)
        )


def _evidence(proofs: Sequence[Bound], second_batch_row: int | None) -> Evidence:
    """What the plan file says to prove the bound of all rows, or that of each batch."""
    first, second = (evidence(proof) for proof in proofs)
    if second_batch_row is None:
        return first
    if not first.prices and not second.prices:
        return first
    offsets = first.joint_offsets or second.joint_offsets
    return Evidence("prices", first.prices, offsets, second.prices, first.line_mm, second.line_mm)


def _is_whole(stock: StockBoard, board: Board) -> bool:
    """Whether an offcut is none: a whole board, lifted or left over."""
    is_long = abs(stock.length_mm - board.length_mm) <= SAME_MM
    return is_long and stock.ends == "both" and _is_full_width(stock, board)


def _is_full_width(stock: StockBoard, board: Board) -> bool:
    return stock.width_mm is None or stock.width_mm >= board.width_mm - SAME_MM


def _raised(bound: Bound, free: int) -> Bound:
    """A bound on new boards as one on all whole boards, those at hand among them."""
    return replace(bound, boards=bound.boards + free, value=bound.value + free)


def _from_whole(pieces: Sequence[Piece], whole: Sequence[StockBoard], first: int) -> list[Piece]:
    """Pieces with the first boards taken from the whole ones at hand."""
    given = {first + k: board.id for k, board in enumerate(whole)}
    return [replace(piece, board=given.get(piece.board, piece.board)) for piece in pieces]


def _joints(
    which: Sequence[int], needs: Sequence[StretchNeed], solution: Solution
) -> dict[int, list[float]]:
    """End joints of a solution, by stretch of the floor [mm]."""
    at = [need.start for need in needs]
    ends = [need.start + need.length for need in needs]
    found: dict[int, list[float]] = {}
    for seat in solution.seats:
        at[seat.stretch] += seat.length
        if at[seat.stretch] < ends[seat.stretch]:
            found.setdefault(which[seat.stretch], []).append(at[seat.stretch] / TICKS_PER_MM)
    return found


__all__ = [
    "Change",
    "FloorState",
    "LaidPiece",
    "Replanned",
    "ShelfUse",
    "WallShift",
    "plan_again",
]
