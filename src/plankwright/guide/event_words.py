"""Events in words: what happened, in a sentence, lengths in the unit of the job."""

from collections.abc import Callable
from typing import Any

from plankwright.guide import events
from plankwright.guide.events import Ends, Rest, What
from plankwright.units import Unit, format_length

ENDS: dict[Ends, str] = {
    "both": "both factory ends",
    "near": "the factory's near end",
    "far": "the factory's far end",
    "none": "no factory end",
}


def sentence_of(what: What, unit: Unit, undone: What | None = None) -> str:
    """A sentence without its period.

    Parameters
    ----------
    undone : what an event took back that takes one back; it is named by its id where None.

    >>> sentence_of(events.PieceDamaged("7.1.3"), "mm")
    '7.1.3, which lies, is damaged'
    """
    if isinstance(what, events.Undone):
        told = f"event {what.event}" if undone is None else f"“{sentence_of(undone, unit)}”"
        return f"Taken back: {told}"
    return _WORDS[type(what)](what, unit)


def _opened(what: events.BoardsOpened, _: Unit) -> str:
    batch = f" of batch {what.batch}" if what.batch else ""
    boards = f", {what.boards} boards" if what.boards else ""
    return f"Pack {what.pack or 'without a name'}{batch} was opened{boards}"


def _cut(what: events.PieceCut, unit: Unit) -> str:
    source = f"offcut {what.source}" if what.source else _new_board(what.pack)
    rests = "".join(f"; {_rest(rest, unit)} goes on the shelf" for rest in what.rests)
    return f"{what.piece} was cut from {source}, {_long(what.length_mm, unit)}{rests}"


def _rest(rest: Rest, unit: Unit) -> str:
    return f"{rest.label} ({format_length(rest.length_mm, unit)})"


def _new_board(pack: str) -> str:
    return f"a new board of pack {pack}" if pack else "a new board"


def _laid(what: events.PieceLaid, _: Unit) -> str:
    whole = f", {_new_board(what.pack)}" if what.whole else ""
    return f"{what.piece} was laid{whole}"


def _shelved(what: events.PieceShelved, unit: Unit) -> str:
    size = f"{_long(what.length_mm, unit)}, with {ENDS[what.ends]}"
    return f"{what.piece} goes on the shelf as {what.label}, {size}"


def _damaged_board(what: events.BoardDamaged, _: Unit) -> str:
    return f"A{_new_board(what.pack)[1:]} is damaged and goes to waste"


def _found(what: events.OffcutFound, unit: Unit) -> str:
    size = f"{format_length(what.length_mm, unit)} by {format_length(what.width_mm, unit)}"
    return f"Offcut {what.label} was found, {size}, with {ENDS[what.ends]}"


def _measured(what: events.DistanceMeasured, unit: Unit) -> str:
    length = format_length(what.length_mm, unit)
    return f"Measured at the {what.end} end of row {what.row}: {length}, {what.what}"


def _photo(what: events.Photographed, _: Unit) -> str:
    where = f" of {what.where}" if what.where else ""
    return f"A photograph{where} was kept" + (f": {what.caption}" if what.caption else "")


def _long(length_mm: float, unit: Unit) -> str:
    return f"{format_length(length_mm, unit)} long"


def _check(what: events.CheckMade, _: Unit) -> str:
    name = what.check[:1].upper() + what.check[1:]
    return f"{name}: {'all is good' if what.good else 'not good yet'}"


def _note(what: events.Noted, _: Unit) -> str:
    return f"Note{f' at {what.where}' if what.where else ''}: {what.text}"


_WORDS: dict[type[What], Callable[[Any, Unit], str]] = {
    events.BoardsOpened: _opened,
    events.PieceCut: _cut,
    events.PieceLaid: _laid,
    events.PieceSpoiled: lambda what, _: f"{what.piece} is of no use and goes to waste",
    events.PieceShelved: _shelved,
    events.PieceDamaged: lambda what, _: f"{what.piece}, which lies, is damaged",
    events.BoardDamaged: _damaged_board,
    events.PieceLifted: lambda what, _: f"{what.piece} was lifted and is in the hand again",
    events.OffcutFound: _found,
    events.OffcutThrown: lambda what, _: f"Offcut {what.label} is not there any more",
    events.DistanceMeasured: _measured,
    events.GapChecked: lambda what, unit: (
        f"The gap at {what.where} is {format_length(what.gap_mm, unit)}"
    ),
    events.RowLocked: lambda what, _: f"Row {what.row} is straight and locked",
    events.CheckMade: _check,
    events.PlanTaken: lambda what, _: f"From here on plan {what.revision} is laid",
    events.Noted: _note,
    events.Photographed: _photo,
}
