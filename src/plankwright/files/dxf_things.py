"""Posts and stairs in a DXF drawing: what lies on layers or in blocks that are called so."""

import math
import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import Polygon

from plankwright.files.drawing_marks import Block, Marks, Stroke, extent
from plankwright.files.dxf_layers import count
from plankwright.files.standing_things import LEAST_FOOT_MM2, Foot
from plankwright.files.tangle import is_tangle
from plankwright.model.findings import Finding
from plankwright.model.found_rooms import FoundRoom
from plankwright.model.room import FixedKind

# What layers and blocks are called: COLS and STRS by the US National CAD Standard (layer names,
# from memory), the others common practice of several countries.
_CALLED: tuple[tuple[FixedKind, re.Pattern[str]], ...] = (
    ("post", re.compile(
        r"column|pillar|(?<![a-z])(post|col|pier)s?(?![a-z])|st(?:ü|ue)tze|s(?:ä|ae)ulen?(?![a-z])|"
        r"pfeiler|poteau|colonne|pilier|columna|pilastr|(?<![a-z])pilares?(?![a-z])", re.I)),
    ("stair", re.compile(
        r"stair|(?<![a-z])strs(?![a-z])|trepp|escalier|escalera|(?<![a-z])scala(?![a-z])",
        re.I)),
)  # fmt: skip
# What stands round about them, hangs above them or lies below, and is no thing to lay round.
_ABOUT = re.compile(
    r"grid|raster|achs|axis|foot|found|fundament|hatch|schraff|patt|text|note|anno|iden|dim|bemass|"
    r"symb|arrow|pfeil(?!er)|handrail|hral|gel(?:ä|ae)nder|above|over|hidden|tension|lamp|(?<!f)light|"
    r"wand|wall",
    re.I,
)
MOST_LINES = 4_000  # in a group
GRID_MM = 0.1
LARGEST_MM2: dict[FixedKind, float] = {"post": 4e6, "stair": 6e7}
SAME_SHARE = 0.02  # of its area: a circle drawn with other lines in it

_Called = tuple[FixedKind, str, int]  # kind, source in words, number of the block


@dataclass(frozen=True, slots=True)
class Things:
    """The posts and stairs of a drawing, and what told of them.

    Parameters
    ----------
    feet : where they stand [mm].
    sources : layers and blocks they were taken from, as ``"layer COLUMNS"``.
    left : what was not taken, in words.
    """

    feet: tuple[Foot, ...]
    sources: tuple[str, ...]
    left: tuple[str, ...]


def find_things(marks: Marks, layer: str | None = None) -> Things:
    """The posts and stairs of a drawing in millimeters.

    Parameters
    ----------
    layer : that the person chose for the rooms or walls: no thing is on it.
    """
    feet: list[Foot] = []
    sources, left = dict[str, None](), dict[str, None]()
    for (kind, source, _), strokes in _groups(marks, layer).items():
        found, why_not = _feet(kind, strokes)
        feet += found
        if found:
            sources[source] = None
        if why_not:
            left[f"{source}: {why_not}"] = None
    return Things(tuple(feet), tuple(sources), tuple(left))


def without_things(marks: Marks, layer: str | None) -> Marks:
    """A drawing in millimeters without the lines of its posts and stairs; else as above."""
    things = {id(stroke) for strokes in _groups(marks, layer).values() for stroke in strokes}
    return replace(marks, strokes=tuple(s for s in marks.strokes if id(s) not in things))


