"""The laying order on paper, where it is more than row after row."""

from plankwright.drawing.order_drawing import compose_order
from plankwright.paper.blocks import Drawing, Sheet
from plankwright.paper.material import Material
from plankwright.plan.laying_legs import legs_of

TOLD = frozenset({"second-start", "row-backwards", "row-turned", "piece-awkward", "stop-line"})


def laying_order_sheet(material: Material) -> Sheet | None:
    """Every piece with its number; nothing where rows simply follow each other."""
    plan = material.plan
    if len(legs_of(plan)) < 2 and not any(finding.code in TOLD for finding in plan.findings):
        return None
    scene = compose_order(plan, room=material.room, paper=material.paper)
    return Sheet("laying-order", "Laying order", (Drawing(scene),))
