"""Vapor barrier and underlayment: rolls, seams, tape, which side up, and when not to buy one."""

import math
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from plankwright.application.buy_job import AREA_TOOK, BuyJob, Part, told_size
from plankwright.application.told import counted
from plankwright.model.findings import Finding
from plankwright.model.roll import Sheeting
from plankwright.model.room import Room
from plankwright.model.shopping import Line
from plankwright.model.slab import Film
from plankwright.plan.roll_cuts import RollPlan, plan_rolls

TAPE_MORE = 0.10  # collars, patches, starts that stick to themselves (common practice)
DIRECTIONS = 4  # walls looked along
SAME_DEG = 0.5


@dataclass(frozen=True, slots=True)
class Sheets:
    """The strips to cut; None where none is bought."""

    film: RollPlan | None
    pad: RollPlan | None


def cut_sheets(job: BuyJob) -> Sheets:
    """Vapor barrier and underlayment of a job, as far as the leaflet takes them."""
    floor, angles = covered(job), directions(job)
    film, pad = _wanted(job)
    return Sheets(
        None if film is None else plan_rolls(floor, film, angles),
        None if pad is None else plan_rolls(floor, pad, angles),
    )


def covered(job: BuyJob) -> BaseGeometry:
    """Room and doorways, less what stands on the slab for good."""
    plan = job.plan
    taken = [thing.outline for thing in plan.fixed if thing.kind in AREA_TOOK]
    whole = shapely.union_all([plan.room, *(recess.outline for recess in plan.recesses)])
    return shapely.difference(whole, shapely.union_all(taken))


def directions(job: BuyJob) -> tuple[float, ...]:
    """Directions of the longest walls and square to them, each once."""
    found: list[float] = []
    edges = sorted(Room(job.plan.room).edges(), key=lambda edge: -round(edge.length_mm, 3))
    for edge in edges[:DIRECTIONS]:
        (x0, y0), (x1, y1) = edge.start, edge.end
        along = math.degrees(math.atan2(y1 - y0, x1 - x0))
        for turn in (0.0, 90.0):
            angle = round((along + turn) % 180.0, 6)
            if all(abs(math.remainder(angle - other, 180.0)) > SAME_DEG for other in found):
                found.append(angle)
    return tuple(found)


def sheets_part(job: BuyJob, sheets: Sheets) -> Part:
    """The lines of film, pad and tape."""
    film, pad = _wanted(job)
    lines: list[Line] = []
    notes: list[str] = []
    for name, sheeting, rolls in (
        ("vapor barrier", film, sheets.film), ("underlayment", pad, sheets.pad),
    ):  # fmt: skip
        if sheeting is not None and rolls is not None:
            lines.append(_roll_line(name, sheeting, rolls, job))
            notes += _notes(name, sheeting, rolls, job)
    lines += _tape(job, sheets)
    return Part("Vapor barrier and underlayment", tuple(lines), tuple(notes), _findings(job))


def _wanted(job: BuyJob) -> tuple[Sheeting | None, Sheeting | None]:
    """Film and pad as the leaflet of the board takes them.

    A second pad only where it says so; the vapor barrier stays unless it is forbidden, since a
    damp slab does more harm than a film that goes back to the store.
    """
    film, pad = job.buying.film, job.buying.pad
    said = _film_said(job)
    if said.attached and said.second != "allowed":
        pad = None
    if said.attached and said.second == "forbidden":
        film = None
    return film, pad


def _film_said(job: BuyJob) -> Film:
    return Film() if job.slab is None else job.slab.slab.film


def _findings(job: BuyJob) -> tuple[Finding, ...]:
    said = _film_said(job)
    if not said.attached or said.second == "allowed":
        return ()
    forbids = said.second == "forbidden"
    told = (
        "forbids a second film or pad: neither is on the list"
        if forbids
        else "does not say that it takes a second one: no underlayment is on the list"
    )
    finding = Finding(
        "second-barrier", "slab.film",
        f"the board has a film or pad attached and the leaflet {told}",
        "Ask the maker what goes between slab and board before you buy; a damp slab needs a vapor "
        "barrier that the leaflet takes.",
    )  # fmt: skip
    return (finding,)


def _roll_line(name: str, sheeting: Sheeting, rolls: RollPlan, job: BuyJob) -> Line:
    roll = sheeting.roll
    size = f"{told_size(roll.width_mm, job.unit)} x {told_size(roll.length_mm, job.unit)}"
    total = sum(part.length_mm for cut in rolls.rolls for part in cut)
    lap = f", {job.length(sheeting.lap_mm)} lap" if sheeting.lap_mm else ", edge to edge"
    up = f", {job.length(sheeting.upturn_mm)} up the walls" if sheeting.upturn_mm else ""
    proof = (
        "fewer rolls do not hold them"
        if len(rolls.rolls) == rolls.least_rolls
        else f"at least {rolls.least_rolls} are needed"
    )
    why = (
        f"{counted(len(rolls.plan.strips), 'strip')}{lap}{up}, {job.total(total)} to cut in all; "
        f"{proof}"
    )
    count = len(rolls.rolls)
    return Line(
        "Vapor barrier and underlayment", f"{name}, roll {size}", count,
        "roll" if count == 1 else "rolls", why, roll.price, back=True,
    )  # fmt: skip


def _notes(name: str, sheeting: Sheeting, rolls: RollPlan, job: BuyJob) -> list[str]:
    side = sheeting.side_up or "not noted: read it on the roll's leaflet"
    told = [f"{name.capitalize()}, which side up: {side}."]
    for number, cut in enumerate(rolls.rolls, 1):
        parts = ", ".join(f"strip {part.strip}: {job.length(part.length_mm)}" for part in cut)
        told.append(f"{name.capitalize()}, from roll {number} cut {parts}.")
    if rolls.end_joints:
        told.append(
            f"{counted(rolls.end_joints, 'strip end')} joined with a lap of "
            f"{job.length(sheeting.end_lap_mm)}, taped."
        )
    if name == "vapor barrier":
        told.append(
            "Tape every lap over its full length; slit round posts and pipes and tape a collar; "
            "stop at a drain, a clean-out or a sump and keep its lid removable."
        )
    return told


def _tape(job: BuyJob, sheets: Sheets) -> list[Line]:
    parts = [
        (name, rolls.seam_mm)
        for name, rolls in (("vapor barrier", sheets.film), ("underlayment", sheets.pad))
        if rolls is not None and rolls.seam_mm > 0.0
    ]
    collars = sum(
        thing.outline.length for thing in job.plan.fixed
        if thing.kind in ("post", "pipe") and sheets.film is not None
    )  # fmt: skip
    total = (sum(seam for _, seam in parts) + collars) * (1.0 + TAPE_MORE)
    if total <= 0.0:
        return []
    roll = job.buying.tape
    count = math.ceil(total / roll.length_mm - 1e-9)
    told = ", ".join(f"{name} seams {job.total(seam)}" for name, seam in parts)
    round_ = f", collars {job.total(collars)}" if collars else ""
    return [
        Line(
            "Vapor barrier and underlayment",
            f"seam tape, as the leaflets take it, roll {told_size(roll.length_mm, job.unit)}",
            count, "roll" if count == 1 else "rolls",
            f"{told}{round_}, and {TAPE_MORE:.0%} more: {job.total(total)}".replace("%", " %"),
            roll.price, back=True,
        )
    ]  # fmt: skip
