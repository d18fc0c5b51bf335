"""The state of a floor that is being laid: the fold of its events, and of nothing else.

Events are folded in their own order (:attr:`~plankwright.guide.events.Event.place`), whichever way
they came in. One that cannot have happened where it stands (a piece laid twice by two phones) is
*set aside* with the reason, never lost, and changes nothing. Areas are whole square micrometers,
so that pieces + shelf + waste + boards left = stock holds exactly. The phone folds the same events
by the same rules; ``tests/guide/vectors.json`` holds both to it.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, cast

from plankwright.guide.events import (
    BoardDamaged,
    BoardsOpened,
    CheckMade,
    DistanceMeasured,
    Ends,
    Event,
    GapChecked,
    Noted,
    OffcutFound,
    OffcutThrown,
    Photographed,
    PieceCut,
    PieceDamaged,
    PieceLaid,
    PieceLifted,
    PieceShelved,
    PieceSpoiled,
    PlanTaken,
    Rest,
    RowLocked,
    Undone,
    What,
)

MICRONS = 1000  # in a millimeter
SLACK_MM = 0.5  # sizes are read off a tape


@dataclass(frozen=True, slots=True)
class Held:
    """A piece that lies or is in the hand, by its true size."""

    length_mm: float
    width_mm: float
    ends: Ends
    pack: str = ""
    damaged: bool = False


@dataclass(frozen=True, slots=True)
class OnShelf:
    """An offcut at hand, by its true size."""

    length_mm: float
    width_mm: float
    ends: Ends
    pack: str = ""


@dataclass(frozen=True, slots=True)
class Pack:
    """What is known of a pack: its batch, how many boards it held, how many were taken."""

    batch: str = ""
    opened: int = 0
    taken: int = 0


@dataclass(frozen=True, slots=True)
class LayingState:
    """What lies, what is at hand, what was measured.

    Parameters
    ----------
    board_mm : length and width of a new board.
    packs : by their names; boards taken from a pack that nobody wrote down count under "".
    hand, laid : pieces by id, cut and not laid yet, and those that lie.
    shelf : offcuts by letter.
    found_um2, waste_um2 : area of offcuts that came from elsewhere, and of all waste.
    spoiled : pieces that went to waste, how often each.
    measured : the last length read [mm], by what was measured, row and end.
    gaps : the last gap read [mm], by place.
    locked : rows found straight and locked.
    checks : the last outcome of each check.
    notes, photos : where and what, by event.
    revision : of the plan that is laid; 0 for the first.
    set_aside : events that cannot have happened where they stand, with the reason.
    """

    board_mm: tuple[float, float]
    packs: Mapping[str, Pack] = field(default_factory=dict)
    hand: Mapping[str, Held] = field(default_factory=dict)
    laid: Mapping[str, Held] = field(default_factory=dict)
    shelf: Mapping[str, OnShelf] = field(default_factory=dict)
    found_um2: int = 0
    waste_um2: int = 0
    spoiled: Mapping[str, int] = field(default_factory=dict)
    measured: Mapping[tuple[str, int, str], float] = field(default_factory=dict)
    gaps: Mapping[str, float] = field(default_factory=dict)
    locked: frozenset[int] = frozenset()
    checks: Mapping[str, bool] = field(default_factory=dict)
    notes: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    photos: Mapping[str, tuple[str, str, str]] = field(default_factory=dict)
    revision: int = 0
    set_aside: Mapping[str, str] = field(default_factory=dict)

    @property
    def boards_taken(self) -> int:
        """New boards that left their pack."""
        return sum(pack.taken for pack in self.packs.values())

    @property
    def boards_opened(self) -> int:
        """Boards of the packs that were written down."""
        return sum(pack.opened for pack in self.packs.values())

    @property
    def stock_um2(self) -> int:
        """All that ever came in: boards opened and offcuts found."""
        return self.boards_opened * area_um2(*self.board_mm) + self.found_um2

    @property
    def accounted_um2(self) -> int:
        """Where it is now: laid, in the hand, on the shelf, waste, and boards not taken yet.

        Boards taken from packs that nobody wrote down count against those not taken.
        """
        held: tuple[Held | OnShelf, ...] = (
            *self.laid.values(), *self.hand.values(), *self.shelf.values(),
        )  # fmt: skip
        left = self.boards_opened - self.boards_taken
        return (
            sum(area_um2(part.length_mm, part.width_mm) for part in held)
            + self.waste_um2
            + left * area_um2(*self.board_mm)
        )


def area_um2(length_mm: float, width_mm: float) -> int:
    """An area in whole square micrometers."""
    return _microns(length_mm) * _microns(width_mm)


def _microns(length_mm: float) -> int:
    return round(length_mm * MICRONS)


def fold(events: Iterable[Event], board_mm: tuple[float, float]) -> LayingState:
    """The state after events, given in any order, some of them perhaps twice."""
    once = {event.id: event for event in events}
    ordered = sorted(once.values(), key=lambda event: event.place)
    return fold_without(LayingState(board_mm), ordered, taken_back(ordered))


def fold_without(
    state: LayingState, ordered: Iterable[Event], back: Collection[str]
) -> LayingState:
    """The state after more events in their order, those left out whose ids are in ``back``."""
    floor = _Floor(state)
    for event in ordered:
        if event.id not in back:
            floor.take(event)
    return floor.state()


def apply(state: LayingState, event: Event) -> LayingState:
    """The state after one more event, the last in order, that takes no other back."""
    floor = _Floor(state)
    floor.take(event)
    return floor.state()


def taken_back(ordered: Iterable[Event]) -> frozenset[str]:
    """Ids of the events that later ones take back; what is taken back takes nothing back."""
    undos = [event for event in ordered if isinstance(event.what, Undone)]
    places = {event.id: event.place for event in ordered}
    back: set[str] = set()
    for undo in reversed(undos):
        target = cast(Undone, undo.what).event
        if undo.id not in back and target in places and places[target] < undo.place:
            back.add(target)
    return frozenset(back)


class _CannotBeError(Exception):
    """Why an event cannot have happened here."""


class _Floor:
    """A state that changes, event by event; copies what it was given."""

    def __init__(self, state: LayingState) -> None:
        self.before = state
        self.packs = dict(state.packs)
        self.hand = dict(state.hand)
        self.laid = dict(state.laid)
        self.shelf = dict(state.shelf)
        self.found_um2 = state.found_um2
        self.waste_um2 = state.waste_um2
        self.spoiled = dict(state.spoiled)
        self.measured = dict(state.measured)
        self.gaps = dict(state.gaps)
        self.locked = set(state.locked)
        self.checks = dict(state.checks)
        self.notes = dict(state.notes)
        self.photos = dict(state.photos)
        self.revision = state.revision
        self.set_aside = dict(state.set_aside)

    def take(self, event: Event) -> None:
        try:
            _HOW[type(event.what)](self, event.what, event.id)
        except _CannotBeError as refusal:
            self.set_aside[event.id] = str(refusal)

    def state(self) -> LayingState:
        return replace(
            self.before,
            packs=self.packs,
            hand=self.hand,
            laid=self.laid,
            shelf=self.shelf,
            found_um2=self.found_um2,
            waste_um2=self.waste_um2,
            spoiled=self.spoiled,
            measured=self.measured,
            gaps=self.gaps,
            locked=frozenset(self.locked),
            checks=self.checks,
            notes=self.notes,
            photos=self.photos,
            revision=self.revision,
            set_aside=self.set_aside,
        )

    # --- boards and pieces -------------------------------------------------------------------

    def open_boards(self, what: BoardsOpened, _: str) -> None:
        pack = self.packs.get(what.pack, Pack())
        opened = pack.opened + what.boards
        self.packs[what.pack] = replace(pack, batch=what.batch or pack.batch, opened=opened)

    def cut(self, what: PieceCut, _: str) -> None:
        self._require_free(what.piece)
        source = self._source(what.source, what.pack)
        self._require_letters_free(what.rests, what.source)
        parts: tuple[PieceCut | Rest, ...] = (what, *what.rests)
        if any(_is_larger(part, source) for part in parts):
            raise _CannotBeError("larger than what it was cut from")
        spent = sum(area_um2(part.length_mm, part.width_mm) for part in parts)
        waste = area_um2(source.length_mm, source.width_mm) - spent
        if waste < 0:
            raise _CannotBeError("more came out than went in")
        if what.source:
            del self.shelf[what.source]
        else:
            self._take_board(what.pack)
        self.waste_um2 += waste
        self.hand[what.piece] = Held(what.length_mm, what.width_mm, what.ends, source.pack)
        for rest in what.rests:
            self.shelf[rest.label] = OnShelf(rest.length_mm, rest.width_mm, rest.ends, source.pack)

    def lay(self, what: PieceLaid, _: str) -> None:
        if what.whole:
            self._require_free(what.piece)
            self._take_board(what.pack)
            self.laid[what.piece] = Held(*self.before.board_mm, "both", what.pack)
        else:
            self.laid[what.piece] = self._from_hand(what.piece)

    def spoil(self, what: PieceSpoiled, _: str) -> None:
        held = self._from_hand(what.piece)
        self.waste_um2 += area_um2(held.length_mm, held.width_mm)
        self.spoiled[what.piece] = self.spoiled.get(what.piece, 0) + 1

    def put_away(self, what: PieceShelved, _: str) -> None:
        if what.label in self.shelf:
            raise _CannotBeError("the letter is on another offcut")
        held = self.hand.get(what.piece)
        if held is not None and what.length_mm > held.length_mm + SLACK_MM:
            raise _CannotBeError("larger than what it was cut from")
        held = self._from_hand(what.piece)
        length = min(what.length_mm, held.length_mm)
        self.shelf[what.label] = OnShelf(length, held.width_mm, what.ends, held.pack)
        self.waste_um2 += area_um2(held.length_mm, held.width_mm) - area_um2(length, held.width_mm)

    def damage(self, what: PieceDamaged, _: str) -> None:
        if what.piece not in self.laid:
            raise _CannotBeError("the piece does not lie")
        self.laid[what.piece] = replace(self.laid[what.piece], damaged=True)

    def damage_board(self, what: BoardDamaged, _: str) -> None:
        self._take_board(what.pack)
        self.waste_um2 += area_um2(*self.before.board_mm)

    def lift(self, what: PieceLifted, _: str) -> None:
        if what.piece not in self.laid:
            raise _CannotBeError("the piece does not lie")
        self.hand[what.piece] = self.laid.pop(what.piece)

    def find(self, what: OffcutFound, _: str) -> None:
        if what.label in self.shelf:
            raise _CannotBeError("the letter is on another offcut")
        self.shelf[what.label] = OnShelf(what.length_mm, what.width_mm, what.ends)
        self.found_um2 += area_um2(what.length_mm, what.width_mm)

    def throw(self, what: OffcutThrown, _: str) -> None:
        if what.label not in self.shelf:
            raise _CannotBeError("no such offcut on the shelf")
        offcut = self.shelf.pop(what.label)
        self.waste_um2 += area_um2(offcut.length_mm, offcut.width_mm)

    # --- what was measured and written down --------------------------------------------------

    def measure(self, what: DistanceMeasured, _: str) -> None:
        self.measured[what.what, what.row, what.end] = what.length_mm

    def check_gap(self, what: GapChecked, _: str) -> None:
        self.gaps[what.where] = what.gap_mm

    def lock(self, what: RowLocked, _: str) -> None:
        self.locked.add(what.row)

    def make_check(self, what: CheckMade, _: str) -> None:
        self.checks[what.check] = what.good

    def take_plan(self, what: PlanTaken, _: str) -> None:
        self.revision = what.revision

    def note(self, what: Noted, event: str) -> None:
        self.notes[event] = what.where, what.text

    def photograph(self, what: Photographed, event: str) -> None:
        self.photos[event] = what.where, what.photo, what.caption

    def undo(self, what: Undone, event: str) -> None:
        """Done by leaving the other event out; nothing happens here."""

    # --- helpers -----------------------------------------------------------------------------

    def _require_free(self, piece: str) -> None:
        if piece in self.laid:
            raise _CannotBeError("the piece lies already")
        if piece in self.hand:
            raise _CannotBeError("the piece was cut already")

    def _require_letters_free(self, rests: tuple[Rest, ...], source: str) -> None:
        labels = [rest.label for rest in rests]
        taken = any(label in self.shelf and label != source for label in labels)
        if taken or len(set(labels)) < len(labels):
            raise _CannotBeError("the letter is on another offcut")

    def _source(self, label: str, pack: str) -> OnShelf:
        if not label:
            return OnShelf(*self.before.board_mm, "both", pack)
        if label not in self.shelf:
            raise _CannotBeError("no such offcut on the shelf")
        return self.shelf[label]

    def _take_board(self, name: str) -> None:
        pack = self.packs.get(name, Pack())
        self.packs[name] = Pack(pack.batch, pack.opened, pack.taken + 1)

    def _from_hand(self, piece: str) -> Held:
        if piece not in self.hand:
            raise _CannotBeError("the piece is not in the hand")
        return self.hand.pop(piece)


def _is_larger(part: PieceCut | Rest, source: OnShelf) -> bool:
    return _microns(part.length_mm) > _microns(source.length_mm) or _microns(
        part.width_mm
    ) > _microns(source.width_mm)


_HOW: dict[type[What], Callable[[_Floor, Any, str], None]] = {
    BoardsOpened: _Floor.open_boards,
    PieceCut: _Floor.cut,
    PieceLaid: _Floor.lay,
    PieceSpoiled: _Floor.spoil,
    PieceShelved: _Floor.put_away,
    PieceDamaged: _Floor.damage,
    BoardDamaged: _Floor.damage_board,
    PieceLifted: _Floor.lift,
    OffcutFound: _Floor.find,
    OffcutThrown: _Floor.throw,
    DistanceMeasured: _Floor.measure,
    GapChecked: _Floor.check_gap,
    RowLocked: _Floor.lock,
    CheckMade: _Floor.make_check,
    PlanTaken: _Floor.take_plan,
    Noted: _Floor.note,
    Photographed: _Floor.photograph,
    Undone: _Floor.undo,
}


def state_entry(state: LayingState) -> dict[str, Any]:
    """The state as plain values for JSON, the same in Python and on the phone."""
    return {
        "packs": {
            name: {"batch": pack.batch, "opened": pack.opened, "taken": pack.taken}
            for name, pack in sorted(state.packs.items())
        },
        "hand": {piece: _held_entry(held) for piece, held in sorted(state.hand.items())},
        "laid": {piece: _held_entry(held) for piece, held in sorted(state.laid.items())},
        "shelf": {
            label: {
                "length_mm": part.length_mm,
                "width_mm": part.width_mm,
                "ends": part.ends,
                "pack": part.pack,
            }
            for label, part in sorted(state.shelf.items())
        },
        "found_um2": state.found_um2,
        "waste_um2": state.waste_um2,
        "spoiled": dict(sorted(state.spoiled.items())),
        "measured": [
            {"what": what, "row": row, "end": end, "length_mm": length}
            for (what, row, end), length in sorted(state.measured.items())
        ],
        "gaps": dict(sorted(state.gaps.items())),
        "locked": sorted(state.locked),
        "checks": dict(sorted(state.checks.items())),
        "notes": {event: list(note) for event, note in sorted(state.notes.items())},
        "photos": {event: list(photo) for event, photo in sorted(state.photos.items())},
        "revision": state.revision,
        "set_aside": dict(sorted(state.set_aside.items())),
    }


def _held_entry(held: Held) -> dict[str, Any]:
    return {
        "length_mm": held.length_mm,
        "width_mm": held.width_mm,
        "ends": held.ends,
        "pack": held.pack,
        "damaged": held.damaged,
    }
