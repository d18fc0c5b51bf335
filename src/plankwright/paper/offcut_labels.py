"""Offcut labels to cut out and tape on: the letter, the length, and what it waits for."""

from plankwright.paper.blocks import Label, Labels, Sheet, Words
from plankwright.paper.material import Material

HOW_TO = (
    "Cut along the lines. Tape each label to its offcut when you put it on the shelf: the plan "
    "takes it from there by its letter."
)


def labels_sheet(material: Material) -> Sheet | None:
    """A label for every offcut that is used later; None where there is none."""
    takers = {cut.label: cut for cut in material.cuts if cut.label}
    labels = []
    for cut in material.cuts:
        for offcut in cut.offcuts:
            taker = takers.get(offcut.label)
            if offcut.label and taker is not None:
                size = material.piece(offcut.blank.length_mm)
                if offcut.blank.width_mm < material.plan.board.width_mm - 0.01:
                    size += f" × {material.piece(offcut.blank.width_mm)}"
                lines = (
                    size, f"left of piece {cut.piece.id}", f"for piece {taker.piece.id}",
                )  # fmt: skip
                labels.append(Label(offcut.label, lines))
    if not labels:
        return None
    return Sheet("offcut-labels", "Offcut labels", (Words(HOW_TO), Labels(tuple(labels))))
