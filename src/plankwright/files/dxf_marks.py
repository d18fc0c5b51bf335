"""Reads a DXF file into plain marks: blocks opened, curves flattened, everything counted.

A file from elsewhere may be damaged or made to hurt: its size, the number of its entities, how
deep its blocks are nested and how many points come out are limited, and a block that contains
itself is opened once.
"""

import itertools
import math
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from plankwright.dxf_library import load_ezdxf
from plankwright.errors import FileError, shorten
from plankwright.files.drawing_marks import Block, Marks, Spot, Stroke, Swing, Words
from plankwright.files.source import LARGEST_BYTES, read_bytes

MOST_ENTITIES = 200_000  # in the file
MOST_OPENED = 60_000  # when all blocks are opened
MOST_POINTS = 2_000_000
MOST_POINTS_EACH = 20_000
DEEPEST_BLOCK = 12
ROUGH_SHARE = 1e-3  # of its own size, before a drawing's unit is known
FINEST_SHARE = 1e-6  # of its own size: no curve is flattened finer, or it had no end of points
FARTHEST = 1e9  # drawing units; what lies beyond is no house

CURVES = frozenset({"LINE", "LWPOLYLINE", "POLYLINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE"})
QUIET = frozenset({"DIMENSION", "VIEWPORT", "POINT", "LEADER", "ATTDEF", "MULTILEADER"})
MOST_CONTROL_POINTS = 5_000
SWING_DEG = (75.0, 105.0)
ARCHITECTURAL = 4  # $LUNITS and DIMLUNIT: feet and inches with fractions

_ENTITY = re.compile(rb"^[ \t]*0[ \t]*\r?\n[ \t]*[A-Z_][A-Z_0-9]{2,}", re.MULTILINE)
_BINARY = b"AutoCAD Binary DXF"
_DWG = re.compile(rb"AC10\d\d")


def read_dxf(path: Path) -> "DxfDrawing":
    """A DXF file, opened; nothing in it has been looked at yet.

    Raises
    ------
    FileError : when it is missing, too large, not DXF, or damaged beyond reading.
    """
    data = read_bytes(path, LARGEST_BYTES["dxf"])
    _refuse_others(data, str(path))
    return _parse(data, str(path))


def _refuse_others(data: bytes, where: str) -> None:
    """Refuse what is no DXF file, or too much of one, before time is spent on it."""
    if not data.strip():
        raise FileError("the file is empty", where=where, remedy="Save the drawing again.")
    if _DWG.match(data):
        raise FileError(
            "this is a DWG file, not DXF", where=where, remedy="Save the drawing as DXF."
        )
    if not data.startswith(_BINARY) and b"SECTION" not in data[:20_000]:
        raise FileError("this is not a DXF file", where=where, remedy="Save the drawing as DXF.")
    count = sum(1 for _ in itertools.islice(_ENTITY.finditer(data), MOST_ENTITIES + 1))
    if count > MOST_ENTITIES:
        _refuse_many(where, MOST_ENTITIES)


def _refuse_many(where: str, most: int) -> None:
    raise FileError(
        f"more than {most} things are drawn in this file",
        where=where,
        remedy="Save the storey in question alone, without furniture and hatches.",
    )


def _parse(data: bytes, where: str) -> "DxfDrawing":
    """The document; a damaged one is read as far as it goes, and that is said."""
    import io

    load_ezdxf()
    from ezdxf import recover
    from ezdxf.filemanagement import read

    if not data.startswith(_BINARY):
        try:
            text = data.decode(_encoding(data))
            return DxfDrawing(read(io.StringIO(text, newline=None)), where, _ending(data))
        except MemoryError:
            raise
        except Exception:
            pass  # the second reader says what is wrong
    try:
        document, audit = recover.read(io.BytesIO(data))
    except MemoryError:
        raise
    except Exception as error:
        raise FileError(
            f"damaged: it cannot be read as DXF ({shorten(str(error))})",
            where=where,
            remedy="Save the drawing again as DXF, if possible in another version.",
        ) from None
    faults = len(audit.errors) + len(audit.fixes)
    mended = f" ({faults} faults mended)" if faults else ""
    told = f"the file is damaged{mended}: something may be missing"
    return DxfDrawing(document, where, (told, *_ending(data)))


def _ending(data: bytes) -> tuple[str, ...]:
    ended = data.startswith(_BINARY) or data.rstrip(b"\0 \t\r\n").endswith(b"EOF")
    return () if ended else ("the file ends too early: what came after is missing",)


def _encoding(data: bytes) -> str:
    """UTF-8 since the form of 2007; before, the code page of the header."""
    head = data[:20_000]
    version = re.search(rb"\$ACADVER\s+1\s+(AC\d+)", head)
    if version and version[1] >= b"AC1021":
        return "utf-8"
    page = re.search(rb"\$DWGCODEPAGE\s+3\s+(?:ANSI_|ansi_)(\d+)", head)
    return f"cp{page[1].decode()}" if page else "cp1252"


