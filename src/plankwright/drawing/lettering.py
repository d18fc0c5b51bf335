"""Letters on a drawing: how much room they take, whether they overlap, fractions as fractions."""

import math
import re
from collections.abc import Iterable, Iterator

from shapely import Polygon, STRtree

from plankwright.drawing.scene import Point, Text
from plankwright.drawing.style import style_named

# Advance widths in ems, as wide as the widest sans serif in common use, so that what fits by this
# table fits in any font a reader's machine puts in its place.
_WIDTHS: dict[str, float] = {
    **dict.fromkeys("0123456789bdghknpqu", 0.64),
    **dict.fromkeys("aeo", 0.62),
    **dict.fromkeys("cvxyz", 0.6),
    **dict.fromkeys("kszJ", 0.58),
    **dict.fromkeys("fijlIrt'", 0.42),
    **dict.fromkeys(" .,:;·|", 0.33),
    **dict.fromkeys('()[]/-″′"¹²³⁴⁵⁶⁷⁸⁹⁰₀₁₂₃₄₅₆₇₈₉', 0.41),
    **dict.fromkeys("⁄", 0.17),
    **dict.fromkeys("mwMW", 1.0),
}
_WIDEST = 0.8
_BOLDER = 1.12
CAPITAL_EM = 0.73  # height of capitals and figures in ems
_DESCENT = 0.24
_DESCENDERS = frozenset("gjpqy,;()[]Q")

_FRACTION = re.compile(r"(?:(?<=\d) )?(?<![\d/.])(\d+)/(\d+)(?![\d/.])")
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


def carpenter_figure(text: str) -> str:
    """A length with its fraction set as a fraction and with true foot and inch marks.

    >>> carpenter_figure("12' 3 5/8\\"")
    '12′ 3⁵⁄₈″'
    """
    set_out = _FRACTION.sub(
        lambda found: f"{found[1].translate(_RAISED)}⁄{found[2].translate(_LOWERED)}", text
    )
    return set_out.replace("'", "′").replace('"', "″")


def text_width_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """Room a line of letters takes along it [mm], on the safe side."""
    ems = sum(_WIDTHS.get(letter, _WIDEST) for letter in text)
    return ems * size_mm * (_BOLDER if bold else 1.0)


def cap_shift_mm(text: Text) -> float:
    """How far the baseline lies below the text's place [mm]."""
    return {"baseline": 0.0, "middle": CAPITAL_EM / 2.0, "top": CAPITAL_EM}[
        text.level
    ] * text.size_mm


def text_box(text: Text) -> Polygon:
    """The room the letters take on the sheet, turned as the text is."""
    width = text_width_mm(text.text, text.size_mm, bold=style_named(text.style).bold)
    left = {"start": 0.0, "middle": -width / 2.0, "end": -width}[text.anchor]
    below = _DESCENT * text.size_mm if _DESCENDERS & set(text.text) else 0.0
    base = cap_shift_mm(text)
    top, bottom = base - CAPITAL_EM * text.size_mm, base + below
    corners = ((left, top), (left + width, top), (left + width, bottom), (left, bottom))
    angle = math.radians(text.angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    x, y = text.at
    return Polygon([(x + a * cos + b * sin, y - a * sin + b * cos) for a, b in corners])


def centered(
    spot: Point,
    words: str,
    size_mm: float,
    angle_deg: float = 0.0,
    *,
    style: str = "label",
    clear: bool = False,
) -> Text:
    """Words with their middle on a spot."""
    return Text(spot, words, size_mm, style, "middle", "middle", angle_deg, clear)


def half_extent_mm(words: str, size_mm: float, step: Point) -> float:
    """How far level words reach from their middle in a direction [mm]."""
    wide = text_width_mm(words, size_mm)
    return abs(step[0]) * wide / 2.0 + abs(step[1]) * CAPITAL_EM * size_mm / 2.0


def overlapping_texts(texts: Iterable[Text], clear_mm: float = 0.0) -> Iterator[tuple[Text, Text]]:
    """Pairs of texts that stand on each other, or nearer than ``clear_mm``."""
    listed = list(texts)
    boxes = [text_box(text).buffer(clear_mm / 2.0) for text in listed]
    tree = STRtree(boxes)
    for i, box in enumerate(boxes):
        for j in sorted(int(index) for index in tree.query(box, predicate="intersects")):
            if i < j and box.intersection(boxes[j]).area > 1e-6:
                yield listed[i], listed[j]
