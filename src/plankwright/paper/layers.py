"""Vapor barrier and underlayment on paper: the strips drawn to scale, and their cut list."""

from plankwright.drawing.strips_drawing import MOST_LINES, compose_strips
from plankwright.model.roll import Sheeting
from plankwright.paper.blocks import Block, Drawing, Heading, Sheet, Table
from plankwright.paper.material import Material
from plankwright.plan.roll_cuts import RollPlan


def vapor_barrier_sheet(material: Material) -> Sheet | None:
    """The plastic film; None where none is laid."""
    sheets, buying = material.shopping.sheets, material.job.buying
    return _sheet(material, "vapor-barrier", "Vapor barrier", sheets.film, buying.film)


def underlayment_sheet(material: Material) -> Sheet | None:
    """The pad; None where none is laid."""
    sheets, buying = material.shopping.sheets, material.job.buying
    return _sheet(material, "underlayment", "Underlayment", sheets.pad, buying.pad)


def _sheet(
    material: Material, name: str, title: str, rolls: RollPlan | None, sheeting: Sheeting | None
) -> Sheet | None:
    if rolls is None or sheeting is None:
        return None
    scene = compose_strips(rolls, sheeting, material.plan, material.unit, title, material.paper)
    blocks: list[Block] = [Drawing(scene)]
    if len(rolls.rolls) > MOST_LINES:
        blocks += [Heading("What is cut from which roll"), _rolls(material, rolls)]
    return Sheet(name, title, tuple(blocks))


def _rolls(material: Material, rolls: RollPlan) -> Table:
    rows = tuple(
        ("□", str(number), ", ".join(f"{p.strip}: {material.need(p.length_mm)}" for p in cut))
        for number, cut in enumerate(rolls.rolls, 1)
    )
    return Table(("", "roll", "strips and their lengths"), rows, (None, None, 1.0))
