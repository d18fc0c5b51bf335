"""The rip table on paper: how wide each piece of a ripped row is at its ends, and between."""

from plankwright.model.board import Profile
from plankwright.model.plan import Plan
from plankwright.paper.blocks import Block, Cell, Heading, Sheet, Table, Words
from plankwright.paper.material import Material
from plankwright.plan.rip_table import Mark, RipLine, rip_table, ripped_rows

HOW_TO = (
    "Measure from the long side that stays, at the face edge; mark the width at both ends, join "
    "the marks, and saw outside the line. Measure the wall again at both ends before you rip: what "
    "it is off goes into the width."
)
RIP_CAUTION = (
    "Ripping: fence, riving knife and push stick; stand beside the board, never behind it; never "
    "freehand on a table saw. A slanted rip runs along a straightedge that is clamped to the board."
)

TIP_MM = 1.0


def rip_table_sheet(material: Material) -> Sheet | None:
    """Every row in which a piece is ripped; None where there is none."""
    rows = ripped_rows(material.plan)
    if not rows:
        return None
    blocks: list[Block] = [Words(HOW_TO), Words(RIP_CAUTION, "strong")]
    for row in rows:
        lines = [line for line in rip_table(material.plan, row) if line.keeps != "both"]
        blocks += [Heading(_title(material.plan, row)), _table(material, lines)]
    return Sheet("rip-table", "Rip table", tuple(blocks))


def _title(plan: Plan, row: int) -> str:
    rows = [piece.row for piece in plan.pieces]
    if row == min(rows):
        return f"Row {row}, at the start wall"
    return f"Row {row}, the last" if row == max(rows) else f"Row {row}"


def _table(material: Material, lines: list[RipLine]) -> Table:
    near = material.plan.board.near_end(material.plan.laying.laid)
    ends = ("at the near end", "at the far end")
    if near is not None:
        other = "groove" if near == "tongue" else "tongue"
        ends = f"toward the {near} end", f"toward the {other} end"
    return Table(
        ("", "piece", "begins at", "keep", ends[0], "between", ends[1]),
        tuple(_row(material, line) for line in lines),
        (None, None, None, 0.8, 1.0, 1.2, 1.0),
        ("left", "left", "right", "left", "right", "left", "right"),
    )


def _row(material: Material, line: RipLine) -> tuple[str | Cell, ...]:
    near, *marks, far = _marks(line)
    between = "; ".join(
        f"{material.piece(mark.width_mm)} at {material.length(mark.from_near_mm)}" for mark in marks
    )
    return (
        "□", line.piece, material.length(line.from_near_mm), _keep(material.plan, line.keeps),
        Cell(material.piece(near.width_mm), strong=True), between,
        Cell(material.piece(far.width_mm), strong=True),
    )  # fmt: skip


def _marks(line: RipLine) -> tuple[Mark, ...]:
    """The marks less the tips that a slanted end leaves, which nobody can measure."""
    marks = list(line.marks)
    while len(marks) > 2 and marks[0].width_mm < TIP_MM:
        marks.pop(0)
    while len(marks) > 2 and marks[-1].width_mm < TIP_MM:
        marks.pop()
    return tuple(marks)


def _keep(plan: Plan, side: str) -> str:
    """The long side that stays, by its profile."""
    if plan.board.reversible or side == "neither":
        return side
    start: Profile = plan.board.start_side
    other: Profile = "groove" if start == "tongue" else "tongue"
    return f"{start if side == 'wall side' else other} side"
