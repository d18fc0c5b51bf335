"""What doing a card writes down: the cut with its offcuts, the laying, and the usual mishap."""

from dataclasses import replace

from plankwright.errors import InputError
from plankwright.guide.cards import Card, Left, ends_named
from plankwright.guide.events import Ends, PieceCut, PieceLaid, PieceShelved, Rest, What
from plankwright.guide.laying_state import LayingState

OF_USE_MM = 50.0  # what is shorter is swept up
OTHER_END: dict[Ends, Ends] = {"near": "far", "far": "near"}


def cut_of(card: Card, length_mm: float | None = None, *, pack: str = "") -> PieceCut:
    """The cut of a card, made as it says.

    Parameters
    ----------
    length_mm : what the piece measures where it was cut to another length than planned; a longer
        piece takes it from its longest offcut.
    pack : the pack a new board came from.

    Raises
    ------
    InputError : the card has no cut.
    """
    cut = card.cut
    if cut is None:
        raise InputError("a whole board is not cut", where=card.piece)
    piece = cut.piece
    length = piece.length_mm if length_mm is None else length_mm
    lefts = _shortened(card.left, max(length - piece.length_mm, 0.0))
    return PieceCut(
        piece=card.piece,
        source="" if card.take.kind == "new board" else card.take.label,
        length_mm=_tidy(length),
        width_mm=_tidy(piece.width_mm),
        ends=ends_named(near=piece.near_end == "factory", far=piece.far_end == "factory"),
        rests=tuple(
            Rest(left.mark, _tidy(left.length_mm), _tidy(left.width_mm), left.ends)
            for left in lefts
            if left.mark
        ),
        pack=pack,
    )


def done_of(card: Card, state: LayingState, *, pack: str = "") -> tuple[What, ...]:
    """What is written down when a card is done: cut, unless it is in the hand already, and laid."""
    if card.piece in state.hand:
        return (PieceLaid(card.piece),)
    if card.cut is None:
        return (PieceLaid(card.piece, whole=True, pack=pack),)
    return cut_of(card, pack=pack), PieceLaid(card.piece)


def wrong_end_of(card: Card, *, pack: str = "") -> tuple[What, ...]:
    """The length was right and the end that was kept wrong: both parts go on the shelf.

    What was cut has the end that should be on the offcut, and the other way round.

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
    marks = f"{card.piece}/1", f"{card.piece}/2"
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
