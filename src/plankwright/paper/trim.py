"""The trim plan on paper: where each piece goes, and what is cut from which length."""

from plankwright.drawing.trim_drawing import compose_trim_pages
from plankwright.paper.blocks import Block, Drawing, Heading, Points, Sheet, Words
from plankwright.paper.material import Material


def trim_sheet(material: Material) -> Sheet | None:
    """The drawing with its bars, then the pieces in words; None where no trim is put up."""
    work, trim = material.shopping.trim, material.job.buying.trim
    if not work.cuts.sticks:
        return None
    scenes = compose_trim_pages(work, trim, material.plan, material.unit, material.paper)
    part = next(part for part in material.shopping.parts if part.title == "Trim")
    blocks: list[Block] = [*map(Drawing, scenes), Heading("Pieces and fixing")]
    blocks.append(Points(part.notes))
    blocks += [
        Words(f"{finding.where}: {finding.message}. {finding.remedy}", "check")
        for finding in part.findings
    ]
    return Sheet("trim", "Trim", tuple(blocks))
