"""What ``plankwright lay`` shows: a card, a check, the state, the log; and the same as JSON."""

from dataclasses import asdict
from itertools import groupby
from typing import TYPE_CHECKING, Any, cast

import typer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from plankwright.application.lay_again import Asked
    from plankwright.application.lay_day import Day, NextStep
    from plankwright.application.lay_used import Used
    from plankwright.guide.as_laid import WallShift
    from plankwright.guide.cards import Card, Walk
    from plankwright.guide.checks import Check
    from plankwright.guide.events import Event
    from plankwright.guide.replan import Replanned
    from plankwright.plan.saw_view import SawView
    from plankwright.units import Unit

MANY_CHANGES = 4


def step_entry(step: "NextStep", day: "Day", view: "SawView") -> dict[str, Any]:
    """The next step for JSON."""
    check = step.check
    return {
        "check": None if check is None else {"name": check.name, "items": list(check.items)},
        "card": None if step.card is None else card_entry(step.card, day, view),
        "in_hand": step.in_hand,
        "cards_left": step.cards_left,
    }


def card_entry(card: "Card", day: "Day", view: "SawView") -> dict[str, Any]:
    """A card for JSON: its words and its measures in millimeters."""
    from plankwright.guide.card_words import words_of

    return {
        "number": card.number,
        "piece": card.piece,
        "row": card.row,
        "take": {"kind": card.take.kind, "label": card.take.label},
        "lengths_mm": list(card.lengths_mm),
        "widths_mm": list(card.widths_mm),
        "trims": list(card.trims),
        "shelf": [asdict(left) for left in card.left],
        "words": asdict(words_of(card, day.plan, view)),
    }


def print_step(step: "NextStep", day: "Day", view: "SawView") -> None:
    """The next step: a check that is due, and the card."""
    from plankwright.guide.card_words import words_of

    if step.check is not None:
        print_check(step.check)
    if step.card is None:
        typer.echo("Every piece lies.")
        return
    words = words_of(step.card, day.plan, view)
    typer.echo(
        words.place + (f"   {step.cards_left} left" if step.cards_left > 1 else "   the last")
    )
    lines = (words.trim, words.lay) if step.in_hand else words.lines()
    for line in filter(None, ("It is cut already", *lines) if step.in_hand else lines):
        typer.echo(f"  {line}")


def walks_json(found: "Sequence[Walk]", day: "Day", view: "SawView") -> list[dict[str, Any]]:
    """Walks to the saw for JSON."""
    return [
        {"rows": list(walk.rows), "cards": [card_entry(card, day, view) for card in walk.cards]}
        for walk in found
    ]


def print_walks(found: "Sequence[Walk]", day: "Day", view: "SawView") -> None:
    """Walk after walk, a cut a line."""
    from plankwright.guide.card_words import words_of

    if not found:
        typer.echo("Nothing is left to cut.")
    for walk in found:
        first, last = min(walk.rows), max(walk.rows)
        typer.echo(f"Row {first}" if first == last else f"Rows {first} to {last}")
        for card in walk.cards:
            words = words_of(card, day.plan, view)
            told = (words.take, words.cut, words.keep, words.shape, *words.shelf, words.trim)
            typer.echo(f"  {card.piece:8} " + "; ".join(line for line in told if line))


def print_check(check: "Check") -> None:
    """A check with what to look at."""
    typer.echo(f"Check: {check.title}")
    for item in check.items:
        typer.echo(f"  [ ] {item}")
    typer.echo(f"  then: plankwright lay tell LOG checked {check.name} good")


def aside_lines(day: "Day") -> list[str]:
    """For each event that was set aside what it told, by which phone, and why it cannot be."""
    from plankwright.guide.event_words import sentence_of
    from plankwright.units import parse_unit

    unit, aside = parse_unit(day.plan.unit), day.state.set_aside
    return [
        f"“{sentence_of(event.what, unit)}”, told by {event.device}: {aside[event.id]}; "
        "it was set aside"
        for event in day.log.events
        if event.id in aside
    ]


def state_json(day: "Day", used: "Used", drift: Any) -> dict[str, Any]:
    """The state for JSON, with planned against used."""
    from plankwright.guide.laying_state import state_entry

    return {
        "state": state_entry(day.state),
        "used": asdict(used),
        "events": len(day.log.events),
        "forecast": None if drift is None else asdict(drift),
    }


def print_state(day: "Day", used: "Used", drift: Any) -> None:
    """What lies, what is at hand, what it took so far, and the forecast of the last row."""
    from plankwright.plan.saw_cuts import piece_figure
    from plankwright.units import Unit, format_area

    unit, state = cast(Unit, day.plan.unit), day.state
    typer.echo(day.plan.name)
    typer.echo(f"  Laid           {used.pieces_laid} of {used.pieces_planned} pieces")
    typer.echo(f"  Boards         {used.boards_taken} taken, {used.boards_planned} planned in all")
    if state.hand:
        typer.echo("  In the hand    " + ", ".join(sorted(state.hand)))
    shelf = [
        f"{name} ({piece_figure(p.length_mm, unit)})" for name, p in sorted(state.shelf.items())
    ]
    typer.echo("  Shelf          " + (", ".join(shelf) or "empty"))
    spoiled = f", {used.pieces_spoiled} spoiled cuts" if used.pieces_spoiled else ""
    typer.echo(f"  Waste          {format_area(used.waste_m2, unit)}{spoiled}")
    if used.damaged_pieces:
        typer.echo("  Damaged        " + ", ".join(used.damaged_pieces))
    if used.packs:
        typer.echo("  Packs          " + ", ".join(_pack(*pack) for pack in used.packs))
    for line in aside_lines(day):
        typer.echo(f"  Check this     {line}")
    if drift is not None:
        print_forecast(drift, day)


