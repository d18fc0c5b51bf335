"""Events: what happened on the floor, as values that are written down once and never changed.

An event has an id made by whoever saw it happen (phone, page or command), so that the same event
given twice does nothing; and a number ``order``, one more than the greatest that its maker knew of,
which puts the events of two phones into one order, the same wherever they meet. What happened is
one of the small values below. Nothing is ever deleted: :class:`Undone` takes an event back.
:mod:`plankwright.guide.laying_state` folds events to what lies where.
"""

import math
from dataclasses import dataclass, fields
from typing import Any, Literal, cast, get_args, get_origin, get_type_hints

from plankwright.errors import InputError

Ends = Literal["both", "near", "far", "none"]
Distance = Literal["to the far wall", "row length", "laid width", "open joint"]
RowEnd = Literal["near", "far"]

LONGEST_TEXT = 2000
LONGEST_NAME = 80
LONGEST_MM = 1_000_000.0
MOST_ORDER = 2**53 - 1  # what a phone counts exactly
MOST_BOARDS = 10_000


@dataclass(frozen=True, slots=True)
class Rest:
    """An offcut as it goes on the shelf: its letter, its true size, its factory ends."""

    label: str
    length_mm: float
    width_mm: float
    ends: Ends


@dataclass(frozen=True, slots=True)
class BoardsOpened:
    """A pack was opened: so many boards of a batch."""

    pack: str
    batch: str
    boards: int


@dataclass(frozen=True, slots=True)
class PieceCut:
    """A piece was cut, from a new board (``source`` "") or from an offcut by its letter.

    Size and ends are those it really has; ``rests`` go on the shelf, what remains is waste.
    """

    piece: str
    source: str
    length_mm: float
    width_mm: float
    ends: Ends = "none"
    rests: tuple[Rest, ...] = ()
    pack: str = ""


@dataclass(frozen=True, slots=True)
class PieceLaid:
    """A piece was laid: from the hand, or a ``whole`` new board out of its pack."""

    piece: str
    whole: bool = False
    pack: str = ""


@dataclass(frozen=True, slots=True)
class PieceSpoiled:
    """A piece in the hand is of no use and goes to waste."""

    piece: str


@dataclass(frozen=True, slots=True)
class PieceShelved:
    """A piece in the hand goes on the shelf as an offcut; ``ends`` as measured."""

    piece: str
    label: str
    length_mm: float
    ends: Ends


@dataclass(frozen=True, slots=True)
class PieceDamaged:
    """A piece that lies was found damaged."""

    piece: str


@dataclass(frozen=True, slots=True)
class BoardDamaged:
    """A new board was found damaged and goes to waste."""

    pack: str = ""


@dataclass(frozen=True, slots=True)
class PieceLifted:
    """A piece that lay was lifted and is in the hand again."""

    piece: str


@dataclass(frozen=True, slots=True)
class OffcutFound:
    """An offcut that was not on the shelf was found: an old one, or one from another room."""

    label: str
    length_mm: float
    width_mm: float
    ends: Ends


@dataclass(frozen=True, slots=True)
class OffcutThrown:
    """An offcut on the shelf was thrown away, lost or split."""

    label: str


@dataclass(frozen=True, slots=True)
class DistanceMeasured:
    """A distance was measured at an end of a row."""

    what: Distance
    row: int
    end: RowEnd
    length_mm: float


@dataclass(frozen=True, slots=True)
class GapChecked:
    """The gap was measured at a place: a wall, a post, an end of a row."""

    where: str
    gap_mm: float


@dataclass(frozen=True, slots=True)
class RowLocked:
    """A row was found straight with its joints closed, and was locked so."""

    row: int


@dataclass(frozen=True, slots=True)
class CheckMade:
    """A check of the list was made; ``good`` says whether all was as it should be."""

    check: str
    good: bool


@dataclass(frozen=True, slots=True)
class PlanTaken:
    """From here on another revision of the plan is laid."""

    revision: int


@dataclass(frozen=True, slots=True)
class Noted:
    """Something was written down; ``where`` a piece, a row, a wall, or nothing."""

    text: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class Photographed:
    """A photograph was taken; ``photo`` is the digest under which it is kept."""

    photo: str
    where: str = ""
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Undone:
    """An event was taken back."""

    event: str


What = (
    BoardsOpened | PieceCut | PieceLaid | PieceSpoiled | PieceShelved | PieceDamaged
    | BoardDamaged | PieceLifted | OffcutFound | OffcutThrown | DistanceMeasured | GapChecked
    | RowLocked | CheckMade | PlanTaken | Noted | Photographed | Undone
)  # fmt: skip

