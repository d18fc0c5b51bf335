"""Random days of laying: most of what happens can, some of it cannot."""

import random

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

BOARD_MM = (1285.0, 192.0)
PIECES = [f"{row}.1.{seat}" for row in range(1, 5) for seat in range(1, 4)]
LETTERS = "ABCDEFG"
ENDS: tuple[Ends, ...] = ("both", "near", "far", "none")


def happening(dice: random.Random, known: list[str]) -> What:
    """One thing that may happen, possible or not."""
    piece, letter = dice.choice(PIECES), dice.choice(LETTERS)
    source = dice.choice(["", "", "", *LETTERS[:3]])
    length = dice.randrange(100, 900) + dice.choice([0.0, 0.125, 0.5])
    rests = tuple(
        Rest(label, dice.randrange(100, 500) + 0.25, 192.0, dice.choice(ENDS))
        for label in dice.sample(LETTERS, dice.randrange(3))
    )
    may_be: list[What] = [
        BoardsOpened(dice.choice(["p1", "p2"]), dice.choice(["", "b7"]), 8),
        PieceCut(piece, source, length, 192.0, dice.choice(ENDS), rests, dice.choice(["", "p1"])),
        PieceCut(piece, "", length, 192.0, "far"),
        PieceLaid(piece),
        PieceLaid(piece),
        PieceLaid(piece, whole=True, pack="p1"),
        PieceSpoiled(piece),
        PieceShelved(piece, letter, length, dice.choice(ENDS)),
        PieceDamaged(piece),
        BoardDamaged("p1"),
        PieceLifted(piece),
        OffcutFound(letter, length, 192.0, "near"),
        OffcutThrown(letter),
        DistanceMeasured("to the far wall", dice.randrange(1, 5), "near", length),
        GapChecked("A-B", 8.0),
        RowLocked(dice.randrange(1, 5)),
        CheckMade("before row 1", dice.choice([True, False])),
        PlanTaken(dice.randrange(1, 4)),
        Noted("the wall bulges here", piece),
        Photographed("ab12", "A-B", "before"),
        *([Undone(dice.choice(known))] * 3 if known else []),
    ]  # fmt: skip
    return dice.choice(may_be)


def day(seed: int, count: int, devices: tuple[str, ...] = ("one", "two")) -> list[Event]:
    """A day's events from several devices, in the order of their making."""
    dice = random.Random(seed)
    events: list[Event] = []
    seen = dict.fromkeys(devices, 0)
    for number in range(count):
        device = dice.choice(devices)
        if dice.random() < 0.3:  # they meet now and then
            seen = dict.fromkeys(devices, max(seen.values()))
        seen[device] += 1
        what = happening(dice, [event.id for event in events])
        events.append(
            Event(f"{device}-{number}", seen[device], device, "2026-01-03T09:00:00Z", what)
        )
    return events
