"""What speaks for a plan: the figures by which a person compares it with another one."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from plankwright.application.joint_looks import JointLooks, joint_looks
from plankwright.application.saw_work import saw_work
from plankwright.geometry.frame import Frame
from plankwright.geometry.slabs import Trapezoid, narrow_runs, slabs
from plankwright.geometry.start_line import STEEPEST
from plankwright.geometry.walls import Wall, wall_of, walls
from plankwright.model.plan import Piece, Plan
from plankwright.model.room import Room

LEAST_WALL_MM = 600.0
HALVINGS = 10  # of a board's width, until the narrowest row is known to a fraction of a millimeter
BROKEN = frozenset({"narrow-row", "short-piece", "joint-offset"})


@dataclass(frozen=True, slots=True)
class Handling:
    """What is awkward about laying a plan.

    Parameters
    ----------
    awkward : pieces that cannot be tilted in the usual way.
    backwards : rows laid backwards, joined on their room side.
    starts : start lines beyond the first, each of which must be true to it.
    """

    awkward: int = 0
    backwards: int = 0
    starts: int = 0


CountHandling = Callable[[Plan], Handling]


@dataclass(frozen=True, slots=True)
class Merits:
    """The figures of a plan, lengths in millimeters, angles in degrees.

    Parameters
    ----------
    boards, packs : what it takes.
    narrowest_row_mm : the narrowest row, or part of one, that is no mere tip.
    crosscuts, rips : ends and long sides to saw.
    joints : how its end joints look.
    handling : what is awkward to lay.
    taper_mm : the most that a row changes its width along one wall.
    off_longest_deg : rows and the longest wall, 0 to 90.
    off_window_deg : rows and the light of the main window, 0 to 90; None where none was named.
    broken : findings of rules that could not be kept.
    """

    boards: int
    packs: int
    narrowest_row_mm: float
    crosscuts: int
    rips: int
    joints: JointLooks
    handling: Handling
    taper_mm: float
    off_longest_deg: float
    off_window_deg: float | None
    broken: int

    def costs(self) -> tuple[float, ...]:
        """Everything that is better when it is less, coarse enough that noise decides nothing.

        Boards, narrowest row (negative), cuts, rips, joints, awkward pieces, rows laid backwards,
        start lines, taper, the two angles, broken rules.
        """
        return (
            float(self.boards),
            -float(round(self.narrowest_row_mm)),
            float(self.crosscuts),
            float(self.rips),
            float(self.joints.cost),
            float(self.handling.awkward),
            float(self.handling.backwards),
            float(self.handling.starts),
            float(round(self.taper_mm)),
            round(self.off_longest_deg, 1),
            round(self.off_window_deg or 0.0, 1),
            float(self.broken),
        )


def dominates(one: Merits, other: Merits) -> bool:
    """Whether a plan is no worse in anything than another, and better in something."""
    mine, theirs = one.costs(), other.costs()
    return mine != theirs and all(a <= b for a, b in zip(mine, theirs, strict=True))


def merits(
    plan: Plan, room: Room, window_wall: str | None = None, count: CountHandling | None = None
) -> Merits:
    """The merits of a plan of a room.

    Parameters
    ----------
    window_wall : the wall with the main window.
    count : counts what is awkward to lay; nothing is counted without it.
    """
    work = saw_work(plan)
    angle = plan.laying.row_angle_deg
    light = None if window_wall is None else wall_of(room, window_wall).inward_deg
    return Merits(
        boards=plan.boards.used,
        packs=plan.packs,
        narrowest_row_mm=narrowest_row(plan),
        crosscuts=work.crosscuts,
        rips=work.rips,
        joints=joint_looks(plan),
        handling=Handling() if count is None else count(plan),
        taper_mm=taper_seen(plan, room),
        off_longest_deg=_apart(angle, walls(room)[0].inward_deg + 90.0),
        off_window_deg=None if light is None else _apart(angle, light),
        broken=sum(finding.code in BROKEN for finding in plan.findings),
    )


def narrowest_row(plan: Plan) -> float:
    """Width of the narrowest row [mm]: the widest that no part of a row falls below for longer
    than a wall at 10 degrees would make it.
    """
    frame = Frame(plan.laying.row_angle_deg, plan.laying.laid)
    least = plan.board.width_mm
    for piece in plan.pieces:
        least = min(least, piece.width_mm)
        if not _is_plain(piece):
            cut = slabs(frame.to_plan(piece.outline))
            if _has_thin_run(cut, least):
                least = _widest_without(cut, least)
    return round(least, 2)


def _is_plain(piece: Piece) -> bool:
    return bool(piece.length_mm * piece.width_mm - piece.outline.area < 1.0)


def _has_thin_run(cut: list[list[Trapezoid]], width: float) -> bool:
    return any(high - low > width / STEEPEST for low, high in narrow_runs(cut, width))


def _widest_without(cut: list[list[Trapezoid]], most: float) -> float:
    low, high = 0.0, most
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _has_thin_run(cut, middle) else (middle, high)
    return low


def taper_seen(plan: Plan, room: Room) -> float:
    """The most that rows gain or lose along one wall [mm]: of walls that run along the rows."""
    return max((_taper(wall, plan.laying.row_angle_deg) for wall in walls(room)), default=0.0)


def _taper(wall: Wall, angle_deg: float) -> float:
    off = _apart(wall.inward_deg + 90.0, angle_deg)
    if wall.length_mm < LEAST_WALL_MM or off > math.degrees(math.atan(STEEPEST)):
        return 0.0
    return round(wall.length_mm * math.sin(math.radians(off)), 2)


def _apart(a_deg: float, b_deg: float) -> float:
    """Angle between two lines, 0 to 90 degrees."""
    return abs(math.remainder(a_deg - b_deg, 180.0))
