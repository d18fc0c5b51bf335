"""The floor plan on paper: rows numbered on both walls, doors, the start arrow."""

from plankwright.drawing.plan_tiles import compose_plan_sheets
from plankwright.paper.blocks import Drawing, Sheet
from plankwright.paper.material import Material


def floor_plan_sheet(material: Material) -> Sheet:
    """The plan to scale, on one sheet or parted over several with a key."""
    scenes = compose_plan_sheets(material.plan, room=material.room, paper=material.paper)
    return Sheet("floor-plan", "Floor plan", tuple(map(Drawing, scenes)))
