"""The laying day as the page has it: cards in words, what doing one writes down, what is due."""

from typing import Any

from plankwright.application.lay_day import Day, next_step
from plankwright.errors import InputError
from plankwright.guide.card_events import cut_of, lay_of
from plankwright.guide.card_words import words_of
from plankwright.guide.cards import Card
from plankwright.guide.checks import Check, forecast
from plankwright.guide.events import Event, What, event_entry
from plankwright.guide.laying_state import state_entry
from plankwright.guide.replan import Replanned
from plankwright.model.plan import Plan
from plankwright.units import format_length, parse_unit

LAST_TOLD = 30
HEAD = ("id", "order", "device", "at")


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
        "cut_event": None if card.is_new_and_whole else _what(cut_of(card)),
        "lay_event": _what(lay_of(card)),
    }


def stand_entry(day: Day) -> dict[str, Any]:
    """How things stand, the last things that happened, what is due before the next card."""
    log, step = day.log, next_step(day)
    return {
        "state": state_entry(log.state),
        "next_order": log.next_order,
        "last": [event_entry(event) for event in log.events[-LAST_TOLD:]],
        "events": len(log.events),
        "check": None if step.check is None else _check(step.check),
        "forecast": _forecast(day),
    }


def again_entry(answer: Replanned) -> dict[str, Any]:
    """What planning again came to, in words and figures."""
    return {
        "new_boards": answer.new_boards,
        "boards_missing": answer.boards_missing,
        "packs_missing": answer.packs_missing,
        "suffices": answer.suffices,
        "proven": answer.proven,
        "changes": [
            {"where": change.where, "what": change.what, "why": change.why}
            for change in answer.changes
        ],
    }


def _check(check: Check) -> dict[str, Any]:
    return {
        "name": check.name,
        "title": check.title,
        "items": list(check.items),
        "measure_row": check.measure_row,
    }


def _forecast(day: Day) -> dict[str, Any] | None:
    """What the last distances to the far wall say of the last row; None where nothing is known."""
    try:
        drift = forecast(day.plan, day.state)
    except InputError as error:
        return {"last_row": [], "steps": [str(error)]}
    if drift is None:
        return None
    unit = parse_unit(day.plan.unit)
    return {
        "last_row": [format_length(side, unit) for side in drift.last_row_mm],
        "steps": [step.why for step in drift.steps],
    }


def _what(what: What) -> dict[str, Any]:
    """An event's kind and values, without its head."""
    entry = event_entry(Event("-", 1, "", "", what))
    return {key: value for key, value in entry.items() if key not in HEAD}