def _groups(marks: Marks, layer: str | None) -> dict[_Called, list[Stroke]]:
    """The lines that are called so: those of a layer, or of one block, together."""
    by_block: dict[Block, list[Stroke]] = defaultdict(list)
    strokes = [stroke for stroke in marks.strokes if stroke.layer != layer]
    for stroke in strokes:
        for block in stroke.blocks:
            if thing_kind(block[0]):
                by_block[block].append(stroke)
    small = {block for block, parts in by_block.items() if _is_small(block, parts)}
    groups: dict[_Called, list[Stroke]] = defaultdict(list)
    for stroke in strokes:
        inside = next((one for one in stroke.blocks if one in small), None)
        kind = thing_kind(inside[0] if inside else stroke.layer)
        if kind and inside:
            groups[kind, f"block {inside[0]}", inside[1]].append(stroke)
        elif kind:
            groups[kind, f"layer {stroke.layer}", 0].append(stroke)
    return groups


def _is_small(block: Block, strokes: Sequence[Stroke]) -> bool:
    """Whether a block is a thing, and not a whole plan that has "stairs" in its name."""
    kind = thing_kind(block[0])
    wide, deep = extent(list(strokes))
    return kind is not None and wide * deep <= LARGEST_MM2[kind]


def thing_kind(name: str) -> FixedKind | None:
    """The kind of thing that a layer or block is called after, if any.

    >>> thing_kind("A-COLS"), thing_kind("Stair-up"), thing_kind("COLOR"), thing_kind("COL-GRID")
    ('post', 'stair', None, None)
    """
    plain = re.sub(r"^.*[$|]", "", name)  # the drawing it came from stands before it
    if _ABOUT.search(plain):
        return None
    return next((kind for kind, words in _CALLED if words.search(plain)), None)


def _feet(kind: FixedKind, strokes: Sequence[Stroke]) -> tuple[list[Foot], str]:
    """What some lines enclose, part by part; else why it was not taken."""
    lines = [stroke.line() for stroke in strokes]
    if len(lines) > MOST_LINES or is_tangle(lines):
        return [], f"{count(len(lines), 'line')}, more than a {kind} is drawn with"
    noded = shapely.union_all(lines, grid_size=GRID_MM)
    enclosed = shapely.union_all(shapely.get_parts(shapely.polygonize([*shapely.get_parts(noded)])))
    parts = [Polygon(p.exterior) for p in shapely.get_parts(enclosed) if isinstance(p, Polygon)]
    if not parts:
        return [], f"{count(len(lines), 'line')} that enclose nothing, so where it ends is not told"
    circles = [stroke.polygon() for stroke in strokes if stroke.kind == "CIRCLE"]
    fitting = [p for p in parts if LEAST_FOOT_MM2 <= p.area <= LARGEST_MM2[kind]]
    other = len(parts) - len(fitting)
    told = f"{count(other, 'outline')} too small or too large for a {kind}" if other else ""
    return [Foot(kind, part, _circle(part, circles)) for part in fitting], told


def _circle(part: Polygon, circles: Sequence[Polygon]) -> tuple[float, float, float] | None:
    for circle in circles:
        if circle.symmetric_difference(part).area <= SAME_SHARE * part.area:
            x, y = circle.centroid.coords[0]
            radius = max(math.dist((x, y), spot) for spot in circle.exterior.coords)
            return x, y, 2.0 * radius
    return None


def told_of_things(things: Things, rooms: Sequence[FoundRoom], where: str) -> Iterator[Finding]:
    """What was taken, what was left, and what a plan cannot say of it."""
    fixed = [thing.kind for room in rooms for thing in room.room.fixed]
    posts, stairs = fixed.count("post"), fixed.count("stair")
    numbers = [count(n, kind) for n, kind in ((posts, "post"), (stairs, "stair")) if n]
    if numbers:
        yield Finding(
            "import-took",
            where,
            f"fixed things that the floor goes round: {' and '.join(numbers)}, from "
            f"{', '.join(things.sources)}",
            "Whether the floor runs on under a stair, and what else stands in a room, is not "
            "told: look.",
        )
    outside = len(things.feet) - len(fixed)
    if outside > 0:
        yield Finding("import-left", where, f"{outside} posts or stairs that stand in no room")
    for told in things.left:
        yield Finding(
            "import-left", where, f"posts or stairs were not taken from {told}", "Measure them."
        )
