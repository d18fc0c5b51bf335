"""Transitions by doorway and open edge: kind, length, what they are cut from, how they are held."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from plankwright.application.buy_job import BuyJob, Part, told_size
from plankwright.application.height_advice import transition_kind
from plankwright.application.told import told_thickness
from plankwright.buying.wall_runs import edge_length_mm
from plankwright.model.build_up import Meeting
from plankwright.model.findings import Finding
from plankwright.model.room import Doorway
from plankwright.model.shopping import Line
from plankwright.model.trim import StockLength
from plankwright.optimize.packing import pack
from plankwright.optimize.pattern_program import Bar

UNKNOWN = "T-molding or reducer"
MEASURE = "a T-molding if both floors are equally high, else a reducer: measure the floor beyond"
LEAST_GAP_MM = 1.0
TRACK_STEP_MM = 200.0  # from screw to screw (common practice)


@dataclass(frozen=True, slots=True)
class Transition:
    """One transition.

    Parameters
    ----------
    where : doorway or open edge.
    kind : what bridges it.
    length_mm : to be cut.
    why : how kind and length were found.
    """

    where: str
    kind: str
    length_mm: float
    why: str


def transitions_of(job: BuyJob) -> tuple[Transition, ...]:
    """One for every doorway, one for every hearth."""
    return (*_doors(job), *_hearths(job))


def transitions_part(job: BuyJob, found: tuple[Transition, ...]) -> Part:
    """The lines of the transitions, their tracks and what holds these."""
    by_kind: dict[str, list[Transition]] = defaultdict(list)
    for transition in found:
        by_kind[transition.kind].append(transition)
    lines = [line for kind, group in by_kind.items() for line in _lines(job, kind, group)]
    elsewhere = tuple(_elsewhere(job))
    if not found:
        note = "No doorway is written down, so no transition is on the list; trim runs through."
        return Part("Transitions", (), elsewhere or (note,))
    if any(t.kind != "end cap" for t in found):
        lines.append(_track_screws(job, found))
    notes = (
        *(f"{t.where}: {t.kind}, {job.length(t.length_mm)}: {t.why}." for t in found),
        *elsewhere,
        "Fix every track to the slab, never through the floating floor. Do not drill a slab that "
        "may hold heating, pipes, cables or tendons before it is scanned: use the adhesive that "
        "the track's leaflet names.",
    )
    return Part("Transitions", tuple(lines), notes, _unknown(found))


def _unknown(found: tuple[Transition, ...]) -> tuple[Finding, ...]:
    return tuple(
        Finding(
            "transition-unknown",
            transition.where,
            "it is not known how much higher or lower the floor beyond lies",
            "Measure it before you buy, and write it as beyond of a [[slab.door]] of this name.",
        )
        for transition in found
        if transition.kind == UNKNOWN
    )


def _doors(job: BuyJob) -> Iterator[Transition]:
    if job.doorways is None:
        for opening in job.openings:
            width = opening.end_mm - opening.start_mm + 2.0 * job.plan.rules.gap_mm
            yield Transition(
                f"doorway in {opening.edge}", UNKNOWN, width,
                f"floor in the doorway and a gap on both sides; {MEASURE}",
            )  # fmt: skip
        return
    for door in job.doorways:
        if door.transition == "none":
            continue
        where = _called(door)
        kind, why = _kind(job, door)
        told = f"clear width {job.length(door.width_mm)}, {why}"
        yield Transition(where, kind, door.width_mm, told)


def _called(door: Doorway) -> str:
    return door.name or f"doorway in {door.edge}"


def _elsewhere(job: BuyJob) -> Iterator[str]:
    """A note for every transition that another list has, and for what both lists have."""
    others = [door for door in job.doorways or () if door.transition == "none"]
    for door in others:
        yield f"{_called(door)}: its transition is on the list of the other part of the floor."
    if others:
        yield (
            "Hold both lists side by side before you buy: each fills its own rolls and lengths of "
            "trim, and what is left of one part serves the other; each counts tests for its own "
            "slab, and one slab is tested once, as a whole."
        )


def _kind(job: BuyJob, door: Doorway) -> tuple[str, str]:
    """The kind by the heights of both floors, where they are known or the same."""
    if door.transition == "T-molding":
        return "T-molding", "the same floor on both sides"
    slab, where = job.slab, _called(door)
    meeting = None if slab is None else _meeting(slab.meetings, where)
    if slab is None or slab.layers is None or meeting is None or meeting.beyond_mm is None:
        return UNKNOWN, MEASURE
    rise = slab.layers.total_mm - meeting.beyond_mm
    side = "higher" if rise >= 0.0 else "lower"
    return transition_kind(meeting, rise), f"new floor {told_thickness(abs(rise), job.unit)} {side}"


def _meeting(meetings: tuple[Meeting, ...], name: str) -> Meeting | None:
    return next((meeting for meeting in meetings if meeting.name == name), None)


def _hearths(job: BuyJob) -> Iterator[Transition]:
    lengths = edge_length_mm(job.plan.room, job.standing, "hearth")
    for name, length in lengths.items():
        if length > LEAST_GAP_MM:
            yield Transition(name, "end cap", length, "along its free edges")


def _lines(job: BuyJob, kind: str, group: list[Transition]) -> list[Line]:
    """The lengths to buy for transitions of one kind: least cost, or least length bought."""
    strips = job.buying.strips
    longest = max(strip.length_mm for strip in strips)
    needs = [part for t in group for part in _halved(t.length_mm, longest)]
    priced = all(strip.price is not None for strip in strips)
    bars = [Bar(_tenths(strip), _cost(strip, priced)) for strip in strips]
    kerf = math.ceil(job.buying.trim.kerf_mm * 10 - 1e-4)
    packing = pack([math.ceil(n * 10 - 1e-4) for n in needs], bars, kerf)
    bought = Counter(strips[bars.index(cut.bar)] for cut in packing.cuts)
    places = ", ".join(f"{t.where} {job.length(t.length_mm)}" for t in group)
    return [
        Line(
            "Transitions",
            f"{kind}, length {told_size(stock.length_mm, job.unit)}"
            + ("" if kind == "end cap" else ", with track"),
            count, "length" if count == 1 else "lengths", places, stock.price, back=True,
        )
        for stock, count in sorted(bought.items(), key=lambda entry: -entry[0].length_mm)
    ]  # fmt: skip


def _halved(length_mm: float, longest_mm: float) -> list[float]:
    """A length in equal parts that fit the stock."""
    parts = math.ceil(length_mm / longest_mm - 1e-9)
    return [length_mm / parts] * parts


def _tenths(strip: StockLength) -> int:
    return math.floor(strip.length_mm * 10 + 1e-4)


def _cost(strip: StockLength, priced: bool) -> int:
    return max(1, int(strip.price * 100)) if priced and strip.price is not None else _tenths(strip)


def _track_screws(job: BuyJob, found: tuple[Transition, ...]) -> Line:
    """Screws and plugs, at least three to a track."""
    count = sum(
        max(3, math.ceil(t.length_mm / TRACK_STEP_MM) + 1) for t in found if t.kind != "end cap"
    )
    every = job.length(TRACK_STEP_MM)
    item = "screws with plugs for tracks in concrete"
    why = f"{count} in all, one about every {every}; or adhesive where the slab is not drilled"
    return Line("Transitions", item, 1, "pack", why, back=True)
