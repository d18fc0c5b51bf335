"""Events in words: every kind has a sentence, in the unit of the job."""

import pytest

from plankwright.guide.event_words import sentence_of
from plankwright.guide.events import (
    KINDS,
    BoardDamaged,
    BoardsOpened,
    CheckMade,
    DistanceMeasured,
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

SAID: dict[str, tuple[What, str]] = {
    "boards-opened": (BoardsOpened("P1", "b7", 8), "Pack P1 of batch b7 was opened, 8 boards"),
    "piece-cut": (
        PieceCut("1.1.1", "", 400.0, 192.0, "far", (Rest("A", 882.0, 192.0, "near"),)),
        "1.1.1 was cut from a new board, 400 mm long; A (882 mm) goes on the shelf",
    ),
    "piece-laid": (
        PieceLaid("1.1.2", whole=True, pack="P1"),
        "1.1.2 was laid, a new board of pack P1",
    ),
    "piece-spoiled": (PieceSpoiled("1.1.1"), "1.1.1 is of no use and goes to waste"),
    "piece-shelved": (
        PieceShelved("1.1.1", "B", 400.0, "far"),
        "1.1.1 goes on the shelf as B, 400 mm long, with the factory's far end",
    ),
    "piece-damaged": (PieceDamaged("7.1.3"), "7.1.3, which lies, is damaged"),
    "board-damaged": (BoardDamaged("P2"), "A new board of pack P2 is damaged and goes to waste"),
    "piece-lifted": (PieceLifted("7.1.3"), "7.1.3 was lifted and is in the hand again"),
    "offcut-found": (
        OffcutFound("C", 500.0, 192.0, "none"),
        "Offcut C was found, 500 mm by 192 mm, with no factory end",
    ),
    "offcut-thrown": (OffcutThrown("C"), "Offcut C is not there any more"),
    "distance-measured": (
        DistanceMeasured("to the far wall", 5, "near", 1234.0),
        "Measured at the near end of row 5: 1234 mm, to the far wall",
    ),
    "gap-checked": (GapChecked("A-B", 8.0), "The gap at A-B is 8 mm"),
    "row-locked": (RowLocked(2), "Row 2 is straight and locked"),
    "check-made": (CheckMade("before row 1", True), "Before row 1: all is good"),
    "plan-taken": (PlanTaken(2), "From here on plan 2 is laid"),
    "noted": (Noted("creaks", "7.1.3"), "Note at 7.1.3: creaks"),
    "photographed": (
        Photographed("f" * 64, "row 3", "the post"),
        "A photograph of row 3 was kept: the post",
    ),
    "undone": (Undone("e1"), "Taken back: event e1"),
}


def test_every_kind_is_told() -> None:
    assert SAID.keys() == KINDS.keys()


@pytest.mark.parametrize("kind", SAID)
def test_a_sentence_of_each_kind(kind: str) -> None:
    what, sentence = SAID[kind]
    assert sentence_of(what, "mm") == sentence


def test_inches_are_told_in_sixteenths() -> None:
    # 400 mm = 15.748 in = 15 3/4 in to the nearest sixteenth
    assert sentence_of(PieceShelved("1.1.1", "B", 400.05, "far"), "in").startswith(
        '1.1.1 goes on the shelf as B, 15 3/4" long'
    )


def test_what_is_taken_back_is_named() -> None:
    assert sentence_of(Undone("e1"), "mm", RowLocked(2)) == (
        "Taken back: “Row 2 is straight and locked”"
    )
