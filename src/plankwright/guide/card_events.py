"""What doing a card writes down: the cut with its offcuts, the laying, and the usual mishap."""

from collections.abc import Collection
from dataclasses import replace
from itertools import count

from plankwright.errors import InputError
from plankwright.guide.cards import Card, Left
from plankwright.guide.events import Ends, PieceCut, PieceLaid, PieceShelved, Rest, What
from plankwright.guide.laying_state import LayingState

OF_USE_MM = 50.0  # what is shorter is swept up
OTHER_END: dict[Ends, Ends] = {"near": "far", "far": "near"}


def cut_of(card: Card, length_mm: float | None = None, *, pack: str = "") -> PieceCut:
    """The cut of a card, made as it says; an offcut that fits as it is counts as cut.

    Parameters
    ----------
    length_mm : what the piece measures where it was cut to another length than planned; a longer
        piece takes it from its longest offcut.
    pack : the pack a new board came from.

    Raises
    ------
    InputError : the card has no cut.
    """
    if card.is_new_and_whole:
        raise InputError("a whole board is not cut", where=card.piece)
    planned, width = card.length_mm, max(card.widths_mm)
    if card.cut is not None:
        planned, width = card.cut.piece.length_mm, card.cut.piece.width_mm
    length = planned if length_mm is None else length_mm
    lefts = _shortened(card.left, max(length - planned, 0.0))
    return PieceCut(
        piece=card.piece,
        source="" if card.take.kind == "new board" else card.take.label,
        length_mm=_tidy(length),
        width_mm=_tidy(width),
        ends=card.ends,
        rests=tuple(
            Rest(left.mark, _tidy(left.length_mm), _tidy(left.width_mm), left.ends)
            for left in lefts
            if left.mark
        ),
        pack=pack,
    )


def with_free_marks(what: PieceCut, taken: Collection[str]) -> PieceCut:
    """The cut with marks that are on no other offcut; letters are the plan's and stay.

    A piece that is cut twice leaves two spares: the second is marked ``S3.1.2-2``.
    """
    used = set(taken) - {what.source}
    rests: list[Rest] = []
    for rest in what.rests:
        label = rest.label if rest.label.isalpha() else free_mark(rest.label, used)
        used.add(label)
        rests.append(replace(rest, label=label))
    return replace(what, rests=tuple(rests))


def free_mark(mark: str, taken: Collection[str]) -> str:
    """The mark, or the same with the next free number."""
    if mark not in taken:
        return mark
    return next(name for n in count(2) if (name := f"{mark}-{n}") not in taken)


def lay_of(card: Card, *, pack: str = "") -> PieceLaid:
    """The laying of a card's piece: from the hand, or a whole board out of its pack."""
    whole = card.is_new_and_whole
    return PieceLaid(card.piece, whole=whole, pack=pack if whole else "")


def done_of(card: Card, state: LayingState, *, pack: str = "") -> tuple[What, ...]:
    """What is written down when a card is done: cut, unless it is in the hand already, and laid."""
    if card.piece in state.hand:
        return (PieceLaid(card.piece),)
    if card.is_new_and_whole:
        return (lay_of(card, pack=pack),)
    return with_free_marks(cut_of(card, pack=pack), state.shelf), lay_of(card)


def wrong_end_of(card: Card, taken: Collection[str] = (), *, pack: str = "") -> tuple[What, ...]:
    """The length was right and the end that was kept wrong: both parts go on the shelf.

    What was cut has the end that should be on the offcut, and the other way round.

    Parameters
    ----------
    taken : what is written on the offcuts of the shelf.

    Raises
    ------
    InputError : the card keeps no end that could be mistaken.
    """
    right = cut_of(card, pack=pack)
    ends = OTHER_END.get(right.ends)
    if ends is None or card.cut is None or card.cut.end not in ("near", "far"):
        raise InputError("there is no wrong end to keep", where=card.piece)
    source, kerf = card.cut.source, _kerf(card)
    length = _tidy(source.length_mm - right.length_mm - kerf)
    marks = [free_mark(f"{card.piece}/{number}", taken) for number in (1, 2)]
    rests = (Rest(marks[1], length, _tidy(source.width_mm), right.ends),) if length > 0.0 else ()
    wrong = replace(right, width_mm=_tidy(source.width_mm), ends=ends, rests=rests)
    return wrong, PieceShelved(card.piece, marks[0], right.length_mm, ends)


def _kerf(card: Card) -> float:
    """What the saw took beside the piece, as the card's own offcuts tell."""
    assert card.cut is not None
    beside = [left.length_mm for left in card.left if left.length_mm > 0.0]
    spare = card.cut.source.length_mm - card.cut.piece.length_mm
    return max(spare - max(beside, default=spare), 0.0)


def _shortened(lefts: tuple[Left, ...], by_mm: float) -> tuple[Left, ...]:
    if by_mm <= 0.0 or not lefts:
        return lefts
    longest = max(lefts, key=lambda left: left.length_mm)
    return tuple(
        replace(left, length_mm=left.length_mm - by_mm) if left is longest else left
        for left in lefts
        if left is not longest or left.length_mm > by_mm
    )


def _tidy(value: float) -> float:
    """To 0.001 mm, as events keep lengths."""
    return round(float(value), 3)
