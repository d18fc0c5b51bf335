"""``cuts.csv``: the cut list in saw order (RFC 4180), lengths in the job's unit.

Lengths and widths of pieces are rounded down to the tape's marks, so that a piece still fits;
what rounding leaves goes into the gap.
"""

import csv
import io
from pathlib import Path
from typing import cast

from plankwright.model.board import Profile
from plankwright.model.plan import Plan
from plankwright.plan.saw_cuts import KeepEnd, KeepSide, Offcut, SawCut, piece_figure, saw_cuts
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
        _keep(plan, cut),
        _shape(plan, cut, unit),
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


def _keep(plan: Plan, cut: SawCut) -> str:
    told = (
        _keep_end(cut.end, cut.end_profile, plan.board.reversible),
        _keep_side(cut.side, cut.side_profile),
    )
    return "; ".join(words for words in told if words)


def _keep_end(end: KeepEnd | None, profile: Profile | None, reversible: bool) -> str:
    if end is None:
        return ""
    if end == "middle":
        return "cut both ends"
    if end == "cut" and not reversible:
        return "keep the cut end"
    return f"keep the {profile} end" if profile else "keep either end"


def _keep_side(side: KeepSide | None, profile: Profile | None) -> str:
    if side is None:
        return ""
    if side == "middle":
        return "rip both sides"
    return f"keep the {profile} side" if profile else "keep either side"


def _shape(plan: Plan, cut: SawCut, unit: Unit) -> str:
    """What is not square about a piece, with the two figures that tell it."""
    if cut.shaped:
        return "notched or angled: mark it from the drawing"
    ends, sides = _end_names(plan, cut), _side_names(plan, cut)
    told = []
    if cut.angled:
        told.append(_pair("angled", cut.lengths_mm, sides, "along", unit))
    if cut.tapered:
        told.append(_pair("tapered", cut.widths_mm, ends, "at", unit))
    return "; ".join(words for words in told if words)


def _pair(
    word: str, sizes: tuple[float, float], places: tuple[str, str], where: str, unit: Unit
) -> str:
    first, second = (piece_figure(size, unit) for size in sizes)
    if first == second:
        return ""
    return f"{word}: {first} {where} {places[0]}, {second} {where} {places[1]}"


def _end_names(plan: Plan, cut: SawCut) -> tuple[str, str]:
    """The near and the far end, by the profile that is still there or was there."""
    near = plan.board.near_end(plan.laying.laid)
    if near is None:
        return "the end laid first", "the other"
    far = "groove" if near == "tongue" else "tongue"
    names = (f"the {near} end", f"the {far} end")
    match cut.end:
        case "near":
            return names[0], "the cut end"
        case "far":
            return "the cut end", names[1]
        case None:
            return names
        case _:
            return f"its end toward {names[0]}", f"its end toward {names[1]}"


def _side_names(plan: Plan, cut: SawCut) -> tuple[str, str]:
    """The wall side and the room side, by the profile that is still there."""
    if plan.board.reversible:
        return "the start wall's side", "the other"
    wall = plan.board.start_side
    room = "groove" if wall == "tongue" else "tongue"
    return (
        "the ripped side" if cut.side == "room" else f"the {wall} side",
        "the ripped side" if cut.side == "wall" else f"the {room} side",
    )


def _size(plan: Plan, offcut: Offcut, unit: Unit) -> str:
    length = piece_figure(offcut.blank.length_mm, unit)
    if _full_width(plan, offcut):
        return length
    return f"{length} x {piece_figure(offcut.blank.width_mm, unit)}"


def _fate(plan: Plan, offcut: Offcut) -> str:
    if offcut.label:
        return f"put on the shelf as {offcut.label}"
    long_enough = offcut.blank.length_mm >= plan.rules.shortest_piece_mm
    if long_enough and _full_width(plan, offcut):
        return "spare: keep it until the floor is done"
    return "waste"


def _full_width(plan: Plan, offcut: Offcut) -> bool:
    return offcut.blank.width_mm >= plan.board.width_mm - 0.01
