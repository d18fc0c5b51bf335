"""The cautions on paper: gates first, to be settled and ticked, then what to mind at each work."""

from plankwright.application.cautions import DEFER, cautions_of
from plankwright.paper.blocks import Block, Cell, Heading, Sheet, Table, Words
from plankwright.paper.material import Material


def cautions_sheet(material: Material) -> Sheet:
    """What can hurt someone, and what keeps you safe."""
    house = None if material.job.slab is None else material.job.slab.house
    found = cautions_of(house, material.cuts)
    blocks: list[Block] = [Words(DEFER, "strong")]
    gates = [caution for caution in found if caution.stop]
    if gates:
        blocks.append(
            Heading("Stop: settle these before you grind, scrape, drill or pull trim off")
        )
        blocks += [Words(line, "stop") for gate in gates for line in gate.lines]
    rows = tuple(
        (Cell(caution.title, strong=True), " ".join(caution.lines))
        for caution in found
        if not caution.stop
    )
    blocks += [
        Heading("Mind, at each work"),
        Table(("at", "what keeps you safe"), rows, (0.3, 1.0)),
    ]
    return Sheet("cautions", "Cautions", tuple(blocks))