@dataclass(slots=True)
class _Budget:
    """How much of a drawing may still be opened."""

    where: str
    entities: int = MOST_OPENED
    points: int = MOST_POINTS

    def take_entity(self) -> None:
        self.entities -= 1
        if self.entities < 0:
            _refuse_many(self.where, MOST_OPENED)

    def take_points(self, number: int) -> None:
        self.points -= number
        if self.points < 0:
            raise FileError(
                "the curves of this drawing have too many points",
                where=self.where,
                remedy="Save the walls alone.",
            )


_Opened = tuple[str, tuple[Block, ...], Any]  # layer, blocks, entity


@dataclass(slots=True)
class DxfDrawing:
    """An opened DXF file."""

    document: Any
    where: str
    faults: tuple[str, ...] = ()
    _opened: "list[_Opened] | None" = field(default=None)
    _places: int = 0
    _left: Counter[str] = field(default_factory=Counter)
    _stamps: list[Words] = field(default_factory=list)
    _troubles: list[str] = field(default_factory=list)

    @property
    def insunits(self) -> int:
        """The header's code of the unit, 0 for none."""
        code = self.document.header.get("$INSUNITS", 0)
        return code if isinstance(code, int) else 0

    def marks(self, flatness: float | None) -> Marks:
        """The drawing's marks, no point of a curve farther than ``flatness`` from its chords.

        None, before the unit is known, takes a thousandth of each curve's own size.
        """
        budget = _Budget(self.where)
        if self._opened is None:
            if self._size(self.document.modelspace(), {}, 0) > MOST_OPENED:
                _refuse_many(self.where, MOST_OPENED)
            self._opened = list(self._open(self.document.modelspace(), "", (), budget))
        strokes: list[Stroke] = []
        words: list[Words] = []
        swings: list[Swing] = []
        dots: Counter[str] = Counter()
        unread = 0
        for layer, blocks, entity in self._opened:
            try:
                match entity.dxftype():
                    case "TEXT" | "MTEXT":
                        words.extend(_words(entity, layer))
                    case _:
                        drawn = list(_stroke(entity, layer, blocks, flatness, budget))
                        strokes.extend(drawn)
                        dots[layer] += not drawn
                        swings.extend(_swing(entity, layer))
            except (FileError, MemoryError):
                raise
            except Exception:  # a damaged entity: what the library raises is not foreseeable
                unread += 1
        troubles = [f"{unread} things in it are damaged and were left out"] if unread else []
        return Marks(
            tuple(strokes),
            (*words, *self._stamps),
            tuple(swings),
            self.insunits,
            self._architectural(),
            tuple(sorted(self._left.items())),
            tuple(sorted((+dots).items())),
            (*self.faults, *self._troubles, *troubles),
        )

    def _size(self, entities: Any, known: dict[tuple[str, int], int], depth: int) -> int:
        """How many entities come out when blocks are opened, told without opening any."""
        total = 0
        for entity in entities:
            total += 1
            if entity.dxftype() == "INSERT" and depth < DEEPEST_BLOCK:
                name = str(entity.dxf.get("name", ""))
                if (name, depth) not in known:
                    known[name, depth] = 0  # one that contains itself adds nothing
                    block = self.document.blocks.get(name)
                    known[name, depth] = self._size(block or (), known, depth + 1)
                total += max(entity.mcount, 1) * known[name, depth]
        return total

    def _open(
        self, entities: Any, inherited: str, path: tuple[Block, ...], budget: _Budget
    ) -> Iterator[_Opened]:
        """Every entity with its layer and its blocks; blocks opened in their place."""
        for entity in entities:
            budget.take_entity()
            kind = entity.dxftype()
            layer = str(entity.dxf.get("layer", "0"))
            layer = inherited if layer == "0" and inherited else layer
            if kind == "INSERT":
                yield from self._insert(entity, layer, path, budget)
            elif kind in CURVES or kind in ("TEXT", "MTEXT"):
                yield layer, path, entity
            elif kind not in QUIET:
                self._left[kind] += 1

    def _insert(
        self, insert: Any, layer: str, path: tuple[Block, ...], budget: _Budget
    ) -> Iterator[_Opened]:
        name = str(insert.dxf.get("name", ""))
        for attribute in insert.attribs:
            budget.take_entity()
            self._stamps.extend(_stamp(attribute, insert, layer))
        if name in {known for known, _ in path}:
            self._say(f"block {name} contains itself and was opened once")
            return
        if len(path) >= DEEPEST_BLOCK:
            self._say(f"blocks are nested more than {DEEPEST_BLOCK} deep; deeper ones were left")
            return
        try:
            places = insert.multi_insert() if insert.mcount > 1 else (insert,)
            for place in places:
                self._places += 1
                inner = (*path, (name, self._places))
                yield from self._open(place.virtual_entities(), layer, inner, budget)
        except (FileError, MemoryError):
            raise
        except Exception:  # as above
            self._say(f"block {name} cannot be opened")

    def _say(self, trouble: str) -> None:
        if trouble not in self._troubles and len(self._troubles) < 20:
            self._troubles.append(trouble)

    def _architectural(self) -> int:
        """How many dimensions are written in feet and inches."""
        styles = {
            style.dxf.name
            for style in self.document.dimstyles
            if style.dxf.get("dimlunit", 0) == ARCHITECTURAL
        }
        dimensions = self.document.modelspace().query("DIMENSION")
        return sum(1 for d in dimensions if d.dxf.get("dimstyle", "") in styles)


