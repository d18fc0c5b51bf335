"""Laying cards on paper: a card for each stretch, read from standing height over the saw.

The cards are complete: whoever has only them cuts and lays the plan.
"""

from collections.abc import Iterator
from itertools import groupby

from plankwright.application.told import counted
from plankwright.drawing.board_picture import compose_board
from plankwright.guide.card_words import words_of
from plankwright.guide.cards import Card, StretchCard, stretch_cards
from plankwright.model.plan import Plan
from plankwright.paper.blocks import CardPiece, LayingCard, Sheet, Words
from plankwright.paper.material import Material
from plankwright.paper.shape_words import shape_words
from plankwright.plan.laying_legs import legs_of
from plankwright.plan.turned_rows import spline_runs

HOW_TO = (
    "One card for each row, from its near end to its far end. Take, cut and keep as it says, put "
    "offcuts on the shelf under their letter, tick what is done. Mark from the face edge, never "
    "from the tip of the tongue. In the pictures the part to keep is clear, the rest is crossed "
    "out. Leaflet, local code and licensed trades go before this card."
)
LEAST_POSITION_MM = 0.5
LONGEST = "the longest rows begin"


def cards_sheet(material: Material) -> Sheet:
    """Every stretch of the plan as a card."""
    cards = tuple(_card(material, card) for card in stretch_cards(material.cards))
    return Sheet("cards", "Laying cards", (Words(_laying(material)), Words(HOW_TO), *cards))


def _laying(material: Material) -> str:
    """How every board of the floor is turned."""
    plan = material.plan
    board, laying = plan.board, plan.laying
    size = f"{material.length(board.length_mm)} × {material.length(board.width_mm)}"
    way = laying.laid.replace("-", " ")
    told = f"Boards {size}. Row 1 lies along wall {laying.start_wall}; lay {way} as you face it"
    near = board.near_end(laying.laid)
    if near is None:
        return f"{told}."
    every = "every board but the turned ones" if spline_runs(plan) else "every board"
    return (
        f"{told}, the {board.start_side} side of {every} toward that wall, its {near} end "
        f"where the row begins (the near end).{_begin_within(plan)}"
    )


def _begin_within(plan: Plan) -> str:
    """Where a floor begins within the room: its line, and the rows that are laid last."""
    legs = legs_of(plan)
    last = [leg for leg in legs if leg.backwards or leg.turned]
    if not last:
        return ""
    row = legs[0].rows[0]
    told = f" Begin with row {row}, along a line snapped for it, not with row 1. Last come "
    told += "; ".join(leg.words() for leg in last)
    if runs := spline_runs(plan):
        told += f", after the spline is set in the groove of row {runs[0].row}"
    return f"{told}."


def _card(material: Material, stretch: StretchCard) -> LayingCard:
    first = stretch.cards[0]
    part = f", part {stretch.stretch} of {stretch.of}" if stretch.of > 1 else ""
    lines = [f"{counted(len(stretch.cards), 'piece')}, {material.length(stretch.length_mm)} in all"]
    along = min(card.along_mm for card in stretch.cards)
    if along > LEAST_POSITION_MM:  # a turned row begins at its far end
        told = "Ends" if first.turned else "Begins"
        lines.append(f"{told} {material.length(along)} in from where {LONGEST}")
    return LayingCard(f"Row {stretch.row}{part}", tuple(lines), tuple(_pieces(material, stretch)))


def _pieces(material: Material, stretch: StretchCard) -> Iterator[CardPiece]:
    """Whole boards side by side are one line, the others one by one."""
    for whole, group in groupby(stretch.cards, _is_plain):
        cards = list(group)
        if whole:
            ids = ", ".join(card.piece for card in cards)
            what = "a whole board" if len(cards) == 1 else f"{len(cards)} whole boards"
            yield CardPiece(f"{ids}: {what}, {material.piece(cards[0].length_mm)}")
        else:
            for card in cards:
                yield _piece(material, card, beside=card is not stretch.cards[0])


def _is_plain(card: Card) -> bool:
    return not card.needs_saw and card.take.kind == "new board"


def _piece(material: Material, card: Card, *, beside: bool) -> CardPiece:
    """A piece; ``beside``: not the first of its stretch, though it may join none before it."""
    plan, cut = material.plan, card.cut
    view = None if cut is None else material.view(cut)
    words = words_of(card, plan, view)
    template = f"Not a plain rectangle: mark it with template {card.piece}"
    told = [words.keep, words.lie, template if card.shape else words.shape]
    told += shape_words(material, card)
    told += [*words.shelf, words.trim, words.lay]
    if beside and not card.joins:  # the first seat is parted
        told.append(f"Its near end is {material.length(card.along_mm)} in from where {LONGEST}")
    scene = (
        None if cut is None
        else compose_board(plan.board, plan.laying.laid, cut, material.unit, view, small=True,
                           shape=card.shape)
    )  # fmt: skip
    return CardPiece(
        f"{card.piece}: {_lower(words.take)}",
        words.cut if cut else "",
        tuple(line for line in ([] if cut else [words.cut]) + told if line),
        scene,
        ("cut", "laid") if card.needs_saw else ("laid",),
    )


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]
