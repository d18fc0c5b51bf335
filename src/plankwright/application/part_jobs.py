"""Use case: a floor that expansion breaks part, each part with rows of its own.

Each part becomes a job of its own: the room cut along the middle of the T-moldings, with half a
stem and the gap kept there. So each is planned, checked, drawn, laid and bought for like any other
room, with its own direction and start line. Packs are counted over all parts; offcuts are not
carried from one part to another. The T-molding of a break is bought for the larger part beside it.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace

from shapely import LineString, Point, Polygon

from plankwright.application.break_advice import with_breaks
from plankwright.application.plan_job import plan_job
from plankwright.errors import InputError
from plankwright.geometry.parted import ON_MM, faces, lies_on, place_on
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.model.room import Break, Bridged, Doorway, Edge, Room
from plankwright.model.room import Point as Corner
from plankwright.model.wishes import Wishes
from plankwright.optimize.solve import Effort, never

REACH_MM = 60.0  # beyond its gap, that a break goes on into the wall


@dataclass(frozen=True, slots=True)
class PlannedParts:
    """The parts of a floor with their plans.

    Parameters
    ----------
    jobs, plans : of each part, the largest first.
    packs : for all of them together.
    """

    jobs: tuple[Job, ...]
    plans: tuple[Plan, ...]

    @property
    def boards(self) -> int:
        """Boards of all parts."""
        return sum(plan.boards.used for plan in self.plans)

    @property
    def packs(self) -> int:
        """Packs for all parts together."""
        return math.ceil(self.boards / self.jobs[0].board.per_pack)


def plan_parts(
    job: Job, *, effort: Effort | None = None, stop: Callable[[], bool] = never
) -> PlannedParts:
    """A checked plan of each part of a job's floor.

    Raises
    ------
    InputError : nothing parts the floor, or a part is too narrow for the board.
    PlanFaultError : the checker refused a plan: a defect of this program.
    """
    jobs = part_jobs(job)
    return PlannedParts(jobs, tuple(plan_job(part, effort=effort, stop=stop) for part in jobs))


def part_jobs(job: Job) -> tuple[Job, ...]:
    """A job for each part into which expansion breaks part a floor, the largest first.

    Raises
    ------
    InputError : no break parts the floor.
    """
    parted, _ = with_breaks(job)
    room = parted.room
    reach = REACH_MM + job.rules.gap_mm
    found = faces(room.outline, [(line.start, line.end) for line in room.breaks], reach)
    if len(found) < 2:
        raise InputError(
            "no expansion break parts this floor",
            where="breaks",
            remedy="Write in_doorways = true or the leaflet's longest lengths under [breaks], or "
            "a break of your own under [[room.break]].",
        )
    jobs: list[Job] = []
    bought: set[Break] = set()
    for number, face in enumerate(found, start=1):
        beside = {e.name: _break_beside(e, room, reach) for e in Room(face).edges()}
        jobs.append(_part_job(parted, face, f"{job.name}, part {number}", beside, bought))
        bought.update(line for line in beside.values() if line is not None)
    return tuple(jobs)


def _part_job(
    job: Job, face: Polygon, name: str, beside: Mapping[str, Break | None], bought: Set[Break]
) -> Job:
    """The job of one part; the T-moldings of the breaks in ``bought`` are another part's."""
    edges = list(Room(face).edges())
    whole = list(job.room.edges())
    under = {edge.name: _wall_under(edge, whole) for edge in edges}
    parts = {wall: edge for edge, wall in reversed(under.items()) if wall is not None}
    room = Room(
        face,
        fixed=tuple(t for t in job.room.fixed if t.outline.intersection(face).area > ON_MM),
        doorways=(*_doorways(job.room, edges, whole), *_at_breaks(edges, under, beside, bought)),
        edge_gaps=tuple(_gaps(job, edges, under, beside)),
        name=name,
        openings=tuple(o for o in job.room.openings if _is_within(o.start, o.end, face)),
        breaks=tuple(b for b in job.room.breaks if _is_within(b.start, b.end, face)),
    )
    return replace(
        job,
        room=room,
        wishes=_wishes(job.wishes, parts, room),
        name=name,
        survey=None,
        limits=replace(job.limits, in_doorways=False, in_necks=False),
    )


