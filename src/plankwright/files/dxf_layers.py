"""Which layer of a drawing holds its rooms, guessed with reasons, or chosen by the person."""

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

import shapely
from shapely import Polygon, STRtree

from plankwright.errors import FileError
from plankwright.files.drawing_marks import Marks, Stroke, Words
from plankwright.files.suggest import nearest_words
from plankwright.files.tangle import is_tangle

# What layers are called, common practice of several offices; from memory. A word that is missing
# costs the guess some certainty, no more: what is drawn on a layer counts, too.
_ROOMS = re.compile(
    r"room|space|raum|r[aä]ume|zimmer|ngf|nutzfl|net[-_ ]?area|zone|wohnfl|piece|local|area", re.I
)
_OTHERS = re.compile(
    r"wall|wand|w(?:a|ä|ae)nde|mauer|window|fenster|door|t[uü]e?r|stair|trepp|furn|m[oö]bel|hatch|"
    r"schraff|dim|bemass|text|note|legend|rahmen|rand|sani|fixture|k[uü]e?che|balkon|foot|slab|"
    r"beam|header|roof|dach|stem|case|title|grid|achse|site|agf|anf|vol|gross|bgf",
    re.I,
)
_WALLS = re.compile(r"wall|wand|w(?:a|ä|ae)nde|mauer|muro|murs?\b|parete", re.I)
_NOT_WALLS = re.compile(r"footer|stem|foundation|found|retain|hatch|schraff|dim|text|note", re.I)
_OPENINGS = re.compile(r"open|door|t[uü]e?r|window|fenster|porte|fen[eê]tre|glaz", re.I)

SMALLEST_M2, LARGEST_M2 = 0.4, 5_000.0
NARROWEST_MM = 400.0
LEAST_SCORE = 2.0
GROSS_SHARE = 0.5  # an outline that others fill by so much is round them, not a room beside them
MOST_CANDIDATES = 2_000  # on a layer


@dataclass(frozen=True, slots=True)
class RoomLayer:
    """A layer's closed outlines that may be rooms, and how much speaks for it."""

    name: str
    strokes: tuple[Stroke, ...]
    outlines: tuple[Polygon, ...]
    score: float
    reasons: tuple[str, ...]


def room_layers(marks: Marks, words: Sequence[Words] = ()) -> list[RoomLayer]:
    """The layers with closed outlines, likeliest first; coordinates in millimeters."""
    by_layer: dict[str, list[Stroke]] = defaultdict(list)
    for stroke in marks.strokes:
        if stroke.closed and len(stroke.points) >= 3:
            by_layer[stroke.layer].append(stroke)
    walls = [s.line() for s in marks.strokes if _is_wall(s.layer)]
    tree = STRtree(walls)
    found = [_room_layer(name, by_layer[name], words, walls, tree) for name in sorted(by_layer)]
    return sorted(found, key=lambda layer: (-layer.score, layer.name))


def chosen_layer(name: str, marks: Marks, where: str) -> str:
    """The layer of a drawing that a person named; letters may be small, a clear ending suffices."""
    names = sorted({stroke.layer for stroke in marks.strokes})
    for test in (str.__eq__, str.endswith):
        fitting = [known for known in names if test(known.lower(), name.lower())]
        if len(fitting) == 1:
            return fitting[0]
    raise FileError(
        "no such layer in this drawing",
        where=f"{where}: layer",
        value=name,
        remedy=nearest_words(name, names),
    )


def wall_layers(marks: Marks) -> list[str]:
    """The layers with bare lines that are called like walls; else the one with most lines."""
    counts: dict[str, int] = defaultdict(int)
    for stroke in marks.strokes:
        if stroke.kind != "CIRCLE":
            counts[stroke.layer] += 1
    called = [name for name in sorted(counts) if _is_wall(name)]
    if called or not counts:
        return called
    return [max(sorted(counts), key=lambda name: counts[name])]


def opening_layers(marks: Marks) -> list[str]:
    """The layers that are called like doors, windows and openings."""
    names = {stroke.layer for stroke in marks.strokes}
    return sorted(name for name in names if is_opening(name))


def is_opening(name: str) -> bool:
    """Whether a layer is called like doors, windows or openings."""
    return bool(_OPENINGS.search(name)) and not _is_wall(name)


def count(number: int, noun: str) -> str:
    """A number of things.

    >>> count(1, "outline"), count(2, "outline")
    ('1 outline', '2 outlines')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _is_wall(name: str) -> bool:
    return bool(_WALLS.search(name)) and not _NOT_WALLS.search(name)


def _room_layer(
    name: str,
    strokes: list[Stroke],
    words: Sequence[Words],
    walls: Sequence[shapely.LineString],
    tree: STRtree,
) -> RoomLayer:
    candidates = ((s, p) for s, p in ((s, s.polygon()) for s in strokes) if _may_be_room(p))
    kept = list(islice(candidates, MOST_CANDIDATES))
    outlines = [polygon for _, polygon in kept]
    if not outlines:
        return RoomLayer(name, (), (), 0.0, ("nothing on it is as large as a room",))
    score, reasons = 2.0 * len(outlines) / len(strokes), [count(len(outlines), "closed outline")]
    score += min(len(outlines), 10) / 10.0
    if _ROOMS.search(name) and not _OTHERS.search(name):
        score, reasons = score + 2.0, [*reasons, "it is called like rooms"]
    elif _OTHERS.search(name):
        score, reasons = score - 3.0, [*reasons, "it is called like something else"]
    told = _with_words(outlines, words)
    if told:
        score += 2.0 * told / len(outlines)
        reasons.append(f"words stand in {told} of them")
    if overlap := _overlapping(outlines):
        score -= 3.0 * overlap / len(outlines)
        reasons.append(f"{overlap} lie on each other")
    if crossed := _with_walls(outlines, walls, tree):
        score -= 3.0 * crossed / len(outlines)
        reasons.append(f"walls run through {crossed} of them")
    return RoomLayer(name, tuple(s for s, _ in kept), tuple(outlines), score, tuple(reasons))


def _may_be_room(outline: Polygon) -> bool:
    if not outline.is_valid or not SMALLEST_M2 <= outline.area / 1e6 <= LARGEST_M2:
        return False
    return not outline.buffer(-NARROWEST_MM / 2.0).is_empty


def _with_words(outlines: list[Polygon], words: Sequence[Words]) -> int:
    if not words:
        return 0
    tree = STRtree([shapely.Point(word.at) for word in words])
    return len({int(room) for room, _ in zip(*tree.query(outlines, "contains"), strict=True)})


def _overlapping(outlines: list[Polygon]) -> int:
    """How many share a twentieth of their floor or more with another that they do not contain."""
    if is_tangle(outlines):
        return len(outlines)
    pairs = zip(*STRtree(outlines).query(outlines, "intersects"), strict=True)
    found = set()
    for i, j in ((int(a), int(b)) for a, b in pairs):
        if i < j:
            shared = outlines[i].intersection(outlines[j]).area
            least = min(outlines[i].area, outlines[j].area)
            if 0.05 * least < shared < 0.999 * least:
                found |= {i, j}
    return len(found)


def _with_walls(outlines: list[Polygon], walls: Sequence[shapely.LineString], tree: STRtree) -> int:
    """How many have walls within: a longer way than their own girth's third."""
    count = 0
    for outline in outlines:
        inner = outline.buffer(-NARROWEST_MM / 4.0)
        near = (walls[int(i)] for i in tree.query(inner, predicate="intersects"))
        within = sum(wall.intersection(inner).length for wall in near)
        count += within > outline.length / 3.0
    return count
