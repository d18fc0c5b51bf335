"""What is odd in a floor that was planned again: slivers, short pieces, joints too near."""

from collections import defaultdict
from collections.abc import Sequence

from plankwright.geometry.frame import Frame
from plankwright.guide.remaining import Remaining
from plankwright.model.findings import Finding
from plankwright.model.plan import Piece, Plan
from plankwright.plan.inspect_rows import inspect_pieces
from plankwright.units import Unit, format_length, parse_unit

ROUNDING_MM = 0.05
ANEW = (
    "floor-split", "floor-vanishes", "gap-uncovered", "joint-offset", "narrow-row", "ring-piece",
    "short-piece", "short-stretch", "time-limit",
)  # fmt: skip


def rest_findings(plan: Plan, left: Remaining, pieces: Sequence[Piece]) -> tuple[Finding, ...]:
    """The findings of the new plan: of the floor, of every piece, and what the old plan said of
    other things.
    """
    kept = tuple(finding for finding in plan.findings if finding.code not in ANEW)
    odd = inspect_pieces(left.stretches, pieces, plan.rules, left.frame, parse_unit(plan.unit))
    return (*kept, *left.floor.findings, *odd, *_near_joints(plan, left, pieces))


def _near_joints(plan: Plan, left: Remaining, pieces: Sequence[Piece]) -> list[Finding]:
    """A finding for every two end joints that lie closer than the joint offset."""
    least, unit = plan.rules.joint_offset_mm - ROUNDING_MM, parse_unit(plan.unit)
    joints = _joints(left, pieces)
    found: list[Finding] = []
    for contact in left.contacts:
        for u, piece in joints[contact.wall_side]:
            for other, beside in joints[contact.room_side]:
                both_on = all(contact.u0 <= at <= contact.u1 for at in (u, other))
                if both_on and abs(u - other) < least:
                    found.append(_finding(piece, beside, abs(u - other), least, unit))
    return found


def _joints(left: Remaining, pieces: Sequence[Piece]) -> dict[int, list[tuple[float, Piece]]]:
    """By stretch: where end joints lie, each with the piece on its far side."""
    index = {(s.row, s.number): i for i, s in enumerate(left.stretches)}
    found: dict[int, list[tuple[float, Piece]]] = defaultdict(list)
    for piece in pieces:
        if piece.seat > 1:
            found[index[piece.row, piece.stretch]].append((_near(left.frame, piece), piece))
    return found


def _near(frame: Frame, piece: Piece) -> float:
    return float(frame.to_plan(piece.outline).bounds[0])


def _finding(piece: Piece, beside: Piece, apart: float, least: float, unit: Unit) -> Finding:
    return Finding(
        "joint-offset",
        f"{piece.id} and {beside.id}",
        f"their end joints lie {format_length(apart, unit, rounding='down')} apart, where "
        f"{format_length(least + ROUNDING_MM, unit)} is the least",
        f"Accept it here, or lift row {min(piece.row, beside.row)} and lay it anew.",
    )
