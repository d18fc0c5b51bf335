"""Where a board is sawn to a shape of its own: the parts of pieces that are marked by a template.

Coordinates are the piece's own: along from its near end, across from its wall side. Long straight
saw lines are left to the ruler: a template shows where a line turns, at the board's whole width.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from plankwright.guide.card_words import end_names, side_names
from plankwright.guide.cards import Card
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import SawCut
from plankwright.plan.saw_view import SawView

AROUND_MM = 22.0  # of the board shown beside what is sawn out
LONGEST_MM = 180.0  # places nearer to each other than this are one template: it fits on a sheet
TURN_MM = 0.5  # a corner nearer to a straight line, or to the rectangle's corner, is none
LEAST_SLANT_MM = 2.0  # a smaller slant is marked by the two lengths on its card
SAME_ANGLE_DEG = 0.1

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Template:
    """What is drawn at true size.

    Parameters
    ----------
    name : what it is called: the piece, or the first of several with the same slant.
    pieces : ids of all pieces it serves.
    outline : the piece, along from its near end and across from its wall side [mm].
    window : the part of its length that is shown.
    ends, sides : what the near and the far end, the wall and the room side are called.
    near_left : face up with the start side away its near end lies on the left.
    relief : saw lines from a hole to an edge, so that the board can be slipped round a pipe.
    """

    name: str
    pieces: tuple[str, ...]
    outline: Polygon
    window: tuple[float, float]
    ends: tuple[str, str]
    sides: tuple[str, str]
    near_left: bool = True
    relief: tuple[tuple[Point, Point], ...] = ()

    @property
    def length_mm(self) -> float:
        """Of the piece."""
        return float(self.outline.bounds[2])


def templates_of(plan: Plan, cards: Sequence[Card]) -> tuple[Template, ...]:
    """A template for every place that is sawn out, and one for each angle of slanted ends."""
    found: list[Template] = []
    for card in cards:
        if card.shape and card.cut is not None:
            found += _shaped(plan, card, card.cut)
    return (*found, *_slants(plan, cards))


def _shaped(plan: Plan, card: Card, cut: SawCut) -> Iterator[Template]:
    """A template for each group of places near each other where the saw line turns."""
    outline = Polygon(card.shape[0], card.shape[1:])
    length = float(outline.bounds[2])
    spans = _spans([u for u, _ in turns_of(outline)], length)
    for number, (low, high) in enumerate(spans):
        letter = chr(ord("a") + number) if len(spans) > 1 else ""
        yield Template(
            card.piece + letter, (card.piece,), outline, (low, high),
            end_names(plan, cut), side_names(plan, cut), _near_left(plan),
            tuple(_relief(outline, low, high)),
        )  # fmt: skip


def turns_of(outline: Polygon) -> list[Point]:
    """The corners of an outline that are not those of the rectangle round it."""
    plain = outline.simplify(TURN_MM)
    x0, y0, x1, y1 = outline.bounds
    rectangle = shapely.MultiPoint([(x, y) for x in (x0, x1) for y in (y0, y1)])
    corners = [
        (float(x), float(y))
        for ring in (plain.exterior, *plain.interiors)
        for x, y, *_ in ring.coords[:-1]
    ]
    return [c for c in corners if rectangle.distance(shapely.Point(c)) > TURN_MM]


def _spans(places: Iterable[float], length: float) -> list[tuple[float, float]]:
    """Parts of the piece's length round some places; those that fit on one sheet are one."""
    spans: list[tuple[float, float]] = []
    for place in sorted(places):
        start, end = max(place - AROUND_MM, 0.0), min(place + AROUND_MM, length)
        if spans and (start <= spans[-1][1] or end - spans[-1][0] <= LONGEST_MM):
            spans[-1] = spans[-1][0], max(end, spans[-1][1])
        else:
            spans.append((start, end))
    return spans


def _relief(outline: Polygon, low: float, high: float) -> Iterator[tuple[Point, Point]]:
    """Two saw lines as far apart as a hole is wide, from it to the nearest edge."""
    _, _, length, width = outline.bounds
    for hole in outline.interiors:
        x0, y0, x1, y1 = hole.bounds
        if x1 < low or x0 > high:
            continue
        x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
        away = {"near": x0, "far": length - x1, "wall": y0, "room": width - y1}
        match min(away, key=lambda edge: away[edge]):
            case "near":
                yield from (((x, level), (0.0, level)) for level in (y0, y1))
            case "far":
                yield from (((x, level), (length, level)) for level in (y0, y1))
            case "wall":
                yield from (((level, y), (level, 0.0)) for level in (x0, x1))
            case _:
                yield from (((level, y), (level, width)) for level in (x0, x1))


def _slants(plan: Plan, cards: Sequence[Card]) -> Iterator[Template]:
    """One template for the pieces whose ends slant by the same angle the same way."""
    groups: dict[tuple[str, float], list[tuple[Card, SawCut]]] = {}
    for card in cards:
        cut = card.cut
        if cut is None or card.shape or cut.slanted_end is None:
            continue
        slant = card.lengths_mm[0] - card.lengths_mm[1]
        if abs(slant) >= LEAST_SLANT_MM:
            angle = math.degrees(math.atan2(slant, card.widths_mm[0]))
            key = cut.slanted_end, round(angle / SAME_ANGLE_DEG)
            groups.setdefault(key, []).append((card, cut))
    ordered = sorted(groups.items(), key=lambda group: group[1][0][0].number)
    for number, ((end, _), members) in enumerate(ordered, 1):
        card, cut = max(members, key=lambda member: max(member[0].widths_mm))
        pieces = tuple(member.piece for member, _ in members)
        yield _slant(plan, card, cut, end, f"slant {number}", pieces)


def _slant(
    plan: Plan, card: Card, cut: SawCut, end: str, name: str, pieces: tuple[str, ...]
) -> Template:
    wall, room = card.lengths_mm
    width, length = max(card.widths_mm), max(wall, room)
    if end == "far":
        ring = ((0.0, 0.0), (wall, 0.0), (room, width), (0.0, width))
        low, high = min(wall, room) - AROUND_MM, length
    else:
        ring = ((length - wall, 0.0), (length, 0.0), (length, width), (length - room, width))
        low, high = 0.0, abs(wall - room) + AROUND_MM
    window = max(low, 0.0), min(high, length)
    names = end_names(plan, cut), side_names(plan, cut)
    return Template(name, pieces, Polygon(ring), window, *names, _near_left(plan))


def _near_left(plan: Plan) -> bool:
    """Whether a board's near end lies on the left, face up with the start side away."""
    return SawView().near_is_left(plan.laying.laid)
