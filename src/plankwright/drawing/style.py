"""One sheet of line weights, hatches, type sizes and colors for every drawing.

A carpenter's working drawing: hatches carry the meaning before colors do, lines are never so fine
that they vanish on a 200 dpi print. Players look names up here; composers only use the names.
"""

from dataclasses import dataclass
from typing import Literal

from plankwright.drawing.scene import points_to_mm
from plankwright.errors import PlankwrightError

Color = Literal["paper", "floor", "tint", "stone", "pencil", "ink", "chalk", "crayon"]
Palette = dict[Color, str]

# Type sizes on paper [mm].
TEXT_MM = points_to_mm(10.0)  # the least on paper
CARD_MM = points_to_mm(14.0)
TITLE_MM = points_to_mm(14.0)
LENGTH_MM = points_to_mm(24.0)  # cut lengths, read from standing height over the saw

# ``chalk`` is what the person can act on; ``crayon`` only *stop* and *check this*.
PAPER: Palette = {
    "paper": "#FBF8F1",
    "floor": "#FFFFFF",
    "tint": "#EDE6D3",
    "stone": "#B4B2AA",
    "pencil": "#6B6F6C",
    "ink": "#1F2421",
    "chalk": "#1C6E8C",
    "crayon": "#B3261E",
}
# For paper that is white already.
PRINT: Palette = {**PAPER, "paper": "#FFFFFF"}
DARK: Palette = {
    "paper": "#171B1A",
    "floor": "#1E2322",
    "tint": "#2E3432",
    "stone": "#5A605D",
    "pencil": "#A3A8A4",
    "ink": "#ECE8DD",
    "chalk": "#6FBFDC",
    "crayon": "#FF8A80",
}


@dataclass(frozen=True, slots=True)
class Style:
    """How a shape looks: a line of a width [mm] and color, perhaps dashed, and a fill."""

    line: Color | None = None
    width_mm: float = 0.0
    fill: Color | None = None
    dash_mm: tuple[float, ...] = ()
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Hatch:
    """Parallel lines, one family for each angle (anticlockwise from x), in the style "hatch"."""

    angles_deg: tuple[float, ...]
    spacing_mm: float = 2.0


HATCHES: dict[str, Hatch] = {
    "starter": Hatch((45.0,)),
    "end-piece": Hatch((-45.0,)),
    "wall-to-wall": Hatch((45.0, -45.0)),
}

STYLES: dict[str, Style] = {
    # the room
    "sheet": Style(fill="paper"),
    "wall": Style(fill="ink"),
    "outline": Style(line="ink", width_mm=0.35),
    "gap": Style(fill="floor"),
    "floor": Style(fill="floor"),
    "fixed": Style(line="ink", width_mm=0.25, fill="stone"),
    "doorway": Style(line="ink", width_mm=0.25, dash_mm=(1.5, 1.0)),
    # rows and pieces
    "piece": Style(fill="floor"),
    "laid": Style(fill="tint"),
    "row": Style(line="ink", width_mm=0.35),
    "joint": Style(line="ink", width_mm=0.25),
    "rip": Style(line="ink", width_mm=0.9),
    "spline": Style(line="ink", width_mm=1.3),
    "spline-core": Style(line="floor", width_mm=0.7, dash_mm=(2.2, 0.8)),
    "hatch": Style(line="ink", width_mm=0.13),
    "next": Style(line="chalk", width_mm=0.9),
    # the board at the saw
    "kept": Style(line="ink", width_mm=0.7, fill="floor"),
    "waste": Style(line="ink", width_mm=0.35, fill="tint"),
    "crossed": Style(line="ink", width_mm=0.5),
    "saw": Style(line="chalk", width_mm=0.7, dash_mm=(4.0, 1.5)),
    "lock": Style(line="ink", width_mm=0.5, fill="stone"),
    "slot": Style(line="ink", width_mm=0.5, fill="paper"),
    # surveying and the slab
    "measured": Style(line="ink", width_mm=0.25),
    "error": Style(line="chalk", width_mm=0.35),
    "contour": Style(line="pencil", width_mm=0.25),
    "contour-main": Style(line="ink", width_mm=0.5),
    "overlay": Style(),  # a second hatch over a first
    # words, figures and marks
    "dimension": Style(line="ink", width_mm=0.18),
    "leader": Style(line="ink", width_mm=0.18),
    "scale-black": Style(line="ink", width_mm=0.18, fill="ink"),
    "scale-white": Style(line="ink", width_mm=0.18, fill="floor"),
    "frame": Style(line="pencil", width_mm=0.18),
    "ring": Style(line="ink", width_mm=0.25, fill="paper"),
    "ring-check": Style(line="crayon", width_mm=0.5, fill="floor"),
    "start": Style(fill="ink"),
    "direction": Style(line="ink", width_mm=0.7),
    "stop": Style(line="crayon", width_mm=0.7),
    "label": Style(fill="ink"),
    "figure": Style(fill="ink"),
    "title": Style(fill="ink", bold=True),
    "strong": Style(fill="ink", bold=True),
    "note": Style(fill="pencil"),
    "check": Style(fill="crayon", bold=True),
    "act": Style(fill="chalk", bold=True),
}


def style_named(name: str) -> Style:
    """The style of a name; an unknown one is a defect of the drawing."""
    try:
        return STYLES[name]
    except KeyError:
        raise PlankwrightError(f"no style is called {name!r}") from None


def hatch_named(name: str) -> Hatch:
    """The hatch of a name; an unknown one is a defect of the drawing."""
    try:
        return HATCHES[name]
    except KeyError:
        raise PlankwrightError(f"no hatch is called {name!r}") from None
