"""Ripped strips at hand, and the narrow rows that can be cut from them.

As in :mod:`plankwright.plan.strips` a stretch without a neighbor on one long side needs only the
other side of its boards. A strip on the shelf that still has this side, and is wide enough, serves
it; so do the strips beside the whole boards of narrow rows that are still to be laid.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from plankwright.guide.offcuts_left import Offcut
from plankwright.guide.remaining import Remaining
from plankwright.model.plan import Plan
from plankwright.optimize.instance import Role
from plankwright.plan.strips import strip_roles

LEAST_SAVED = 0.3  # boards; less is not worth a rip
SAME_MM = 0.05

Side = Literal["wall", "room"]


@dataclass(frozen=True, slots=True)
class Narrow:
    """Roles of the floor's stretches, and the strips at hand for the guests among them."""

    roles: tuple[Role, ...]
    strips: tuple[Offcut, ...] = ()


def narrow_rows(
    plan: Plan, left: Remaining, which: Sequence[int], offcuts: Sequence[Offcut]
) -> Narrow:
    """Guests that the strips at hand or still to be ripped serve, and the hosts of the latter.

    Parameters
    ----------
    which : the open stretches looked at; all others are plain.
    offcuts : those at hand, strips among them.
    """
    if left.board.reversible:
        plain: Role = "plain"
        return Narrow((plain,) * len(left.stretches))
    usual = strip_roles(left.stretches, left.contacts, left.board, plan.rules)
    roles: list[Role] = [role if i in which else "plain" for i, role in enumerate(usual)]
    guests, strips = _from_shelf(left, which, offcuts)
    if guests:
        if guests != {i for i, role in enumerate(roles) if role == "guest"}:
            roles = ["plain"] * len(roles)
        for i in guests:
            roles[i] = "guest"
    elif "host" not in roles:
        roles = ["plain"] * len(roles)
    return Narrow(tuple(roles), strips)


def _from_shelf(
    left: Remaining, which: Sequence[int], offcuts: Sequence[Offcut]
) -> tuple[set[int], tuple[Offcut, ...]]:
    """The open stretches of one side that the strips at hand serve best, and these strips."""
    best: tuple[float, set[int], tuple[Offcut, ...]] = (LEAST_SAVED, set(), ())
    sides: tuple[Side, ...] = ("wall", "room")
    for side in sides:
        of_side = [o for o in offcuts if o.stock.width_mm is not None and o.stock.side == side]
        members = [i for i in which if _side(left, i) == side]
        for least in sorted({o.stock.width_mm or 0.0 for o in of_side}):
            strips = tuple(o for o in of_side if (o.stock.width_mm or 0.0) >= least)
            served = {i for i in members if _width(left, i) <= least + SAME_MM}
            length = sum(left.stretches[i].length for i in served)
            saved = min(length, sum(o.stock.length_mm for o in strips)) / left.board.length_mm
            if served and saved > best[0]:
                best = (saved, served, strips)
    return best[1], best[2]


def _side(left: Remaining, index: int) -> Side | None:
    """The one long side of its boards that a stretch needs; None when it needs both or none."""
    held_at_wall = any(contact.room_side == index for contact in left.contacts)
    held_at_room = any(contact.wall_side == index for contact in left.contacts)
    if held_at_wall == held_at_room:
        return None
    return "wall" if held_at_wall else "room"


def _width(left: Remaining, index: int) -> float:
    bounds = left.stretches[index].polygon.bounds
    return float(bounds[3] - bounds[1])
