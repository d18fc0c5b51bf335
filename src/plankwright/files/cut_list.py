"""``cuts.csv``: the cut list in saw order (RFC 4180), lengths in the job's unit.

Lengths and widths of pieces are rounded down to the tape's marks, so that a piece still fits;
what rounding leaves goes into the gap.
"""

import csv
import io
from pathlib import Path
from typing import cast

from plankwright.guide.card_words import keep_words, shape_words
from plankwright.guide.cards import offcut_fate
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import NEAR_MM, Offcut, SawCut, piece_figure, saw_cuts
from plankwright.units import Unit

COLUMNS = (
    "cut",
    "piece",
    "board",
    "take",
    "length",
    "width",
    "keep",
    "shape",
    "offcut",
    "offcut label",
    "what to do with it",
)


def write_cut_list(plan: Plan, path: Path) -> None:
    """Write the cut list of a plan to a file."""
    path.write_text(cut_list_csv(plan), encoding="utf-8", newline="")


def cut_list_csv(plan: Plan) -> str:
    """The cut list of a plan as CSV with a heading line."""
    text = io.StringIO()
    lines = csv.writer(text)
    lines.writerow(COLUMNS)
    lines.writerows(cut_lines(plan))
    return text.getvalue()


def cut_lines(plan: Plan) -> list[list[str]]:
    """The cells of the cut list under :data:`COLUMNS`, a line for each cut in saw order."""
    return [_line(plan, cut) for cut in saw_cuts(plan)]


def _line(plan: Plan, cut: SawCut) -> list[str]:
    unit = cast(Unit, plan.unit)
    piece = cut.piece
    return [
        str(cut.number),
        piece.id,
        str(piece.board),
        _take(plan, cut),
        piece_figure(piece.length_mm, unit),
        piece_figure(piece.width_mm, unit) if cut.side else "",
        keep_words(cut, plan.board.reversible),
        shape_words(cut, plan, unit),
        "; ".join(_size(plan, offcut, unit) for offcut in cut.offcuts),
        "; ".join(offcut.label for offcut in cut.offcuts if offcut.label),
        "; ".join(_fate(plan, offcut) for offcut in cut.offcuts),
    ]


def _take(plan: Plan, cut: SawCut) -> str:
    if cut.label:
        return f"offcut {cut.label}"
    stock = next((board for board in plan.stock if board.id == cut.piece.board), None)
    if stock is None:
        return "new board"
    return f"from the shelf: {stock.label or stock.id}"


def _size(plan: Plan, offcut: Offcut, unit: Unit) -> str:
    length = piece_figure(offcut.blank.length_mm, unit)
    if _full_width(plan, offcut):
        return length
    return f"{length} x {piece_figure(offcut.blank.width_mm, unit)}"


def _fate(plan: Plan, offcut: Offcut) -> str:
    words = {
        "shelf": f"put on the shelf as {offcut.label}",
        "spare": "spare: keep it until the floor is done",
        "waste": "waste",
    }
    return words[offcut_fate(plan, offcut)]


def _full_width(plan: Plan, offcut: Offcut) -> bool:
    return offcut.blank.width_mm >= plan.board.width_mm - NEAR_MM
