"""Why pieces are cut from something else than planned: what went wrong, and what followed from it.

A piece is told by its own cause where it has one: its cut went wrong, its offcut is gone, or an
offcut is at hand that nobody planned with. What shared a board with such a piece, or shares one
with it now, follows from that piece. Where other rows take fewer boards, that is the reason, and
what went wrong is named with it.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from plankwright.guide.as_laid import FloorState
from plankwright.guide.offcuts_left import Offcut
from plankwright.model.plan import Piece, Plan
from plankwright.plan.saw_cuts import piece_figure
from plankwright.units import Unit, parse_unit

FEWEST = "the fewest new boards are needed so, with what is at hand"
MOST_NAMED = 2  # things that went wrong, in one sentence


class ChangeReasons:
    """The reasons for other sources of pieces, from the offcuts at hand and what was planned."""

    def __init__(self, old: Plan, new: Plan, state: FloorState, shelf: Sequence[Offcut]) -> None:
        self._new, self._unit = new, parse_unit(new.unit)
        self._before = {piece.id: piece for piece in old.pieces}
        self._offcuts = {offcut.stock.id: offcut for offcut in shelf}
        self._at_hand = {offcut.board for offcut in shelf}
        self._wrong = [name for name in state.spoiled if name not in state.lifted_ids]
        self._lifted = state.lifted_ids
        self._miscut = {
            name: offcut.stock.label
            for name in self._wrong
            for offcut in shelf
            if offcut.stock.label.startswith(f"{name}/")
        }
        self._planned = _by_board(old.pieces)
        self._now = _by_board(new.pieces)
        out = state.laid_ids | {*state.cut, *state.spoiled}
        stock = {board.id for board in old.stock}
        self._begun = {
            board for board, names in self._planned.items() if board in stock or out & {*names}
        }
        self._laid = set(new.laid)
        self._told = self._all()

    # --- where a piece comes from ---------------------------------------------------------------

    def is_from_elsewhere(self, piece: Piece) -> bool:
        """Whether an open piece is cut from something else than the old plan says."""
        return self._source_now(piece) != self._source_before(self._before[piece.id])

    def source(self, piece: Piece) -> str:
        """What a piece is cut from now, in words."""
        offcut = self._offcuts.get(piece.board)
        if self._is_itself(piece):
            return "is laid again"
        if offcut is not None:
            return f"is cut from {offcut_words(offcut, self._unit)}"
        if piece.label:
            return f"is cut from what {self._now[piece.board][0]} leaves"
        return "is a new board" if piece.cut_order is None else "is cut from a new board"

    def _is_itself(self, piece: Piece) -> bool:
        """Whether a piece that came up goes back to its place."""
        offcut = self._offcuts.get(piece.board)
        return piece.id in self._lifted and offcut is not None and offcut.stock.label == piece.id

    def _source_before(self, piece: Piece) -> object:
        """A board that was begun, by its number; or a new one, by the other pieces cut from it."""
        if piece.board in self._begun:
            return piece.board
        return frozenset(self._planned[piece.board])

    def _source_now(self, piece: Piece) -> object:
        offcut = self._offcuts.get(piece.board)
        if offcut is not None:
            return offcut.board if offcut.board is not None else ("other", offcut.stock.id)
        return frozenset(self._now[piece.board])

    # --- why --------------------------------------------------------------------------------------

    def of_source(self, piece: Piece) -> str | None:
        """Why a piece has another source; None where it is only part of a plan that takes less."""
        return self._told.get(piece.id)

    def of_rows(self) -> str:
        """Why rows are laid otherwise, or boards shared otherwise: for the fewest new boards."""
        told = [self._wrong_words(name) for name in self._wrong[:MOST_NAMED]]
        for name in self._open_before():
            gone = self._gone_words(self._before[name])
            if gone and gone not in told and len(told) < MOST_NAMED:
                told.append(gone)
        if not told:
            return FEWEST
        return f"{' and '.join(told)}, and the fewest new boards are needed so"

    def lost(self, pieces: Sequence[Piece]) -> str | None:
        """That the offcut for one of some pieces of the old plan is not at hand."""
        return next(filter(None, map(self._gone_words, pieces)), None)

    def _open_before(self) -> list[str]:
        return [name for name in self._before if name not in self._laid]

    def _all(self) -> Mapping[str, str]:
        """The reasons of all open pieces from elsewhere: their own first, then what follows."""
        waiting = [
            piece for piece in self._new.pieces
            if piece.id not in self._laid and piece.id in self._before
            and self.is_from_elsewhere(piece)
        ]  # fmt: skip
        by_id = {piece.id: piece for piece in waiting}
        further = {p.id: why for p in waiting if (why := self._own_cause(p))}
        told: dict[str, str] = {}
        while further:
            told |= further
            further = {
                piece.id: why for piece in waiting
                if piece.id not in told and (why := self._following(piece, told, by_id))
            }  # fmt: skip
        return told

    def _own_cause(self, piece: Piece) -> str | None:
        """What went wrong with a piece, its board or its offcut; or the offcut that nobody knew."""
        old = self._before[piece.id]
        if self._is_itself(piece):
            return f"row {piece.row} comes up"
        if piece.id in self._wrong:
            return self._wrong_words(piece.id)
        if gone := self._gone_words(old):
            return gone
        offcut = self._offcuts.get(piece.board)
        if offcut is None or offcut.board is not None:
            return None
        words = offcut_words(offcut, self._unit)
        maker = offcut.stock.label.partition("/")[0]
        if maker in self._miscut:
            return f"the wrong cut of {maker} left {words}"
        return f"{words} is at hand, which was not planned with"

    def _gone_words(self, old: Piece) -> str | None:
        """That what a piece was to be cut from is begun and not at hand, and how that came."""
        if old.board not in self._begun or old.board in self._at_hand:
            return None
        wrong = next((n for n in self._planned[old.board] if n in self._wrong), None)
        if wrong is not None:
            return self._wrong_words(wrong)
        name = f"offcut {old.label}" if old.label else "the offcut"
        return f"{name} for {old.id} is not there any more"

    def _wrong_words(self, name: str) -> str:
        how = "was cut at the wrong end" if name in self._miscut else "has to be cut again"
        return f"{name} {how}"

    def _following(
        self, piece: Piece, told: Mapping[str, str], elsewhere: Mapping[str, Piece]
    ) -> str | None:
        """Why a piece has another source: one that it was, or is, to share its board with has."""
        for name in self._planned[self._before[piece.id].board]:
            if name in told:
                return f"{name}, planned from the same board, {self.source(elsewhere[name])}"
        offcut = self._offcuts.get(piece.board)
        for name in offcut.wanted if offcut is not None else self._now[piece.board]:
            if name in told:
                left = "leaves enough for it" if offcut is None else "does not need it any more"
                return f"{name} {left}"
        return None


def offcut_words(offcut: Offcut, unit: Unit) -> str:
    """An offcut by its letter, or by its length where it bears none."""
    if offcut.stock.label:
        return f"offcut {offcut.stock.label}"
    return f"the offcut of {piece_figure(offcut.stock.length_mm, unit)}"


def _by_board(pieces: Sequence[Piece]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = defaultdict(list)
    for piece in sorted(pieces, key=lambda piece: piece.lay_order):
        found[piece.board].append(piece.id)
    return found
