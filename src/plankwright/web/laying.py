"""The laying day as the page has it: cards in words, and what happens when one is done."""

from typing import Any

from plankwright.files.plan_file import load_plan
from plankwright.guide.card_words import words_of
from plankwright.guide.cards import Card, cards_of
from plankwright.guide.events import Ends, PieceCut, PieceLaid, Rest, event_entry
from plankwright.guide.events import Event as LayingEvent
from plankwright.guide.laying_log import LayingLog
from plankwright.guide.laying_state import state_entry
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import Offcut, SawCut
from plankwright.web.planning import Remembered

NEAR_MM = 0.5
LAST_TOLD = 30
HEAD = ("id", "order", "device", "at")


class LayingPlans:
    """Plans that are laid, with their cards, read once."""

    def __init__(self) -> None:
        self._read: Remembered[tuple[Plan, tuple[Card, ...]]] = Remembered(8)

    def read(self, text: str) -> tuple[Plan, tuple[Card, ...]]:
        """The plan in the text of a plan file, and its cards."""
        known = self._read.get(text)
        if known is None:
            plan = load_plan(text, "plan")
            known = plan, cards_of(plan)
            self._read.put(text, known)
        return known


def card_entry(card: Card, plan: Plan) -> dict[str, Any]:
    """A card in words, and the events that doing it writes down."""
    words = words_of(card, plan)
    return {
        "number": card.number,
        "piece": card.piece,
        "row": card.row,
        "place": words.place,
        "take": words.take,
        "cut": words.cut,
        "keep": words.keep,
        "lie": words.lie,
        "shape": words.shape,
        "shelf": list(words.shelf),
        "check": words.check,
        "trim": words.trim,
        "lay": words.lay,
        "has_picture": card.cut is not None,
        "cut_event": None if card.cut is None else _what(cut_event(card, card.cut)),
        "lay_event": _what(PieceLaid(card.piece, whole=card.cut is None)),
    }


def cut_event(card: Card, cut: SawCut) -> PieceCut:
    """What is written down when a card's cut is made as it says."""
    return PieceCut(
        piece=card.piece,
        source="" if card.take.kind == "new board" else card.take.label,
        length_mm=cut.piece.length_mm,
        width_mm=cut.piece.width_mm,
        ends=_ends(cut.piece.near_end == "factory", cut.piece.far_end == "factory"),
        rests=tuple(_rest(cut, offcut) for offcut in cut.offcuts if offcut.label),
    )


def log_entry(log: LayingLog) -> dict[str, Any]:
    """The state, and the last things that happened."""
    return {
        "state": state_entry(log.state),
        "next_order": log.next_order,
        "last": [event_entry(event) for event in log.events[-LAST_TOLD:]],
        "events": len(log.events),
    }


def _what(what: PieceCut | PieceLaid) -> dict[str, Any]:
    """An event's kind and values, without its head."""
    entry = event_entry(LayingEvent("-", 1, "", "", what))
    return {
        key: value for key, value in entry.items() if key not in ("id", "order", "device", "at")
    }


def _rest(cut: SawCut, offcut: Offcut) -> Rest:
    blank = offcut.blank
    return Rest(offcut.label, blank.length_mm, blank.width_mm, _rest_ends(cut, offcut))


def _rest_ends(cut: SawCut, offcut: Offcut) -> Ends:
    near, far = cut.factory_ends
    return _ends(
        near and offcut.blank.u0 <= cut.source.u0 + NEAR_MM,
        far and offcut.blank.u1 >= cut.source.u1 - NEAR_MM,
    )


def _ends(near: bool, far: bool) -> Ends:
    if near and far:
        return "both"
    if near:
        return "near"
    return "far" if far else "none"