def print_forecast(drift: Any, day: "Day") -> None:
    """The last row to come, and what to do about it."""
    from plankwright.units import format_length, parse_unit

    unit = parse_unit(day.plan.unit)
    near, far = (format_length(max(mm, 0.0), unit) for mm in drift.last_row_mm)
    typer.echo(f"  Last row       {near} at the near end, {far} at the far end")
    for step in drift.steps:
        typer.echo(f"  {step.name.capitalize():14} {step.why}")


def _pack(name: str, batch: str) -> str:
    return f"{name} (batch {batch})" if batch else name


def print_log(events: "Sequence[Event]", back: frozenset[str], unit: "Unit") -> None:
    """The log, an event a line: what happened, when, and its id; what was taken back says so."""
    for event, sentence in zip(events, sentences(events, unit), strict=True):
        taken = "   (taken back)" if event.id in back else ""
        when = event.at.partition("+")[0].replace("T", " ")
        typer.echo(f"{when}  {sentence}   [{event.id}]{taken}")


def sentences(
    events: "Sequence[Event]", unit: "Unit", known: "Sequence[Event]" = ()
) -> "list[str]":
    """What happened, an event a sentence; ``known`` are others that may be taken back."""
    from plankwright.guide.event_words import sentence_of
    from plankwright.guide.events import Undone

    whats = {event.id: event.what for event in (*known, *events)}
    return [
        sentence_of(
            event.what,
            unit,
            whats.get(event.what.event) if isinstance(event.what, Undone) else None,
        )
        for event in events
    ]


# --- planning again --------------------------------------------------------------------------


def asked_of(
    day: "Day",
    walls: "Sequence[str]",
    lifted: "Sequence[int]",
    left: int | None,
    second_batch: tuple[int | None, str | None],
    keep: bool,
) -> "Asked":
    """What the options of ``again`` say."""
    from plankwright.application.lay_again import Asked

    of_second, second_from = second_batch
    return Asked(
        walls=tuple(_wall_shift(text, day) for text in walls),
        lifted_rows=tuple(lifted),
        boards_left=left,
        second_batch_left=of_second,
        second_batch_row=None if second_from is None else _row(second_from),
        keeps_rows=keep,
    )


def _row(text: str) -> int:
    """A row, or that of a piece."""
    from plankwright.errors import InputError

    row = text.partition(".")[0]
    if not (row.isascii() and row.isdigit() and 1 <= len(row) <= 4 and int(row) >= 1):
        raise InputError(
            "a row or a piece", where="--second-from", value=text, remedy="Write 7 or 7.1.3."
        )
    return int(row)


def _wall_shift(text: str, day: "Day") -> "WallShift":
    from plankwright.errors import InputError
    from plankwright.guide.as_laid import WallShift
    from plankwright.units import parse_length, parse_unit

    name, sign, length = text.partition("=")
    if not sign:
        raise InputError("a wall and a length", where="--wall", value=text, remedy="A-B=8 mm")
    unit = parse_unit(day.plan.unit)
    return WallShift(name, float(parse_length(length, unit, where="--wall", signed=True)))


def again_json(answer: "Replanned") -> dict[str, Any]:
    """The answer of planning again for JSON."""
    return {
        "new_boards": answer.new_boards,
        "least_new_boards": answer.least_new_boards,
        "proven": answer.proven,
        "suffices": answer.suffices,
        "boards_missing": answer.boards_missing,
        "packs_missing": answer.packs_missing,
        "keeps_rows": answer.keeps_rows,
        "second_batch_row": answer.plan.second_batch_row,
        "second_batch_boards": answer.second_batch_boards,
        "changes": [asdict(change) for change in answer.changes],
        "shelf": [
            {"label": use.offcut.label, "length_mm": use.offcut.length_mm, "pieces": use.pieces}
            for use in answer.shelf
        ],
    }


def print_again(answer: "Replanned") -> None:
    """Whether the boards suffice, then what changes and why."""
    told = "no plan from here needs fewer" if answer.proven else (
        f"at least {answer.least_new_boards}"
    )  # fmt: skip
    typer.echo(f"  New boards     {answer.new_boards}; {told}")
    if answer.plan.second_batch_row is not None:
        typer.echo(
            f"  Second batch   from row {answer.plan.second_batch_row} on, "
            f"{answer.second_batch_boards} of its boards"
        )
    if answer.suffices:
        typer.echo("  Boards         suffice, as far as they were counted")
    else:
        packs = f"{answer.packs_missing} pack" + ("s" if answer.packs_missing > 1 else "")
        typer.echo(f"  Boards         {answer.boards_missing} missing: buy {packs}")
    if not answer.changes:
        typer.echo("  Changes        none: the plan holds")
    for why, of_reason in groupby(answer.changes, key=lambda change: change.why):
        typer.echo(f"Because {why}:")
        for change in of_reason:
            typer.echo(f"  {change.where:14} {change.what}")
    if len(answer.changes) >= MANY_CHANGES and not answer.keeps_rows:
        typer.echo("Add --keep to change less, perhaps for a board more.")
