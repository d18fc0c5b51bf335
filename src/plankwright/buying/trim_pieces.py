"""Pieces of trim: long points, scarf joints where a wall is longer than the stock, allowance."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from plankwright.buying.wall_runs import Run, RunEnd
from plankwright.model.trim import Trim
from plankwright.units import SAME_MM

PieceEnd = Literal["square", "coped", "inside miter", "outside miter", "scarf"]
SCARF_DEG = 45.0


@dataclass(frozen=True, slots=True)
class TrimPiece:
    """A piece of trim to be cut.

    Parameters
    ----------
    label : its number on the wall and on the stick.
    where : the run it belongs to.
    long_mm : from long point to long point: at an inside miter the back is the longer face, at an
        outside miter the front.
    blank_mm : what it takes of a stick, saw allowance for its ends included, without the kerf.
    left, right : its ends, looking at the wall.
    left_deg, right_deg : how far the saw is set off square; 0 for a square end.
    """

    label: str
    where: str
    long_mm: float
    blank_mm: float
    left: PieceEnd
    right: PieceEnd
    left_deg: float = 0.0
    right_deg: float = 0.0


def trim_pieces(runs: Sequence[Run], trim: Trim, *, even: bool = False) -> tuple[TrimPiece, ...]:
    """The pieces of all runs, numbered round the room.

    A run longer than the longest stock is spliced: whole lengths and a rest, or ``even`` parts.
    """
    pieces: list[TrimPiece] = []
    for run in runs:
        for part in _parts(run, trim, even=even):
            pieces.append(_numbered(part, len(pieces) + 1))
    return tuple(pieces)


def long_point_mm(run: Run, thickness_mm: float) -> float:
    """Long point to long point: at an outside corner the front face reaches past the wall's end.

    By thickness x tan(turn / 2): a thickness at a square corner.
    """
    return run.length_mm + sum(
        thickness_mm * math.tan(math.radians(end.turn_deg / 2.0))
        for end in (run.near, run.far)
        if end.kind == "outside"
    )


def spliced_sticks(lengths_mm: Sequence[float], stock_mm: float, waste_pct: float = 0.0) -> int:
    """Sticks when every scrap is spliced in: the sum of all lengths over the stock, rounded up.

    >>> spliced_sticks([37.5] * 14, 72), spliced_sticks([960], 96), spliced_sticks([960], 96, 10)
    (8, 10, 11)
    """
    total = math.fsum(lengths_mm) * (1.0 + waste_pct / 100.0)
    return math.ceil(total / stock_mm - SAME_MM)


def spliced_pieces(pieces: Sequence[TrimPiece], trim: Trim) -> tuple[TrimPiece, ...]:
    """The pieces cut up so that they fill sticks of the longest stock one after the other.

    Each joint costs a scarf: its overlap, and saw allowance on both sides.
    """
    room = trim.longest_mm
    found: list[TrimPiece] = []
    for piece in pieces:
        rest, letter = piece, 0
        while rest.blank_mm > room + SAME_MM:
            take = min(room, _longest_first(rest, trim))
            if take >= trim.shortest_mm + 2.0 * trim.end_mm:
                first, rest = _cut_in_two(rest, take, trim, chr(ord("a") + letter))
                found.append(first)
                letter += 1
            room = trim.longest_mm
        if letter:
            rest = _relabeled(rest, piece.label + chr(ord("a") + letter))
        found.append(rest)
        room -= rest.blank_mm + trim.kerf_mm
        if room <= 0.0:
            room = trim.longest_mm
    return tuple(found)


def scarf_mm(trim: Trim) -> float:
    """By how much the two parts of a scarf joint overlap [mm]."""
    return trim.thickness_mm * math.tan(math.radians(SCARF_DEG))


def _longest_first(piece: TrimPiece, trim: Trim) -> float:
    """The longest blank of a first part that leaves a part of the shortest length."""
    whole = piece.blank_mm + 2.0 * trim.end_mm + scarf_mm(trim)
    right_mm = 0.0 if piece.right == "square" else trim.end_mm
    return whole - trim.shortest_mm - trim.end_mm - right_mm


def _even_share(piece: TrimPiece, trim: Trim) -> float:
    """The blank of each part when as few parts as the stock allows are equally long."""
    joint = 2.0 * trim.end_mm + scarf_mm(trim)
    parts = math.ceil((piece.blank_mm - joint) / (trim.longest_mm - joint) - SAME_MM)
    return (piece.blank_mm + (parts - 1) * joint) / parts


def _cut_in_two(
    piece: TrimPiece, blank_mm: float, trim: Trim, letter: str
) -> tuple[TrimPiece, TrimPiece]:
    """A first part of a given blank, the right end scarfed, and what is left of the piece."""
    first_long = blank_mm - trim.end_mm - (0.0 if piece.left == "square" else trim.end_mm)
    rest_long = piece.long_mm - first_long + scarf_mm(trim)
    right_mm = 0.0 if piece.right == "square" else trim.end_mm
    base = piece.label.rstrip("abcdefghijklmnopqrstuvwxyz")
    first = TrimPiece(
        base + letter, piece.where, first_long, blank_mm, piece.left, "scarf", piece.left_deg,
        SCARF_DEG,
    )  # fmt: skip
    rest = TrimPiece(
        base, piece.where, rest_long, rest_long + trim.end_mm + right_mm, "scarf", piece.right,
        SCARF_DEG, piece.right_deg,
    )  # fmt: skip
    return first, rest


def _parts(run: Run, trim: Trim, *, even: bool) -> Iterator[TrimPiece]:
    """The run in one piece, or in as few as the longest stock allows."""
    left, left_deg = _piece_end(run.far, trim, is_left=True)
    right, right_deg = _piece_end(run.near, trim, is_left=False)
    long_mm = long_point_mm(run, trim.thickness_mm)
    blank = long_mm + trim.end_mm * sum(end != "square" for end in (left, right))
    rest = TrimPiece("", run.where, long_mm, blank, left, right, left_deg, right_deg)
    while rest.blank_mm > trim.longest_mm + SAME_MM:
        take = min(trim.longest_mm, _longest_first(rest, trim))
        if even:
            take = _even_share(rest, trim)
        first, rest = _cut_in_two(rest, take, trim, "")
        yield first
    yield rest


def _piece_end(end: RunEnd, trim: Trim, *, is_left: bool) -> tuple[PieceEnd, float]:
    """How an end is cut. Of two coped pieces the one with its left end in the corner is coped,
    the other runs square into the corner."""
    if end.kind == "square":
        return "square", 0.0
    if end.kind == "outside":
        return "outside miter", end.turn_deg / 2.0
    if trim.inside == "mitered":
        return "inside miter", end.turn_deg / 2.0
    return ("coped", end.turn_deg / 2.0) if is_left else ("square", 0.0)


def _numbered(piece: TrimPiece, number: int) -> TrimPiece:
    return _relabeled(piece, str(number))


def _relabeled(piece: TrimPiece, label: str) -> TrimPiece:
    return TrimPiece(
        label, piece.where, piece.long_mm, piece.blank_mm, piece.left, piece.right, piece.left_deg,
        piece.right_deg,
    )  # fmt: skip
