"""A tester with only the paper: reads the text of the card PDF, lays every board, nothing else.

It knows what a person who has laid floors knows: the near end of a piece joins the one before it,
rows are one board wide, a starter's near end and an end piece's far end may slant with the wall.
Of the program it knows nothing: no plan, no job, no import from it.
"""

import math
import re
from dataclasses import dataclass, field
from fractions import Fraction

import pypdfium2
from shapely import Polygon

LENGTH = r"(\d+/\d+|\d+(?:[\s\u202f]\d+/\d+)?)(?:\s?mm|″|\s?cm)?"
HEAD = re.compile(
    r"(?P<ids>\d+\.\d+\.\d+\w*(?:,\s\d+\.\d+\.\d+\w*)*):\s"
    r"(?:(?P<whole>(?:a|\d+)\swhole\sboards?)|take\s(?P<take>a\snew\sboard|offcut\s\w+|from\sthe"
    r"\sshelf\s\w+))"
)
ROW = re.compile(r"^Row (?P<row>\d+)(?:, part (?P<part>\d+) of \d+)?$", re.M)


@dataclass
class Laid:
    """A piece as the reader laid it; along from where the longest rows begin, across from row 1."""

    id: str
    row: int
    outline: Polygon
    board: int
    near_factory: bool
    far_factory: bool
    taken: str = ""
    shelved: list[str] = field(default_factory=list)


