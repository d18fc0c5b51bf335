"""What a person tells the log in a few words: ``spoiled 3.1.2``, ``found K 784 far``.

Every sentence begins with its own word; lengths are typed as everywhere else.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import cast, get_args

from plankwright.application.lay_day import Day
from plankwright.errors import InputError
from plankwright.guide.card_events import cut_of, with_free_marks, wrong_end_of
from plankwright.guide.checks import checks_of
from plankwright.guide.events import (
    BoardDamaged,
    BoardsOpened,
    CheckMade,
    Distance,
    DistanceMeasured,
    Ends,
    GapChecked,
    Noted,
    OffcutFound,
    OffcutThrown,
    PieceDamaged,
    PieceLaid,
    PieceLifted,
    PieceShelved,
    PieceSpoiled,
    RowEnd,
    RowLocked,
    What,
)
from plankwright.units import parse_length, parse_unit

Words = list[str]


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence of the log: how it is written, what it means, and what reads it."""

    form: str
    meaning: str
    least: int
    most: int
    read: Callable[[Words, Day], tuple[What, ...]]


def told(words: Sequence[str], day: Day) -> tuple[What, ...]:
    """The events that a sentence tells.

    Raises
    ------
    InputError : no such sentence, a word too few or too many, a length or piece that cannot be.
    """
    first, *rest = words or [""]
    sentence = SENTENCES.get(first.lower())
    if sentence is None:
        raise InputError(
            "not something that can be told",
            where="tell",
            value=first,
            remedy="Begin with one of: " + ", ".join(SENTENCES) + ".",
        )
    if not sentence.least <= len(rest) <= sentence.most:
        raise InputError(
            "a word too few or too many",
            where=f"tell {first}",
            value=" ".join(words),
            remedy=f"Write it as: {sentence.form}",
        )
    return sentence.read(rest, day)


def _opened(words: Words, day: Day) -> tuple[What, ...]:
    pack, batch, *more = [*words, ""] if len(words) == 1 else words
    boards = _whole(more[0], "boards") if more else day.plan.board.per_pack
    return (BoardsOpened(pack, batch, boards),)


def _cut(words: Words, day: Day) -> tuple[What, ...]:
    card = day.card(words[0])
    cut = cut_of(card, _length(words[1], day) if len(words) > 1 else None)
    return (with_free_marks(cut, day.state.shelf),)


def _laid(words: Words, day: Day) -> tuple[What, ...]:
    card = day.card(words[0])
    whole = card.is_new_and_whole and card.piece not in day.state.hand
    return (PieceLaid(card.piece, whole=whole),)


def _damaged(words: Words, day: Day) -> tuple[What, ...]:
    if words[0].lower() == "board":
        return (BoardDamaged(words[1] if len(words) > 1 else ""),)
    return (PieceDamaged(day.card(words[0]).piece),)


def _shelved(words: Words, day: Day) -> tuple[What, ...]:
    piece, letter, length, ends = words
    return (PieceShelved(piece, letter, _length(length, day), _ends(ends)),)


def _found(words: Words, day: Day) -> tuple[What, ...]:
    letter, length, ends, *wide = words
    width = _length(wide[0], day) if wide else round(day.plan.board.width_mm, 3)
    return (OffcutFound(letter, _length(length, day), width, _ends(ends)),)


def _measured(words: Words, day: Day) -> tuple[What, ...]:
    row, end, length, *what = words
    named = " ".join(what) or "to the far wall"
    if named not in get_args(Distance):
        raise _choice("what", named, get_args(Distance))
    if end not in get_args(RowEnd):
        raise _choice("end", end, get_args(RowEnd))
    size = _length(length, day)
    return (DistanceMeasured(cast(Distance, named), _whole(row, "row"), cast(RowEnd, end), size),)


def _checked(words: Words, day: Day) -> tuple[What, ...]:
    *rest, outcome = words
    name, known = " ".join(rest), [check.name for check in checks_of(day.plan)]
    if outcome not in ("good", "bad"):
        raise _choice("outcome", outcome, ("good", "bad"))
    if name not in known:
        raise _choice("check", name, known)
    return (CheckMade(name, outcome == "good"),)


SENTENCES: dict[str, Sentence] = {
    "opened": Sentence(
        "opened PACK [BATCH [BOARDS]]", "a pack was opened, of a batch, with so many boards",
        1, 3, _opened),
    "cut": Sentence(
        "cut PIECE [LENGTH]", "a piece was cut, as its card says or to another length",
        1, 2, _cut),
    "laid": Sentence("laid PIECE", "a piece was laid", 1, 1, _laid),
    "wrong-end": Sentence(
        "wrong-end PIECE", "the wrong end was kept: both parts go on the shelf",
        1, 1, lambda words, day: wrong_end_of(day.card(words[0]), day.state.shelf)),
    "spoiled": Sentence(
        "spoiled PIECE", "a piece in the hand is of no use",
        1, 1, lambda words, _: (PieceSpoiled(words[0]),)),
    "shelved": Sentence(
        "shelved PIECE LETTER LENGTH near|far|both|none",
        "a piece in the hand goes on the shelf, with the factory ends that it has",
        4, 4, _shelved),
    "damaged": Sentence(
        "damaged PIECE | damaged board [PACK]", "a piece that lies, or a new board, is damaged",
        1, 2, _damaged),
    "lifted": Sentence(
        "lifted PIECE", "a piece that lay was lifted",
        1, 1, lambda words, _: (PieceLifted(words[0]),)),
    "found": Sentence(
        "found LETTER LENGTH near|far|both|none [WIDTH]", "an offcut was found",
        3, 4, _found),
    "thrown": Sentence(
        "thrown LETTER", "an offcut on the shelf was thrown away, lost or split",
        1, 1, lambda words, _: (OffcutThrown(words[0]),)),
    "measured": Sentence(
        "measured ROW near|far LENGTH [to the far wall|row length|laid width|open joint]",
        "a distance was measured at an end of a row; to the far wall where nothing is said",
        3, 7, _measured),
    "gap": Sentence(
        "gap PLACE LENGTH", "the gap was measured at a wall, a post, an end of a row",
        2, 2, lambda words, day: (GapChecked(words[0], _length(words[1], day)),)),
    "locked": Sentence(
        "locked ROW", "a row was found straight and was locked so",
        1, 1, lambda words, _: (RowLocked(_whole(words[0], "row")),)),
    "checked": Sentence(
        "checked NAME good|bad", "a check was made: before row 1, after row 2, before trim",
        2, 6, _checked),
    "note": Sentence(
        "note TEXT [PLACE]", "something to remember",
        1, 2, lambda words, _: (Noted(*words),)),
}  # fmt: skip


def _length(text: str, day: Day) -> float:
    return round(float(parse_length(text, parse_unit(day.plan.unit), where="tell")), 3)


def _whole(text: str, where: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 4):
        raise InputError("must be a whole number", where=where, value=text)
    return int(text)


def _ends(text: str) -> Ends:
    if text not in get_args(Ends):
        raise _choice("ends", text, get_args(Ends))
    return cast(Ends, text)


def _choice(where: str, value: str, choices: Sequence[str]) -> InputError:
    return InputError(
        "not one of the choices", where=where, value=value, remedy="Write " + ", ".join(choices)
    )
