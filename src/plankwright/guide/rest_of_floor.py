"""The rest of a floor as an instance: open stretches, offcuts at hand, and the plan that was there.

Joints that lie forbid joints of their neighbors nearer than the joint offset.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from plankwright.guide.offcuts_left import Offcut
from plankwright.guide.remaining import Remaining
from plankwright.guide.strips_now import narrow_rows
from plankwright.model.plan import Piece, Plan
from plankwright.optimize import spans
from plankwright.optimize.instance import TICKS_PER_MM, Instance, Role, StretchNeed
from plankwright.optimize.stock_matching import Source
from plankwright.optimize.stock_search import Strips
from plankwright.optimize.stock_solve import Before
from plankwright.plan.compile import compile_instance, down, up

SAME_MM = 0.06
ROUNDING_MM = 0.02  # of a length that was read from an outline
ROUNDING = TICKS_PER_MM // 50  # of a joint that was read from an outline
Joints = Mapping[int, Sequence[float]]


@dataclass(frozen=True, slots=True)
class Rest:
    """What is to be solved.

    ``open`` are the indices of the floor's stretches, in the order of the instance's; ``offcuts``
    those of the shelf, the cut strips, the strips as long as a board, then strips that serve no
    row whole. ``usable`` tells of each how long pieces cut from it may be, ``shelf`` and ``strips``
    the same for those that are solved with.
    """

    open: tuple[int, ...]
    instance: Instance
    offcuts: tuple[Offcut, ...]
    usable: tuple[spans.Offcut, ...]
    strips: Strips
    before: Before

    @property
    def shelf(self) -> tuple[spans.Offcut, ...]:
        """Offcuts as wide as a board."""
        return tuple(
            usable
            for offcut, usable in zip(self.offcuts, self.usable, strict=True)
            if offcut.stock.width_mm is None
        )

    def usable_mm(self, offcut: int) -> float:
        """How much of an offcut is planned with [mm]."""
        return self.usable[offcut].length / TICKS_PER_MM


def rest_of_floor(
    plan: Plan,
    left: Remaining,
    which: Sequence[int],
    offcuts: Sequence[Offcut],
    joints: Joints,
    grid_mm: float,
) -> Rest:
    """The instance of some open stretches.

    Parameters
    ----------
    which : their indices.
    offcuts : that they may use, none of them a whole board.
    joints : end joints that are settled, by stretch [mm].
    """
    place = {stretch: k for k, stretch in enumerate(which)}
    inner = [
        replace(c, wall_side=place[c.wall_side], room_side=place[c.room_side])
        for c in left.contacts
        if c.wall_side in place and c.room_side in place
    ]
    instance = compile_instance(
        [left.stretches[i] for i in which], inner, left.board, plan.rules, grid_mm, lanes=False
    )
    near = _settled_beside(left, place, joints)
    narrow = narrow_rows(plan, left, which, offcuts)
    needs = [
        _need(need, left.laid_to.get(i), near.get(i, ()), instance.offset, narrow.roles[i])
        for i, need in zip(which, instance.stretches, strict=True)
    ]
    instance = replace(instance, stretches=tuple(needs))
    wanted = {piece.id: piece for piece in plan.pieces}
    full = [o for o in offcuts if o.stock.width_mm is None]
    cut = [o for o in narrow.strips if not _is_long(o, left)]
    long = [o for o in narrow.strips if _is_long(o, left)]
    idle = [o for o in offcuts if o not in full and o not in narrow.strips]
    before = _before(plan, left, which, full)
    return Rest(
        tuple(which),
        instance,
        (*full, *cut, *long, *idle),
        tuple(_usable(offcut, plan, wanted) for offcut in (*full, *cut, *long, *idle)),
        Strips(len(long), tuple(_usable(offcut, plan, wanted) for offcut in cut)),
        before,
    )


def _is_long(strip: Offcut, left: Remaining) -> bool:
    """Whether a strip is as long as a board, with both its ends."""
    whole = abs(strip.stock.length_mm - left.board.length_mm) <= SAME_MM
    return whole and strip.stock.ends == "both"


def _settled_beside(
    left: Remaining, place: Mapping[int, int], joints: Joints
) -> dict[int, list[tuple[float, float, float]]]:
    """For open stretches the joints beside them: where, and the part of row line they are on."""
    found: dict[int, list[tuple[float, float, float]]] = {}
    for contact in left.contacts:
        for one, other in (
            (contact.wall_side, contact.room_side),
            (contact.room_side, contact.wall_side),
        ):
            if one in place:
                found.setdefault(one, []).extend(
                    (u, contact.u0, contact.u1)
                    for u in joints.get(other, ())
                    if contact.u0 <= u <= contact.u1
                )
    return found


def _need(
    need: StretchNeed,
    laid_to: float | None,
    beside: Sequence[tuple[float, float, float]],
    offset: int,
    role: Role,
) -> StretchNeed:
    """The need of a stretch: plain, with what its settled neighbors forbid; or what is begun."""
    if laid_to is not None:
        start = down(laid_to)
        length = max(need.start + need.length - start, 1)
        return replace(need, start=start, length=length, begun=True, forbidden=(), role=role)
    forbidden = list(need.forbidden)
    for u, low, high in beside:
        a = max(round(u * TICKS_PER_MM) - offset + ROUNDING, down(low) - 1) - need.start
        b = min(round(u * TICKS_PER_MM) + offset - ROUNDING, up(high) + 1) - need.start
        if a < b:
            forbidden.append((a, b))
    return replace(need, forbidden=tuple(forbidden), role=role)


def _usable(offcut: Offcut, plan: Plan, wanted: Mapping[str, Piece]) -> spans.Offcut:
    """As much of an offcut as may be planned with: less the allowance, if it has to be cut."""
    length = offcut.stock.length_mm
    exact = offcut.exact or any(
        abs(wanted[name].length_mm - length) <= SAME_MM for name in offcut.wanted
    )
    usable = length + ROUNDING_MM if exact else length - plan.rules.allowance_mm
    return spans.Offcut(max(down(usable), 1), offcut.stock.ends)


# --- the plan that was there ----------------------------------------------------------------------


def _before(plan: Plan, left: Remaining, which: Sequence[int], offcuts: Sequence[Offcut]) -> Before:
    """Starters of the old plan, and where their pieces were to be cut from."""
    seats = _seats(plan)
    shelf_of = {name: k for k, offcut in enumerate(offcuts) for name in offcut.wanted}
    takes: list[int | None] = []
    starters: dict[int, tuple[int, Piece]] = {}
    ends: dict[int, tuple[int, Piece]] = {}
    for k, i in enumerate(which):
        stretch = left.stretches[i]
        pieces = seats.get((stretch.row, stretch.number), [])
        takes.append(None if i in left.laid_to else _takes(plan, pieces, stretch.length))
        if pieces and i not in left.laid_to:
            starters[k] = (k, pieces[0])
        if len(pieces) > 1:
            ends[k] = (k, pieces[-1])
    return Before(tuple(takes), _sources(starters, ends, shelf_of))


def _seats(plan: Plan) -> dict[tuple[int, int], list[Piece]]:
    """The largest piece of every seat, by row and stretch, near to far."""
    found: dict[tuple[int, int], dict[int, Piece]] = {}
    for piece in plan.pieces:
        of_stretch = found.setdefault((piece.row, piece.stretch), {})
        other = of_stretch.get(piece.seat)
        if other is None or piece.outline.area > other.outline.area:
            of_stretch[piece.seat] = piece
    return {key: [of[seat] for seat in sorted(of)] for key, of in found.items()}


def _takes(plan: Plan, pieces: Sequence[Piece], length: float) -> int | None:
    """The length taken by the old choice of a stretch: its starter, or where its one piece lay."""
    if not pieces:
        return None
    first = pieces[0]
    if len(pieces) > 1:
        return round(first.length_mm * TICKS_PER_MM)
    if first.board in {board.id for board in plan.stock}:
        return up(length)
    return max(round((plan.board.length_mm - first.from_near_mm) * TICKS_PER_MM), up(length))


def _sources(
    starters: Mapping[int, tuple[int, Piece]],
    ends: Mapping[int, tuple[int, Piece]],
    shelf_of: Mapping[str, int],
) -> dict[int, Source]:
    """As :func:`plankwright.optimize.stock_matching.match_with_stock` wants them."""
    end_of_board = {piece.board: k for k, piece in ends.values()}
    sources: dict[int, Source] = {}
    for k, piece in starters.values():
        if piece.id in shelf_of:
            sources[k] = ("shelf", shelf_of[piece.id])
        elif piece.board in end_of_board:
            sources[k] = ("end", end_of_board[piece.board])
    for k, piece in ends.values():
        if piece.id in shelf_of:
            sources[-1 - k] = ("shelf", shelf_of[piece.id])
    return sources
