"""What a drawing holds, told plainly: lines, words and door swings, in the drawing's own unit."""

from dataclasses import dataclass, replace

import shapely
from shapely import LineString, Polygon

Spot = tuple[float, float]
Block = tuple[str, int]  # the name of a block, and which of the drawing's blocks it is
WHOLE_SHARE = 0.98  # of what a line that crosses itself encloses, for its largest part to be all


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line of a drawing, curves flattened.

    Parameters
    ----------
    layer, kind, handle : where it stands in the file.
    points : its corners; a closed one does not repeat its first.
    blocks : those it is part of, the outermost first.
    """

    layer: str
    kind: str
    handle: str
    points: tuple[Spot, ...]
    closed: bool = False
    blocks: tuple[Block, ...] = ()

    @property
    def origin(self) -> str:
        """What it is, for people."""
        told = f"{self.kind} {self.handle} on layer {self.layer}".replace("  ", " ")
        mended = self.closed and not Polygon(self.points).is_valid
        return f"{told} (it runs back on itself: mended)" if mended else told

    def line(self) -> LineString:
        """The line itself, closed ones back to their start."""
        return LineString([*self.points, self.points[0]] if self.closed else self.points)

    def polygon(self) -> Polygon:
        """What a closed line encloses; a spur that it runs along twice is dropped."""
        drawn = Polygon(self.points)
        if drawn.is_valid:
            return drawn
        parts = [p for p in shapely.get_parts(shapely.make_valid(drawn)) if p.area > 0.0]
        largest = max(parts, key=lambda part: part.area, default=drawn)
        is_whole = largest.area >= WHOLE_SHARE * sum(part.area for part in parts)
        return largest if isinstance(largest, Polygon) and is_whole else drawn


@dataclass(frozen=True, slots=True)
class Words:
    """A text of a drawing and where it stands; ``tag`` when it is an attribute of a block."""

    layer: str
    text: str
    at: Spot
    tag: str = ""


@dataclass(frozen=True, slots=True)
class Swing:
    """A quarter circle, as doors are drawn: its layer, center and radius."""

    layer: str
    center: Spot
    radius: float


@dataclass(frozen=True, slots=True)
class Marks:
    """Everything of a drawing that rooms may be found from.

    Parameters
    ----------
    insunits : the header's code of the unit, 0 for none.
    architectural : how many dimensions are written in feet and inches.
    left : what was not looked at, with its number, such as ``("HATCH", 37)``.
    dots : layers with lines that have no length, and how many.
    faults : what was wrong with the file, in words.
    """

    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...]
    swings: tuple[Swing, ...] = ()
    insunits: int = 0
    architectural: int = 0
    left: tuple[tuple[str, int], ...] = ()
    dots: tuple[tuple[str, int], ...] = ()
    faults: tuple[str, ...] = ()

    def scaled(self, factor: float) -> "Marks":
        """The same in another unit."""
        return replace(
            self,
            strokes=tuple(
                replace(s, points=tuple((x * factor, y * factor) for x, y in s.points))
                for s in self.strokes
            ),
            words=tuple(
                replace(w, at=(w.at[0] * factor, w.at[1] * factor)) for w in self.words
            ),
            swings=tuple(
                Swing(s.layer, (s.center[0] * factor, s.center[1] * factor), s.radius * factor)
                for s in self.swings
            ),
        )  # fmt: skip


def extent(strokes: tuple[Stroke, ...] | list[Stroke]) -> tuple[float, float]:
    """Width and depth of the rectangle round some lines."""
    if not strokes:
        return 0.0, 0.0
    x0, y0, x1, y1 = shapely.total_bounds([stroke.line() for stroke in strokes])
    return float(x1 - x0), float(y1 - y0)
