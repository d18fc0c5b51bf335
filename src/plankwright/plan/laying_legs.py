"""The laying order as a person remembers it: a few legs, each a walk from row to row.

A leg goes on as long as the next stretch lies in the same row or in the next one; where laying
begins anew somewhere else, or turns round, a new leg begins.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from plankwright.model.plan import Piece, Plan


@dataclass(frozen=True, slots=True)
class Leg:
    """A part of the laying order.

    Parameters
    ----------
    number : from 1.
    pieces : as they are laid.
    backwards : whether its rows are joined on their room side.
    turned : whether its boards lie turned end for end.
    """

    number: int
    pieces: tuple[Piece, ...]
    backwards: bool = False
    turned: bool = False

    @property
    def rows(self) -> tuple[int, int]:
        """Its first and its last row, as they are laid."""
        return self.pieces[0].row, self.pieces[-1].row

    def words(self) -> str:
        """What it is, in a few words."""
        first, last = self.rows
        rows = f"row {first}" if first == last else f"rows {first} to {last}"
        numbers = {piece.stretch for piece in self.pieces}
        part = f", stretch {min(numbers)}" if len(numbers) == 1 and max(numbers) > 1 else ""
        how = ", turned end for end" if self.turned else ", backwards" if self.backwards else ""
        return rows + part + how


def legs_of(plan: Plan) -> tuple[Leg, ...]:
    """The legs of a plan's laying order."""
    laid = sorted(plan.pieces, key=lambda piece: piece.lay_order)
    of_row: dict[int, set[int]] = {}
    for piece in laid:
        of_row.setdefault(piece.row, set()).add(piece.stretch)
    legs: list[list[Piece]] = []
    for stretch in _stretches(laid):
        kind = _kind(plan, stretch[0])
        step = -1 if any(kind) else 1
        goes_on = (
            bool(legs)
            and _kind(plan, legs[-1][-1]) == kind
            and stretch[0].row - legs[-1][-1].row in (0, step)
            and not _joins_another(legs[-1], stretch[0], of_row)
        )
        if goes_on:
            legs[-1] += stretch
        else:
            legs.append(stretch)
    return tuple(
        Leg(number, tuple(pieces), *_kind(plan, pieces[0]))
        for number, pieces in enumerate(legs, start=1)
    )


def _stretches(laid: list[Piece]) -> Iterator[list[Piece]]:
    for _, group in groupby(laid, key=lambda piece: (piece.row, piece.stretch)):
        yield list(group)


def _joins_another(leg: list[Piece], piece: Piece, of_row: dict[int, set[int]]) -> bool:
    """Whether a row is whole again after a leg that had only a part of the row before."""
    row = leg[-1].row
    had = {laid.stretch for laid in leg if laid.row == row}
    return piece.row != row and had != of_row[row] and len(of_row[piece.row]) == 1


def _kind(plan: Plan, piece: Piece) -> tuple[bool, bool]:
    """Whether a piece lies in a row laid backwards, and whether it is turned."""
    for row in plan.rows:
        if row.row == piece.row and row.covers(piece.stretch):
            return row.joined == "room-side", row.turned
    return False, False
