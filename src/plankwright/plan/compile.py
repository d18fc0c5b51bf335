"""From stretches and rules to the instance: where floats end and whole numbers begin.

Needs (stretches, the shortest piece, the offset, the cut) are rounded up and room (the board) is
rounded down, so that what fits in whole numbers fits on the floor.
"""

import math
from collections.abc import Sequence

from plankwright.geometry.rows import Contact as RowContact
from plankwright.geometry.rows import Stretch
from plankwright.geometry.slabs import far_prongs, narrow_runs, near_prongs
from plankwright.model.board import Board
from plankwright.model.rules import Rules
from plankwright.optimize.instance import TICKS_PER_MM, Contact, Instance, Part, Role, StretchNeed
from plankwright.plan.lanes import MetParts, lanes_of, one_lane
from plankwright.plan.strips import strip_roles

THINNEST_JOINT_MM = 1.0
LEAST_PIECE_MM = 5.0  # nobody saws and lays less, whatever the rules say
ROUNDING_TICKS = 1e-3  # float noise that must not turn into a whole tick


def up(mm: float) -> int:
    """Millimeters to ticks, up: for a need."""
    return math.ceil(mm * TICKS_PER_MM - ROUNDING_TICKS)


def down(mm: float) -> int:
    """Millimeters to ticks, down: for room."""
    return math.floor(mm * TICKS_PER_MM + ROUNDING_TICKS)


def compile_instance(
    stretches: Sequence[Stretch],
    contacts: Sequence[RowContact],
    board: Board,
    rules: Rules,
    grid_mm: float,
    *,
    lanes: bool = True,
) -> Instance:
    """The instance of a floor cut into stretches.

    Parameters
    ----------
    grid_mm : step of the starters.
    lanes : whether to tell what can lie side by side in a board; otherwise only narrow rows share.
    """
    roles = strip_roles(stretches, contacts, board, rules)
    met = lanes_of(stretches, board, rules) if lanes else one_lane(stretches)
    return Instance(
        board=down(board.length_mm),
        cut=up(rules.cut_mm),
        shortest=up(max(rules.shortest_piece_mm, LEAST_PIECE_MM)),
        offset=up(rules.joint_offset_mm),
        grid=up(grid_mm),
        stretches=tuple(
            _need(stretch, rules, role, parts)
            for stretch, role, parts in zip(stretches, roles, met.parts, strict=True)
        ),
        contacts=tuple(Contact(c.wall_side, c.room_side, down(c.u0), up(c.u1)) for c in contacts),
        lanes=met.count,
    )


def _need(stretch: Stretch, rules: Rules, role: Role, met: MetParts | None) -> StretchNeed:
    start = down(stretch.u0)
    forbidden = () if stretch.is_rectangle else _forbidden(stretch, rules.shortest_piece_mm)
    length = up(stretch.u1) - start
    parts = tuple(Part(lane, down(low), min(up(high), length)) for lane, low, high in met or ())
    return StretchNeed(length, start, forbidden, role, stretch.is_rectangle, parts=parts)


def _forbidden(stretch: Stretch, shortest: float) -> tuple[tuple[int, int], ...]:
    """Where a joint would cut a prong of the stretch shorter than the shortest piece, or would be
    no joint at all: at a tip thinner than :data:`THINNEST_JOINT_MM`.
    """
    cut = stretch.slabs()  # the first prong of each end is the stretch's own
    near = [(p.tip, min(p.root, p.tip + shortest)) for p in near_prongs(cut)[1:]]
    far = [(max(p.root, p.tip - shortest), p.tip) for p in far_prongs(cut)[1:]]
    tips = narrow_runs(cut, THINNEST_JOINT_MM)
    return tuple(
        (down(low - stretch.u0), up(high - stretch.u0))
        for low, high in near + far + tips
        if high > low
    )