KINDS: dict[str, type[What]] = {
    "boards-opened": BoardsOpened,
    "piece-cut": PieceCut,
    "piece-laid": PieceLaid,
    "piece-spoiled": PieceSpoiled,
    "piece-shelved": PieceShelved,
    "piece-damaged": PieceDamaged,
    "board-damaged": BoardDamaged,
    "piece-lifted": PieceLifted,
    "offcut-found": OffcutFound,
    "offcut-thrown": OffcutThrown,
    "distance-measured": DistanceMeasured,
    "gap-checked": GapChecked,
    "row-locked": RowLocked,
    "check-made": CheckMade,
    "plan-taken": PlanTaken,
    "noted": Noted,
    "photographed": Photographed,
    "undone": Undone,
}
NAMES: dict[type[What], str] = {kind: name for name, kind in KINDS.items()}


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened.

    Parameters
    ----------
    id : made by the maker of the event, never used twice.
    order : one more than the greatest order its maker knew of.
    device : who wrote it down: a phone, a page, the command line.
    at : when, as an ISO 8601 text; for people, never for the order.
    what : what happened.
    """

    id: str
    order: int
    device: str
    at: str
    what: What

    def __post_init__(self) -> None:
        if not 1 <= len(self.id) <= LONGEST_NAME or not self.id.isprintable():
            raise _bad("an event needs an id of 1 to 80 letters", "id", self.id)
        if not 1 <= self.order <= MOST_ORDER:
            raise _bad("the order counts from 1", "order", self.order)

    @property
    def kind(self) -> str:
        """Its name in files: ``"piece-laid"``."""
        return NAMES[type(self.what)]

    @property
    def place(self) -> tuple[int, str]:
        """Its place among all events of a job, the same wherever they meet."""
        return self.order, self.id


def inverse(event: Event, new_id: str, order: int, device: str = "", at: str = "") -> Event:
    """The event that takes another back; the inverse of that one brings it again."""
    return Event(new_id, order, device, at, Undone(event.id))


# --- to and from JSON ------------------------------------------------------------------------


def event_entry(event: Event) -> dict[str, Any]:
    """The event as plain values for JSON: its head, its kind, and what happened, side by side."""
    head = {"id": event.id, "order": event.order, "device": event.device, "at": event.at}
    what = {field.name: _plain(getattr(event.what, field.name)) for field in fields(event.what)}
    return {**head, "kind": event.kind, **what}


def read_event(entry: object) -> Event:
    """The event in plain values.

    Raises
    ------
    InputError : unknown kind, a value missing or of the wrong sort; the place is named.
    """
    if not isinstance(entry, dict):
        raise _bad("an event is a table of values", "event", entry)
    kind = entry.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        raise InputError(
            "unknown kind of event", where="kind", value=kind,
            remedy="It may come from a later version of the program.",
        )  # fmt: skip
    what = _read(KINDS[kind], entry)
    return Event(
        _text(entry.get("id"), "id", LONGEST_NAME),
        _whole(entry.get("order"), "order", MOST_ORDER),
        _text(entry.get("device", ""), "device", LONGEST_NAME),
        _text(entry.get("at", ""), "at", LONGEST_NAME),
        cast(What, what),
    )


def known_event(entry: dict[str, Any]) -> Event:
    """The event in plain values that :func:`event_entry` made; they are not looked at again."""
    kind = KINDS[entry["kind"]]
    what = {name: entry[name] for name in _FIELDS[kind]}
    if kind is PieceCut:
        what["rests"] = tuple(Rest(**rest) for rest in what["rests"])
    return Event(entry["id"], entry["order"], entry["device"], entry["at"], kind(**what))


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [{f.name: _plain(getattr(rest, f.name)) for f in fields(rest)} for rest in value]
    return value


def _read(kind: type[Any], entry: dict[str, Any]) -> Any:
    """A value of a kind from the keys that its fields name."""
    given = {}
    for name, reader, default in _READERS[kind]:
        if name in entry:
            given[name] = reader(entry[name], name)
        elif default:
            continue
        else:
            raise _bad("a value is missing", name, None)
    return kind(**given)


def _bad(message: str, where: str, value: object) -> InputError:
    return InputError(message, where=where, value=value)


def _text(value: object, where: str, longest: int = LONGEST_TEXT) -> str:
    if not isinstance(value, str) or len(value) > longest:
        raise _bad(f"must be a text of at most {longest} letters", where, value)
    return value


def _name(value: object, where: str) -> str:
    return _text(value, where, LONGEST_NAME)


def _whole(value: object, where: str, most: int = MOST_BOARDS) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= most:
        raise _bad(f"must be a whole number from 0 to {most}", where, value)
    return value


def _length(value: object, where: str) -> float:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or not math.isfinite(cast(float, value)):
        raise _bad("must be a length in millimeters", where, value)
    if not 0.0 <= cast(float, value) <= LONGEST_MM:
        raise _bad("must be from 0 to 1000000 mm", where, value)
    return round(float(cast(float, value)), 3)


def _truth(value: object, where: str) -> bool:
    if not isinstance(value, bool):
        raise _bad("must be true or false", where, value)
    return value


def _rests(value: object, where: str) -> tuple[Rest, ...]:
    if not isinstance(value, list) or len(value) > 20:
        raise _bad("must be a list of at most 20 offcuts", where, value)
    if not all(isinstance(entry, dict) for entry in value):
        raise _bad("an offcut is a table of values", where, value)
    return tuple(_read(Rest, entry) for entry in value)


def _choice(choices: tuple[str, ...]) -> Any:
    def read(value: object, where: str) -> str:
        if not isinstance(value, str) or value not in choices:
            raise _bad("must be one of " + ", ".join(choices), where, value)
        return value

    return read


def _reader(name: str, kind: object) -> Any:
    if get_origin(kind) is Literal:
        return _choice(get_args(kind))
    if kind is str:
        return _text if name in ("text", "caption") else _name
    return {int: _whole, float: _length, bool: _truth}.get(cast(Any, kind), _rests)


def _readers(kind: type[Any]) -> tuple[tuple[str, Any, bool], ...]:
    """For each field of a kind: its name, what reads it, and whether it may be left out."""
    hints = get_type_hints(kind)
    defaults = kind.__init__.__defaults__ or ()
    names = [field.name for field in fields(kind)]
    optional = names[len(names) - len(defaults) :]
    return tuple((name, _reader(name, hints[name]), name in optional) for name in names)


_READERS = {kind: _readers(kind) for kind in (*KINDS.values(), Rest)}
_FIELDS = {kind: tuple(field.name for field in fields(kind)) for kind in KINDS.values()}
