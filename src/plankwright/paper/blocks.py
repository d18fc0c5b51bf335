"""What a sheet is put together from: plain values, set by one template.

Words are data: whatever a person typed is set as it stands and never read as markup.
"""

from dataclasses import dataclass
from typing import Literal

from plankwright.drawing.scene import Scene
from plankwright.errors import PlankwrightError

WordLook = Literal["plain", "strong", "note", "check", "stop"]
Align = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a sheet; it stays with what follows."""

    text: str


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph. ``sticky`` keeps it on the page of what follows."""

    text: str
    look: WordLook = "plain"
    sticky: bool = False


@dataclass(frozen=True, slots=True)
class Points:
    """A list of sentences, with boxes to tick off if wanted."""

    items: tuple[str, ...]
    box: bool = False


@dataclass(frozen=True, slots=True)
class Steps:
    """Numbered sentences."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of a table: words, heavy if wanted, and a note in gray below them."""

    text: str
    note: str = ""
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose heading comes again on every page.

    Parameters
    ----------
    heads : one for each column.
    rows : as many cells in each.
    columns : share of the width for each column, or None for as wide as its words.
    aligns : of each column; figures stand to the right.
    size_pt : type size; 10 is the least on paper.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str | Cell, ...], ...]
    columns: tuple[float | None, ...]
    aligns: tuple[Align, ...] = ()
    size_pt: float = 10.0

    def __post_init__(self) -> None:
        wide = len(self.heads)
        if len(self.columns) != wide or any(len(row) != wide for row in self.rows):
            raise PlankwrightError("every row of a table needs a cell for each heading")
        if self.aligns and len(self.aligns) != wide:
            raise PlankwrightError("a table needs an alignment for each column or none at all")


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing among words, at its true size or shrunk to a width [mm]."""

    scene: Scene
    width_mm: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing that is a page of its own, at true size, with its own title block."""

    scene: Scene


@dataclass(frozen=True, slots=True)
class CardPiece:
    """A piece on a card, or several whole boards that need no saw.

    Parameters
    ----------
    head : its number, and what is taken.
    length : the cut length, set largest; "" where nothing is cut to length.
    lines : what to do, in order.
    scene : the board at the saw, beside the words; None where nothing is cut.
    boxes : what is ticked off.
    """

    head: str
    length: str = ""
    lines: tuple[str, ...] = ()
    scene: Scene | None = None
    boxes: tuple[str, ...] = ("laid",)


@dataclass(frozen=True, slots=True)
class LayingCard:
    """A stretch of a row on paper, to be read from standing height."""

    title: str
    lines: tuple[str, ...]
    pieces: tuple[CardPiece, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A label to cut out: a large letter and short lines below it."""

    letter: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels side by side with lines to cut along."""

    items: tuple[Label, ...]


@dataclass(frozen=True, slots=True)
class Break:
    """A new page."""


Block = Heading | Words | Points | Steps | Table | Picture | Drawing | LayingCard | Labels | Break


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: everything that is printed together.

    Parameters
    ----------
    name : of its file, without ending: ``"floor-plan"``.
    title : at the head of every page.
    blocks : in the order in which they are read.
    sideways : pages lie on their long side (pages of drawings know their own size).
    """

    name: str
    title: str
    blocks: tuple[Block, ...]
    sideways: bool = False
