"""What the words in a drawing say about its rooms: their names, their numbers, their sizes."""

import math
import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon, STRtree

from plankwright.errors import InputError
from plankwright.files.drawing_marks import Words
from plankwright.units import parse_length

# How rooms are called on drawings, in full or cut short, in the languages of the usual sources.
# Common words, from memory; a word that is missing only costs a name.
ROOM_WORDS = (
    "bad|bath|bed|bedroom|break|cellar|closet|clo|corridor|covered|cuisine|deck|den|diele|"
    "dining|eltern|entree|entry|essen|family|flur|foyer|garage|gast|guest|hall|hallway|"
    "kammer|keller|kind|kinder|kitchen|kueche|küche|laundry|lav|living|lobby|loft|loggia|master|"
    "media|mstr|mud|nook|office|pantry|patio|playroom|porch|powder|raum|reduit|room|salon|schlafen|"
    "schlafzimmer|shop|storage|stor|studio|study|toil|toilet|utility|util|vorraum|wc|wic|wohnen|"
    "wohnzimmer|workshop|zimmer"
)
_ROOM = re.compile(rf"(?<!\w)(?:{ROOM_WORDS})(?!\w)", re.IGNORECASE)
_NUMBER = re.compile(r"[A-Za-z]{0,4}[-. /]?\d[\d./-]*[A-Za-z]?")
LONGEST_NAME, MOST_NAME_WORDS = 24, 3  # a longer text is a note
ONE_NAME_MM = 700.0  # from line to line of one name
LONGEST_NUMBER = 14
LEAST_SHARE = 0.6  # of the rooms that a series of numbers must cover

# Two lengths with a cross between them; the lengths are read by plankwright.units.
_SIZE = re.compile(r"\s*(.{1,16}?)\s*[xX×]\s*(.{1,16}?)\s*")
_FEET = re.compile(r"(\d+)'\s*(\d{1,2}(?:\s+\d+/\d+)?)?\"?")


@dataclass(frozen=True, slots=True)
class SizeLabel:
    """A room's size as it is written in the drawing [mm], and where."""

    text: str
    width_mm: float
    depth_mm: float
    at: tuple[float, float]


@dataclass(frozen=True, slots=True)
class RoomWords:
    """What the words inside an outline come to."""

    name: str
    number: str
    texts: tuple[str, ...]


def size_labels(words: Sequence[Words]) -> list[SizeLabel]:
    """The texts that tell a room's size with its unit.

    >>> [label] = size_labels([Words("0", "13'8 x 14'", (0.0, 0.0))])
    >>> round(label.width_mm, 1), round(label.depth_mm, 1)
    (4165.6, 4267.2)
    """
    found = []
    for word in words:
        match = _SIZE.fullmatch(word.text)
        sides = [_length(side) for side in match.groups()] if match else []
        if len(sides) == 2 and all(sides):
            found.append(SizeLabel(word.text, sides[0] or 0.0, sides[1] or 0.0, word.at))
    return found


def _length(text: str) -> float | None:
    """A length with its unit [mm]; None for anything else."""
    feet = _FEET.fullmatch(text)
    if feet:  # 13'8, as drawings leave out the inch mark
        text = f"{feet[1]}' {feet[2]}\"" if feet[2] else f"{feet[1]}'"
    elif not re.search(r"(?:mm|cm|m|in|ft|\")$", text):
        return None
    try:
        return float(parse_length(text, "mm"))
    except InputError:
        return None


def words_in(outlines: Sequence[Polygon], words: Sequence[Words]) -> list[list[Words]]:
    """The words that stand in each outline; the smallest one where they lie in each other."""
    found: list[list[Words]] = [[] for _ in outlines]
    if not outlines or not words:
        return found
    tree = STRtree([shapely.Point(word.at) for word in words])
    pairs = zip(*tree.query(outlines, predicate="intersects"), strict=True)
    homes: dict[int, int] = {}
    for outline, word in ((int(a), int(b)) for a, b in pairs):
        if word not in homes or outlines[outline].area < outlines[homes[word]].area:
            homes[word] = outline
    for word in sorted(homes):
        found[homes[word]].append(words[word])
    return found


def name_rooms(outlines: Sequence[Polygon], words: Sequence[Words]) -> list[RoomWords]:
    """The name, the number and all words of each outline; empty where there are none."""
    inside = words_in(outlines, words)
    numbers = _numbers(inside)
    named = []
    for number, found in zip(numbers, inside, strict=True):
        texts = tuple(dict.fromkeys(word.text for word in found))
        named.append(RoomWords(_name(found), number, texts))
    return named


def _name(words: Sequence[Words]) -> str:
    """The room words from the top down; those right below each other are one name."""
    names = [word for word in words if not word.tag and is_room_name(word.text)]
    names.sort(key=lambda word: (-word.at[1], word.at[0]))
    told, before = "", None
    for word in names:
        text = word.text.strip(" .:")
        if text not in told:
            close = before is None or math.dist(before, word.at) <= ONE_NAME_MM
            told += ("" if not told else " " if close else ", ") + text
        before = word.at
    return told[:80]


def is_room_name(text: str) -> bool:
    """Whether a text is how a room is called.

    >>> [is_room_name(text) for text in ("W.I.C.", "BEDROOM 2", "5050 XO", "GAS FAU IN ATTIC")]
    [True, True, False, False]
    """
    short = len(text) <= LONGEST_NAME and len(text.split()) <= MOST_NAME_WORDS
    return short and bool(_ROOM.search(_spelled(text)))


def _spelled(text: str) -> str:
    """Letters with points between them as one word: W.I.C. as WIC."""
    return re.sub(r"(?<=\b\w)\.(?=\w\b)", "", text)


def _numbers(inside: Sequence[Sequence[Words]]) -> list[str]:
    """The number of each room: from the series of texts or attributes that numbers most of them."""
    seen = Counter(word.text for words in inside for word in words if not word.tag)
    best: list[str] = [""] * len(inside)
    best_rank = (0.0, 0.0)
    for series in _series(inside).values():
        chosen = _one_each(series, len(inside))
        given = [text for text in chosen if text]
        if len(set(given)) < len(given) or len(given) < LEAST_SHARE * len(inside):
            continue
        rank = (len(given) / len(inside), sum(text in seen for text in given) / len(given))
        if rank > best_rank:
            best, best_rank = chosen, rank
    return best


def _series(inside: Sequence[Sequence[Words]]) -> dict[tuple[str, str], dict[int, list[str]]]:
    """Number-like texts by their layer and tag, and in each of these by room."""
    found: dict[tuple[str, str], dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
    for room, words in enumerate(inside):
        for word in words:
            if len(word.text) <= LONGEST_NUMBER and _NUMBER.fullmatch(word.text):
                found[word.layer, word.tag][room].append(word.text)
    return found


def _one_each(series: dict[int, list[str]], count: int) -> list[str]:
    """One number for each room; of several the one that is written like most in the series."""
    looks = Counter(_look(text) for texts in series.values() for text in texts)
    return [
        max(series[room], key=lambda text: (looks[_look(text)], text)) if room in series else ""
        for room in range(count)
    ]


def _look(text: str) -> str:
    return re.sub(r"\d", "9", text)