def text_of_cards(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        pages = [page.get_textpage().get_text_range() for page in document]
    return re.sub(r" *\r?\n", "\n", "\n".join(pages))


def lay_by_cards(text: str) -> list[Laid]:
    """Every piece, laid row by row as the cards say."""
    size = re.search(rf"Boards\s{LENGTH}\s×\s{LENGTH}", text)
    assert size
    side = re.search(r"the\s(tongue|groove)\sside\sof\severy\sboard\stoward\sthat\swall", text)
    near = re.search(r"its\s(tongue|groove)\send\swhere", text)
    assert side
    assert near
    reader = _Reader(_mm(size[1], text), _mm(size[2], text), side[1], near[1], "mm" in text)
    rows = list(ROW.finditer(text))
    for start, row in enumerate(rows):
        end = rows[start + 1].start() if start + 1 < len(rows) else len(text)
        reader.lay_row(int(row["row"]), text[row.end() : end])
    return reader.laid


def _mm(words: str, unit_from: str | bool) -> float:
    parts = words.replace("\u202f", " ").split()
    metric = "″" not in unit_from if isinstance(unit_from, str) else unit_from
    value = sum(Fraction(part) for part in parts)
    return float(value if metric else value * Fraction(254, 10))


class _Reader:
    def __init__(self, length: float, width: float, wall: str, near: str, metric: bool) -> None:
        self.length, self.width, self.wall, self.near = length, width, wall, near
        self.metric = metric
        self.laid: list[Laid] = []
        self.shelf: dict[str, tuple[int, bool, bool]] = {}
        self.boards = 0
        self.at = self.begin = 0.0
        self.far: dict[str, float] = {}  # where each piece ends

    def mm(self, words: str) -> float:
        return _mm(words, self.metric)

    def lay_row(self, row: int, text: str) -> None:
        begins = re.search(rf"Begins\s{LENGTH}\sin\sfrom", text)
        self.at = self.begin = self.mm(begins[1]) if begins else 0.0
        heads = list(HEAD.finditer(text))
        assert heads, text[:200]
        for place, head in enumerate(heads):
            end = heads[place + 1].start() if place + 1 < len(heads) else len(text)
            if head["whole"]:
                for name in re.split(r",\s", head["ids"]):
                    self.boards += 1
                    ring = _rectangle(self.length, self.width)
                    self.put(name, row, ring, self.length, self.boards, (True, True))
            else:
                words = " ".join(text[head.end() : end].split())
                last = place + 1 == len(heads)
                self.lay_piece(head["ids"], row, " ".join(head["take"].split()), words, last)

    def put(
        self, name: str, row: int, ring: list[tuple[float, float]], length: float, board: int,
        factory: tuple[bool, bool], taken: str = "", shelved: list[str] | None = None,
    ) -> None:  # fmt: skip
        level = (row - 1) * self.width
        outline = Polygon([(self.at + u, level + v) for u, v in ring])
        self.laid.append(Laid(name, row, outline, board, *factory, taken, shelved or []))
        self.at += length
        self.far[name] = self.at

    def lay_piece(self, name: str, row: int, take: str, words: str, last: bool) -> None:
        before = re.search(r"Lay it against piece (\d+\.\d+\.\d+\w*)", words)
        if before:
            self.at = self.far[before[1]]
        elif "Lay it first" in words:
            told = re.search(rf"Lay it first [^;]*? {LENGTH} from where the rows begin", words)
            self.at = self.mm(told[1]) if told else self.begin
        beside = re.search(rf"Its near end is {LENGTH} in from where", words)
        if beside:
            self.at = self.mm(beside[1])
        letter = "" if take == "a new board" else take.split()[-1]
        if letter:
            board, *source = self.shelf.pop(letter)  # an earlier card put it there
        else:
            self.boards += 1
            board, source = self.boards, [True, True]
        taken = re.match(rf"\({LENGTH} long\)", words)
        whole = self.mm(taken[1]) if taken else self.length
        ring = self.shape(words) or self.sides(words, whole, last)
        length = max(u for u, _ in ring)
        ends = self.ends(words, source[0], source[1])
        shelved = []
        for told in re.finditer(rf"Put on the shelf as (\w+): {LENGTH}(?: x {LENGTH})?", words):
            size = self.mm(told[2])
            if told[3] is not None and abs(size - length) < 2.0:  # ripped off beside it
                left = ends
            elif abs(size - whole) < 2.0:  # ripped off before it was cut, or only a notch was cut
                left = bool(source[0]), bool(source[1])
            else:
                left = self.other_ends(words, source[0], source[1], size)
            assert told[1] not in self.shelf
            self.shelf[told[1]] = (board, *left)
            shelved.append(told[1])
        self.put(name, row, ring, length, board, ends, letter, shelved)

    def ends(self, words: str, near: bool, far: bool) -> tuple[bool, bool]:
        """Whether the piece's near and far end are the factory's, from what is kept and sawn."""
        near_end, far_end = self.near, "groove" if self.near == "tongue" else "tongue"
        if f"eep the {near_end} end" in words:
            return near, False
        if f"eep the {far_end} end" in words:
            return False, far
        if "eep the cut end" in words or "ut both ends" in words or "eep either end" in words:
            return False, False
        return near, far

    def other_ends(self, words: str, near: bool, far: bool, length: float) -> tuple[bool, bool]:
        """The ends of what is sawn off along the board; of two offcuts the length tells which."""
        begin = re.search(
            rf"begin {LENGTH} from the (?:end toward the )?(tongue|groove) end", words
        )
        if begin:
            before = abs(self.mm(begin[1]) - length) < 10.0
            return near and before, far and not before
        kept = self.ends(words, near, far)
        return near and not kept[0], far and not kept[1]

    def sides(self, words: str, whole: float, last: bool) -> list[tuple[float, float]]:
        """Four corners from the lengths along both sides and the widths at both ends."""
        told = re.search(rf"[Cc]ut to {LENGTH}", words)
        length = self.mm(told[1]) if told else whole
        lengths = self.pair(words, "[Aa]ngled", "along") or (length, length)
        widths = self.pair(words, "[Tt]apered", "at")
        if widths is None:
            rip = re.search(rf"[Rr]ip to {LENGTH}", words)
            widths = (self.mm(rip[1]),) * 2 if rip else (self.width,) * 2
        room = "groove" if self.wall == "tongue" else "tongue"
        keeps_room = f"eep the {room} side" in words or f"slant is on the {self.wall} side" in words
        low = tuple(self.width - w if keeps_room else 0.0 for w in widths)
        high = tuple(self.width if keeps_room else w for w in widths)
        longest = max(lengths)
        if last and abs(lengths[0] - lengths[1]) > 0.0:  # the far end slants
            return [(0, low[0]), (lengths[0], low[1]), (lengths[1], high[1]), (0, high[0])]
        return [
            (longest - lengths[0], low[0]), (longest, low[1]), (longest, high[1]),
            (longest - lengths[1], high[0]),
        ]  # fmt: skip

    def pair(self, words: str, name: str, where: str) -> tuple[float, float] | None:
        found = re.search(rf"{name}: {LENGTH} {where} [^,]*, {LENGTH} {where}", words)
        return (self.mm(found[1]), self.mm(found[2])) if found else None

    def shape(self, words: str) -> list[tuple[float, float]] | None:
        """The corners of a piece that is no plain rectangle; arcs as they are told."""
        told = re.search(
            r"Corners, along from .*? side: (.*?)(?: Put| Waste| Keep| Trim| Lay)", words
        )
        if told is None:
            return None
        corner = rf"{LENGTH} × {LENGTH}"
        circle = rf"round circle {LENGTH} across, middle at {corner} to"
        ring: list[tuple[float, float]] = []
        arc: tuple[float, float, float] | None = None
        for part in re.finditer(rf"{circle}|{corner}", told[1].split("Hole:")[0]):
            if part[1] is not None:
                arc = self.mm(part[2]), self.mm(part[3]), self.mm(part[1]) / 2.0
                continue
            spot = self.mm(part[4]), self.mm(part[5])
            ring += _arc(ring[-1], spot, arc, self.width) if arc and ring else []
            arc = None
            ring.append(spot)
        rip = re.search(rf"[Rr]ip to {LENGTH}", words)
        room = "groove" if self.wall == "tongue" else "tongue"
        low = self.width - self.mm(rip[1]) if rip and f"eep the {room} side" in words else 0.0
        return [(u, low + v) for u, v in ring]


def _rectangle(length: float, width: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]


def _arc(
    start: tuple[float, float],
    end: tuple[float, float],
    circle: tuple[float, float, float],
    width: float,
) -> list[tuple[float, float]]:
    """Points on a circle from one place to another, going round inside the board's outline."""
    u, v, radius = circle
    first = math.atan2(start[1] - v, start[0] - u)
    last = math.atan2(end[1] - v, end[0] - u)
    turn = math.remainder(last - first, 2.0 * math.pi)
    # a notch is cut out of the board: of both ways round, the one whose middle lies in the board
    if not 0.0 < v + radius * math.sin(first + turn / 2.0) < width:
        turn -= math.copysign(2.0 * math.pi, turn)
    angles = [first + turn * k / 24 for k in range(1, 24)]
    return [(u + radius * math.cos(a), v + radius * math.sin(a)) for a in angles]