def _wall_under(edge: Edge, whole: Sequence[Edge]) -> str | None:
    """The wall of the whole room that an edge of a part lies on; None beside a break."""
    on = (wall.name for wall in whole if lies_on(edge, (wall.start, wall.end)))
    return next(on, None)


def _break_beside(edge: Edge, room: Room, reach: float) -> Break | None:
    beside = (line for line in room.breaks if lies_on(edge, (line.start, line.end), reach))
    return next(beside, None)


def _at_breaks(
    edges: Sequence[Edge],
    under: Mapping[str, str | None],
    beside: Mapping[str, Break | None],
    bought: Set[Break],
) -> Iterator[Doorway]:
    """Where a T-molding lies: no wall, so no baseboard either."""
    for edge in edges:
        line = beside[edge.name]
        if under[edge.name] is None and line is not None:
            name = line.name or "expansion break"
            bridged: Bridged = "none" if line in bought else "T-molding"
            yield Doorway(edge.name, 0.0, edge.length_mm, name=name, transition=bridged)


def _gaps(
    job: Job,
    edges: Sequence[Edge],
    under: Mapping[str, str | None],
    beside: Mapping[str, Break | None],
) -> Iterator[tuple[str, float]]:
    """Gaps that differ from the rules: those walls have, and half a stem more beside a break."""
    own = dict(job.room.edge_gaps)
    for edge in edges:
        wall, line = under[edge.name], beside[edge.name]
        if wall in own:
            yield edge.name, own[wall]
        elif wall is None and line is not None:
            gap = job.rules.gap_mm if line.gap_mm is None else line.gap_mm
            yield edge.name, line.stem_mm / 2.0 + gap


def _doorways(room: Room, edges: Sequence[Edge], whole: Sequence[Edge]) -> Iterator[Doorway]:
    walls = {wall.name: wall for wall in whole}
    for doorway in room.doorways:
        wall = walls[doorway.edge]
        first, last = (
            _along(wall, at)
            for at in (doorway.from_corner_mm, doorway.from_corner_mm + doorway.width_mm)
        )
        for edge in edges:
            at = place_on(edge, first, last)
            if at is not None:
                yield replace(doorway, edge=edge.name, from_corner_mm=at)
                break


def _along(wall: Edge, at_mm: float) -> Corner:
    share = at_mm / wall.length_mm
    (x0, y0), (x1, y1) = wall.start, wall.end
    return x0 + share * (x1 - x0), y0 + share * (y1 - y0)


def _is_within(start: Corner, end: Corner, face: Polygon) -> bool:
    """Whether a line lies in a part and not along its rim."""
    middle = LineString([start, end]).interpolate(0.5, normalized=True)
    return bool(face.contains(middle) and face.exterior.distance(Point(middle)) > ON_MM)


def _wishes(wishes: Wishes, parts: Mapping[str, str], room: Room) -> Wishes:
    """The wishes as far as they concern a part: walls under their new names."""
    aligned = wishes.start_wall or wishes.row_wall
    concerned = aligned is None or aligned in parts
    doors = {doorway.name for doorway in room.doorways if doorway.name}
    way_out = wishes.way_out
    if way_out is not None and way_out not in doors:
        way_out = parts.get(way_out)
    return replace(
        wishes,
        row_wall=parts.get(wishes.row_wall or ""),
        start_wall=parts.get(wishes.start_wall or ""),
        window_wall=parts.get(wishes.window_wall or ""),
        first_row_mm=wishes.first_row_mm if concerned else None,
        way_out=way_out,
        begin_row=None,
    )
