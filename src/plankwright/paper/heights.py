"""The height sheet: what the new floor's height means at doors, jambs, stairs and neighbors."""

from plankwright.drawing.height_drawing import compose_heights
from plankwright.paper.blocks import Block, Picture, Sheet, Table, Words
from plankwright.paper.material import Material
from plankwright.paper.slab import HEIGHTS, section_blocks

BLANK = "____________"


def heights_sheet(material: Material) -> Sheet | None:
    """Heights in words and as a section at true size; None where no layers are known."""
    report, job = material.slab, material.job.slab
    if report is None or job is None or job.layers is None:
        return None
    section = next(section for section in report.sections if section.title == HEIGHTS)
    blocks: list[Block] = [*section_blocks(section)]
    scenes = compose_heights(job.layers, job.meetings, material.unit)
    blocks += [Picture(scene, scene.width_mm) for scene in scenes]
    blocks += [Words("Measured before row 1, from the slab up:", "strong", sticky=True)]
    rows = tuple((meeting.name, BLANK, BLANK, BLANK) for meeting in job.meetings)
    heads = ("at", "under the leaf", "floor beyond", "riser")
    if rows:
        blocks.append(Table(heads, rows, (1.0, None, None, None)))
    return Sheet("heights", "Heights", tuple(blocks))
