"""The drawings of the phone's page: the floor cut out of its sheet, and the boards at the saw."""

from html import escape

from plankwright.application.lay_day import Day
from plankwright.drawing.board_picture import compose_board
from plankwright.drawing.lettering import text_width_mm
from plankwright.drawing.plan_drawing import compose_plan
from plankwright.drawing.scene import (
    Area,
    Ellipse,
    Group,
    Point,
    Polyline,
    Scene,
    Shape,
    Text,
    shapes_of,
)
from plankwright.drawing.style import DARK, PAPER
from plankwright.drawing.svg import style_rules, svg_body
from plankwright.plan.saw_view import SawView
from plankwright.units import parse_unit

BOARD_BOX = "4 3 182 116"  # what of a board's picture is drawn on


def floor_scene(day: Day) -> Scene:
    """The floor plan without its title block."""
    scene = compose_plan(day.plan)
    items = tuple(
        item for item in scene.items if not (isinstance(item, Group) and item.layer == "title")
    )
    return Scene(scene.width_mm, scene.height_mm, items, scene.title, scene.description)


def floor_svg(scene: Scene) -> str:
    """The floor as an ``svg`` element that shows the room and what stands round it."""
    points = [point for shape in shapes_of(scene.items) for point in _extent(shape)]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    box = f"{left - 1:.1f} {top - 1:.1f} {right - left + 2:.1f} {bottom - top + 2:.1f}"
    return _svg(scene, box)


def _extent(shape: Shape) -> tuple[Point, ...]:
    """Points between which a shape lies; words generously."""
    match shape:
        case Area():
            return shape.outline
        case Polyline():
            return shape.points
        case Ellipse():
            (x, y), (a, b) = shape.center, shape.semi_axes_mm
            return (x - a, y - b), (x + a, y + b)
        case Text():
            (x, y), size = shape.at, shape.size_mm
            wide = text_width_mm(shape.text, size)
            left = {"start": 0.0, "middle": wide / 2.0, "end": wide}[shape.anchor]
            if abs(shape.angle_deg) > 45.0:
                return (x - size, y - wide / 2.0), (x + size, y + wide / 2.0)
            return (x - left, y - size), (x - left + wide, y + size)


def board_scenes(day: Day, view: SawView) -> dict[str, Scene]:
    """For each piece that is cut, by its id, the board at the saw."""
    unit, board, laid = parse_unit(day.plan.unit), day.plan.board, day.plan.laying.laid
    return {
        card.piece: compose_board(board, laid, card.cut, unit, view)
        for card in day.cards
        if card.cut is not None
    }


def board_svg(scene: Scene) -> str:
    """A board at the saw as a document of its own."""
    return _svg(scene, BOARD_BOX)


def picture_rules(scenes: list[Scene]) -> str:
    """The style rules of all pictures, for light and dark."""
    light, dark = (style_rules(scenes, palette) for palette in (PAPER, DARK))
    return f"{light}@media (prefers-color-scheme:dark){{{dark}}}"


def _svg(scene: Scene, box: str) -> str:
    told = escape(f"{scene.title}. {scene.description}", quote=True)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img" aria-label="{told}">'
        f"{svg_body(scene)}</svg>"
    )
