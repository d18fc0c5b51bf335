"""Hours of laying from the plan's rows and pieces, and where to stop for the night."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from plankwright.model.plan import Piece, Plan
from plankwright.model.toolbox import Rates


@dataclass(frozen=True, slots=True)
class RowTime:
    """A row and the minutes it takes."""

    row: int
    minutes: float


@dataclass(frozen=True, slots=True)
class Work:
    """What the job takes.

    Parameters
    ----------
    rows : minutes of each row.
    minutes : by what is done, as pairs; the rows are one of them.
    stops : rows after which each day ends, the last day left out.
    """

    rows: tuple[RowTime, ...]
    minutes: tuple[tuple[str, float], ...]
    stops: tuple[int, ...]

    @property
    def hours(self) -> float:
        """All of it [h]."""
        return sum(minutes for _, minutes in self.minutes) / 60.0


def is_crosscut(piece: Piece) -> bool:
    """Whether an end is sawn."""
    return "cut" in (piece.near_end, piece.far_end)


def is_ripped(piece: Piece) -> bool:
    """Whether a long side is sawn."""
    return "cut" in (piece.wall_side, piece.room_side)


def is_odd(piece: Piece) -> bool:
    """Whether it is notched or more than a four-sided piece."""
    outline = piece.outline.simplify(0.5)
    return bool(outline.interiors) or len(outline.exterior.coords) > 5


def work_of(plan: Plan, rates: Rates, *, jambs: int, strips: int, trim_pieces: int) -> Work:
    """Hours by the person's own rates.

    Parameters
    ----------
    jambs : to be undercut.
    strips : of vapor barrier and underlayment to roll out, cut and tape.
    trim_pieces : to be cut and fixed.
    """
    by_row: dict[int, list[Piece]] = {}
    for piece in plan.pieces:
        by_row.setdefault(piece.row, []).append(piece)
    rows = tuple(RowTime(row, _row_minutes(by_row[row], rates)) for row in sorted(by_row))
    before = rates.set_up + rates.jamb * jambs + rates.film_strip * strips
    minutes = (
        ("set up, clear and sweep", rates.set_up),
        ("undercut jambs", rates.jamb * jambs),
        ("roll out vapor barrier and underlayment", rates.film_strip * strips),
        ("rows", sum(row.minutes for row in rows)),
        ("trim", rates.trim_piece * trim_pieces),
    )
    return Work(rows, minutes, _stops(rows, before, rates))


def _row_minutes(pieces: Iterable[Piece], rates: Rates) -> float:
    total = rates.row
    for piece in pieces:
        total += rates.board
        total += rates.crosscut * is_crosscut(piece) + rates.rip * is_ripped(piece)
        total += rates.odd_piece * is_odd(piece)
    return total


def _stops(rows: Sequence[RowTime], before: float, rates: Rates) -> tuple[int, ...]:
    """The last row that is whole when the day is over; a day begins with a row."""
    stops: list[int] = []
    day = rates.day_hours * 60.0
    spent = before % day
    for row, after in pairwise(rows):
        spent += row.minutes
        if spent + after.minutes > day:
            stops.append(row.row)
            spent = 0.0
    return tuple(stops)
