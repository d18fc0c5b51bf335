"""What is odd in the rows of a plan: slivers, short stretches, joints that could not be legal."""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence

import numpy as np
import shapely
from shapely import Polygon

from plankwright.geometry.frame import Frame
from plankwright.geometry.rows import Stretch
from plankwright.geometry.slabs import narrow_runs, slabs
from plankwright.geometry.start_line import STEEPEST
from plankwright.model.findings import Finding
from plankwright.model.plan import Piece
from plankwright.model.rules import Rules
from plankwright.optimize.instance import TICKS_PER_MM, Contact, Instance
from plankwright.optimize.solution import Solution
from plankwright.units import MM_PER, Unit, format_length

SAME_MM = 0.01
HULL_MM2 = 0.05  # by which a convex outline differs from its hull, rounded

Joint = tuple[int, int]
"""Position along u [ticks] and the seat on its near side, counted from 1."""


def inspect_pieces(
    stretches: Sequence[Stretch],
    pieces: Sequence[Piece],
    rules: Rules,
    frame: Frame,
    unit: Unit = "mm",
) -> tuple[Finding, ...]:
    """A finding for every piece that breaks a length or width rule, with its reason.

    Lengths are told in ``unit``, as in all that follows.
    """
    by_number = {(stretch.row, stretch.number): stretch for stretch in stretches}
    outlines = np.array([piece.outline for piece in pieces], dtype=np.object_)
    holes = shapely.get_num_interior_rings(outlines).tolist()
    found: list[Finding] = []
    for piece, is_full, ringed in zip(pieces, _are_full(pieces, rules), holes, strict=True):
        if piece.length_mm < rules.shortest_piece_mm - SAME_MM:
            stretch = by_number[piece.row, piece.stretch]
            found.append(_short_finding(piece, stretch, rules, unit))
        if not is_full and _is_narrow(piece, rules, frame):
            found.append(_narrow_finding(piece, rules, unit))
        if ringed:
            found.append(
                Finding(
                    "ring-piece",
                    piece.id,
                    "this piece goes all round a fixed thing",
                    "Saw it through beside the hole, lay both parts round it and glue that cut.",
                )
            )
    return tuple(found)


def _short_finding(piece: Piece, stretch: Stretch, rules: Rules, unit: Unit) -> Finding:
    if stretch.length < rules.shortest_piece_mm:
        return Finding(
            "short-stretch",
            piece.id,
            f"the row is only {format_length(stretch.length, unit)} long here",
            "Nothing to do: one short piece fills it.",
        )
    return Finding(
        "short-piece",
        piece.id,
        f"{format_length(piece.length_mm, unit, rounding='down')}, where "
        f"{format_length(rules.shortest_piece_mm, unit)} is the least; "
        "no joint of this stretch is legal",
        "Glue its end joint if the leaflet allows it, or accept a smaller shortest piece.",
    )


def _are_full(pieces: Sequence[Piece], rules: Rules) -> list[bool]:
    """Whether each outline is convex and fills its rectangle too well to be narrow for long.

    Where a convex outline is narrower than the narrowest row, the rest of its width is open.
    """
    outlines = np.array([piece.outline for piece in pieces], dtype=np.object_)
    length, width = np.array([(p.length_mm, p.width_mm) for p in pieces]).reshape(-1, 2).T
    left_open = length * width - shapely.area(outlines)
    is_full = left_open < (width - rules.narrowest_row_mm) * rules.narrowest_row_mm / STEEPEST
    notched = np.flatnonzero(is_full & (left_open >= 1.0))
    hulls = shapely.convex_hull(outlines[notched])
    is_full[notched] = shapely.area(hulls) - shapely.area(outlines[notched]) < HULL_MM2
    found: list[bool] = is_full.tolist()
    return found


def _is_narrow(piece: Piece, rules: Rules, frame: Frame) -> bool:
    """Whether a piece, or a long part of it, is narrower than the narrowest row.

    The tip that a wall across the rows leaves is not counted: it is thinner than the narrowest
    row for no longer than a wall at :data:`STEEPEST` makes it.
    """
    narrowest = rules.narrowest_row_mm - SAME_MM
    if piece.width_mm < narrowest:
        return True
    if piece.length_mm * piece.width_mm - piece.outline.area < 1.0:
        return False
    runs = narrow_runs(slabs(frame.to_plan(piece.outline)), narrowest)
    return any(high - low > narrowest / STEEPEST for low, high in runs)


