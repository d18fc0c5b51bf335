"""The cut list on paper: every cut in saw order, grouped by walk to the saw."""

from plankwright.application.told import counted
from plankwright.guide.card_words import words_of
from plankwright.guide.cards import Card, Walk, walks
from plankwright.paper.blocks import Block, Cell, Heading, Sheet, Table, Words
from plankwright.paper.material import Material

ROWS_A_WALK = 4  # a wall that is not where it was planned spoils no more than these
HOW_TO = (
    "Cut in this order: a later cut takes its letter from an earlier one. Lengths are rounded down "
    "to the tape's marks. Mark from the face edge, never from the tip of the tongue, and put an X "
    "on the waste. Clamp short pieces; let the blade stop before you reach for the offcut."
)


def cut_list_sheet(material: Material) -> Sheet:
    """Every cut of the plan with a box to tick off."""
    blocks: list[Block] = [Words(HOW_TO)]
    for walk in walks(material.cards, ROWS_A_WALK):
        rows = f"row {walk.rows[0]}" if len(walk.rows) == 1 else f"rows {_range(walk.rows)}"
        pieces = counted(len(walk.cards), "piece")
        blocks += [Heading(f"Walk {walk.number}: {pieces} for {rows}"), _table(material, walk)]
    return Sheet("cut-list", "Cut list", tuple(blocks), sideways=True)


def _range(rows: tuple[int, ...]) -> str:
    if rows[-1] - rows[0] == len(rows) - 1:
        return f"{rows[0]} to {rows[-1]}"
    return ", ".join(map(str, rows))


def _table(material: Material, walk: Walk) -> Table:
    return Table(
        ("", "cut", "piece", "take", "cut to", "keep and shape", "what is left"),
        tuple(_row(material, card) for card in walk.cards),
        (None, None, None, 0.85, 1.15, 1.7, 1.15),
        ("left", "right", "left", "left", "left", "left", "left"),
    )


def _row(material: Material, card: Card) -> tuple[str | Cell, ...]:
    cut = card.cut
    words = words_of(card, material.plan, None if cut is None else material.view(cut))
    template = f"Mark it with template {card.piece}" if card.shape else words.shape
    shape = [words.keep, template, words.trim]
    return (
        "□",
        str(cut.number) if cut else "",
        card.piece,
        words.take.removeprefix("Take "),
        Cell(words.cut.removeprefix("Cut to "), strong=True) if cut else "no cut",
        ". ".join(word for word in shape if word),
        ". ".join(words.shelf),
    )
