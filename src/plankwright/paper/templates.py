"""Templates at true size on paper, each with its mirrored copy for the back of the board."""

from plankwright.drawing.template_drawing import compose_template
from plankwright.guide.templates import templates_of
from plankwright.paper.blocks import Drawing, Sheet
from plankwright.paper.material import Material


def templates_sheet(material: Material) -> Sheet | None:
    """Every template of the plan; None where every piece is marked by its lengths."""
    scenes = [
        scene
        for template in templates_of(material.plan, material.cards)
        for scene in compose_template(template, material.unit, material.paper)
    ]
    if not scenes:
        return None
    return Sheet("templates", "Templates", tuple(Drawing(scene) for scene in scenes))
