"""The cut list on paper: every cut in saw order, grouped by walk to the saw."""

from plankwright.files.cut_list import COLUMNS, cut_lines
from plankwright.paper.blocks import Sheet, Table, Words
from plankwright.paper.material import Material


def cut_list_sheet(material: Material) -> Sheet:
    """Every cut of the plan with a box to tick off."""
    rows = tuple(_row(dict(zip(COLUMNS, line, strict=True))) for line in cut_lines(material.plan))
    table = Table(
        ("", "cut", "take", "length", "keep, and how it is shaped", "then", "for piece"),
        rows,
        (None, None, None, None, 1.2, 1.0, None),
        ("left", "right", "left", "right", "left", "left", "left"),
    )
    words = Words(
        "Cut in this order: a later cut takes its letter from an earlier one. Lengths are rounded "
        "down to the tape's marks. Mark from the face edge, never from the tip of the tongue."
    )
    return Sheet("cut-list", "Cut list", (words, table), sideways=True)


def _row(line: dict[str, str]) -> tuple[str, ...]:
    told = [line["keep"], line["shape"], f"rip to {line['width']}" if line["width"] else ""]
    return (
        "□", line["cut"], line["take"], line["length"], "; ".join(word for word in told if word),
        line["what to do with it"], line["piece"],
    )  # fmt: skip