def _stroke(
    entity: Any, layer: str, blocks: tuple[Block, ...], flatness: float | None, budget: _Budget
) -> Iterator[Stroke]:
    flattened, is_closed = _flattened(entity, flatness)
    points = _distinct(flattened)
    if len(points) > MOST_POINTS_EACH or not all(map(_is_near, points)):
        raise ValueError("too many points, or too far away")
    budget.take_points(len(points))
    closed = len(points) > 3 and (bool(getattr(entity, "closed", False)) or is_closed)
    if closed and math.dist(points[0], points[-1]) <= 1e-9 * (1.0 + math.hypot(*points[0])):
        points.pop()
    if len(points) >= 2:
        handle = str(entity.dxf.get("handle") or "")
        yield Stroke(layer, entity.dxftype(), handle, tuple(points), closed, blocks)


def _flattened(entity: Any, flatness: float | None) -> tuple[list[Spot], bool]:
    """The points of a line or curve, and whether it comes back to its start."""
    from ezdxf.path import make_path

    if entity.dxftype() == "SPLINE":
        curve = entity.construction_tool()
        if curve.count > MOST_CONTROL_POINTS:
            raise ValueError("too many control points")
        if not curve.is_clamped:
            points = _loose_spline(curve, flatness)
            return points, math.dist(points[0], points[-1]) <= _fineness(points, flatness)
    path = make_path(entity)
    corners = [(float(p.x), float(p.y)) for p in path.control_vertices()]
    if len(corners) > MOST_POINTS_EACH or not all(map(_is_near, corners)):
        raise ValueError("too many points, or too far away")
    found = path.flattening(_fineness(corners, flatness))
    return [(float(p.x), float(p.y)) for p in found], path.is_closed


def _fineness(points: Sequence[Spot], flatness: float | None) -> float:
    """How far chords may lie from a curve of a size: within bounds whatever was wished."""
    size = max(max(side) - min(side) for side in zip(*points, strict=True)) or 1.0
    return size * ROUGH_SHARE if flatness is None else max(flatness, size * FINEST_SHARE)


def _loose_spline(curve: Any, flatness: float | None) -> list[Spot]:
    """A spline whose ends are not tied to its control points, as closed ones are.

    It is defined from its knot number *degree* to the one as far from the end; the library would
    draw it from its first to its last knot.
    """
    knots, degree = list(curve.knots()), curve.order - 1
    first, last = knots[degree], knots[-degree - 1]
    spans = 4 * max(curve.count, 1)
    while True:
        steps = [first + (last - first) * i / spans for i in range(spans + 1)]
        points = [(float(p.x), float(p.y)) for p in curve.points(steps)]
        # Every second point left out tells four times how far chords lie from the curve.
        triples = zip(points[::2], points[1::2], points[2::2], strict=False)
        off = max(math.dist(b, ((a[0] + c[0]) / 2, (a[1] + c[1]) / 2)) for a, b, c in triples)
        if off <= 4.0 * _fineness(points, flatness) or spans > MOST_POINTS_EACH / 2:
            return points
        spans *= 2


def _distinct(points: list[Spot]) -> list[Spot]:
    kept: list[Spot] = []
    for point in points:
        if not kept or point != kept[-1]:
            kept.append(point)
    return kept


def _is_near(point: Spot) -> bool:
    return all(math.isfinite(c) and abs(c) <= FARTHEST for c in point)


def _swing(entity: Any, layer: str) -> Iterator[Swing]:
    if entity.dxftype() != "ARC":
        return
    sweep = (entity.dxf.end_angle - entity.dxf.start_angle) % 360.0
    if SWING_DEG[0] <= sweep <= SWING_DEG[1]:
        center = entity.ocs().to_wcs(entity.dxf.center)
        spot = (float(center.x), float(center.y))
        if _is_near(spot):
            yield Swing(layer, spot, float(entity.dxf.radius))


def _stamp(attribute: Any, insert: Any, layer: str) -> Iterator[Words]:
    """An attribute of a block, seen or not, told at the place where the block stands."""
    at = insert.dxf.insert
    text, spot = _plain(str(attribute.dxf.get("text", ""))), (float(at.x), float(at.y))
    if text and _is_near(spot):
        yield Words(layer, text, spot, str(attribute.dxf.get("tag", "")) or "?")


def _words(entity: Any, layer: str) -> Iterator[Words]:
    at = entity.dxf.insert if entity.dxftype() == "MTEXT" else entity.get_placement()[1]
    spot = (float(at.x), float(at.y))
    for line in str(entity.plain_text())[:2000].splitlines():
        text = _plain(line)
        if text and _is_near(spot):
            yield Words(layer, text, spot)


def _plain(text: str) -> str:
    """A text in one line, cut where it is far too long."""
    return " ".join("".join(c if c.isprintable() else " " for c in text[:2000]).split())[:200]
