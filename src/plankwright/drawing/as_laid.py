"""The floor as it lies: the floor plan with laid pieces tinted, damage and the next piece marked.

Beside the plan as it was first made it shows what came out otherwise.
"""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace

from plankwright.drawing.lettering import centered
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.scene import (
    Area,
    Dimension,
    Ellipse,
    Group,
    Item,
    Point,
    Polyline,
    Scene,
    Text,
)
from plankwright.drawing.sheet import MARGIN_MM, Paper
from plankwright.drawing.style import CARD_MM, TEXT_MM
from plankwright.guide.cards import Card, next_card
from plankwright.guide.laying_state import LayingState
from plankwright.model.plan import Plan
from plankwright.model.room import Room


@dataclass(frozen=True, slots=True)
class Progress:
    """What lies, what of that is damaged, and what comes next: ids of pieces."""

    laid: Collection[str] = ()
    damaged: Collection[str] = ()
    next: str = ""


def progress_of(state: LayingState, cards: Iterable[Card]) -> Progress:
    """What a drawing shows of a state."""
    coming = next_card(cards, state.laid)
    damaged = [piece for piece, held in state.laid.items() if held.damaged]
    return Progress(tuple(state.laid), damaged, coming.piece if coming else "")


def compose_as_laid(
    plan: Plan, progress: Progress, *, room: Room | None = None, paper: Paper = "A4"
) -> Scene:
    """The floor plan with what lies tinted, damaged pieces ringed, the next piece outlined."""
    scene = compose_plan(plan, room=room, paper=paper)
    marks: list[Item] = []
    items = tuple(_marked(item, progress, marks) for item in scene.items)
    ids = {piece.id for piece in plan.pieces}
    count = sum(piece in ids for piece in progress.laid)
    told = f"As laid: {count} of {len(ids)} pieces, tinted"
    told += f"; next {progress.next}, outlined" if progress.next in ids else ""
    return replace(
        scene,
        items=(*items, Group(tuple(marks), layer="progress"), _caption(told)),
        title=f"As laid: {plan.name}",
        description=f"{told}. {scene.description}",
    )


def compose_planned_beside_laid(
    planned: Plan, laid: Plan, progress: Progress, *, room: Room | None = None, paper: Paper = "A4"
) -> Scene:
    """Two sheets side by side: the first plan, and the floor as it lies."""
    left = compose_plan(planned, room=room, paper=paper)
    right = compose_as_laid(laid, progress, room=room, paper=paper)
    across = left.width_mm
    shifted = tuple(
        _moved(item, lambda point: (point[0] + across, point[1])) for item in right.items
    )
    return Scene(
        across + right.width_mm,
        max(left.height_mm, right.height_mm),
        (
            Group((*left.items, _caption("As planned")), layer="planned"),
            Group(shifted, layer="laid"),
        ),
        f"Planned and as laid: {laid.name}",
        f"Left, as planned: {left.description} Right: {right.description}",
        right.scale,
    )


def _caption(words: str) -> Text:
    return Text((MARGIN_MM, MARGIN_MM - 2.0), words, CARD_MM, "strong")


def _marked(item: Item, progress: Progress, marks: list[Item]) -> Item:
    """A piece's areas in the style of what lies; its mark, if it has one, is collected."""
    if not isinstance(item, Group):
        return item
    if item.key in progress.damaged:
        for area in _areas(item):
            marks += [Polyline(area.outline, "stop", closed=True), _word("damaged", area)]
    elif item.key and item.key == progress.next:
        marks += [Polyline(area.outline, "next", closed=True) for area in _areas(item)]
    if item.key and item.key in progress.laid:
        return replace(item, items=tuple(_tinted(part) for part in item.items))
    return replace(item, items=tuple(_marked(part, progress, marks) for part in item.items))


def _areas(group: Group) -> list[Area]:
    return [part for part in group.items if isinstance(part, Area)]


def _word(word: str, area: Area) -> Text:
    xs, ys = zip(*area.outline, strict=True)
    middle = ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)
    return centered(middle, word, TEXT_MM, style="check", clear=True)


def _tinted(item: Item) -> Item:
    if isinstance(item, Area) and item.style == "piece":
        return replace(item, style="laid")
    return item


def _moved(item: Item, move: Callable[[Point], Point]) -> Item:
    """The item with every point moved."""
    match item:
        case Group():
            return replace(item, items=tuple(_moved(part, move) for part in item.items))
        case Polyline():
            return replace(item, points=tuple(map(move, item.points)))
        case Area():
            holes = tuple(tuple(map(move, hole)) for hole in item.holes)
            return replace(item, outline=tuple(map(move, item.outline)), holes=holes)
        case Ellipse():
            return replace(item, center=move(item.center))
        case Dimension():
            return replace(item, start=move(item.start), end=move(item.end))
        case Text():
            return replace(item, at=move(item.at))
