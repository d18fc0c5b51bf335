"""Use case: part a long floor, or several rooms, with expansion breaks where they must be.

Where the job states the leaflet's limits, the breaks are planned; where it states none, a floor
longer than usual leaflets allow is told, and nothing is parted.
"""

from collections.abc import Iterator
from dataclasses import replace

from shapely import LineString, MultiPolygon

from plankwright.geometry.floating import Extent, Line, extent_of
from plankwright.geometry.floor import build_floor
from plankwright.geometry.frame import Frame
from plankwright.model.findings import Finding
from plankwright.model.job import Job
from plankwright.model.limits import Limits
from plankwright.model.room import Break, Point
from plankwright.physics.movement import LONGEST_RUN_MM
from plankwright.plan.breaks import EXACT_MM, Gate, Parting, is_at_limit, part_floor
from plankwright.plan.handedness import choose_direction
from plankwright.plan.layout import row_angle
from plankwright.units import Unit, format_length

_ALONG, _ACROSS = LONGEST_RUN_MM["laminate"]
USUAL = Limits(_ALONG.value, _ACROSS.value)


def with_breaks(job: Job) -> tuple[Job, tuple[Finding, ...]]:
    """The job with the expansion breaks that its floor needs, and what is to be known about them.

    Raises
    ------
    InputError : the wished laying direction is impossible for the lock.
    """
    frame = _frame(job)
    floor = frame.to_plan_grid(build_floor(job.room, job.rules).parts)
    if floor.is_empty:
        return job, ()
    if not job.limits.asks_for_breaks:
        return job, tuple(_longer_than_usual(floor, job.unit))
    parting = part_floor(floor, _gates(job, frame), job.limits)
    breaks = tuple(_breaks(job, frame, parting))
    parted = replace(job, room=replace(job.room, breaks=(*job.room.breaks, *breaks)))
    told = (*_proposed(breaks, parting, job), *_at_limit(parting, job.limits, job.unit))
    return parted, told


def _frame(job: Job) -> Frame:
    laid = choose_direction(job.board, job.wishes.laid)
    return Frame(row_angle(job.room, laid, job.wishes), laid)


def _gates(job: Job, frame: Frame) -> list[Gate]:
    """The openings of the room as places where it can be parted."""
    return [
        Gate(
            _line(frame.to_plan(LineString(opening.seam()))),
            is_door=opening.is_door,
            wanted=opening.is_door and job.limits.in_doorways,
            opening=number,
        )
        for number, opening in enumerate(job.room.openings)
    ]


def _breaks(job: Job, frame: Frame, parting: Parting) -> Iterator[Break]:
    for gate in parting.gates:
        opening = None if gate.opening is None else job.room.openings[gate.opening]
        start, end = _in_room(gate.line, frame)
        name = (opening.name if opening else "") or _kind(gate)
        yield Break(start, end, job.limits.stem_mm, name=name)
    for line in parting.field:
        yield Break(*_in_room(line, frame), job.limits.stem_mm, name="break across the floor")


def _kind(gate: Gate) -> str:
    if gate.opening is None:
        return "break in the neck"
    return "break in the doorway" if gate.is_door else "break in the opening"


def _in_room(line: Line, frame: Frame) -> tuple[Point, Point]:
    start, end = _line(frame.to_room(LineString(line)))
    return start, end


def _line(line: LineString) -> Line:
    (x0, y0), (x1, y1) = line.coords
    return (x0, y0), (x1, y1)


# --- what is told ------------------------------------------------------------------------------


def _proposed(breaks: tuple[Break, ...], parting: Parting, job: Job) -> Iterator[Finding]:
    if not breaks:
        return
    longest = max(extent.along_mm for extent in parting.extents)
    widest = max(extent.across_mm for extent in parting.extents)
    for number, line in enumerate(breaks, start=1):
        x, y = ((a + b) / 2.0 for a, b in zip(line.start, line.end, strict=True))
        place = f"x {format_length(x, job.unit)}, y {format_length(y, job.unit)}"
        yield Finding(
            "break-proposed",
            line.name if len(breaks) == 1 else f"{line.name} ({number})",
            f"an expansion break at {place}: {len(breaks)} in all, the fewest, after which no part "
            f"is longer than {format_length(longest, job.unit)} along and "
            f"{format_length(widest, job.unit)} across the boards",
            "Fix the T-molding's track to the slab, never to the floor; in a doorway under the "
            "closed door.",
        )


def _at_limit(parting: Parting, limits: Limits, unit: Unit) -> Iterator[Finding]:
    for words, longest, limit in _runs(parting.extents, limits):
        if is_at_limit(longest, limit):
            yield Finding(
                "run-at-limit",
                words,
                f"{format_length(longest, unit)} {words} is just what the leaflet allows",
                "Measure again; if it comes out longer, plan an expansion break.",
            )


def _longer_than_usual(floor: MultiPolygon, unit: Unit) -> Iterator[Finding]:
    extents = tuple(extent_of(part) for part in floor.geoms)
    for words, longest, limit in _runs(extents, USUAL):
        if limit is not None and longest > limit + EXACT_MM:
            yield Finding(
                "run-too-long",
                words,
                f"the floor is {format_length(longest, unit)} {words}; usual leaflets allow "
                f"{format_length(limit, unit)} (common practice)",
                "Look up the longest floating lengths on the leaflet and write them under "
                "[breaks]; then the breaks are planned.",
            )


def _runs(
    extents: tuple[Extent, ...], limits: Limits
) -> tuple[tuple[str, float, float | None], ...]:
    """The longest run each way, with its limit."""
    return (
        (
            "along the boards",
            max(extent.along_mm for extent in extents),
            limits.longest_along_mm,
        ),
        (
            "across the boards",
            max(extent.across_mm for extent in extents),
            limits.longest_across_mm,
        ),
    )
