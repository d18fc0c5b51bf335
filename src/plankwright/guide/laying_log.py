"""The log of a laying day: its events in their one order, with the state that they fold to.

A log is a value; writing something down gives another log. Bad news is told before it is written:
an event that cannot have happened is refused with the reason. What comes from another phone is
never refused: it is merged, and what cannot have happened is set aside by the fold.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from plankwright.errors import InputError
from plankwright.guide.events import Event, PieceCut, Undone, What, event_entry
from plankwright.guide.laying_state import LayingState, apply, fold, fold_without, taken_back

EVENTS_A_MARK = 256
CUT_REMEDY = "Plan again: what is on the shelf is used, and the piece gets another board."
NOT_AS_ON_THE_CARD = (
    "no such offcut on the shelf",
    "the letter is on another offcut",
    "larger than what it was cut from",
    "more came out than went in",
)
REMEDIES = {
    "the piece lies already": "If it does not, take back that it was laid.",
    "the piece was cut already": "If it is of no use, tell it as spoiled, then cut it again.",
    "the piece does not lie": "Look up its number on the drawing.",
    "the piece is not in the hand": "Tell first that it was cut.",
    "the letter is on another offcut": "Write another letter on it.",
    "larger than what it was cut from": "Measure it again.",
    "more came out than went in": "Measure it again.",
}
Mark = tuple[int, LayingState]  # the state after the first so many events


@dataclass(frozen=True, slots=True)
class LayingLog:
    """Events in their order, and their state.

    ``marks`` are states on the way, so that taking back one of the last few hundred events need
    not fold a whole day again; they do not count when logs are compared.
    """

    events: tuple[Event, ...]
    state: LayingState
    marks: tuple[Mark, ...] = field(default=(), compare=False, repr=False)

    @property
    def next_order(self) -> int:
        """The order of the next event written down here."""
        return self.events[-1].order + 1 if self.events else 1

    @property
    def board_mm(self) -> tuple[float, float]:
        """Length and width of a new board."""
        return self.state.board_mm

    def write(self, what: What, event_id: str, *, device: str = "", at: str = "") -> "LayingLog":
        """The log with one more event at its end.

        Raises
        ------
        InputError : it cannot have happened here, or the id is used already.
        """
        event = Event(event_id, self.next_order, device, at, what)
        return self.with_event(event)

    def with_event(self, event: Event) -> "LayingLog":
        """The log with an event that was just made; the same event again changes nothing.

        Raises
        ------
        InputError : it cannot have happened where it stands, or another event has its id.
        """
        known = next((old for old in reversed(self.events) if old.id == event.id), None)
        if known is not None:
            return self._same(known, event)
        if isinstance(event.what, Undone):
            return self._with_undo(event, event.what.event)
        if self.events and event.place < self.events[-1].place:
            log = self._folded((*self.events, event))
        else:
            log = self._with_last(event)
        reason = log.state.set_aside.get(event.id)
        if reason is not None:
            raise InputError(
                reason,
                where=event.kind,
                value=_told(event),
                remedy=_remedy(event, reason, self.state),
            )
        return log

    def merged(self, events: Iterable[Event]) -> "LayingLog":
        """The log with events from elsewhere, in any order, some of them perhaps known.

        Raises
        ------
        InputError : two different events have one id.
        """
        known = {event.id: event for event in self.events}
        for event in events:
            if event.id in known:
                self._same(known[event.id], event)
            known[event.id] = event
        return self._folded(tuple(known.values()))

    def last(self) -> Event | None:
        """The last event that was neither taken back nor takes one back."""
        back = taken_back(self.events)
        standing = (
            event
            for event in reversed(self.events)
            if event.id not in back and not isinstance(event.what, Undone)
        )
        return next(standing, None)

    def resting_on(self, event_id: str) -> tuple[Event, ...]:
        """Later events that could not have happened without one."""
        back = taken_back(self.events) | {event_id}
        without = fold_without(LayingState(self.board_mm), self.events, back)
        newly = self._newly_aside(without)
        return tuple(event for event in self.events if event.id in newly)

    def _with_last(self, event: Event) -> "LayingLog":
        """The log with an event behind all others."""
        events, state, marks = (*self.events, event), apply(self.state, event), self.marks
        if len(events) - (marks[-1][0] if marks else 0) >= EVENTS_A_MARK:
            marks = (*marks[-1:], (len(events), state))
        return LayingLog(events, state, marks)

    def _with_undo(self, undo: Event, event_id: str) -> "LayingLog":
        """The log with an event taken back; refused if it is not there or later ones rest on it."""
        events = (*self.events, undo)
        index = next((i for i, event in enumerate(self.events) if event.id == event_id), None)
        if index is None or event_id in taken_back(self.events):
            raise InputError("no such event, or it was taken back already", value=event_id)
        target = self.events[index]
        is_undo = isinstance(target.what, Undone)  # what it brings back may lie far behind
        marks = tuple(mark for mark in self.marks if mark[0] <= index and not is_undo)
        start, before = marks[-1] if marks else (0, LayingState(self.board_mm))
        state = fold_without(before, events[start:], taken_back(events[start:]))
        self._refuse_if_resting(state, target)
        return LayingLog(events, state, marks or ((len(events), state),))

    def _refuse_if_resting(self, state: LayingState, target: Event) -> None:
        resting = [event for event in self.events if event.id in self._newly_aside(state)]
        if resting:
            told = ", ".join(f"{event.kind} {_told(event)}".strip() for event in resting[-3:])
            raise InputError(
                f"later events rest on it: {told}",
                where="undo",
                value=target.kind,
                remedy="Take those back first, the last one first.",
            )

    def _newly_aside(self, state: LayingState) -> frozenset[str]:
        return frozenset(state.set_aside) - frozenset(self.state.set_aside)

    def _folded(self, events: tuple[Event, ...]) -> "LayingLog":
        return log_of(events, self.board_mm)

    def _same(self, known: Event, event: Event) -> "LayingLog":
        if event_entry(known) != event_entry(event):
            raise InputError(
                "two different events have the same id",
                where="events",
                value=event.id,
                remedy="One of the two files was changed by hand; give the other one.",
            )
        return self


def log_of(events: Iterable[Event], board_mm: tuple[float, float]) -> LayingLog:
    """The log of events in any order, each counted once."""
    once = {event.id: event for event in events}
    ordered = tuple(sorted(once.values(), key=lambda event: event.place))
    state = fold(ordered, board_mm)
    return LayingLog(ordered, state, ((len(ordered), state),))


def _remedy(event: Event, reason: str, state: LayingState) -> str:
    """What the person can do about an event that cannot have happened."""
    if isinstance(event.what, PieceCut) and reason in NOT_AS_ON_THE_CARD:
        return CUT_REMEDY
    letters = ", ".join(sorted(state.shelf))
    return REMEDIES.get(reason, f"On the shelf: {letters}." if letters else "The shelf is empty.")


def _told(event: Event) -> str:
    """What an event is about: its piece, its letter, its row."""
    entry = event_entry(event)
    for key in ("piece", "label", "pack", "row", "where", "check"):
        if entry.get(key):
            return str(entry[key])
    return ""
