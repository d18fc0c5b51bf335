"""What a plan leaves to saw: cuts across, rips, and tongues and lips to trim off at walls."""

from dataclasses import dataclass

from plankwright.model.plan import Plan
from plankwright.plan.wall_trims import wall_trims


@dataclass(frozen=True, slots=True)
class SawWork:
    """Counts of what is to be cut.

    Parameters
    ----------
    crosscuts : ends cut across a board.
    rips : long sides cut along a board.
    trims : factory edges that lie at a wall, from which the tongue or lip is trimmed; none for a
        reversible board.
    """

    crosscuts: int
    rips: int
    trims: int


def saw_work(plan: Plan) -> SawWork:
    """The cuts of a plan, edge by edge."""
    crosscuts = sum(_cut(p.near_end) + _cut(p.far_end) for p in plan.pieces)
    rips = sum(_cut(p.wall_side) + _cut(p.room_side) for p in plan.pieces)
    trims = sum(len(edges) for edges in wall_trims(plan).values())
    return SawWork(crosscuts, rips, trims)


def _cut(edge: str) -> int:
    return int(edge == "cut")
