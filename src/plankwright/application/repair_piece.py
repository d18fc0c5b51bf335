"""Use case: repair a damaged piece, told in sentences."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from plankwright.guide.repair import Repair, repair
from plankwright.model.plan import Plan, StockBoard
from plankwright.model.toolbox import Rates


@dataclass(frozen=True, slots=True)
class RepairAdvice:
    """The repair, and what to do in sentences, one for each step of the better way."""

    repair: Repair
    steps: tuple[str, ...]


def repair_pieces(
    plan: Plan,
    damaged: Collection[str],
    *,
    laid: Collection[str] | None = None,
    shelf: Sequence[StockBoard] = (),
    rates: Rates | None = None,
) -> RepairAdvice:
    """What to do about damaged pieces, with boards and minutes of both ways.

    Parameters
    ----------
    damaged : ids of pieces of the plan.
    laid : ids of what lies; everything where None.
    shelf : offcuts at hand.
    rates : how fast the person works.

    Raises
    ------
    InputError : the plan has no such piece, or it does not lie.
    """
    found = repair(plan, damaged, laid=laid, shelf=shelf, rates=rates)
    steps = _lifting(plan, found) if found.advice == "lift" else _cutting_out(found)
    return RepairAdvice(found, tuple(steps))


def _lifting(plan: Plan, found: Repair) -> list[str]:
    last = max(piece.row for piece in plan.pieces)
    steps = []
    if last in found.rows:
        steps.append(f"Take the trim off along row {last} and at the ends of the rows.")
    rows = ", ".join(str(row) for row in reversed(found.rows))
    steps.append(f"Lift the rows one after another, each whole: {rows}.")
    steps.append("Write its number and an arrow to its far end on every piece, then slide apart.")
    for name in found.pieces:
        offcut = dict(found.replacement).get(name)
        source = f"offcut {offcut}" if offcut else "a new board"
        steps.append(f"Cut {name} again from {source}.")
    steps.append(f"Lay again in this order: {', '.join(found.relaid)}.")
    steps.append("Wipe the locks clean first; a piece whose lock is broken is cut anew, too.")
    return steps


def _cutting_out(found: Repair) -> list[str]:
    names = ", ".join(found.pieces)
    return [
        f"Drill at the corners of {names}, saw along the middle and toward the corners.",
        "Chisel the pieces out, vacuum, and look whether the vapor barrier is whole: tape it.",
        "Take the tongues and the lower lip off the new board until it drops in.",
        "Glue it along all edges, weigh it down and wait.",
        *found.cut_out.against,
    ]