def _narrow_finding(piece: Piece, rules: Rules, unit: Unit) -> Finding:
    return Finding(
        "narrow-row",
        piece.id,
        f"row {piece.row} is narrower than {format_length(rules.narrowest_row_mm, unit)} here",
        "Shift the start line or turn the rows; a sliver must be glued if it stays.",
    )


def scrap_findings(
    parts: Sequence[Polygon], start_line: float, width: float, last_row: int, unit: Unit = "mm"
) -> tuple[Finding, ...]:
    """A finding that names the rows of all parts of the floor that get no piece."""
    if not parts:
        return ()
    middles = [(part.bounds[1] + part.bounds[3]) / 2.0 for part in parts]
    found = {math.floor((v - start_line) / width) + 1 for v in middles}
    rows = sorted({min(max(row, 1), last_row) for row in found})
    named = " and ".join([", ".join(map(str, rows[:-1])), str(rows[-1])][len(rows) < 2 :])
    most = _small_area(max(part.area for part in parts), unit)
    message = f"{len(parts)} scraps" if len(parts) > 1 else "a scrap"
    return (
        Finding(
            "scrap",
            f"beside row {named}" if len(rows) == 1 else f"beside rows {named}",
            f"{message} of floor of up to {most}, too small for a piece, left open",
            "Look whether the trim covers it; sealant of the floor's color fills it where not.",
        ),
    )


def _small_area(area_mm2: float, unit: Unit) -> str:
    """An area of a hand's breadth or less, in square inches or square centimeters."""
    if unit in ("in", "ft"):
        return f"{area_mm2 / float(MM_PER['in']) ** 2:.2f} sq in"
    return f"{area_mm2 / 100.0:.2f} cm²"


def offset_findings(
    stretches: Sequence[Stretch], instance: Instance, solution: Solution, unit: Unit = "mm"
) -> tuple[Finding, ...]:
    """A finding for every two end joints that lie closer than the joint offset."""
    joints = _joints(instance, solution)
    found: list[Finding] = []
    for contact in instance.contacts:
        here = _on(joints.get(contact.wall_side, ()), contact)
        there = _on(joints.get(contact.room_side, ()), contact)
        places = [u for u, _ in there]
        for u, k in here:
            first = bisect_right(places, u - instance.offset)
            beyond = bisect_left(places, u + instance.offset)
            for other, m in there[first:beyond]:
                ids = [
                    f"{stretches[i].row}.{stretches[i].number}.{seat}"
                    for i, seat in ((contact.wall_side, k), (contact.room_side, m))
                ]
                found.append(_offset_finding(ids, abs(u - other), instance.offset, unit))
    return tuple(found)


def _on(joints: Sequence[Joint], contact: Contact) -> list[Joint]:
    return [joint for joint in joints if contact.low <= joint[0] <= contact.high]


def _joints(instance: Instance, solution: Solution) -> dict[int, list[Joint]]:
    """For every stretch its joints, near to far."""
    at = {index: need.start for index, need in enumerate(instance.stretches)}
    last = {seat.stretch: seat.number for seat in solution.seats}
    joints: dict[int, list[Joint]] = {}
    for seat in solution.seats:
        at[seat.stretch] += seat.length
        if seat.number < last[seat.stretch]:
            joints.setdefault(seat.stretch, []).append((at[seat.stretch], seat.number + 1))
    return joints


def _offset_finding(ids: Sequence[str], apart: int, offset: int, unit: Unit) -> Finding:
    told = format_length(apart / TICKS_PER_MM, unit, rounding="down")
    return Finding(
        "joint-offset",
        " and ".join(ids),
        f"their end joints lie {told} apart, where "
        f"{format_length(offset / TICKS_PER_MM, unit)} is the least",
        "Accept it here, or plan with a smaller joint offset or shortest piece.",
    )
