"""What changed against the plan that was there, and why."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from plankwright.guide.as_laid import FloorState
from plankwright.guide.change_reasons import ChangeReasons
from plankwright.guide.offcuts_left import Offcut
from plankwright.model.plan import Piece, Plan
from plankwright.plan.saw_cuts import piece_figure
from plankwright.units import format_length, parse_unit

SAME_MM = 1.0


@dataclass(frozen=True, slots=True)
class Change:
    """What differs from the old plan at one place, and why."""

    where: str
    what: str
    why: str


def changes_of(
    old: Plan, new: Plan, state: FloorState, shelf: Sequence[Offcut]
) -> tuple[Change, ...]:
    """Every row that is laid otherwise than planned, and every piece from another source."""
    work = _Changes(old, new, state, shelf)
    return tuple(work.all())


class _Changes:
    """The old plan and the new one side by side."""

    def __init__(self, old: Plan, new: Plan, state: FloorState, shelf: Sequence[Offcut]) -> None:
        self._old, self._new, self._state = old, new, state
        self._unit = parse_unit(new.unit)
        self._before = {piece.id: piece for piece in old.pieces}
        self._laid = set(new.laid)
        self._reasons = ChangeReasons(old, new, state, shelf)

    def all(self) -> list[Change]:
        """Rows in laying order, what changed in each."""
        rows: dict[tuple[int, int], list[Piece]] = defaultdict(list)
        for piece in self._new.pieces:
            rows[piece.row, piece.stretch].append(piece)
        old_rows = {(piece.row, piece.stretch) for piece in self._old.pieces}
        found = [
            change
            for (row, stretch), pieces in sorted(rows.items())
            for change in self._row(f"{row}.{stretch}", pieces)
        ]
        gone = sorted(old_rows - set(rows))
        found += [
            Change(f"{row}.{stretch}", "is not laid any more", self._wall())
            for row, stretch in gone
        ]
        return found

    def _row(self, where: str, pieces: Sequence[Piece]) -> list[Change]:
        open_pieces = [piece for piece in pieces if piece.id not in self._laid]
        if not open_pieces:
            return []
        if any(piece.id not in self._before for piece in open_pieces):
            return [Change(where, "is cut otherwise", self._why(open_pieces))]
        moved = [p for p in open_pieces if self._has_other_size(p)]
        if moved:
            told = ", ".join(self._size(piece) for piece in moved)
            return [Change(where, told, self._why(moved))]
        return [
            Change(piece.id, self._reasons.source(piece), self._why_from_elsewhere(piece))
            for piece in open_pieces
            if self._reasons.is_from_elsewhere(piece)
        ]

    def _has_other_size(self, piece: Piece) -> bool:
        old = self._before[piece.id]
        sizes = abs(old.length_mm - piece.length_mm), abs(old.width_mm - piece.width_mm)
        return max(sizes) > SAME_MM

    def _size(self, piece: Piece) -> str:
        old = self._before[piece.id]
        if abs(old.length_mm - piece.length_mm) > SAME_MM:
            return f"{piece.id} is {self._instead(piece.length_mm, old.length_mm, 'long')}"
        return f"{piece.id} is {self._instead(piece.width_mm, old.width_mm, 'wide')}"

    def _instead(self, now: float, before: float, which: str) -> str:
        """A size and the one it had, as the person reads them off a tape."""
        new, old = (piece_figure(size, self._unit) for size in (now, before))
        if new == old:  # by less than a mark of the tape
            more = {"long": ("longer", "shorter"), "wide": ("wider", "narrower")}[which]
            return f"a little {more[now < before]}, {new} still"
        return f"{new} {which}, not {old}"

    def _why_from_elsewhere(self, piece: Piece) -> str:
        """Why a piece of the planned size has another source."""
        return self._reasons.of_source(piece) or self._why([piece])

    def _why(self, pieces: Sequence[Piece]) -> str:
        """The nearest reason: the wall, the row width, an offcut gone, or boards spared."""
        known = [piece for piece in pieces if piece.id in self._before]
        wider = any(abs(self._before[p.id].width_mm - p.width_mm) > SAME_MM for p in known)
        if self._state.walls and (wider or not known or self._reaches_wall(known)):
            return self._wall()
        if wider and self._state.row_width_mm is not None:
            ten = format_length(10.0 * self._state.row_width_mm, self._unit)
            return f"ten laid rows measure {ten} across"
        if lost := self._reasons.lost([self._before[piece.id] for piece in known]):
            return lost
        if self._state.second_batch_row is not None:
            return f"the second batch begins at row {self._state.second_batch_row}"
        if self._state.walls:
            return self._wall()
        return self._reasons.of_rows()

    def _reaches_wall(self, pieces: Sequence[Piece]) -> bool:
        last = {(p.row, p.stretch): p.seat for p in self._new.pieces}
        return any(p.seat in (1, last[p.row, p.stretch]) for p in pieces)

    def _wall(self) -> str:
        if not self._state.walls:
            return "the rows are others"
        shift = self._state.walls[0]
        side = "nearer" if shift.nearer_mm > 0 else "farther"
        size = format_length(abs(shift.nearer_mm), self._unit)
        return f"wall {shift.wall} is {size} {side} than planned"
