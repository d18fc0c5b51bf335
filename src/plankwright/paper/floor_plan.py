"""The floor plan on paper: rows numbered on both walls, doors, the start arrow."""

from plankwright.drawing.plan_drawing import compose_plan
from plankwright.paper.blocks import Drawing, Sheet
from plankwright.paper.material import Material


def floor_plan_sheet(material: Material) -> Sheet:
    """The plan to scale."""
    scene = compose_plan(material.plan, room=material.room, paper=material.paper)
    return Sheet("floor-plan", "Floor plan", (Drawing(scene),))
